"""What can be seen wrong with an arc weld before it is torn, one small picture each.

Most are drawn from above, those that have a depth in section.
"""

import math
from collections.abc import Callable

from buttonhole.paper.figure.broken_face import (
    COPPER,
    GREY,
    METAL,
    PLATE,
    rough,
    rough_band,
    smooth_fill,
    torn_fill,
)
from buttonhole.paper.figure.parted import box
from buttonhole.paper.figure.parted_strip import zigzag
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Point, course

_WIDTH, _HEIGHT = 300.0, 150.0
_FLAT = 26.0  # how thick a sheet of a section is drawn
_END = 135.0

Corners = list[Point]


class _Board:
    """One picture about its middle: whether it is a plug, and what it is made of."""

    def __init__(self, drawing: Drawing, plug: bool, brazed: bool) -> None:
        self.drawing, self.plug = drawing, plug
        ground = drawing.hatch("dots", ground=COPPER, ink="#5a3510")
        self.weld = ground if brazed else drawing.hatch("crossed", ground=METAL, ink=GREY)
        self.upper = drawing.hatch("rising", ground=PLATE, ink="#9c9484")
        self.lower = drawing.hatch("falling", ground=PLATE, ink="#9c9484")

    def face(self) -> None:
        """The weld from above: a round plug, or a bead from left to right, its crater at right."""
        draw = self.drawing
        draw.box((-_END, -66), 2 * _END, 132, fill=PLATE, round_by=5, part="plate")
        if self.plug:
            draw.path(course(rough(50, 48), closed=True), fill=self.weld, stroke=2.0, part="weld")
            for radius in (34, 18):
                draw.circle((0, 0), radius, stroke=1.2, ink=GREY)
            return
        draw.path(course(rough_band(-120, 120, 22), closed=True), fill=self.weld, stroke=2.0)
        for x in range(-104, 96, 16):
            draw.path(f"M{x},-18 Q{x + 12},0 {x},18", stroke=1.2, ink=GREY)

    def sheets(self, *pieces: tuple[float, float, float, float]) -> None:
        """Sheets of a section as left, top, right, foot; the last one is the lower."""
        for order, piece in enumerate(pieces):
            fill = self.lower if order == len(pieces) - 1 and order else self.upper
            self.drawing.path(course(box(*piece), closed=True), fill=fill, part="sheet")

    def stacked(self, crown: Corners, root: Corners) -> None:
        """The section of a plug or of a lap with its weld: its crown, then its root."""
        if self.plug:
            self.sheets((-_END, -_FLAT, -42, 0), (42, -_FLAT, _END, 0), (-_END, 0, _END, _FLAT))
        else:
            self.sheets((0, -_FLAT, _END, 0), (-_END, 0, _END, _FLAT))
        self.drawing.path(course([*crown, *root], closed=True), fill=self.weld, stroke=2.0)

    @property
    def crown(self) -> Corners:
        """A sound weld over the hole, or from the edge down to the lower sheet."""
        if self.plug:
            return [
                (-54, -_FLAT),
                (-28, -_FLAT - 9),
                (0, -_FLAT - 12),
                (28, -_FLAT - 9),
                (54, -_FLAT),
            ]
        return [(-42, 0), (-20, -15), (0, -_FLAT - 4), (12, -_FLAT)]

    @property
    def root(self) -> Corners:
        """Where a sound weld ends below."""
        if self.plug:
            return [(42, -_FLAT), (42, 0), (26, 11), (0, 15), (-26, 11), (-42, 0), (-42, -_FLAT)]
        return [(10, 0), (2, 9), (-18, 11)]

    def mark(self, place: Point, radius: float = 17.0) -> None:
        """A ring round where to look."""
        self.drawing.circle(place, radius + 1.5, stroke=6.0, ink=PAPER)
        self.drawing.circle(place, radius, stroke=2.6, dash="6 3", part="look")


def _cracks(board: _Board, *courses: Corners) -> None:
    for one in courses:
        board.drawing.path(course(one), stroke=7.0, ink=PAPER)
        board.drawing.path(course(one), stroke=3.4, part="crack")


def _crack(board: _Board) -> None:
    board.face()
    half = 40 if board.plug else 90
    _cracks(board, list(zigzag(-half, half)))


def _crater(board: _Board) -> Point:
    return (0.0, 0.0) if board.plug else (96.0, 0.0)


def _crater_crack(board: _Board) -> None:
    board.face()
    x, y = _crater(board)
    rays = [
        [(x, y), (x + 24 * math.cos(turn), y + 20 * math.sin(turn))]
        for turn in (0.4, 1.7, 2.9, 4.1, 5.3)
    ]
    _cracks(board, *rays)


def _pores(board: _Board, *pores: tuple[float, float, float]) -> None:
    for x, y, radius in pores:
        board.drawing.circle((x, y), radius, fill=INK, ink=PAPER, stroke=1.6, part="pore")


def _surface_pore(board: _Board) -> None:
    board.face()
    _pores(board, (-12, 6, 8))
    board.mark((-12, 6))


def _pore_row(board: _Board) -> None:
    board.face()
    across = 12 if board.plug else 28
    _pores(board, *((across * one, 3.0 * (one % 2), 4.5 + one % 2) for one in range(-3, 4)))


def _crater_pipe(board: _Board) -> None:
    board.face()
    place = _crater(board)
    _pores(board, (*place, 6))
    board.mark(place)


def _no_fusion(board: _Board) -> None:
    low: Corners = [(42, -_FLAT), (42, 0), (-42, 0), (-42, -_FLAT)] if board.plug else [(10, 0)]
    board.stacked(board.crown, low)
    end = 42 if board.plug else 10
    board.drawing.line((-42, 1), (end, 1), width=6.0, part="unfused")


def _undercut(board: _Board) -> None:
    board.stacked(board.crown, board.root)
    x, y = (-60.0, -_FLAT) if board.plug else (-48.0, 0.0)
    notch = [(x - 9, y - 1), (x - 2, y + 9), (x + 7, y - 1)]
    board.drawing.path(course(notch, closed=True), fill=PAPER, stroke=2.4, part="groove")
    board.mark((x, y + 2))


def _one_sheet(board: _Board, weld: Corners) -> None:
    board.sheets((-_END, -_FLAT / 2, 0, _FLAT / 2), (0, -_FLAT / 2, _END, _FLAT / 2))
    board.drawing.path(course(weld, closed=True), fill=board.weld, stroke=2.0, part="weld")


_TOP: Corners = [(-30, -13), (-14, -22), (14, -22), (30, -13)]


def _shrinkage(board: _Board) -> None:
    _one_sheet(board, [*_TOP, (14, 13), (3, 13), (0, 4), (-3, 13), (-14, 13)])
    gap = [(-4, 14), (0, 4), (4, 14)]
    board.drawing.path(course(gap, closed=True), fill=PAPER, ink=None)
    board.mark((0, 11), 13)


def _concave(board: _Board) -> None:
    _one_sheet(board, [*_TOP, (20, 13), (10, 5), (-10, 5), (-20, 13)])
    hollow = [(-20, 15), (-10, 5), (10, 5), (20, 15)]
    board.drawing.path(course(hollow, closed=True), fill=PAPER, ink=None)
    board.drawing.path(course(hollow[1:3]), stroke=2.4)
    board.mark((0, 12), 24)


def _sagging(board: _Board) -> None:
    _one_sheet(
        board, [(-30, -13), (-12, -4), (12, -4), (30, -13), (18, 13), (6, 24), (-6, 24), (-18, 13)]
    )
    hollow = [(-30, -15), (-12, -4), (12, -4), (30, -15)]
    board.drawing.path(course(hollow, closed=True), fill=PAPER, ink=None)
    board.drawing.path(course(hollow), stroke=2.4, part="weld")


def _overlap(board: _Board) -> None:
    level = -_FLAT if board.plug else 0.0
    toe: Corners = [(-78, level), (-80, level - 8), (-66, level - 14)]
    board.stacked([*toe, *board.crown[1:]], [*board.root, (-40, level)])
    board.drawing.line((-78, level), (-44, level), width=5.0, part="unfused")
    board.mark((-66, level - 4), 20)


def _burn_through(board: _Board) -> None:
    board.face()
    hole = [(x - 6, y) for x, y in rough(24, 20)]
    board.drawing.path(course(hole, closed=True), fill=INK, ink=PAPER, stroke=2.4, part="hole")


def _restart(board: _Board) -> None:
    board.face()
    lump = [(x, 0.9 * y) for x, y in rough(34, 34)]
    board.drawing.path(course(lump, closed=True), fill=board.weld, stroke=2.6, part="weld")
    for radius in (22, 11):
        board.drawing.circle((0, 0), radius, stroke=1.6, ink=GREY)
    board.mark((0, 0), 44)


def _spatter(board: _Board) -> None:
    board.face()
    spots = ((-92, -46, 5), (-60, 48, 6), (-18, -54, 4), (30, 54, 5), (66, -44, 6), (112, 44, 4))
    _pores(board, *spots, (-112, 38, 3), (100, -54, 3), (4, 58, 3))


def _rim_open(board: _Board) -> None:
    board.face()
    edge = [(58 * math.cos(t), 58 * math.sin(t)) for t in [0.1 * k for k in range(-9, 14)]]
    inner = [(44 * math.cos(t), 44 * math.sin(t)) for t in [0.1 * k for k in range(13, -10, -1)]]
    board.drawing.path(course([*edge, *inner], closed=True), fill=INK, stroke=1.6, part="rim")
    board.mark((50, 12), 26)


def _tall_head(board: _Board) -> None:
    head: Corners = [
        (-50, -_FLAT),
        (-56, -40),
        (-40, -58),
        (0, -66),
        (40, -58),
        (56, -40),
        (50, -_FLAT),
    ]
    board.stacked(head, board.root)
    board.drawing.line((90, -66), (90, -_FLAT), width=2.4, part="dimension")
    for y in (-66.0, -_FLAT):
        board.drawing.line((78, y), (102, y), width=2.4, part="dimension")


def _brittle_ring(board: _Board) -> None:
    board.face()
    ring = [(66 * r * math.cos(t), 58 * r * math.sin(t)) for t, r in (
        (0.0, 1.0), (0.5, 0.93), (1.1, 1.02), (1.7, 0.94), (2.3, 1.0), (2.9, 0.93), (3.5, 1.02),
        (4.1, 0.94), (4.7, 1.0), (5.3, 0.93), (5.8, 1.0))]  # fmt: skip
    board.drawing.path(course(ring, closed=True), stroke=3.6, part="crack")


def _narrow_bead(board: _Board) -> None:
    board.stacked(
        [(-22, 0), (-26, -20), (-16, -42), (4, -48), (12, -_FLAT)], [(6, 0), (0, 4), (-12, 4)]
    )


def _melted_edge(board: _Board) -> None:
    board.face()
    molten = [(x, y - 22) for x, y in rough_band(-80, 60, 12)]
    if board.plug:
        molten = [(x, y) for x, y in rough(52, 48, -2.6, -0.4)]
    board.drawing.path(course(molten, closed=True), fill=torn_fill(board.drawing), stroke=2.4)


def _no_wetting(board: _Board) -> None:
    ball: Corners = [
        (-16, 0),
        (-34, -12),
        (-38, -34),
        (-22, -54),
        (4, -56),
        (22, -42),
        (16, -_FLAT),
    ]
    if board.plug:
        ball = [(-30, -_FLAT), (-44, -42), (-28, -64), (0, -70), (28, -64), (44, -42), (30, -_FLAT)]
    board.stacked(ball, [(30, -6), (-30, -6)] if board.plug else [(0, -_FLAT), (0, -4)])
    board.mark((-34, -4) if not board.plug else (-40, -30))


def _zinc_wide(board: _Board) -> None:
    draw = board.drawing
    draw.box((-_END, -66), 2 * _END, 132, fill=PLATE, round_by=5, part="plate")
    wide = rough(62, 58) if board.plug else rough_band(-124, 124, 50)
    draw.path(course(wide, closed=True), fill=smooth_fill(draw), stroke=2.0, part="zinc")
    inner = rough(26, 24) if board.plug else rough_band(-124, 124, 14)
    fill = draw.hatch("level", ground="#b9c4d2", ink="#3f4b5c")
    draw.path(course(inner, closed=True), fill=fill, stroke=2.0, part="scale")


def _soot(board: _Board, ink: str, name: str) -> None:
    draw = board.drawing
    board.face()
    cloud = rough(76, 60) if board.plug else rough_band(-126, 126, 54)
    draw.path(course(cloud, closed=True), fill=draw.hatch(name, ink=ink), ink=ink, dash="3 4")


def _soot_stays(board: _Board) -> None:
    _soot(board, INK, "dense")


def _soot_wiped(board: _Board) -> None:
    _soot(board, GREY, "dots")
    board.drawing.line((-20, -58), (86, 56), width=22.0, ink=PLATE, part="wiped")
    board.drawing.line((-30, -50), (74, 62), width=1.4, dash="6 4")


def _cold_hump(board: _Board) -> None:
    draw = board.drawing
    board.sheets((-_END, 4, _END, 4 + _FLAT))
    hump: Corners = [
        (-100, 4),
        (-108, -14),
        (-96, -38),
        (-74, -40),
        (-56, -18),
        (-20, -10),
        (110, -8),
        (118, 4),
    ]
    melted: Corners = [(100, 12), (0, 13), (-40, 9), (-60, 4)]
    draw.path(course([*hump, *melted], closed=True), fill=board.weld, stroke=2.0, part="weld")
    draw.line((-100, 4), (-60, 4), width=6.0, part="unfused")
    board.mark((-82, -4), 26)


_PICTURES: dict[str, Callable[[_Board], None]] = {
    "crack": _crack,
    "crater_crack": _crater_crack,
    "surface_pore": _surface_pore,
    "pore_row": _pore_row,
    "crater_pipe": _crater_pipe,
    "no_fusion": _no_fusion,
    "undercut": _undercut,
    "shrinkage_groove": _shrinkage,
    "overlap": _overlap,
    "sagging": _sagging,
    "burn_through": _burn_through,
    "root_concavity": _concave,
    "poor_restart": _restart,
    "spatter": _spatter,
    "rim_open": _rim_open,
    "tall_head": _tall_head,
    "brittle_ring": _brittle_ring,
    "narrow_bead": _narrow_bead,
    "melted_edge": _melted_edge,
    "no_wetting": _no_wetting,
    "zinc_burnt_wide": _zinc_wide,
    "soot_stays": _soot_stays,
    "soot_wiped": _soot_wiped,
    "cold_hump": _cold_hump,
}
WELD_FAULTS = tuple(_PICTURES)


def weld_fault(
    key: str,
    name: str,
    sign: str,
    *,
    plug: bool = False,
    brazed: bool = False,
    style: Style | None = None,
) -> str:
    """Draw something that can be seen on an arc weld.

    Parameters
    ----------
    key : str
        One of ``WELD_FAULTS``.
    name, sign : str
        What it is called and how it is known, for those who don't see the picture.
    plug : bool
        On a plug; else on a seam.
    brazed : bool
        On bronze; else on melted metal.
    style : Style, optional
        Language.

    Returns
    -------
    str
        SVG text without lettering: put the name beside it.

    Raises
    ------
    ValueError
        If there is no such picture.
    """
    if key not in _PICTURES:
        raise ValueError(f"{key!r} is no fault that is drawn; known: {', '.join(_PICTURES)}")
    say = (style or Style()).say
    drawing = Drawing(f"fault-picture {key}", _WIDTH, _HEIGHT, say(name), say(sign))
    with drawing.moved(_WIDTH / 2, _HEIGHT / 2):
        _PICTURES[key](_Board(drawing, plug, brazed))
    return drawing.finish()
