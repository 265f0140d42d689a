"""How a torn or bent butt seam over a strip looks, of steel or aluminium."""

from dataclasses import replace

from buttonhole.paper.figure.parted import FLAT, Crack, Parted, Piece, box
from buttonhole.paper.figure.parted_lap import (
    ALONG,
    BENT_WELD,
    BESIDE,
    CRACKED,
    LAP_SCENES,
    PORES,
    STAR,
    bent,
)
from buttonhole.paper.figure.parted_strip import (
    BEAD,
    EDGE_TORN,
    LONG,
    TORN,
    Band,
    StripFace,
    zigzag,
)

_END = 130.0  # half width of a section
_BUTT = ("Strip, from above", "Sheets, from below")
_LEFT = Piece("sheet", box(-_END, -FLAT, -7, 0))
_RIGHT = Piece("other", box(7, -FLAT, _END, 0))
_BACKING = Piece("backing", box(-78, 0, 78, FLAT))
_CAP = ((-20, -FLAT), (-8, -FLAT - 7), (8, -FLAT - 7), (20, -FLAT))
_GROOVE = Piece("weld", (*_CAP, (10, -4), (13, 0), (9, 9), (-9, 9), (-13, 0), (-10, -4)))
_SHORT = Piece("weld", (*_CAP, (9, -10), (0, -7), (-9, -10)))
_THROUGH = ((2, -FLAT - 7), (-3, -12), (0, 0), (13, 0))

_ONE_EDGE = Parted(
    upper=(_RIGHT,),
    lower=(
        _LEFT,
        _BACKING,
        Piece(
            "weld",
            (
                (-20, -FLAT),
                (-8, -FLAT - 7),
                (6, -FLAT - 3),
                (7, -FLAT),
                (7, 0),
                (5, 9),
                (-9, 9),
                (-13, 0),
            ),
        ),
    ),
    cracks=(Crack(((7, -FLAT), (7, 0)), torn=False),),
    faces=(StripFace((BEAD,)), StripFace((Band("smooth", half=12.0, at=34.0),))),
    face_names=("Left half, from above", "Right edge"),
    shift=(30.0, -12.0),
)

BUTT_SCENES: dict[str, Parted] = {
    "sheet_torn": Parted(
        upper=(Piece("other", ((36, -FLAT), (_END, -FLAT), (_END, 0), (33, 0), (38, -12))),),
        lower=(
            _LEFT,
            Piece("other", ((7, -FLAT), (36, -FLAT), (38, -12), (33, 0), (7, 0))),
            _BACKING,
            _GROOVE,
        ),
        cracks=(Crack(((36, -FLAT), (38, -12), (33, 0))),),
        faces=(
            StripFace((Band("bead", at=12.0), Band("torn", half=8.0, at=-24.0))),
            StripFace((Band("torn", half=8.0, at=40.0),)),
        ),
        face_names=BESIDE,
        shift=(24.0, -10.0),
    ),
    "throat_torn": Parted(
        upper=(
            _RIGHT,
            Piece(
                "weld", ((2, -FLAT - 7), (8, -FLAT - 7), (20, -FLAT), (13, 0), (0, 0), (-3, -12))
            ),
        ),
        lower=(
            _LEFT,
            _BACKING,
            Piece(
                "weld",
                (
                    (-20, -FLAT),
                    (-8, -FLAT - 7),
                    (2, -FLAT - 7),
                    (-3, -12),
                    (0, 0),
                    (13, 0),
                    (9, 9),
                    (-9, 9),
                    (-13, 0),
                ),
            ),
        ),
        cracks=(Crack(((2, -FLAT - 7), (-3, -12), (0, 0), (13, 0))),),
        faces=(StripFace((TORN,)), StripFace((TORN,))),
        face_names=("Left half, broken face", "Right half, broken face"),
        shift=(26.0, -16.0),
        halves=(LONG, TORN.half),
        measures=ALONG,
    ),
    "peeled_smooth": Parted(
        upper=(_LEFT, _RIGHT, _SHORT),
        lower=(_BACKING,),
        cracks=(Crack(((-78, 0), (78, 0)), torn=False),),
        faces=(
            StripFace((Band("smooth", half=40.0),)),
            StripFace((Band("gap", half=5.0),)),
        ),
        face_names=_BUTT,
    ),
}

_TORN = BUTT_SCENES["throat_torn"]
_SHEET = BUTT_SCENES["sheet_torn"]
BUTT_SCENES |= {
    "soft_zone_torn": replace(
        _SHEET,
        upper=(Piece("other", ((88, -FLAT), (_END, -FLAT), (_END, 0), (78, 0))),),
        lower=(
            _LEFT,
            Piece("other", ((7, -FLAT), (88, -FLAT), (78, 0), (7, 0))),
            _BACKING,
            _GROOVE,
        ),
        cracks=(Crack(((88, -FLAT), (78, 0))),),
        faces=LAP_SCENES["soft_zone_torn"].faces,
        shift=(22.0, -14.0),
    ),
    "toe_torn": replace(
        _SHEET,
        upper=(Piece("other", ((20, -FLAT), (_END, -FLAT), (_END, 0), (13, 0), (18, -12))),),
        lower=(_LEFT, _BACKING, _GROOVE),
        cracks=(Crack(((20, -FLAT), (18, -12), (13, 0))),),
        faces=(StripFace((BEAD,), cracks=(zigzag(-LONG, LONG, 22),)), StripFace((EDGE_TORN,))),
        face_names=("From above", "Broken edge"),
    ),
    "cold_ends": replace(
        BUTT_SCENES["peeled_smooth"],
        faces=(
            StripFace((Band("smooth", right=-40.0, half=20.0), Band("torn", left=-40.0))),
            StripFace((Band("gap", right=-40.0, half=5.0), Band("torn", left=-40.0))),
        ),
        halves=((LONG + 40.0) / 2, TORN.half),
        middle=((LONG - 40.0) / 2, 0.0),
        measures=ALONG,
    ),
    "partly_peeled": replace(
        _ONE_EDGE,
        faces=LAP_SCENES["partly_peeled"].faces,
        halves=LAP_SCENES["partly_peeled"].halves,
        middle=LAP_SCENES["partly_peeled"].middle,
        measures=ALONG,
    ),
    "porous_face": replace(
        _TORN,
        faces=(StripFace((TORN,), PORES), StripFace((TORN,), PORES)),
        pores=((-4, -26, 3), (-9, -12, 3), (4, -14, 3), (-3, 3, 3)),
    ),
    "cracked": replace(
        _TORN,
        faces=(CRACKED, StripFace((BEAD,), cracks=STAR)),
        face_names=("Along the middle", "Or in the crater"),
        halves=None,
    ),
    "burnt_through": Parted(
        upper=(_RIGHT, Piece("weld", ((7, -FLAT), (16, -FLAT - 4), (20, -FLAT), (9, 8), (7, 0)))),
        lower=(
            _LEFT,
            Piece("backing", box(-78, 0, -14, FLAT)),
            Piece("backing", box(22, 0, 78, FLAT)),
            Piece(
                "weld", ((-20, -FLAT), (-9, -FLAT - 3), (-7, 0), (-9, FLAT), (-14, 40), (-21, 34))
            ),
        ),
        cracks=(),
        faces=LAP_SCENES["burnt_through"].faces,
        face_names=("From above", "From below"),
        shift=(0.0, 0.0),
    ),
    "root_opened": replace(
        LAP_SCENES["root_opened"],
        upper=(_LEFT, _RIGHT, _SHORT),
        lower=(_BACKING,),
        cracks=(Crack(((-7, -10), (-7, 0)), torn=False), Crack(((7, -10), (7, 0)), torn=False)),
    ),
    "unbroken": replace(
        LAP_SCENES["unbroken"],
        upper=(_LEFT, _RIGHT, _GROOVE),
        lower=(_BACKING,),
        whole=bent("sheet", BENT_WELD),
    ),
}
