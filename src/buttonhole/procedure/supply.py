"""How much voltage a lead takes away under load, and what that does to the heat of a weld."""

import math
from dataclasses import dataclass

from buttonhole.units import BadInput

COPPER = 0.0206e-6  # ohm m, at 70 degC, the most a lead's insulation bears; from memory
USUAL_CURRENT = 60.0  # A, of each phase while a squeeze gun welds; assumption, no source
USUAL_VOLTAGE = 400.0  # V, between phases
LONGEST, THICKEST, THINNEST = 200.0, 95e-6, 0.5e-6  # m, m2, m2
MOST_LOST = 0.30  # -; a supply that loses more does not weld


@dataclass(frozen=True, slots=True)
class Supply:
    """An extension lead or an outlet and what is known of it.

    ``length`` [m] and ``cross_section`` [m2] of one copper conductor; ``measured_drop`` [-] under
    load at the gun's plug, which goes before both. ``current`` [A] of each phase while welding,
    ``voltage`` [V] between phases.

    Raises
    ------
    BadInput
        Neither is known, or a value no lead has.
    """

    name: str
    length: float | None = None  # m
    cross_section: float | None = None  # m2
    measured_drop: float | None = None  # -
    current: float = USUAL_CURRENT  # A
    voltage: float = USUAL_VOLTAGE  # V

    def __post_init__(self) -> None:
        """Refuse a lead that says nothing, or that can't be."""
        if not self.name.strip():
            raise BadInput("name", "is missing; say which outlet or lead")
        if self.measured_drop is None and (self.length is None or self.cross_section is None):
            raise BadInput("length", "give length and cross-section, or the drop that was measured")
        for key, value, low, high, factor, unit in (
            ("length", self.length, 0.0, LONGEST, 1.0, "m"),
            ("cross_section", self.cross_section, THINNEST, THICKEST, 1e6, "mm2"),
            ("measured_drop", self.measured_drop, 0.0, MOST_LOST, 100.0, "%"),
            ("current", self.current, 1.0, 1000.0, 1.0, "A"),
            ("voltage", self.voltage, 100.0, 1000.0, 1.0, "V"),
        ):
            if value is not None and not low <= value <= high:  # also catches NaN
                raise BadInput(
                    key,
                    f"is {value * factor:g} {unit}; give {low * factor:g} to {high * factor:g} "
                    f"{unit}",
                )

    @property
    def drop(self) -> float:
        """Share of the voltage that is lost under load [-].

        Sources
        -------
        derived: three phases, resistance alone, copper at 70 degC.
        """
        if self.measured_drop is not None:
            return self.measured_drop
        assert self.length is not None  # noqa: S101 - checked above
        assert self.cross_section is not None  # noqa: S101 - checked above
        ohm = COPPER * self.length / self.cross_section
        return min(math.sqrt(3.0) * self.current * ohm / self.voltage, MOST_LOST)

    @property
    def words(self) -> str:
        """The drop and what it does, in a sentence."""
        how = "measured" if self.measured_drop is not None else f"at {self.current:g} A, worked out"
        return (
            f"{self.name}: {100.0 * self.drop:.1f} % of the voltage is lost ({how}); a gun that "
            f"does not hold its current then gives {100.0 * heat_lost(self.drop):.0f} % less heat."
        )


def heat_lost(drop: float) -> float:
    """Share of the heat that a lower voltage costs where the current follows it.

    Parameters
    ----------
    drop : float
        Share of the voltage that is lost [-].

    Returns
    -------
    float
        [-].

    Sources
    -------
    derived: heat goes with the square of the current.
    """
    return 1.0 - (1.0 - drop) ** 2
