"""Coatings a sheet may carry."""

from enum import StrEnum


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
