"""What a spot weld holds: published smallest loads, and the torque that twists it off.

All of them are guide values for making a procedure. The vehicle maker's figure goes before them.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from buttonhole.sources import Status, table
from buttonhole.units import BadInput


class Edition(StrEnum):
    """Which print of the AWS formula for the smallest shear-tension load."""

    C1_1 = "AWS C1.1"
    D8_1M_2007 = "AWS D8.1M:2007"


@dataclass(frozen=True, slots=True)
class LoadFormula:
    """Polynomial a S^2 + b S + c that multiplies S 4 t^1.5, with S in MPa and t in mm.

    As the weld is taken as 4 sqrt(t), 4 t^1.5 is thickness times diameter, and the polynomial is
    the factor k in F = k S t d. ``a`` [1/MPa^2], ``b`` [1/MPa], ``c`` [-].
    """

    a: float
    b: float
    c: float
    source: str  # key in the bibliography
    status: Status


EDITION_ROW = {Edition.C1_1: "C1.1", Edition.D8_1M_2007: "D8.1M:2007"}


@cache
def load_formula(edition: Edition) -> LoadFormula:
    """Return the coefficients of one print of the formula."""
    listed = table("strength_aws_formula").where("edition", EDITION_ROW[edition])
    a, b, c = (float(listed.column(header)[0]) for header in ("a [1/MPa2]", "b [1/MPa]", "c [-]"))
    return LoadFormula(a, b, c, listed.text("source")[0], listed.row_status()[0])


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not (value > 0.0 and math.isfinite(value)):  # also catches NaN
            raise BadInput(name, f"is {value:g}; give a value above zero")


def load_factor(tensile_strength: float, edition: Edition = Edition.C1_1) -> float:
    """Return the factor k of F = k S t d that an edition uses for a steel.

    Parameters
    ----------
    tensile_strength : float
        Of the sheet that governs [Pa].
    edition : Edition
        Which print of the formula.

    Returns
    -------
    float
        k [-].

    Raises
    ------
    BadInput
        The strength is not above zero, or so high that the parabola has gone below zero.

    Sources
    -------
    aws-c1-1 (read as quoted); aws-d8-1m (2007, from memory).
    """
    _positive(tensile_strength=tensile_strength)
    formula, strength = load_formula(edition), tensile_strength * 1e-6
    factor = formula.a * strength**2 + formula.b * strength + formula.c
    if factor <= 0.0:
        raise BadInput(
            "tensile_strength",
            f"is {strength:g} MPa, where the {edition} formula has no meaning; "
            "give the strength of a sheet steel, up to about 2000 MPa",
        )
    return factor


def minimum_tensile_shear(
    tensile_strength: float, thickness: float, edition: Edition = Edition.C1_1
) -> float:
    """Return the smallest shear-tension load of one spot weld of 4 sqrt(t).

    Parameters
    ----------
    tensile_strength : float
        Of the sheet that governs [Pa].
    thickness : float
        Of the sheet that governs: for unequal sheets the thinner [m].
    edition : Edition
        Which print of the formula; the one of 2007 is from memory.

    Returns
    -------
    float
        Load [N].

    Raises
    ------
    BadInput
        A value is not above zero.

    Sources
    -------
    aws-c1-1 (read as quoted); aws-d8-1m (2007, from memory).

    Examples
    --------
    >>> round(minimum_tensile_shear(590e6, 1.0e-3))
    4713
    """
    _positive(thickness=thickness)
    factor = load_factor(tensile_strength, edition)
    return factor * tensile_strength * 1e-6 * 4.0 * math.pow(thickness * 1e3, 1.5)


def strongest_factor(edition: Edition = Edition.C1_1) -> tuple[float, float]:
    """Return where the factor k is largest, and how large.

    Past that strength more strength adds ever less load. It comes from setting the derivative of
    the polynomial to zero.

    Parameters
    ----------
    edition : Edition
        Which print of the formula.

    Returns
    -------
    tuple of float
        Tensile strength [Pa] and k [-].
    """
    formula = load_formula(edition)
    strength = -formula.b / (2.0 * formula.a) * 1e6
    return strength, load_factor(strength, edition)


def minimum_cross_tension(thickness: float) -> float:
    """Return the smallest cross-tension load of one weld of 4 sqrt(t), from memory.

    Parameters
    ----------
    thickness : float
        Of the thinner sheet [m].

    Returns
    -------
    float
        1.25 t^2.2 kN with t in mm, as load [N].

    Raises
    ------
    BadInput
        The thickness is not above zero.

    Sources
    -------
    aws-d8-1m (2007, from memory).
    """
    _positive(thickness=thickness)
    return 1250.0 * math.pow(thickness * 1e3, 2.2)


def torsion_torque(weld_diameter: float, shear_strength: float, *, yielded: bool = True) -> float:
    """Return the torque that twists off a solid round weld.

    Parameters
    ----------
    weld_diameter : float
        Fused diameter [m].
    shear_strength : float
        Of the weld [Pa].
    yielded : bool
        True: it has yielded all through; false: it just begins to at the rim.

    Returns
    -------
    float
        Torque [N m].

    Raises
    ------
    BadInput
        A value is not above zero.

    Sources
    -------
    derived (twist of a round bar); ISO 17653 prints no formula that was read.
    """
    _positive(weld_diameter=weld_diameter, shear_strength=shear_strength)
    return math.pi * weld_diameter**3 * shear_strength / (12.0 if yielded else 16.0)


def shear_strength_from_torque(torque: float, weld_diameter: float) -> float:
    """Return the shear strength that a measured torque stands for, yielded all through.

    The diameter counts to the third power: 5 % too large a diameter gives 14 % too low a strength.

    Parameters
    ----------
    torque : float
        Largest torque measured [N m].
    weld_diameter : float
        Fused diameter measured on the broken face [m].

    Returns
    -------
    float
        Shear strength [Pa].

    Raises
    ------
    BadInput
        A value is not above zero.
    """
    _positive(torque=torque, weld_diameter=weld_diameter)
    return 12.0 * torque / (math.pi * weld_diameter**3)


def is_brittle(cross_tension: float, tensile_shear: float) -> bool:
    """Whether a joint holds so little across that it counts as brittle.

    Parameters
    ----------
    cross_tension, tensile_shear : float
        Measured loads of the same joint [N].

    Returns
    -------
    bool
        The cross-tension load is a quarter of the shear load or less.

    Raises
    ------
    BadInput
        A load is not above zero.

    Sources
    -------
    jis-z-3140 (scope clause of 1989, read: such joints are left out of it)
    """
    _positive(cross_tension=cross_tension, tensile_shear=tensile_shear)
    return cross_tension <= 0.25 * tensile_shear
