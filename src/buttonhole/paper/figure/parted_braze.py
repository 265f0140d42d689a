"""How a torn brazed seam looks: bronze between and beside sheets that must not have melted."""

from dataclasses import replace

from buttonhole.paper.figure.parted import FLAT, Crack, Parted, Piece, box
from buttonhole.paper.figure.parted_lap import STAR, bent
from buttonhole.paper.figure.parted_strip import LONG, Band, StripFace, zigzag

_END, _SLIT = 130.0, 7.0  # half width of a section, and the gap the bronze runs into
_TOP = -_SLIT - FLAT
_LAP = ("Lower sheet", "Upper sheet, from below")

_UPPER = Piece("sheet", box(0, _TOP, _END, -_SLIT))
_LOWER = Piece("other", box(-_END, 0, _END, FLAT))
_BEAD = ((16, _TOP), (8, _TOP - 7), (-10, _TOP - 3), (-28, -14), (-44, 0))
_BRAZE = Piece("braze", (*_BEAD, (60, 0), (60, -_SLIT), (0, -_SLIT), (0, _TOP)))
_WET = Band("braze", half=34.0)
_CLEAN = Band("smooth", half=34.0)
_PORES = ((-92, 0, 5), (-64, 4, 6), (-34, -2, 5), (-4, 3, 6), (26, -1, 5), (58, 4, 6), (90, 0, 5))
_TEAR = ((-10, _TOP - 3), (-12, -4), (60, -4))
_SHEARED = Parted(
    upper=(_UPPER, Piece("braze", (*_BEAD[:3], *_TEAR[1:], (60, -_SLIT), (0, -_SLIT), (0, _TOP)))),
    lower=(_LOWER, Piece("braze", (*_BEAD[2:], (60, 0), *_TEAR[:0:-1]))),
    cracks=(Crack(_TEAR),),
    faces=(StripFace((_WET,)), StripFace((_WET,))),
    face_names=_LAP,
    shift=(10.0, -30.0),
    halves=(LONG, 34.0),
    measures=("wetted length", "width"),
)  # fmt: skip

BRAZE_SCENES: dict[str, Parted] = {
    "sheet_torn": Parted(
        upper=(Piece("sheet", ((84, _TOP), (_END, _TOP), (_END, -_SLIT), (78, -_SLIT))),),
        lower=(
            _LOWER,
            Piece("sheet", ((0, _TOP), (84, _TOP), (78, -_SLIT), (0, -_SLIT))),
            _BRAZE,
        ),
        cracks=(Crack(((84, _TOP), (78, -_SLIT))),),
        faces=(
            StripFace((Band("braze", half=20.0, at=20.0), Band("torn", half=8.0, at=-36.0))),
            StripFace((Band("torn", half=8.0, at=40.0),)),
        ),
        face_names=("One half, from above", "Other half, broken edge"),
        shift=(26.0, -12.0),
    ),
    "braze_on_both": _SHEARED,
    "clean_on_one": Parted(
        upper=(_UPPER, _BRAZE),
        lower=(_LOWER,),
        cracks=(Crack(((-44, 0), (60, 0)), torn=False),),
        faces=(StripFace((_CLEAN,)), StripFace((_WET,))),
        face_names=_LAP,
        shift=(10.0, -30.0),
    ),
    "porous_face": replace(
        _SHEARED,
        faces=(StripFace((_WET,), _PORES), StripFace((_WET,), _PORES)),
        pores=((-24, -7, 4), (-14, -18, 4), (14, -3, 3), (40, -3, 3)),
    ),
    "toe_torn": Parted(
        upper=(
            _UPPER,
            _BRAZE,
            Piece("other", ((-46, 0), (_END, 0), (_END, FLAT), (-50, FLAT), (-43, 12))),
        ),
        lower=(Piece("other", ((-_END, 0), (-46, 0), (-43, 12), (-50, FLAT), (-_END, FLAT))),),
        cracks=(Crack(((-46, 0), (-43, 12), (-50, FLAT))),),
        faces=(
            StripFace((Band("braze", half=22.0, at=-10.0),), cracks=(zigzag(-LONG, LONG, 24),)),
            StripFace((Band("torn", half=9.0, at=38.0),)),
        ),
        face_names=("From above", "Broken edge"),
        shift=(34.0, 0.0),
    ),
    "unbroken": Parted(
        upper=(_UPPER,),
        lower=(_LOWER, _BRAZE),
        cracks=(),
        faces=(StripFace((Band("braze", half=20.0),)), StripFace((Band("braze", half=20.0),))),
        face_names=("Before, from above", "After: no crack"),
        whole=bent(
            "sheet", ((-34, -20), (-14, -30), (14, -30), (34, -20), (14, -4), (-14, -4)), "braze"
        ),
    ),
    "cold_ends": replace(
        _SHEARED,
        faces=(
            StripFace((Band("smooth", right=-40.0, half=34.0), Band("braze", -40.0, LONG, 34.0))),
            StripFace((Band("braze", half=34.0),)),
        ),
        halves=((LONG + 40.0) / 2, 34.0),
        middle=((LONG - 40.0) / 2, 0.0),
    ),
    "partly_peeled": replace(
        _SHEARED,
        faces=(
            StripFace(
                (
                    Band("braze", -LONG, -60.0, 34.0),
                    Band("smooth", -60.0, 20.0, 34.0),
                    Band("braze", 20.0, LONG, 34.0),
                )
            ),
            StripFace((Band("braze", half=34.0),)),
        ),
        halves=((LONG - 20.0) / 2, 34.0),
        middle=((LONG + 20.0) / 2, 0.0),
    ),
    "cracked": replace(
        _SHEARED,
        faces=(
            StripFace((Band("braze", half=24.0),), cracks=(zigzag(-90, 90),)),
            StripFace((Band("braze", half=24.0),), cracks=STAR),
        ),
        face_names=("Along the middle", "Or in the crater"),
        halves=None,
    ),
    "burnt_through": Parted(
        upper=(
            Piece("sheet", box(18, _TOP, _END, -_SLIT)),
            Piece("braze", ((18, _TOP), (22, _TOP - 5), (28, _TOP), (34, 0), (18, -_SLIT))),
        ),
        lower=(
            Piece("other", box(-_END, 0, -36, FLAT)),
            Piece("other", box(18, 0, _END, FLAT)),
            Piece("braze", ((-50, -5), (-36, 0), (-34, FLAT), (-28, 38), (-42, 30), (-44, FLAT))),
        ),
        cracks=(),
        faces=(
            StripFace((Band("braze", half=22.0), Band("gap", -20, 26, 13))),
            StripFace((Band("torn"), Band("gap", -20, 26, 13))),
        ),
        face_names=("From above", "From below"),
        shift=(0.0, 0.0),
    ),
}
