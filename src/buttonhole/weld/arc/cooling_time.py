"""Cooling time of a long seam by EN 1011-2, as a reference beside a computed one."""

import math
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.units import BadInput

HOTTEST_START = 450.0  # degC; the formulas have no meaning near 500
PER_MM = 1e-6  # kJ/mm in J/m


class Shape(StrEnum):
    """Form of the weld, which sets the standard's factors."""

    BEAD = "bead on plate"
    BUTT = "butt"
    CORNER_FILLET = "corner fillet"
    LAP_FILLET = "lap or T fillet"


# F2 (thin) and F3 (thick) of table D.1, from memory; the standard gives 0.45 to 0.67 for F2 of a
# lap or T fillet, of which the middle is taken.
FACTORS = {
    Shape.BEAD: (1.0, 1.0),
    Shape.BUTT: (0.9, 0.9),
    Shape.CORNER_FILLET: (0.9, 0.67),
    Shape.LAP_FILLET: (0.56, 0.67),
}


@dataclass(frozen=True, slots=True)
class LongSeamCooling:
    """Cooling times of a seam without ends; ``governing`` is the longer one."""

    thin: float  # s, two-dimensional
    thick: float  # s, three-dimensional
    transition_thickness: float  # m; thinner sheet is governed by the thin formula

    @property
    def governing(self) -> float:
        """The longer of the two [s]."""
        return max(self.thin, self.thick)


def long_seam_cooling(
    heat_input: float, thickness: float, start: float = 20.0, shape: Shape = Shape.BEAD
) -> LongSeamCooling:
    """Work out t8/5 of a long seam on a wide sheet that gives no heat to the air.

    On seams of 10 to 40 mm in thin sheet it comes out 1.5 to 3.5 times too long, which is the
    unsafe side for hardness: the ends cool the weld, and the air does. Never a prediction there.

    Parameters
    ----------
    heat_input : float
        Into the work, over the length of weld [J/m].
    thickness : float
        Of the sheet [m].
    start : float
        Temperature of the sheet before welding [degC], below 450.
    shape : Shape
        Form of the weld.

    Returns
    -------
    LongSeamCooling
        Times in [s].

    Raises
    ------
    BadInput
        A value has no meaning in the formulas.

    Sources
    -------
    en-1011-2, annex D (formulas read in unrelated public copies; factors from memory)
    """
    if not heat_input > 0.0:
        raise BadInput("heat_input", f"is {heat_input * 1e-3:g} J/mm; it must be above 0")
    if not thickness > 0.0:
        raise BadInput("thickness", f"is {thickness * 1e3:g} mm; it must be above 0")
    if not -50.0 <= start <= HOTTEST_START:
        raise BadInput("start", f"is {start:g} degC; give -50 to {HOTTEST_START:g} degC")
    f2, f3 = FACTORS[shape]
    q, d = heat_input * PER_MM, thickness * 1e3  # the formulas' own units: kJ/mm and mm
    low, high = 1.0 / (500.0 - start), 1.0 / (800.0 - start)
    thin = (4300.0 - 4.3 * start) * 1e5 * (q / d) ** 2 * (low**2 - high**2) * f2
    thick = (6700.0 - 5.0 * start) * q * (low - high) * f3
    ratio = (4300.0 - 4.3 * start) * 1e5 / (6700.0 - 5.0 * start) * q * (low + high)
    return LongSeamCooling(thin, thick, math.sqrt(ratio) * 1e-3)
