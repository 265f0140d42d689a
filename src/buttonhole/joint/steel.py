"""Sheet steels by the designation printed on the job, never by a guess."""

import difflib
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from buttonhole.sources import Status, table
from buttonhole.units import BadInput


class Family(StrEnum):
    """Kind of steel, by how it gets its strength."""

    LOW_CARBON = "low-carbon"
    BAKE_HARDENING = "bake-hardening"
    HSLA = "HSLA"
    DP = "DP"
    CP = "CP"
    TRIP = "TRIP"
    MS = "MS"
    PHS = "PHS"
    STAINLESS = "stainless"
    UNKNOWN = "unknown"


HARDENED = frozenset({Family.MS, Family.PHS})
MULTIPHASE = frozenset({Family.DP, Family.CP, Family.TRIP})


@dataclass(frozen=True, slots=True)
class Steel:
    """A sheet steel.

    ``yield_strength`` [Pa] is the value its property curves are scaled to, ``tensile_strength``
    [Pa] the lowest the standard allows; ``yield_range`` and ``tensile_range`` [Pa] are the
    standard's, infinite where it sets no limit. ``composition`` [wt%] is the typical one and
    ``composition_limit`` [wt%] the standard's maximum, by element.
    """

    designation: str
    family: Family
    yield_strength: float
    tensile_strength: float
    composition: Mapping[str, float]
    property_set: str
    source: str  # key in the bibliography
    status: Status
    yield_range: tuple[float, float] = (0.0, math.inf)
    tensile_range: tuple[float, float] = (0.0, math.inf)
    composition_limit: Mapping[str, float] = field(default_factory=dict)

    def __hash__(self) -> int:
        return hash(self.designation)

    @property
    def is_unknown(self) -> bool:
        """Nobody knows what the sheet is."""
        return self.family is Family.UNKNOWN

    @property
    def is_sensitive(self) -> bool:
        """Hardens or loses strength where it is heated; an unknown steel counts as such."""
        return self.is_unknown or self.family in HARDENED or self.family in MULTIPHASE


UNKNOWN_STEEL = Steel(
    designation="unknown",
    family=Family.UNKNOWN,
    # Every side taken against us: the heat of the steel that conducts best and warms least, the
    # load of the strongest one in use.
    yield_strength=190e6,
    tensile_strength=1500e6,
    composition={},
    property_set="low-carbon",
    source="common-practice",
    status=Status.COMMON_PRACTICE,
)


def find_steel(text: str) -> Steel:
    """Return the steel of a designation; case, spaces and hyphens do not count.

    Parameters
    ----------
    text : str
        Designation as printed, a listed other name of it, or "unknown".

    Returns
    -------
    Steel
        Exactly that steel; for "unknown" ``UNKNOWN_STEEL``.

    Raises
    ------
    BadInput
        The designation is not listed. The message names near ones and picks none.
    """
    names = _names()
    key = _normal(text)
    if key == _normal(UNKNOWN_STEEL.designation):
        return UNKNOWN_STEEL
    if key in names:
        return _steels()[names[key]]
    shown = text if len(text) <= 40 else text[:40] + "..."
    near = difflib.get_close_matches(key[:40], names, n=4, cutoff=0.6)
    listed = list(dict.fromkeys(names[each] for each in near))
    hint = f"near names: {', '.join(listed)}. " if listed else ""
    raise BadInput(
        "steel",
        f"{shown!r} is no listed steel. {hint}Give the designation as the maker prints it, "
        'or "unknown"; nothing is guessed',
    )


def steels() -> tuple[Steel, ...]:
    """Return every listed steel, softest family first."""
    return tuple(_steels().values())


def aliases(steel: Steel) -> tuple[str, ...]:
    """Return the other names a steel is found by."""
    return table("steel_aliases").where("designation", steel.designation).text("alias")


def _normal(text: str) -> str:
    return re.sub(r"[\s\-‐-―_]", "", text).casefold()  # hyphens and dashes of any kind


@cache
def _names() -> Mapping[str, str]:
    """Normalised name -> designation."""
    names = {_normal(name): name for name in table("steel_grades").text("designation")}
    listed = table("steel_aliases")
    pairs = zip(listed.text("alias"), listed.text("designation"), strict=True)
    for alias, designation in pairs:
        if names.setdefault(_normal(alias), designation) != designation:
            raise ValueError(f"steel_aliases: {alias!r} stands for two steels")
    return names


def _composition(name: str, designation: str) -> Mapping[str, float]:
    (row,) = table(name).where("designation", designation).rows()
    return {
        header.removesuffix(" [%]"): value
        for header, value in row.items()
        if isinstance(value, float)
    }


@cache
def _steels() -> Mapping[str, Steel]:
    grades = table("steel_grades")
    columns = {h: 1e6 * grades.column(h) for h in grades.header if h.endswith("[MPa]")}
    found = {}
    for i, designation in enumerate(grades.text("designation")):
        low_y, high_y, typical, low_t, high_t = (
            float(columns[f"{h} [MPa]"][i])
            for h in ("Re_min", "Re_max", "Re_typical", "Rm_min", "Rm_max")
        )
        found[designation] = Steel(
            designation=designation,
            family=Family(grades.text("family")[i]),
            yield_strength=typical,
            tensile_strength=low_t,
            composition=_composition("steel_composition_typical", designation),
            property_set=grades.text("set")[i],
            source=grades.text("source")[i],
            status=grades.row_status()[i],
            yield_range=(_or(low_y, 0.0), _or(high_y, math.inf)),
            tensile_range=(_or(low_t, 0.0), _or(high_t, math.inf)),
            composition_limit=_composition("steel_composition_limits", designation),
        )
    return MappingProxyType(found)


def _or(value: float, otherwise: float) -> float:
    return otherwise if math.isnan(value) else value
