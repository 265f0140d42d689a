"""How a torn plug looks: one scene for each way it lets go."""

import math
from dataclasses import replace

from buttonhole.paper.figure.broken_face import (
    COPPER,
    GREY,
    METAL,
    rough,
    smooth_fill,
    standing_fill,
    torn_fill,
)
from buttonhole.paper.figure.parted import FLAT, Crack, Face, Parted, Piece, box, plate
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, course

_HOLE = 40.0  # half width of the hole, drawing units
_EDGE = 130.0  # half width of a section
_ACROSS, _DOWN = 50.0, 43.0  # half axes of a torn face: a little oval, as welds are

_UPPER_LEFT = Piece("sheet", ((-_EDGE, -FLAT), (-_HOLE, -FLAT), (-_HOLE, 0), (-_EDGE, 0)))
_UPPER_RIGHT = Piece("sheet", ((_HOLE, -FLAT), (_EDGE, -FLAT), (_EDGE, 0), (_HOLE, 0)))
_LOWER = Piece("other", ((-_EDGE, 0), (_EDGE, 0), (_EDGE, FLAT), (-_EDGE, FLAT)))
_CROWN = ((-54, -FLAT), (-30, -FLAT - 9), (0, -FLAT - 12), (30, -FLAT - 9), (54, -FLAT))
_IN_HOLE = Piece("weld", (*_CROWN, (_HOLE, -FLAT), (_HOLE, 0), (-_HOLE, 0), (-_HOLE, -FLAT)))
_BRONZE = Piece("braze", (*_CROWN, (_HOLE, -FLAT), (_HOLE, 0), (-_HOLE, 0), (-_HOLE, -FLAT)))
_ROOT = Piece("weld", ((-33, 0), (33, 0), (23, 11), (0, 15), (-23, 11)))
_UPPER = (_UPPER_LEFT, _UPPER_RIGHT, _IN_HOLE)

_NAMES = ("Lower sheet", "Upper sheet, from below")


def _lower_with_hole(left: float, right: float, flare: float) -> tuple[Piece, Piece]:
    return (
        Piece("other", ((-_EDGE, 0), (left, 0), (left - flare, FLAT), (-_EDGE, FLAT))),
        Piece("other", ((right, 0), (_EDGE, 0), (_EDGE, FLAT), (right + flare, FLAT))),
    )


def _slug(half: float, flare: float) -> Piece:
    return Piece("pulled", ((-half, 0), (half, 0), (half + flare, FLAT), (-half - flare, FLAT)))


def _hole(board: Drawing, style: Style) -> None:
    plate(board)
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=INK, stroke=2.4, part="hole")


def _slug_face(board: Drawing, style: Style) -> None:
    plate(board)
    board.circle((0, 0), 40, stroke=1.2, dash="6 4", part="drilled")
    fill = standing_fill(board)
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fill, stroke=2.6, part="button")


def _half_hole(board: Drawing, style: Style) -> None:
    plate(board)
    fill = torn_fill(board)
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fill, stroke=2.2, part="fused")
    part = course(rough(_ACROSS, _DOWN, 0.62 * math.pi, 1.62 * math.pi), closed=True)
    board.path(part, fill=INK, stroke=2.2, part="hole")


def _half_slug(board: Drawing, style: Style) -> None:
    plate(board)
    board.path(
        course(rough(_ACROSS, _DOWN), closed=True), fill=torn_fill(board), stroke=2.2, part="fused"
    )
    part = course(rough(_ACROSS, _DOWN, 1.38 * math.pi, 2.38 * math.pi), closed=True)
    board.path(part, fill=standing_fill(board), stroke=2.6, part="button")


def _disc(board: Drawing, style: Style) -> None:
    plate(board)
    board.circle((0, 0), (64, 60), fill=smooth_fill(board), stroke=1.4, part="smooth")
    fill = torn_fill(board)
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fill, stroke=2.2, part="fused")


def _shiny(board: Drawing, style: Style) -> None:
    plate(board)
    board.circle((0, 0), (56, 54), fill=smooth_fill(board), stroke=1.8, part="smooth")
    glint = course([(-30, -18), (-16, -34), (4, -40)])
    board.path(glint, stroke=4.0, ink=GREY, part="smooth")


def _shiny_above(board: Drawing, style: Style) -> None:
    plate(board)
    board.circle((0, 0), 40, stroke=1.2, dash="6 4", part="drilled")
    board.circle((0, 0), (52, 50), fill=smooth_fill(board), stroke=1.8, part="smooth")


def _ring(board: Drawing, style: Style) -> None:
    plate(board)
    outer = course(rough(56, 52), closed=True)
    board.path(outer, fill=torn_fill(board), stroke=2.2, part="fused")
    board.path(course(rough(36, 33), closed=True), fill=PAPER, ink=None)
    board.path(
        course(rough(36, 33), closed=True), fill=smooth_fill(board), stroke=1.6, part="smooth"
    )


def _plug_left(board: Drawing, style: Style) -> None:
    plate(board)
    fill = board.hatch("crossed", ground=METAL, ink=GREY)
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fill, stroke=2.6, part="weld")
    board.path(course(rough(30, 26), closed=True), stroke=1.2, part="weld")


def _open_hole(board: Drawing, style: Style) -> None:
    plate(board)
    board.path(course(rough(47, 44), closed=True), fill=INK, stroke=2.4, part="hole")


def _run_off_hole(board: Drawing, style: Style) -> None:
    """A hole that tore on past the plug, to the edge of the strip."""
    plate(board)
    tongue = [(-40, 34), (-52, 76), (44, 76), (50, 20), (46, -26), (10, -46), (-38, -34), (-50, 4)]
    board.path(course(tongue, closed=True), fill=INK, stroke=2.6, part="hole")


def _tongue(board: Drawing, style: Style) -> None:
    plate(board)
    tongue = [(-40, 34), (-52, 76), (44, 76), (50, 20), (46, -26), (10, -46), (-38, -34), (-50, 4)]
    fill = standing_fill(board)
    board.path(course(tongue, closed=True), fill=fill, stroke=2.6, part="button")
    board.circle((0, 0), 40, stroke=1.6, dash="6 4", part="drilled")


def _ringed_plug(board: Drawing, style: Style) -> None:
    """The plug on the lower sheet, with a ring of the torn top sheet round it."""
    plate(board)
    fill = standing_fill(board)
    board.path(course(rough(68, 64), closed=True), fill=fill, stroke=2.4, part="ring")
    weld = board.hatch("crossed", ground=METAL, ink=GREY)
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=weld, stroke=2.4, part="weld")


def _torn_round(board: Drawing, style: Style) -> None:
    plate(board)
    board.path(course(rough(68, 64), closed=True), fill=INK, stroke=2.4, part="hole")


def _cracked(board: Drawing, style: Style) -> None:
    plate(board)
    fill = board.hatch("crossed", ground=METAL, ink=GREY)
    board.path(course(rough(58, 54), closed=True), fill=fill, stroke=2.4, part="weld")
    for turn in (0.4, 1.7, 2.9, 4.1, 5.3):
        ends = [(0.0, 0.0), (14 * math.cos(turn + 0.4), 14 * math.sin(turn + 0.4)),
                (34 * math.cos(turn), 34 * math.sin(turn))]  # fmt: skip
        board.path(course(ends), stroke=6.0, ink=PAPER)
        board.path(course(ends), stroke=3.2, part="crack")


def _bronze(board: Drawing, style: Style) -> None:
    plate(board)
    fill = board.hatch("dots", ground=COPPER, ink="#5a3510")
    board.path(course(rough(58, 54), closed=True), fill=fill, stroke=2.2, part="braze")


def _burnt(board: Drawing, style: Style) -> None:
    plate(board)
    board.path(course(rough(58, 52), closed=True), fill=torn_fill(board), stroke=2.0, part="fused")
    hole = [(x + 6, y - 4) for x, y in rough(30, 25)]
    board.path(course(hole, closed=True), fill=INK, stroke=2.4, part="hole")


def _porous(board: Drawing, style: Style) -> None:
    _disc(board, style)
    for x, y, r in ((-20, -14, 7), (8, -22, 5), (22, 6, 8), (-8, 12, 6), (-28, 16, 4), (4, -2, 4)):
        board.circle((x, y), r, fill=INK, ink=PAPER, stroke=1.4, part="pore")


def _whole(crack: Crack, faces: tuple[Face, Face], *, measured: bool, root: bool) -> Parted:
    """A plug that parted between the sheets: all weld metal above stays with the upper one."""
    return Parted(
        upper=_UPPER,
        lower=(_LOWER, _ROOT) if root else (_LOWER,),
        cracks=(crack,),
        faces=faces,
        face_names=_NAMES,
        halves=(_ACROSS, _DOWN) if measured else None,
    )


PLUG_SCENES: dict[str, Parted] = {
    "hole_pulled": Parted(
        upper=(*_UPPER, _slug(43, 7), _ROOT),
        lower=_lower_with_hole(-43, 43, 7),
        cracks=(Crack(((-43, 0), (-50, FLAT))), Crack(((43, 0), (50, FLAT)))),
        faces=(_hole, _slug_face),
        face_names=_NAMES,
        halves=(_ACROSS, _DOWN),
    ),
    "part_hole": Parted(
        upper=(*_UPPER, Piece("pulled", ((-43, 0), (-2, 0), (4, FLAT), (-50, FLAT)))),
        lower=(
            *_lower_with_hole(-43, -2, 7)[:1],
            Piece("other", ((-2, 0), (_EDGE, 0), (_EDGE, FLAT), (4, FLAT))),
        ),
        cracks=(Crack(((-43, 0), (-50, FLAT))), Crack(((4, FLAT), (-2, 0), (36, 0)))),
        faces=(_half_hole, _half_slug),
        face_names=_NAMES,
        halves=(_ACROSS, _DOWN),
    ),
    "parted_rough": _whole(Crack(((-33, 0), (33, 0))), (_disc, _disc), measured=True, root=True),
    "smooth_face": _whole(
        Crack(((-40, 0), (40, 0)), torn=False), (_shiny, _shiny_above), measured=False, root=False
    ),
    "ring_only": Parted(
        upper=_UPPER,
        lower=(
            _LOWER,
            Piece("weld", ((-46, 0), (-26, 0), (-36, 7))),
            Piece("weld", ((26, 0), (46, 0), (36, 7))),
        ),
        cracks=(
            Crack(((-46, 0), (-26, 0))),
            Crack(((-24, 0), (24, 0)), torn=False),
            Crack(((26, 0), (46, 0))),
        ),
        faces=(_ring, _ring),
        face_names=_NAMES,
    ),
    "pulled_through": Parted(
        upper=(_UPPER_LEFT, _UPPER_RIGHT),
        lower=(_LOWER, _ROOT, _IN_HOLE),
        cracks=(
            Crack(((-_HOLE, -FLAT), (-_HOLE, 0)), torn=False),
            Crack(((_HOLE, -FLAT), (_HOLE, 0)), torn=False),
        ),
        faces=(_plug_left, _open_hole),
        face_names=_NAMES,
        halves=(_ACROSS, _DOWN),
    ),
    "torn_beyond": Parted(
        upper=(*_UPPER, Piece("pulled", ((-43, 0), (104, 0), (96, FLAT), (-50, FLAT))), _ROOT),
        lower=(
            _lower_with_hole(-43, 0, 7)[0],
            Piece("other", ((104, 0), (_EDGE, 0), (_EDGE, FLAT), (96, FLAT))),
        ),
        cracks=(Crack(((-43, 0), (-50, FLAT))), Crack(((104, 0), (96, FLAT)))),
        faces=(_run_off_hole, _tongue),
        face_names=_NAMES,
        halves=(50.0, 45.0),
    ),
    "ring_torn": Parted(
        upper=(
            Piece("sheet", box(-_EDGE, -FLAT, -70, 0)),
            Piece("sheet", box(70, -FLAT, _EDGE, 0)),
        ),
        lower=(
            _LOWER,
            Piece("pulled", box(-70, -FLAT, -_HOLE, 0)),
            Piece("pulled", box(_HOLE, -FLAT, 70, 0)),
            _IN_HOLE,
            _ROOT,
        ),
        cracks=(Crack(((-70, -FLAT), (-70, 0))), Crack(((70, -FLAT), (70, 0)))),
        faces=(_ringed_plug, _torn_round),
        face_names=_NAMES,
        halves=(_ACROSS, _DOWN),
    ),
    "cracked": Parted(
        upper=_UPPER,
        lower=(_LOWER, _ROOT),
        cracks=(Crack(((0, -FLAT - 12), (3, -14), (-2, 0), (0, 12))),),
        faces=(_cracked, _cracked),
        face_names=("From above", "With a loupe or dye"),
        shift=(0.0, 0.0),
        halves=None,
    ),
    "burnt_through": Parted(
        upper=(
            _UPPER_LEFT,
            _UPPER_RIGHT,
            Piece(
                "weld",
                ((-52, -FLAT), (-18, -10), (-12, 0), (-_HOLE, 0), (-_HOLE, -FLAT)),
            ),
            Piece("weld", ((52, -FLAT), (26, -10), (20, 0), (_HOLE, 0), (_HOLE, -FLAT))),
        ),
        lower=(
            *_lower_with_hole(-40, 40, -6),
            Piece("weld", ((-40, 0), (-12, 0), (-8, 20), (-14, 34), (-24, 26), (-34, FLAT))),
            Piece("weld", ((20, 0), (40, 0), (34, FLAT), (28, 38), (20, 42), (14, 30))),
        ),
        cracks=(Crack(((-40, 0), (-12, 0))), Crack(((20, 0), (40, 0)))),
        faces=(_burnt, _burnt),
        face_names=_NAMES,
    ),
    "porous_face": Parted(
        upper=_UPPER,
        lower=(_LOWER, _ROOT),
        cracks=(Crack(((-33, 0), (33, 0))),),
        faces=(_porous, _porous),
        face_names=_NAMES,
        halves=(_ACROSS, _DOWN),
        pores=((-18, -8, 4), (6, -16, 5), (20, -6, 4), (-4, 4, 4)),
    ),
}

BRAZED_PLUG_SCENES: dict[str, Parted] = {
    **{key: PLUG_SCENES[key] for key in PLUG_SCENES if key != "ring_only"},
    "braze_on_both": replace(
        _whole(Crack(((-46, 0), (46, 0))), (_bronze, _bronze), measured=True, root=False),
        lower=(_LOWER, Piece("braze", box(-46, -5, 46, 0))),
        upper=(*_UPPER[:2], _BRONZE),
        cracks=(Crack(((-46, -5), (46, -5))),),
        halves=(58.0, 54.0),
    ),
    "clean_on_one": replace(
        _whole(
            Crack(((-46, 0), (46, 0)), torn=False), (_shiny, _bronze), measured=False, root=False
        ),
        upper=(*_UPPER[:2], _BRONZE),
    ),
}
