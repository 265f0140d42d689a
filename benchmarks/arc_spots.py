"""The published arc spots as joints and set-ups, for the score and for a test.

A module of rows; run ``python -m benchmarks.validate_plug`` for the score.
"""

from dataclasses import dataclass

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.machine_map import free_length
from buttonhole.weld.arc.melting import melting_feed, melting_law
from buttonhole.weld.arc.plug.joint import PlugJoint, TorchPath
from buttonhole.weld.arc.plug.marks import read_marks
from buttonhole.weld.arc.plug.simulation import simulate
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire


@dataclass(frozen=True, slots=True)
class ArcSpot:
    """One printed row, the middle of its ranges; SI units."""

    t_top: float  # m
    t_bottom: float  # m
    wire: float  # m
    time: float  # s
    current: float  # A
    voltage: float  # V
    bead: float  # m
    distance: float  # m

    @property
    def energy(self) -> float:
        """Arc energy [J]."""
        return self.current * self.voltage * self.time

    def joint(self) -> PlugJoint:
        """Two low-carbon sheets, no hole."""
        steel = find_steel("DC04")
        sheets = (Sheet(steel, self.t_top), Sheet(steel, self.t_bottom))
        return PlugJoint(StackUp(sheets), (0.0,), TorchPath.CENTRE)

    def set_up(self) -> ArcSetUp:
        """Wire feed by the melting law from the printed current."""
        steel = find_wire("G 3Si1")
        length = free_length(self.distance)
        feed = melting_feed(self.current, length, melting_law(steel, self.wire))
        return ArcSetUp(
            steel, self.wire, find_gas("Ar + 20 CO2"), feed, self.voltage, self.distance,
            arc_time=self.time,
        )  # fmt: skip


def arc_spots() -> list[ArcSpot]:
    """Every printed row."""
    rows = table("arc_spot_published")

    def middle(name: str, unit: str) -> list[float]:
        low, high = (rows.column(f"{name}_{end} [{unit}]") for end in ("min", "max"))
        return [float(one) for one in (low + high) / 2]

    columns = (
        rows.column("t_top [mm]") * 1e-3,
        rows.column("t_bottom [mm]") * 1e-3,
        rows.column("wire [mm]") * 1e-3,
        middle("time", "s"),
        rows.column("I [A]"),
        middle("U", "V"),
        rows.column("bead_diameter [mm]") * 1e-3,
        rows.column("CTWD [mm]") * 1e-3,
    )
    return [ArcSpot(*map(float, row)) for row in zip(*columns, strict=True)]


def found_diameter(row: ArcSpot) -> float:
    """Diameter of the head [m] by the model."""
    return read_marks(simulate(row.joint(), row.set_up())).head_diameter
