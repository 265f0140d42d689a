"""What a spot weld must hold at least: published smallest loads.

All of them are guide values for making a procedure. The vehicle maker's figure goes before them.
"""

import math
from collections.abc import Sequence
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


POUND_FORCE, INCH = 4.4482216152605, 25.4e-3  # N, m; exact by definition
EQUATION_TO = 3.56e-3  # m, thickest the equation for nominal loads is for; aisi-s100, from memory
NOMINAL = "nominal"  # name of the load that is no minimum
LOW_CARBON = (250e6, 350e6)  # Pa, about what chart and nominal loads are for; from memory


@dataclass(frozen=True, slots=True)
class LeastLoad:
    """One published load for one spot weld in shear [N], and whether it is for such a sheet.

    ``is_minimum``: a weld must hold it; a nominal load is what designers count with.

    ``remark`` says what it is for. One from memory is shown, and is no line to pass or fail by.
    """

    name: str
    load: float
    applies: bool
    is_minimum: bool
    remark: str
    source: str  # key in the bibliography
    status: Status


EDITION_ROW = {Edition.C1_1: "C1.1", Edition.D8_1M_2007: "D8.1M:2007"}


@cache
def load_formula(edition: Edition) -> LoadFormula:
    """Return the coefficients of one print of the formula."""
    listed = table("strength_aws_formula").where("edition", EDITION_ROW[edition])
    a, b, c = (float(listed.column(header)[0]) for header in ("a [1/MPa2]", "b [1/MPa]", "c [-]"))
    return LoadFormula(a, b, c, listed.text("source")[0], listed.row_status()[0])


def above_zero(**values: float) -> None:
    """Refuse what is not above zero [SI], by its name."""
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
    above_zero(tensile_strength=tensile_strength)
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
    above_zero(thickness=thickness)
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
    above_zero(thickness=thickness)
    return 1250.0 * math.pow(thickness * 1e3, 2.2)


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
    above_zero(cross_tension=cross_tension, tensile_shear=tensile_shear)
    return cross_tension <= 0.25 * tensile_shear


def chart_minimum(thickness: float) -> float:
    """Smallest shear load of one spot weld in the handbook chart for low-carbon sheet.

    Parameters
    ----------
    thickness : float
        Of the thinnest outside sheet, 0.254 to 6.35 mm [m].

    Returns
    -------
    float
        Load [N], linear between the rows.

    Raises
    ------
    BadInput
        The chart does not cover the thickness.

    Sources
    -------
    rw-supplier-chart (read; sheet of 290 to 310 MPa)
    """
    above_zero(thickness=thickness)
    found = table("schedule_sae1010")
    return POUND_FORCE * found.interpolate("t [in]", "shear_min [lbf]", thickness / INCH)


def nominal_shear(thickness: float) -> float:
    """Nominal shear strength of one spot weld in low-carbon sheet, as a design handbook lists it.

    Parameters
    ----------
    thickness : float
        Of the thinnest outside sheet, 0.254 to 6.35 mm [m].

    Returns
    -------
    float
        Load [N], linear between the rows.

    Raises
    ------
    BadInput
        The table does not cover the thickness.

    Sources
    -------
    merritt-ricketts (read)

    Examples
    --------
    >>> round(nominal_shear(1.016e-3))
    6316
    """
    above_zero(thickness=thickness)
    found = table("strength_aisi_nominal")
    return 1e3 * POUND_FORCE * found.interpolate("t [in]", "F [kip]", thickness / INCH)


def nominal_shear_equation(thickness: float) -> float:
    """The same by the equation of the design code, from memory.

    Parameters
    ----------
    thickness : float
        Up to 3.56 mm [m].

    Returns
    -------
    float
        5.51 t^1.47 kN with t in mm, as load [N].

    Raises
    ------
    BadInput
        Thicker than the equation is for, or no thickness.

    Sources
    -------
    aisi-s100 (from memory)
    """
    above_zero(thickness=thickness)
    if thickness > EQUATION_TO:
        raise BadInput(
            "thickness", f"is {1e3 * thickness:g} mm; the equation ends at {1e3 * EQUATION_TO:g} mm"
        )
    return 5510.0 * math.pow(1e3 * thickness, 1.47)


def least_loads(sheets: Sequence[tuple[float, float]]) -> tuple[LeastLoad, ...]:
    """Every published load for a spot weld between some sheets.

    Parameters
    ----------
    sheets : sequence of (thickness, tensile strength)
        Of the two sheets of an interface [m], [Pa].

    Returns
    -------
    tuple of LeastLoad
        The smallest loads first. Of unlike sheets the thinner one counts, and of unlike strengths
        the one that asks for less.

    Raises
    ------
    BadInput
        A value is not above zero.

    Sources
    -------
    aws-c1-1, rw-supplier-chart, merritt-ricketts (read); aws-d8-1m (2007, from memory)
    """
    thickness = min(one for one, _strength in sheets)
    strengths = [strength for _thickness, strength in sheets]
    found = []
    for edition in Edition:
        formula = load_formula(edition)
        load = min(minimum_tensile_shear(one, thickness, edition) for one in strengths)
        remark = "smallest load of a weld of 4 sqrt(t)"
        found.append(
            LeastLoad(edition.value, load, True, True, remark, formula.source, formula.status)
        )
    low, high = LOW_CARBON
    applies = low <= min(strengths) <= high
    for name, load_of, listed, remark in (
        ("chart minimum", chart_minimum, "schedule_sae1010", "smallest load of the chart's weld"),
        (NOMINAL, nominal_shear, "strength_aisi_nominal", "nominal load of a design handbook"),
    ):
        where = table(listed).provenance
        try:
            load = load_of(thickness)
        except BadInput:
            continue
        words = remark if applies else f"{remark}; for low-carbon sheet, so not for this one"
        found.append(
            LeastLoad(name, load, applies, name != NOMINAL, words, where.source, where.status)
        )
    return tuple(sorted(found, key=lambda one: one.load))
