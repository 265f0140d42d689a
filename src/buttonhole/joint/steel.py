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
# A standard that may stand before a designation.
STANDARD = re.compile(
    r"\s*(?:steel\s+)?(?:DIN\s*|BS\s*|NF\s*|UNI\s*)?(?P<standard>EN\s*\d{5}(?:-\d)?|VDA\s*239(?:-\d00)?"
    r"|JIS\s*G\s*\d{4}|JFS\s*A\s*\d{4}|SAE\s*J\d{3,4})(?::\d{4}(?:\+A\d)?)?[\s:,\-‐-―]+",
    re.IGNORECASE,
)
_COATED = ("EN 10336", "EN 10338", "EN 10346")
SAME_STANDARD = {  # standards that hold the same grades, bare or coated
    "EN 10130": ("EN 10130", "EN 10139", "EN 10152"),
    "EN 10268": ("EN 10268", "EN 10152"),
    "EN 10346": ("EN 10346", "EN 10142", "EN 10292", "EN 10326", "EN 10327"),
    "EN 10336": _COATED,
    "EN 10338": _COATED,
    "VDA 239-100": ("VDA 239-100", "VDA 239"),
    "VDA 239-500": ("VDA 239-500", "VDA 239"),
}


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
    cold_worked: bool = False  # strong by cold rolling: heat takes the strength away

    def __hash__(self) -> int:
        return hash(self.designation)

    @property
    def is_unknown(self) -> bool:
        """Nobody knows what the sheet is."""
        return self.family is Family.UNKNOWN

    @property
    def is_sensitive(self) -> bool:
        """Hardens or loses strength where it is heated; an unknown steel counts as such."""
        by_kind = self.family in HARDENED or self.family in MULTIPHASE
        return self.is_unknown or self.cold_worked or by_kind


UNKNOWN_STEEL = Steel(
    designation="unknown",
    family=Family.UNKNOWN,
    # Every side taken against us: the heat of the steel that conducts best and warms least, and
    # about the strength at which the published minimum loads are highest; a stronger steel asks
    # for less.
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
        Designation as printed, with or without the standard before it, a listed other name or
        material number, or "unknown". What is said of a coating belongs elsewhere: see
        ``joint.designation``.

    Returns
    -------
    Steel
        Exactly that steel; for "unknown" ``UNKNOWN_STEEL``.

    Raises
    ------
    BadInput
        The designation is not listed, or stands for more than one. The message names near ones, or
        all that it may mean, and picks none.
    """
    key = _normal(text)
    if key == _normal(UNKNOWN_STEEL.designation):
        return UNKNOWN_STEEL
    found = listed_under(text)
    if found is not None:
        return found
    raise BadInput("steel", _refusal(text, key))


def listed_under(text: str) -> Steel | None:
    """Return the steel that is listed under exactly this name, None when there is none.

    A standard written before the name must be one that the steel is of.
    """
    names = _names()
    key = _normal(text)
    if key in names:
        return every_steel()[names[key]]
    standard, rest = split_standard(text)
    name = names.get(_normal(rest)) if standard else None
    if name is None or _normal(standard) not in _standards_of(name):
        return None
    return every_steel()[name]


def split_standard(text: str) -> tuple[str, str]:
    """Return the standard a designation begins with ("" when with none), and the rest."""
    found = STANDARD.match(text)
    if found is None:
        return "", text
    return found["standard"], text[found.end() :]


def _standards_of(designation: str) -> frozenset[str]:
    (system,) = table("steel_facts").where("designation", designation).text("system")
    own = system.split(":")[0]
    return frozenset(_normal(each) for each in SAME_STANDARD.get(own, (own,)))


def _refusal(text: str, key: str) -> str:
    shown = repr(text if len(text) <= 40 else text[:40] + "...")
    meant = meanings(text)
    if meant:
        return (
            f"{shown} is no listed steel by itself. It stands for: {'; '.join(meant)}. "
            "Write the one that the maker prints; none is picked"
        )
    names = _names()
    grade = names.get(_normal(text[:200].partition("+")[0])) if "+" in text[:200] else None
    if grade is not None:
        return (
            f"{shown} is no listed steel, it names a coating too. Give {grade} as the steel, and "
            "what follows the + as the coating"
        )
    near = near_names(key)
    hint = f"near names: {', '.join(near)}. " if near else ""
    return (
        f"{shown} is no listed steel. {hint}Give the designation as the maker prints it, "
        'or "unknown"; nothing is guessed'
    )


def near_names(text: str, most: int = 4) -> tuple[str, ...]:
    """Return designations whose names look like a text, the most alike first; none may be meant."""
    names = _names()
    near = difflib.get_close_matches(_normal(text)[:40], names, n=most, cutoff=0.6)
    return tuple(dict.fromkeys(names[each] for each in near))


def meanings(text: str) -> tuple[str, ...]:
    """Return what a name may stand for that is used for several steels; () for any other name."""
    listed = table("steel_ambiguous_names")
    key = _normal(text[:200])
    every = zip(listed.text("name"), listed.text("designation"), listed.text("other"), strict=True)
    return tuple(own or f"{name} {other}" for name, own, other in every if _normal(name) == key)


def steels() -> tuple[Steel, ...]:
    """Return the steels with property curves of their own, softest family first.

    ``every_steel`` has all others that are found by name; their curves are taken over.
    """
    return tuple(_steels().values())


def aliases(steel: Steel) -> tuple[str, ...]:
    """Return the other names a steel is found by, its material number among them."""
    listed = table("steel_aliases").where("designation", steel.designation).text("alias")
    number = table("steel_facts").where("designation", steel.designation).text("number")
    own = {steel.designation, ""}
    return tuple(dict.fromkeys(each for each in (*listed, *number) if each not in own))


def normal_form(text: str) -> str:
    """Return a name without what does not count: case, spaces, hyphens, low lines."""
    return _normal(text)


def _normal(text: str) -> str:
    return re.sub(r"[\s\-‐-―_]", "", text).casefold()  # hyphens and dashes of any kind


@cache
def _names() -> Mapping[str, str]:
    """Normalised name -> designation."""
    names = {_normal(name): name for name in every_steel()}
    listed, facts = table("steel_aliases"), table("steel_facts")
    pairs = (
        *zip(listed.text("alias"), listed.text("designation"), strict=True),
        *zip(facts.text("number"), facts.text("designation"), strict=True),
    )
    for alias, designation in pairs:
        if alias and names.setdefault(_normal(alias), designation) != designation:
            raise ValueError(f"steel_aliases: {alias!r} stands for two steels")
    return names


Row = Mapping[str, float | str | None]


@cache
def _compositions(name: str) -> Mapping[str, Mapping[str, float]]:
    """Designation -> content by element [wt%], blanks left out."""
    return {
        str(row["designation"]): {
            header.removesuffix(" [%]"): value
            for header, value in row.items()
            if isinstance(value, float)
        }
        for row in table(name).rows()
    }


@cache
def every_steel() -> Mapping[str, Steel]:
    """Return every listed steel by its designation, those with curves of their own first."""
    return MappingProxyType({**_steels(), **_further_steels()})


@cache
def _steels() -> Mapping[str, Steel]:
    typical = _compositions("steel_composition_typical")
    grades = table("steel_grades")
    return MappingProxyType(
        {
            str(row["designation"]): _steel(
                row, status, str(row["set"]), typical[str(row["designation"])]
            )
            for row, status in zip(grades.rows(), grades.row_status(), strict=True)
        }
    )


@cache
def _further_steels() -> Mapping[str, Steel]:
    """The steels that take property set and typical composition from the one they are like."""
    limits, own = (
        _compositions(f"steel_{name}") for name in ("composition_limits", "book_typical")
    )
    listed = table("steel_book")
    found = {}
    for row, status in zip(listed.rows(), listed.row_status(), strict=True):
        designation, model = str(row["designation"]), _steels()[str(row["like"])]
        limit = limits.get(designation, {})
        typical = {
            element: min(content, limit.get(element, math.inf))
            for element, content in own.get(designation, model.composition).items()
        }
        found[designation] = _steel(row, status, model.property_set, typical)
    return MappingProxyType(found)


@cache
def _full_hard() -> frozenset[str]:
    facts = table("steel_facts")
    pairs = zip(facts.text("designation"), facts.text("kind"), strict=True)
    return frozenset(name for name, kind in pairs if "full hard" in kind)


def _steel(row: Row, status: Status, property_set: str, typical: Mapping[str, float]) -> Steel:
    designation = str(row["designation"])
    least = _pascal(row, "Rm_min", math.nan)
    return Steel(
        designation=designation,
        family=Family(str(row["family"])),
        yield_strength=_pascal(row, "Re_typical", math.nan),
        tensile_strength=least,
        composition=typical,
        property_set=property_set,
        source=str(row["source"]),
        status=status,
        yield_range=(_pascal(row, "Re_min", 0.0), _pascal(row, "Re_max", math.inf)),
        tensile_range=(least, _pascal(row, "Rm_max", math.inf)),
        composition_limit=_compositions("steel_composition_limits").get(designation, {}),
        cold_worked=designation in _full_hard(),
    )


def _pascal(row: Row, name: str, otherwise: float) -> float:
    value = row[f"{name} [MPa]"]
    return 1e6 * value if isinstance(value, float) else otherwise
