"""Hardness and tensile strength of steel, one from the other, with how far that may be off."""

from dataclasses import dataclass

import numpy as np

from buttonhole.joint.steel import Family
from buttonhole.sources import Status, table
from buttonhole.units import BadInput

SPREAD = 0.10  # -, of the tensile strength, 90 % of steels; judged, no source
# The table is not for austenitic steel, which hardens as it is pressed in; judged, no source.
SPREAD_AUSTENITIC = 0.30
READ_UP_TO = 470.0  # HV; the rows above are from memory


@dataclass(frozen=True, slots=True)
class Converted:
    """A ``value`` with the ``low`` and ``high`` ends of 90 % of steels, all in [Pa] or [HV]."""

    value: float
    low: float
    high: float
    status: Status
    source: str  # key in the bibliography


def spread(family: Family) -> float:
    """How far the conversion may be off, a share of the tensile strength [-]."""
    return SPREAD_AUSTENITIC if family is Family.STAINLESS else SPREAD


def tensile_of_hardness(hardness: float, family: Family = Family.UNKNOWN) -> Converted:
    """Tensile strength that goes with a Vickers hardness.

    Parameters
    ----------
    hardness : float
        80 to 650 [HV].
    family : Family
        Kind of steel; for stainless steel the band is wider.

    Returns
    -------
    Converted
        Tensile strength [Pa].

    Raises
    ------
    BadInput
        The hardness lies outside the table.

    Sources
    -------
    iso-18265 (read to 470 HV as quoted, from memory above)

    Examples
    --------
    >>> round(tensile_of_hardness(200.0).value / 1e6)
    640
    """
    found = table("hardness_tensile")
    value = 1e6 * found.interpolate("HV [HV]", "Rm [MPa]", hardness)
    part = spread(family) * value
    return Converted(value, value - part, value + part, _status(hardness), "iso-18265")


def hardness_of_tensile(tensile: float, family: Family = Family.UNKNOWN) -> Converted:
    """Vickers hardness that goes with a tensile strength.

    Parameters
    ----------
    tensile : float
        250e6 to 2180e6 [Pa].
    family : Family
        Kind of steel; for stainless steel the band is wider.

    Returns
    -------
    Converted
        Hardness [HV]; its ends are held at the ends of the table.

    Raises
    ------
    BadInput
        The strength lies outside the table.

    Sources
    -------
    iso-18265 (read to 470 HV as quoted, from memory above)
    """
    found = table("hardness_tensile")
    strengths, hardnesses = 1e6 * found.column("Rm [MPa]"), found.column("HV [HV]")
    if not strengths[0] <= tensile <= strengths[-1]:  # also catches NaN
        raise BadInput(
            "tensile_strength",
            f"is {tensile / 1e6:.4g} MPa; the conversion covers {strengths[0] / 1e6:g} to "
            f"{strengths[-1] / 1e6:g} MPa",
        )
    share = spread(family)
    value, low, high = (
        float(np.interp(one, strengths, hardnesses))
        for one in (tensile, tensile / (1.0 + share), tensile / (1.0 - share))
    )
    return Converted(value, low, high, _status(value), "iso-18265")


def _status(hardness: float) -> Status:
    return Status.READ if hardness <= READ_UP_TO else Status.MEMORY
