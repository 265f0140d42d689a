"""Coatings a sheet may carry."""

from dataclasses import dataclass
from enum import StrEnum

from buttonhole.sources import table


class Coating(StrEnum):
    """What covers the sheet; the value is the text used in a weld file."""

    BARE = "bare"
    GI = "GI"  # hot-dip zinc
    GA = "GA"  # galvannealed, iron-zinc
    EG = "EG"  # electrolytic zinc
    ZM = "ZM"  # zinc-magnesium
    ALSI = "AlSi"  # aluminium-silicon, for hot stamping
    PRIMER = "primer"  # weld-through primer
    UNKNOWN = "unknown"


# An unknown coating may hold zinc.
ZINC = frozenset({Coating.GI, Coating.GA, Coating.EG, Coating.ZM, Coating.UNKNOWN})


@dataclass(frozen=True, slots=True)
class CoatingFact:
    """What a coating does when heated, between ``low`` and ``high`` [degC], and who says so."""

    event: str
    low: float
    high: float
    source: str  # key in the bibliography
    status: str


def facts(coating: Coating) -> tuple[CoatingFact, ...]:
    """Return at which temperatures a coating melts, decomposes and boils; () where none is known.

    Sources
    -------
    handbook-memory (from memory).
    """
    found = table("coating_facts")
    rows = found.where("coating", coating.value)
    return tuple(
        CoatingFact(event, float(low), float(high), found.provenance.source, found.status.value)
        for event, low, high in zip(
            rows.text("event"),
            rows.column("T_low [degC]"),
            rows.column("T_high [degC]"),
            strict=True,
        )
    )
