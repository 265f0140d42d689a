"""The plug that the tests of this folder vary: 8 mm hole in 1.0 mm on 1.5 mm, 0.8 mm wire."""

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.plug.joint import PlugJoint, TorchPath
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire

STEEL, WIRE, GAS = find_steel("DC04"), find_wire("G 3Si1"), find_gas("M21")


def joint(
    sheets: tuple[float, ...] = (1.0, 1.5),
    holes: tuple[float, ...] = (8.0,),
    gap: float = 0.0,
    path: TorchPath = TorchPath.SPIRAL,
    coating: Coating = Coating.BARE,
    steel: str = "DC04",
) -> PlugJoint:
    """A joint; lengths in mm."""
    found = tuple(Sheet(find_steel(steel), t * 1e-3, coating) for t in sheets)
    return PlugJoint(StackUp(found, gap * 1e-3), tuple(h * 1e-3 for h in holes), path)


def set_up(
    feed: float = 6.4, voltage: float = 17.5, distance: float = 13.0, arc_time: float = 1.87
) -> ArcSetUp:
    """A set-up; m/min, V, mm, s."""
    return ArcSetUp(WIRE, 0.8e-3, GAS, feed / 60.0, voltage, distance * 1e-3, arc_time=arc_time)
