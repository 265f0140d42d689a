"""How a weld let go, in the words of ISO 14329 and AWS D8.1M.

Sources: iso-14329 (words as used in summaries); aws-d8-1m (definitions read, list from memory).
"""

from dataclasses import dataclass
from enum import StrEnum


class FractureMode(StrEnum):
    """How it let go; the value is the word in files and records."""

    FULL_BUTTON = "full_button"
    PARTIAL_BUTTON = "partial_button"
    INTERFACIAL = "interfacial"
    PARTIAL_THICKNESS = "partial_thickness"
    NO_WELD = "no_weld"
    STUCK_WELD = "stuck_weld"
    EXPELLED = "expelled"

    @property
    def words(self) -> "ModeWords":
        """What it is called, how it is known and what to measure."""
        return WORDS[self]

    @property
    def fused(self) -> bool:
        """There is a fused area whose diameter can be measured."""
        return self not in NOTHING_FUSED


NOTHING_FUSED = frozenset({FractureMode.NO_WELD, FractureMode.STUCK_WELD, FractureMode.EXPELLED})


@dataclass(frozen=True, slots=True)
class ModeWords:
    """Names of a mode in the two vocabularies, how it is known and what to measure."""

    name: str
    iso: str
    aws: str
    sign: str
    measure: str


WORDS = {
    FractureMode.FULL_BUTTON: ModeWords(
        "Full button",
        "plug failure, symmetric or asymmetric",
        "full button",
        "A button stands on one sheet, a hole is in the other.",
        "Measure the button: largest and smallest diameter, without the corona ring.",
    ),
    FractureMode.PARTIAL_BUTTON: ModeWords(
        "Partial button",
        "partial plug failure",
        "interfacial with partial button",
        "Part of the weld pulled a button, the rest parted between the sheets.",
        "Measure the whole fused area: largest and smallest diameter.",
    ),
    FractureMode.INTERFACIAL: ModeWords(
        "Interfacial",
        "interface failure",
        "interfacial",
        "The weld parted between the sheets and left a rough disc on both.",
        "Measure the rough disc only; the bright corona ring round it is pressed, not fused.",
    ),
    FractureMode.PARTIAL_THICKNESS: ModeWords(
        "Partial thickness",
        "partial plug failure",
        "partial thickness",
        "A fifth or more of the sheet's thickness tore out, without a hole.",
        "Measure the fused area: largest and smallest diameter.",
    ),
    FractureMode.NO_WELD: ModeWords(
        "No weld",
        "no weld",
        "no fusion",
        "Both faces are smooth.",
        "Nothing to measure: the diameter is zero.",
    ),
    FractureMode.STUCK_WELD: ModeWords(
        "Stuck weld",
        "stick weld",
        "no fusion",
        "Smooth bright zinc held the sheets; there is no rough fused core.",
        "Nothing to measure: zinc that sticks is no weld.",
    ),
    FractureMode.EXPELLED: ModeWords(
        "Expelled",
        "splash",
        "expulsion",
        "Metal was thrown out and left a hole or a hollow.",
        "Do not measure. Find the cause: gap, force, dirt, then current.",
    ),
}


def classify(
    *, fused: bool, torn_depth: float, hole: bool, button_share: float, splashed_hole: bool = False
) -> FractureMode:
    """Return the mode that what is seen stands for.

    Parameters
    ----------
    fused : bool
        A rough fused area is there.
    torn_depth : float
        How deep the cavity goes into the thinner sheet, as a share of its thickness [-].
    hole : bool
        The cavity goes right through one sheet.
    button_share : float
        Share of the fused area that stands as a button [-].
    splashed_hole : bool
        Metal was thrown out and left the hole.

    Returns
    -------
    FractureMode
        A stuck weld is told from no weld only by the eye that sees zinc; both count as no weld.

    Sources
    -------
    aws-d8-1m (20 % of the mating thickness parts partial thickness from interfacial, read).
    """
    if splashed_hole:
        return FractureMode.EXPELLED
    if not fused:
        return FractureMode.NO_WELD
    if hole:
        whole = button_share >= 1.0
        return FractureMode.FULL_BUTTON if whole else FractureMode.PARTIAL_BUTTON
    if torn_depth >= 0.2:
        partly = 0.0 < button_share < 1.0
        return FractureMode.PARTIAL_BUTTON if partly else FractureMode.PARTIAL_THICKNESS
    return FractureMode.INTERFACIAL
