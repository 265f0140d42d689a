"""What the heat leaves: where steel transforms and softens, and how hard it gets."""

import math

from buttonhole.joint.material import curves
from buttonhole.joint.steel import HARDENED, Family, Steel
from buttonhole.sources import table
from buttonhole.weld.estimate import Z90, Estimate

AUSTENITIC_HARDNESS = 220.0  # HV, from memory: an austenitic weld does not harden by cooling
RELATIVE_SPREAD = 0.15  # of the hardness, half width of the 90 % interval, from memory
FASTEST = 1e-3  # s; no spot weld cools faster
TENSILE_OVER_HARDNESS = 3.2e6  # Pa/HV, unalloyed steel, from memory
TEMPERED_FROM = Estimate(
    550.0, 500.0, 600.0
)  # degC; martensite softens visibly from here on to Ac1;
# common practice, its spread judged
STRONG = 980e6  # Pa; grades of any kind from here on hold enough martensite to soften; judged
SLOW = 1.0  # K/s; up to here Ac1 and Ac3 are those at rest; from memory
FASTEST_HEATING = 1e5  # K/s; beyond it nothing is known
# K, one standard deviation of the formula for each line (table andrews_1965)
FORMULA_SPREAD = {"Ac1": 12.0, "Ac3": 17.0}
# wt%; a steel that is not known counts as the hardest one a body is made of
UNKNOWN_AS = {"C": 0.25, "Si": 0.4, "Mn": 1.4, "Cr": 0.3}


def martensite_hardness(steel: Steel, cooling_t85: float) -> float:
    """Hardness of fully martensitic weld metal.

    The formula was fitted to arc welding and heat treatment; a spot weld cools at its fast end,
    where its cooling term changes little. It gives too much for steel so lean that it does not
    harden.

    Parameters
    ----------
    steel : Steel
        With its typical composition.
    cooling_t85 : float
        Time from 800 to 500 degC [s].

    Returns
    -------
    float
        Vickers hardness [HV].

    Sources
    -------
    maynier-1978 (from memory).
    """
    if steel.family is Family.STAINLESS:
        return AUSTENITIC_HARDNESS
    content = UNKNOWN_AS if steel.is_unknown else dict(steel.composition)
    rate = 300.0 / max(cooling_t85, FASTEST) * 3600.0  # K/h
    return (
        127.0
        + 949.0 * content.get("C", 0.0)
        + 27.0 * content.get("Si", 0.0)
        + 11.0 * content.get("Mn", 0.0)
        + 8.0 * content.get("Ni", 0.0)
        + 16.0 * content.get("Cr", 0.0)
        + 21.0 * math.log10(rate)
    )


def sheet_hardness(steel: Steel) -> float:
    """Hardness of a sheet that no weld has touched.

    Parameters
    ----------
    steel : Steel
        With the lowest tensile strength its standard allows.

    Returns
    -------
    float
        Vickers hardness [HV].

    Sources
    -------
    handbook-memory (conversion for unalloyed steel).
    """
    return steel.tensile_strength / TENSILE_OVER_HARDNESS


def transformation_line(steel: Steel, line: str, heating_rate: float) -> Estimate | None:
    """Temperature at which a steel begins (Ac1) or ends (Ac3) to turn into austenite.

    The formula gives it for slow heating. The faster the heating, the later the transformation: it
    rises with the logarithm of the rate.

    Parameters
    ----------
    steel : Steel
        With its typical composition.
    line : str
        "Ac1" or "Ac3".
    heating_rate : float
        On the way there [K/s]; NaN counts as slow.

    Returns
    -------
    Estimate or None
        [degC] with its 90 % interval; None for a steel that does not transform.

    Sources
    -------
    andrews-1965 (at rest, from memory); orlich-1973 (rise with the rate, from memory).
    """
    found = curves(steel)
    rest = found.ac1 if line == "Ac1" else found.ac3
    if not math.isfinite(rest):
        return None
    rate = heating_rate if heating_rate > SLOW else SLOW  # also for NaN
    decades = math.log10(min(rate, FASTEST_HEATING) / SLOW)
    rises = table("transformation_heating_rate").where("line", line)
    rise, low, high = (
        float(rises.column(f"{name} [K]")[0]) * decades
        for name in ("rise", "rise_low", "rise_high")
    )
    formula = Z90 * FORMULA_SPREAD[line]
    value = rest + rise
    return Estimate(
        value, value - math.hypot(formula, rise - low), value + math.hypot(formula, high - rise)
    )


def softens(steel: Steel) -> bool:
    """Whether a ring of the heat-affected zone gets softer than the sheet.

    Martensite is tempered between about 550 degC and Ac1, so steel that owes its strength to
    martensite does. A steel that nobody knows counts as one that does.

    Parameters
    ----------
    steel : Steel
        Any steel.

    Returns
    -------
    bool
        True for dual-phase, complex-phase, martensitic and hot-stamped steel, for any other
        that is not stainless from 980 MPa on, and for the unknown one.
    """
    if steel.family is Family.STAINLESS:
        return False
    by_martensite = steel.family in HARDENED or steel.family in (Family.DP, Family.CP)
    return steel.is_unknown or by_martensite or steel.tensile_strength >= STRONG
