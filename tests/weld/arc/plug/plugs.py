"""The plug that the tests of this folder vary: 8 mm hole in 1.0 mm on 1.5 mm, 0.8 mm wire."""

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.plug.alloy_stack import AlloySheet, AlloyStack
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


def bronze(feed: float = 8.0, voltage: float = 16.0, arc_time: float = 1.5) -> ArcSetUp:
    """A set-up with silicon bronze under argon; m/min, V, s."""
    wire, gas = find_wire("S Cu 6560"), find_gas("I1")
    return ArcSetUp(wire, 0.8e-3, gas, feed / 60.0, voltage, 12e-3, arc_time=arc_time)


def alloys(
    alloy: str = "6082", sheets: tuple[float, ...] = (1.5, 1.5), holes: tuple[float, ...] = (8.0,)
) -> PlugJoint:
    """A joint of aluminium; lengths in mm."""
    found = tuple(AlloySheet(alloy, t * 1e-3) for t in sheets)
    return PlugJoint(AlloyStack(found), tuple(h * 1e-3 for h in holes))


def light(feed: float = 6.5, voltage: float = 18.0, arc_time: float = 1.4) -> ArcSetUp:
    """A set-up with aluminium wire under argon; m/min, V, s."""
    wire, gas = find_wire("S Al 4043"), find_gas("I1")
    return ArcSetUp(wire, 1.0e-3, gas, feed / 60.0, voltage, 12e-3, arc_time=arc_time)
