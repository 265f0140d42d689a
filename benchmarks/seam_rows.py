"""Seams that are welded by computation to score the solver: the reference, and published rows."""

import dataclasses
import math
from collections.abc import Iterator

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.seam import (
    DEFAULT,
    JointKind,
    Resolution,
    SeamJoint,
    SeamSheet,
    seam_set_up,
    simulate,
)
from buttonhole.weld.arc.seam.reading import SeamReading, read
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import Wire, find_wire

MM = 1e-3
REFERENCE = "1 + 1 mm DC04, 0.8 mm G 3Si1, M21, 5.6 m/min, 17.5 V, 13 mm tube to work"
THICKEST = 3.2  # mm, of the published rows that are welded
Row = dict[str, float | str | None]


def sheet(mm: float, coating: Coating = Coating.BARE, steel: str = "DC04") -> SeamSheet:
    """A steel of ``mm``."""
    return SeamSheet.of_steel(Sheet(find_steel(steel), mm * MM, coating))


def lap(
    upper: float = 1.0, lower: float = 1.0, length: float = 40.0, gap: float = 0.0
) -> SeamJoint:
    """Lap of two sheets, all in mm."""
    return SeamJoint(JointKind.LAP, sheet(upper), sheet(lower), length * MM, gap=gap * MM)


def machine(
    work: float = 45.0, aim: float = 0.0, speed: float = 10.0, tube: float = 13.0, feed: float = 5.6
) -> ArcSetUp:
    """Machine of the reference, in degrees, mm, mm/s, m/min."""
    return ArcSetUp(
        find_wire("G 3Si1"), 0.8 * MM, find_gas("M21"), feed / 60.0, 17.5, tube * MM,
        travel_speed=speed * MM, work_angle=math.radians(work), aim_offset=aim * MM,
    )  # fmt: skip


def welded(joint: SeamJoint, set_up: ArcSetUp, grid: Resolution = DEFAULT) -> SeamReading:
    """One steady seam, read."""
    return read(simulate(joint, seam_set_up(joint, set_up), grid))


def printed(row: Row, feed: float) -> ArcSetUp:
    """Set-up of a row of the manuals at the middle of what is printed, with a wire feed [m/s]."""

    def mean(name: str, unit: str, other: float = 0.0) -> float:
        low, high = row[f"{name}_min [{unit}]"], row[f"{name}_max [{unit}]"]
        return 0.5 * (float(low) + float(high)) if low and high else other

    return ArcSetUp(
        find_wire("G 3Si1"), min((0.8, 1.0, 1.2), key=lambda d: abs(d - mean("wire", "mm"))) * MM,
        find_gas("M21" if row["gas"] == "M21" else "C1"), feed, mean("U", "V"),
        mean("CTWD", "mm", 12.0) * MM, travel_speed=mean("speed", "cm/min") / 6000.0,
        work_angle=math.radians(45.0),
    )  # fmt: skip


def fed(row: Row) -> ArcSetUp:
    """The set-up whose current is the middle of what is printed."""
    wanted = 0.5 * (float(row["I_min [A]"] or 0.0) + float(row["I_max [A]"] or 0.0))
    low, high = 0.02, 0.4
    for _ in range(40):
        feed = 0.5 * (low + high)
        current = operating_point(printed(row, feed)).current.value
        low, high = (feed, high) if current < wanted else (low, feed)
    return printed(row, low)


def steel_rows(joint: str) -> Iterator[Row]:
    """Published settings of one kind of joint on steel."""
    for row in table("arc_settings_published").rows():
        thin = float(row["t [mm]"] or 0.0) <= THICKEST
        if row["gas"] != "I1" and row["joint"] == joint and thin:
            yield dict(row)


def fed_for(energy: float, wire: Wire, speed: float, base: ArcSetUp) -> ArcSetUp:
    """The set-up like ``base`` whose feed gives an arc energy [J/m] at a speed [m/s]."""
    low, high = 0.01, 0.4  # m/s
    made = base
    for _ in range(40):
        feed = 0.5 * (low + high)
        made = dataclasses.replace(base, wire=wire, wire_feed_speed=feed, travel_speed=speed)
        power = operating_point(made).arc_power.value
        low, high = (feed, high) if power / speed < energy else (low, feed)
    return made
