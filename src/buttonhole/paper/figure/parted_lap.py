"""How a torn or bent lap seam looks, of steel or aluminium."""

import math

from buttonhole.paper.figure.parted import FLAT, Corners, Crack, Parted, Piece, box
from buttonhole.paper.figure.parted_strip import (
    BEAD,
    EDGE_TORN,
    LONG,
    SMOOTH,
    TORN,
    Band,
    StripFace,
    zigzag,
)

_END = 130.0  # half width of a section
_LAP = ("Lower sheet", "Upper sheet, from below")
BESIDE = ("One half, from above", "Other half, broken edge")
ALONG = ("fused length", "width")


_UPPER = Piece("sheet", box(0, -FLAT, _END, 0))
_LOWER = Piece("other", box(-_END, 0, _END, FLAT))
_FACE = ((10, -FLAT - 1), (0, -FLAT - 3), (-18, -14), (-37, 0))
_ROOT = ((-14, 10), (4, 8), (10, 0))
_FILLET = Piece("weld", (*_FACE, *_ROOT))
_COLD = Piece("weld", (*_FACE, (0, 0), (10, 0)))  # lies on the lower sheet, not in it


def bent(metal: str, weld: Corners, filler: str = "weld") -> tuple[Piece, ...]:
    """A strip bent over its weld, that did not open."""
    outer, inner = 74.0, 50.0
    turns = [math.radians(-158 + 136 * step / 24) for step in range(25)]
    arch = [(outer * math.cos(t), 52 + outer * math.sin(t)) for t in turns]
    back = [(inner * math.cos(t), 52 + inner * math.sin(t)) for t in reversed(turns)]
    legs = ((arch[-1][0] + 12, 62), (arch[-1][0] - 12, 62))
    other = ((-arch[-1][0] + 12, 62), (-arch[-1][0] - 12, 62))
    strip = (*arch, *legs, *back, *other)
    return Piece(metal, strip), Piece(filler, weld)


BENT_WELD = ((-26, -17), (-12, -27), (12, -27), (26, -17), (14, 0), (-14, 0))
_TORN_RIGHT = ((34, -FLAT), (30, -16), (35, -9), (31, 0))

_SHEET_TORE = Parted(
    upper=(Piece("sheet", (*_TORN_RIGHT[:1], (_END, -FLAT), (_END, 0), *_TORN_RIGHT[:0:-1])),),
    lower=(_LOWER, Piece("sheet", ((0, -FLAT), *_TORN_RIGHT, (0, 0))), _FILLET),
    cracks=(Crack(_TORN_RIGHT),),
    faces=(
        StripFace((Band("bead", at=12.0), Band("torn", half=8.0, at=-24.0))),
        StripFace((Band("torn", half=8.0, at=40.0),)),
    ),
    face_names=BESIDE,
    shift=(30.0, -10.0),
)


def _lap(upper: Corners, lower: Corners, crack: Crack, *faces: StripFace) -> Parted:
    """A lap that parted in its weld: the two parts of the weld metal, and where they parted."""
    return Parted(
        upper=(_UPPER, Piece("weld", upper)) if upper else (_UPPER,),
        lower=(_LOWER, Piece("weld", lower)) if lower else (_LOWER,),
        cracks=(crack,),
        faces=(faces[0], faces[-1]),
        face_names=_LAP,
        shift=(10.0, -30.0),
        halves=(LONG, TORN.half) if crack.torn else None,
        measures=ALONG,
    )


_THROUGH = ((10, 0), (-2, -6), (-6, -12), (-18, -14))
PORES = ((-80, -4, 5), (-52, 5, 6), (-20, -3, 4), (14, 4, 6), (46, -5, 5), (84, 3, 6))
STAR = tuple(
    ((96.0, 0.0), (96 + 20 * math.cos(turn), 20 * math.sin(turn)))
    for turn in (0.4, 1.7, 2.9, 4.1, 5.3)
)

CRACKED = StripFace((BEAD,), cracks=(zigzag(-90, 90),))

LAP_SCENES: dict[str, Parted] = {
    "sheet_torn": _SHEET_TORE,
    "throat_torn": _lap(
        (*_FACE[:2], *_THROUGH[::-1]),
        (*_THROUGH, (-37, 0), *_ROOT[:2]),
        Crack(_THROUGH),
        StripFace((TORN,)),
    ),
    "peeled_smooth": _lap(
        _COLD.corners,
        (),
        Crack(((-37, 0), (10, 0)), torn=False),
        StripFace((SMOOTH,)),
        StripFace((Band("smooth", half=20.0),)),
    ),
    "partly_peeled": Parted(
        upper=(_UPPER, Piece("weld", (*_FACE, (10, 0)))),
        lower=(_LOWER, Piece("weld", ((-37, 0), *_ROOT))),
        cracks=(Crack(((-37, 0), (-12, 0)), torn=False), Crack(((-12, 0), (10, 0)))),
        faces=(
            StripFace((Band("smooth", half=20.0), Band("torn", left=-38.0))),
            StripFace((Band("smooth", half=20.0), Band("torn", left=-38.0))),
        ),
        face_names=_LAP,
        shift=(10.0, -30.0),
        halves=((LONG + 38.0) / 2, TORN.half),
        middle=((LONG - 38.0) / 2, 0.0),
        measures=ALONG,
    ),
    "porous_face": Parted(
        upper=(_UPPER, Piece("weld", (*_FACE[:2], *_THROUGH[::-1]))),
        lower=(_LOWER, Piece("weld", (*_THROUGH, (-37, 0), *_ROOT[:2]))),
        cracks=(Crack(_THROUGH),),
        faces=(StripFace((TORN,), PORES), StripFace((TORN,), PORES)),
        face_names=_LAP,
        shift=(10.0, -30.0),
        halves=(LONG, TORN.half),
        measures=ALONG,
        pores=((-18, 3, 3), (-6, -3, 4), (0, -14, 4)),
    ),
    "cracked": Parted(
        upper=(_UPPER, Piece("weld", (*_FACE[:2], *_THROUGH[::-1]))),
        lower=(_LOWER, Piece("weld", (*_THROUGH, (-37, 0), *_ROOT[:2]))),
        cracks=(Crack(_THROUGH),),
        faces=(CRACKED, StripFace((BEAD,), cracks=STAR)),
        face_names=("Along the middle", "Or in the crater"),
        shift=(10.0, -30.0),
    ),
    "burnt_through": Parted(
        upper=(Piece("sheet", box(16, -FLAT, _END, 0)), Piece("weld", box(16, -22, 24, 8))),
        lower=(
            Piece("other", box(-_END, 0, -40, FLAT)),
            Piece("other", box(12, 0, _END, FLAT)),
            Piece("weld", ((-52, -6), (-40, 0), (-38, FLAT), (-30, 38), (-46, 30), (-48, FLAT))),
        ),
        cracks=(),
        faces=(
            StripFace((BEAD, Band("gap", -20, 26, 13))),
            StripFace((Band("torn"), Band("gap", -20, 26, 13))),
        ),
        face_names=_LAP,
        shift=(0.0, 0.0),
    ),
    "toe_torn": Parted(
        upper=(Piece("other", ((-_END, 0), (-37, 0), (-41, 12), (-36, FLAT), (-_END, FLAT))),),
        lower=(
            Piece("other", ((-37, 0), (_END, 0), (_END, FLAT), (-36, FLAT), (-41, 12))),
            _UPPER,
            _FILLET,
        ),
        cracks=(Crack(((-37, 0), (-41, 12), (-36, FLAT))),),
        faces=(StripFace((BEAD,), cracks=(zigzag(-LONG, LONG, 22),)), StripFace((EDGE_TORN,))),
        face_names=("From above", "Broken edge"),
        shift=(-34.0, 0.0),
    ),
    "cold_ends": _lap(
        _COLD.corners,
        (),
        Crack(((-37, 0), (10, 0)), torn=False),
        StripFace((Band("smooth", right=-40.0, half=20.0), Band("torn", left=-40.0))),
    ),
    "soft_zone_torn": Parted(
        upper=(Piece("sheet", ((86, -FLAT), (_END, -FLAT), (_END, 0), (74, 0))),),
        lower=(_LOWER, Piece("sheet", ((0, -FLAT), (86, -FLAT), (74, 0), (0, 0))), _FILLET),
        cracks=(Crack(((86, -FLAT), (74, 0))),),
        faces=(
            StripFace((Band("bead", at=24.0), Band("torn", half=8.0, at=-34.0))),
            StripFace((Band("torn", half=8.0, at=40.0),)),
        ),
        face_names=BESIDE,
        shift=(26.0, -14.0),
    ),
    "unbroken": Parted(
        upper=(_UPPER,),
        lower=(_LOWER, _FILLET),
        cracks=(),
        faces=(StripFace((BEAD,)), StripFace((BEAD,))),
        face_names=("Before, from above", "After: no crack"),
        whole=bent("sheet", BENT_WELD),
    ),
    "root_opened": Parted(
        upper=(_UPPER, _COLD),
        lower=(_LOWER,),
        cracks=(Crack(((-12, 0), (10, 0)), torn=False),),
        faces=(StripFace((BEAD,)), StripFace((Band("gap", half=5.0, left=-60.0, right=70.0),))),
        face_names=("From above", "From below, bent"),
        shift=(0.0, 0.0),
        whole=bent(
            "sheet",
            ((-26, -17), (-12, -27), (12, -27), (26, -17), (14, 0), (4, -12), (-4, -12), (-14, 0)),
        ),
    ),
}
