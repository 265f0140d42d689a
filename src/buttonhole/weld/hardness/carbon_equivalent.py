"""Carbon equivalents: one figure for how readily a steel hardens, by several conventions.

None of them is a limit. They rank steels, each within what it was made for.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from buttonhole.sources import Status, table
from buttonhole.units import BadInput

NAMES = ("CE_IIW", "CE_AWS", "Pcm", "CET", "CEN", "CE_spot")
# Carbon each was made for [wt%]; from memory, of CET read
CARBON = {
    "CE_IIW": (0.18, 0.6),
    "CE_AWS": (0.18, 0.6),
    "Pcm": (0.02, 0.16),
    "CET": (0.05, 0.32),
    "CEN": (0.0, 0.3),
    "CE_spot": (0.0, 0.3),
}
# What CET is valid for [wt%], EN 1011-2 annex C
CET_SCOPE = {
    "C": (0.05, 0.32),
    "Si": (0.0, 0.8),
    "Mn": (0.5, 1.9),
    "Cr": (0.0, 1.5),
    "Cu": (0.0, 0.7),
    "Mo": (0.0, 0.75),
    "Ni": (0.0, 2.5),
    "B": (0.0, 0.005),
}


@dataclass(frozen=True, slots=True)
class CarbonEquivalent:
    """One of them for one steel: ``value`` [wt%], what it is for, and whether this steel is."""

    name: str
    value: float
    made_for: str
    in_range: bool
    source: str  # key in the bibliography
    status: Status


@cache
def _shares(name: str) -> Mapping[str, float]:
    row = table("carbon_equivalent_formulas").where("name", name).rows()[0]
    found = {}
    for header, share in row.items():
        if header.endswith(" [-]") and isinstance(share, float):
            found[header.removesuffix(" [-]")] = share
    return found


def carbon_equivalent(composition: Mapping[str, float], name: str) -> float:
    """Work out one carbon equivalent.

    Parameters
    ----------
    composition : mapping of str to float
        Content by element [wt%]; what is not in it counts as none.
    name : str
        "CE_IIW", "CE_AWS" (with silicon), "Pcm", "CET", "CEN" or "CE_spot" (thin sheet).

    Returns
    -------
    float
        [wt%].

    Raises
    ------
    BadInput
        There is no such convention, or a content is no share of a steel.

    Sources
    -------
    iiw-ce, aws-d1-1, ito-bessyo-1968, en-1011-2, yurioka-1983 (read); nishi-1982 (from memory)

    Examples
    --------
    >>> round(carbon_equivalent({"C": 0.23, "Si": 0.25, "Mn": 1.2, "Cr": 0.2}, "CE_IIW"), 2)
    0.47
    """
    if name not in NAMES:
        raise BadInput("carbon equivalent", f"{name!r} is none; there are {', '.join(NAMES)}")
    for element, content in composition.items():
        if not 0.0 <= content <= 40.0:  # also catches NaN
            raise BadInput(element, f"is {content:g} %; give its share of the mass, 0 to 40 %")
    shares = _shares(name)
    carbon = composition.get("C", 0.0)
    others = sum(
        share * composition.get(element, 0.0) for element, share in shares.items() if element != "C"
    )
    return carbon + (accommodation(carbon) if name == "CEN" else 1.0) * others


def accommodation(carbon: float) -> float:
    """Factor A(C) of CEN: how much the other elements count.

    Parameters
    ----------
    carbon : float
        Content [wt%].

    Returns
    -------
    float
        0.5 (hardly any carbon) to 1 [-].

    Sources
    -------
    yurioka-1983 (read)
    """
    return 0.75 + 0.25 * math.tanh(20.0 * (carbon - 0.12))


def carbon_equivalents(composition: Mapping[str, float]) -> tuple[CarbonEquivalent, ...]:
    """Work out all of them, each saying what it was made for.

    Parameters
    ----------
    composition : mapping of str to float
        Content by element [wt%].

    Returns
    -------
    tuple of CarbonEquivalent
        In the order of ``NAMES``.

    Raises
    ------
    BadInput
        A content is no share of a steel.
    """
    listed = table("carbon_equivalent_formulas")
    found = []
    for name in NAMES:
        row = listed.where("name", name)
        found.append(
            CarbonEquivalent(
                name,
                carbon_equivalent(composition, name),
                row.text("range")[0],
                _in_range(composition, name),
                row.text("source")[0],
                row.row_status()[0],
            )
        )
    return tuple(found)


def _in_range(composition: Mapping[str, float], name: str) -> bool:
    scope = CET_SCOPE if name == "CET" else {"C": CARBON[name]}
    return all(low <= composition.get(each, 0.0) <= high for each, (low, high) in scope.items())
