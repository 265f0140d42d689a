"""How an arc weld let go, in words of our own: no standard names them for body sheet.

What each is known by and what it means is common practice, no source.
"""

from dataclasses import dataclass
from enum import StrEnum

from buttonhole.coupon.arc.piece import ArcForm, ArcPiece
from buttonhole.units import BadInput


class ArcFracture(StrEnum):
    """How it let go; the value is the word in files and records."""

    # in a hole
    HOLE_PULLED = "hole_pulled"
    TORN_BEYOND = "torn_beyond"
    PART_HOLE = "part_hole"
    RING_TORN = "ring_torn"
    PULLED_THROUGH = "pulled_through"
    PARTED_ROUGH = "parted_rough"
    RING_ONLY = "ring_only"
    SMOOTH_FACE = "smooth_face"
    # along a seam
    SHEET_TORN = "sheet_torn"
    SOFT_ZONE_TORN = "soft_zone_torn"
    TOE_TORN = "toe_torn"
    THROAT_TORN = "throat_torn"
    COLD_ENDS = "cold_ends"
    PARTLY_PEELED = "partly_peeled"
    PEELED_SMOOTH = "peeled_smooth"
    BRAZE_ON_BOTH = "braze_on_both"
    CLEAN_ON_ONE = "clean_on_one"
    ROOT_OPENED = "root_opened"
    UNBROKEN = "unbroken"
    # anywhere
    POROUS_FACE = "porous_face"
    CRACKED = "cracked"
    BURNT_THROUGH = "burnt_through"

    @property
    def words(self) -> "FractureWords":
        """What it is called, how it is known and what to measure."""
        return WORDS[self]

    @property
    def fused(self) -> bool:
        """Something is fused whose size can be measured."""
        return self not in NOTHING_FUSED

    @property
    def is_at_least(self) -> bool:
        """The weld held and a sheet tore: its size is at least what is measured."""
        return self in HELD


NOTHING_FUSED = frozenset(
    {
        ArcFracture.SMOOTH_FACE,
        ArcFracture.PEELED_SMOOTH,
        ArcFracture.CLEAN_ON_ONE,
        ArcFracture.BURNT_THROUGH,
    }
)
HELD = frozenset({ArcFracture.TORN_BEYOND, ArcFracture.RING_TORN})


@dataclass(frozen=True, slots=True)
class FractureWords:
    """Name, how it is known, what to measure, and on which welds it is offered.

    ``on``: of "plug", "seam" (welded steel), "braze", "aluminium"; a brazed plug is "plug braze".
    """

    name: str
    sign: str
    measure: str
    on: tuple[str, ...]


_HOLE = "Measure the torn hole or button: largest and smallest diameter."
_ROUGH = "Measure the rough fused area only: largest and smallest; leave out what is smooth."
_NOTHING = "Nothing to measure: what is smooth was never fused."
_LENGTHS = "Measure the length tested and the length that held; the leg with a gauge."
_SEAMS = ("seam", "aluminium seam", "braze")
_PLUGS = ("plug", "plug aluminium", "plug braze")

WORDS = {
    ArcFracture.HOLE_PULLED: FractureWords(
        "Hole pulled",
        "The plug came away with a button of the sheet below, which has a hole.",
        _HOLE,
        _PLUGS,
    ),
    ArcFracture.TORN_BEYOND: FractureWords(
        "Torn beyond",
        "The sheet below tore on past the plug: the weld held all round.",
        "Measure the torn hole where it is narrowest and widest; it is at least that.",
        _PLUGS,
    ),
    ArcFracture.PART_HOLE: FractureWords(
        "Part of a hole",
        "On one side a piece of the sheet below came out, on the other the weld parted.",
        _ROUGH,
        _PLUGS,
    ),
    ArcFracture.RING_TORN: FractureWords(
        "Torn round the weld",
        "The top sheet tore in a ring round the weld; the plug stands on the sheet below.",
        "Measure the root that stands on the sheet below, or section it; note a brittle ring.",
        _PLUGS,
    ),
    ArcFracture.PULLED_THROUGH: FractureWords(
        "Pulled through",
        "The top sheet slipped off over the plug through its own hole; the plug stands.",
        "Measure the head and the hole: the head was too small, or the rim not taken up.",
        _PLUGS,
    ),
    ArcFracture.PARTED_ROUGH: FractureWords(
        "Parted, rough",
        "The plug parted from the sheet below and left a rough grey disc, no hole.",
        _ROUGH,
        _PLUGS,
    ),
    ArcFracture.RING_ONLY: FractureWords(
        "Ring only",
        "Fused along the rim of the hole only; the middle is smooth.",
        "Measure the outside of the ring, and note that the middle is not fused.",
        ("plug", "plug aluminium"),
    ),
    ArcFracture.SMOOTH_FACE: FractureWords(
        "Smooth round face",
        "It lifted off and left a smooth, bright or tinted round spot: never fused.",
        _NOTHING,
        ("plug", "plug aluminium", "plug braze"),
    ),
    ArcFracture.SHEET_TORN: FractureWords(
        "Sheet torn beside",
        "A sheet tore beside the weld; the weld is whole.",
        _LENGTHS,
        _SEAMS,
    ),
    ArcFracture.SOFT_ZONE_TORN: FractureWords(
        "Softened zone torn",
        "The sheet tore in the zone the heat softened, a little away from the weld.",
        _LENGTHS,
        ("aluminium seam",),
    ),
    ArcFracture.TOE_TORN: FractureWords(
        "Torn along the toe",
        "It opened just where weld and sheet meet.",
        "Measure the depth of any undercut there, and the lengths.",
        _SEAMS,
    ),
    ArcFracture.THROAT_TORN: FractureWords(
        "Torn through the weld",
        "The weld itself tore through its throat; both halves are rough.",
        "Measure throat and leg on the broken face, and the lengths.",
        ("seam", "aluminium seam"),
    ),
    ArcFracture.COLD_ENDS: FractureWords(
        "Cold start or stop",
        "Start or stop lies on the sheet without being fused to it; the rest held.",
        "Measure the length tested and the length that held.",
        _SEAMS,
    ),
    ArcFracture.PARTLY_PEELED: FractureWords(
        "Partly peeled",
        "A part of the length came off one sheet with a smooth face.",
        "Measure the length tested and the length that held.",
        _SEAMS,
    ),
    ArcFracture.PEELED_SMOOTH: FractureWords(
        "Peeled off, smooth",
        "It came off one sheet along its length and left a smooth face.",
        _NOTHING + " Note which sheet is smooth.",
        ("seam", "aluminium seam"),
    ),
    ArcFracture.BRAZE_ON_BOTH: FractureWords(
        "Braze on both sheets",
        "The braze tore through itself and stays on both sheets.",
        "Measure the length tested, the length and the width that hold braze on both.",
        ("braze", "plug braze"),
    ),
    ArcFracture.CLEAN_ON_ONE: FractureWords(
        "Clean face on one sheet",
        "It came off one sheet, which is clean: never wetted.",
        _NOTHING + " Note which sheet is clean.",
        ("braze", "plug braze"),
    ),
    ArcFracture.ROOT_OPENED: FractureWords(
        "Root opened",
        "Bent with the root outside it opened: edge or strip is not fused.",
        "Measure how long the opening is, and the length tested.",
        ("seam", "aluminium seam"),
    ),
    ArcFracture.UNBROKEN: FractureWords(
        "Not broken",
        "It was bent and nothing opened.",
        "Note the angle; look at start and stop with a loupe.",
        _SEAMS,
    ),
    ArcFracture.POROUS_FACE: FractureWords(
        "Porous face",
        "The broken face is full of pores or worm holes.",
        "Measure what is sound; note where the pores begin.",
        (*_PLUGS, *_SEAMS),
    ),
    ArcFracture.CRACKED: FractureWords(
        "Cracked",
        "A crack runs along the weld or in its crater.",
        "Do not measure. Note where it begins, with a loupe or dye.",
        (*_PLUGS, *_SEAMS),
    ),
    ArcFracture.BURNT_THROUGH: FractureWords(
        "Burnt through",
        "The arc made a hole; metal fell out or hangs through.",
        "Do not measure. Find the cause: gap, time, power, speed.",
        (*_PLUGS, *_SEAMS),
    ),
}


def family(piece: ArcPiece) -> str:
    """Return by which words its fractures are offered: "plug", "seam", "braze", ..."""
    metal = "braze" if piece.brazed else "aluminium" if piece.aluminium else ""
    if piece.form is ArcForm.PLUG:
        return f"plug {metal}".strip()
    return {"": "seam", "aluminium": "aluminium seam", "braze": "braze"}[metal]


def offered(piece: ArcPiece) -> tuple[ArcFracture, ...]:
    """Return the ways a weld of this kind can let go, the good ones first.

    Parameters
    ----------
    piece : ArcPiece
        What was joined.

    Returns
    -------
    tuple of ArcFracture
        In the order they are shown.
    """
    kind = family(piece)
    return tuple(one for one in ArcFracture if kind in WORDS[one].on)


def find_fracture(text: str, piece: ArcPiece) -> ArcFracture:
    """Return the fracture of a word, if a weld of this kind can let go so.

    Parameters
    ----------
    text : str
        The word; hyphens, blanks and capital letters do not count.
    piece : ArcPiece
        What was joined.

    Returns
    -------
    ArcFracture
        The fracture.

    Raises
    ------
    BadInput
        Another word; the message lists those offered.
    """
    word = text.strip().casefold().replace("-", "_").replace(" ", "_")
    listed = offered(piece)
    for one in listed:
        if word == one.value:
            return one
    raise BadInput(
        "fracture",
        f"{text[:40]!r} is no way a {piece.form.words} lets go; give one of {', '.join(listed)}",
    )
