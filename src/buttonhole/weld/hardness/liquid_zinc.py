"""Cracks by liquid zinc: zinc that is molten, steel that lets it in, heat and stress together.

All four must meet. A flag says where they do and why; none says how deep a crack will be. No flag
is no proof: only a lens on the torn coupon, or a section, shows that there is no crack.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.joint.coating import ZINC, Coating
from buttonhole.joint.steel import HARDENED, MULTIPHASE, Family, Steel
from buttonhole.sources import table

SUSCEPTIBLE_FROM = 780e6  # Pa, least tensile strength of grades that crack; from memory
AUSTENITIC = frozenset({Family.STAINLESS})  # cracks under zinc at any strength; from memory


class Risk(StrEnum):
    """How far zinc, steel, heat and stress come together."""

    POSSIBLE = "possible"
    LIKELY = "likely"


@dataclass(frozen=True, slots=True)
class Meeting:
    """Zinc on a face of a sheet while it is welded.

    ``place`` in words; ``peak`` [degC] of the hottest metal there, ``always`` what pulls on the
    steel in any such weld, ``besides`` what pulls more than usual here, ``advice`` against it.
    """

    sheet: int
    steel: Steel
    coatings: frozenset[Coating]
    place: str
    peak: float  # degC
    always: str
    advice: str
    besides: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ZincFlag:
    """One place where liquid zinc may crack a sheet; ``peak`` [degC]."""

    risk: Risk
    sheet: int
    place: str
    peak: float  # degC
    reasons: tuple[str, ...]
    sources: tuple[str, ...]  # keys in the bibliography
    text: str


def susceptible(steel: Steel) -> bool:
    """Whether liquid zinc cracks a steel.

    Parameters
    ----------
    steel : Steel
        Any steel.

    Returns
    -------
    bool
        True for multiphase, martensitic, hot-stamped and any other steel from 780 MPa on, for
        austenitic stainless steel, and for the unknown one.

    Sources
    -------
    lme-prestrained-2026 (TRIP worse than CP, worse than DP, read); handbook-memory (the threshold)
    """
    if steel.is_unknown or steel.family in AUSTENITIC | HARDENED:
        return True
    strong = steel.tensile_strength >= SUSCEPTIBLE_FROM
    return strong or (steel.family is Family.TRIP and steel.family in MULTIPHASE)


def window() -> tuple[float, float]:
    """Temperatures between which steel cracks under liquid zinc.

    Returns
    -------
    tuple of float
        Low, high [degC].

    Sources
    -------
    lme-subcritical-2021 (low end read, high end from memory)
    """
    row = table("liquid_zinc").where("topic", "window")
    return float(row.column("low [degC]")[0]), float(row.column("high [degC]")[0])


def zinc_flags(meetings: Iterable[Meeting]) -> tuple[ZincFlag, ...]:
    """Say where zinc, steel, heat and stress come together.

    Parameters
    ----------
    meetings : iterable of Meeting
        Every face of every sheet that may bear zinc.

    Returns
    -------
    tuple of ZincFlag
        The likely ones first.

    Sources
    -------
    lme-subcritical-2021, lme-coatings-2023, lme-prestrained-2026, lme-cp-2025 (abstracts read)
    """
    found = [flag for each in meetings if (flag := _flag(each)) is not None]
    return tuple(sorted(found, key=lambda one: one.risk is not Risk.LIKELY))


def _flag(met: Meeting) -> ZincFlag | None:
    low, high = window()
    zinc = met.coatings & ZINC
    if not zinc or not susceptible(met.steel) or met.peak < low:
        return None
    reasons = [_zinc_words(zinc), _steel_words(met.steel)]
    reasons.append(
        f"came to {met.peak:.0f} °C there: some of it passes {low:.0f} to {high:.0f} °C, where "
        "steel cracks while zinc is liquid"
    )
    reasons.append(f"stress: {met.always}")
    sources = ["lme-subcritical-2021", "lme-prestrained-2026"]
    more = list(met.besides)
    if Coating.ZM in zinc:
        more.append("zinc-magnesium cracks longer and more often than other zinc")
        sources.append("lme-coatings-2023")
    if met.steel.family is Family.TRIP:
        more.append("steel with retained austenite cracks worst")
    risk = Risk.LIKELY if more else Risk.POSSIBLE
    text = (
        f"Sheet {met.sheet} ({met.steel.designation}), {met.place}: liquid zinc may crack it"
        if risk is Risk.POSSIBLE
        else f"Sheet {met.sheet} ({met.steel.designation}), {met.place}: liquid zinc is likely to "
        f"crack it ({'; '.join(more)})"
    )
    return ZincFlag(
        risk,
        met.sheet,
        met.place,
        met.peak,
        (*reasons, *more),
        tuple(sources),
        text + LOOK.format(met.advice),
    )


LOOK = ". Look at the coupon with a lens, or section it. {}, or ask the maker."


def _zinc_words(zinc: frozenset[Coating]) -> str:
    named = sorted(one.value for one in zinc)
    if zinc == {Coating.UNKNOWN}:
        return "the coating is not known and may be zinc, liquid from 343 to 420 °C on"
    return f"zinc ({', '.join(named)}) is liquid there until it boils at 907 °C"


def _steel_words(steel: Steel) -> str:
    if steel.is_unknown:
        return "the steel is not known and counts as one that cracks"
    if steel.family in AUSTENITIC:
        return "austenitic stainless steel cracks under liquid zinc"
    return (
        f"{steel.designation} ({steel.family.value}, {steel.tensile_strength / 1e6:.0f} MPa and "
        "over) is strong enough to crack"
    )
