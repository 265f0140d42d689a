"""What is set on an arc welding machine and how the torch is held (ISO 857-1, ISO/TR 25901)."""

from dataclasses import dataclass
from enum import StrEnum

from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import Gas
from buttonhole.weld.arc.wire import Wire, wire_area

# Bounds of what can be computed, not of what is good; common practice, no source.
FEEDS = (0.5 / 60.0, 30.0 / 60.0)  # m/s
VOLTAGES = (8.0, 45.0)  # V
DISTANCES = (4e-3, 40e-3)  # m
ARC_TIMES = (0.05, 60.0)  # s
TRAVEL_SPEEDS = (0.5e-3, 60e-3)  # m/s
UPRIGHT = 1.5707963267948966  # rad, a right angle


class Polarity(StrEnum):
    """Which pole the wire is."""

    POSITIVE = "wire positive"
    NEGATIVE = "wire negative"


class Position(StrEnum):
    """Welding position (ISO 6947)."""

    PA = "PA"  # flat
    PB = "PB"  # horizontal, vertical member
    PC = "PC"  # horizontal on a wall
    PE = "PE"  # overhead
    PF = "PF"  # vertical up
    PG = "PG"  # vertical down


@dataclass(frozen=True, slots=True)
class ArcSetUp:
    """One arc set-up: machine, wire, gas, torch.

    ``wire_diameter`` [m]; ``wire_feed_speed`` [m/s]; ``arc_voltage`` [V] between contact tube and
    work; ``contact_tube_distance`` [m] from contact tube to work. ``arc_time`` [s] or
    ``travel_speed`` [m/s], whichever the weld is made by. ``work_angle`` [rad] lies between torch
    and base sheet across the seam, a right angle is upright. ``travel_angle`` [rad] is the tilt
    from upright along the seam, positive when the torch points ahead (pushed), negative when it
    points back (dragged). ``aim_offset`` [m] from the joint, positive on to the base sheet.
    ``gas_flow`` [m3/s], None where not set.
    """

    wire: Wire
    wire_diameter: float
    gas: Gas
    wire_feed_speed: float
    arc_voltage: float
    contact_tube_distance: float
    arc_time: float | None = None
    travel_speed: float | None = None
    work_angle: float = UPRIGHT
    travel_angle: float = 0.0
    aim_offset: float = 0.0
    polarity: Polarity = Polarity.POSITIVE
    position: Position = Position.PA
    gas_flow: float | None = None

    def __post_init__(self) -> None:
        wire_area(self.wire_diameter)
        feed, distance = self.wire_feed_speed, self.contact_tube_distance
        _within("wire_feed_speed", feed, FEEDS, 60.0, "m/min")
        _within("arc_voltage", self.arc_voltage, VOLTAGES, 1.0, "V")
        _within("contact_tube_distance", distance, DISTANCES, 1e3, "mm")
        if self.arc_time is not None:
            _within("arc_time", self.arc_time, ARC_TIMES, 1.0, "s")
        if self.travel_speed is not None:
            _within("travel_speed", self.travel_speed, TRAVEL_SPEEDS, 1e3, "mm/s")
        if not 0.0 < self.work_angle < 2.0 * UPRIGHT:
            raise BadInput("work_angle", "give 0 to 180 deg; 90 deg is upright on the base sheet")
        if not -UPRIGHT < self.travel_angle < UPRIGHT:
            raise BadInput("travel_angle", "give -90 to 90 deg; 0 deg is upright, push positive")
        if not abs(self.aim_offset) <= 20e-3:
            raise BadInput("aim_offset", "give -20 to 20 mm from the joint")


def _within(key: str, value: float, limits: tuple[float, float], factor: float, unit: str) -> None:
    low, high = limits
    if not low <= value <= high:  # also catches NaN
        raise BadInput(
            key,
            f"is {value * factor:g} {unit}; give {low * factor:g} to {high * factor:g} {unit}",
        )
