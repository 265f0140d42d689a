"""What the heat leaves: hardness of the weld from composition and cooling time."""

import math

from buttonhole.joint.steel import Family, Steel

AUSTENITIC_HARDNESS = 220.0  # HV, from memory: an austenitic weld does not harden by cooling
RELATIVE_SPREAD = 0.15  # of the hardness, half width of the 90 % interval, from memory
FASTEST = 1e-3  # s; no spot weld cools faster
TENSILE_OVER_HARDNESS = 3.2e6  # Pa/HV, unalloyed steel, from memory
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
