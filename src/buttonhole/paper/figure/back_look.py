"""What the back of an arc weld looks like, one picture a mark: from behind, and from the side."""

from collections.abc import Callable

from buttonhole.paper.figure.broken_face import GREY, METAL, PLATE, rough, rough_band
from buttonhole.paper.figure.parted import box
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Point, course, wrapped

_WIDTH, _HEIGHT = 300.0, 214.0
_BACK: Point = (150.0, 80.0)  # middle of the view from behind
_SIDE: Point = (150.0, 178.0)  # middle of the view from the side
_EDGE, _THICK = 120.0, 16.0

_NAMES: dict[str, tuple[str, str]] = {
    "none": ("No mark", "The back looks as before: no tint, no scale, zinc and paint whole."),
    "faint": ("Faint", "A tint only, straw to blue; zinc dull but there."),
    "clear": ("Clear", "Scaled blue-grey or zinc burnt white, with a clear edge; not molten."),
    "bump": ("Bump", "Molten through and held up: a low, closed bump."),
    "drip": ("Drip", "It hangs through like a drop, near to falling."),
    "hole": ("Hole", "Light shows through, or metal fell out."),
}
BACK_MARKS = tuple(_NAMES)


def back_look(
    mark: str, *, seam: bool = False, style: Style | None = None, notes: bool = True
) -> str:
    """Draw the back of an arc weld.

    Parameters
    ----------
    mark : str
        One of ``BACK_MARKS``.
    seam : bool
        Along a seam; else round, behind a plug.
    style : Style, optional
        Letter size and language.
    notes : bool
        Whether the words stand under the picture; they are always in its description.

    Returns
    -------
    str
        SVG text: from behind, and below it the side view, the back down.

    Raises
    ------
    ValueError
        If the mark is not known.
    """
    if mark not in _NAMES:
        raise ValueError(f"{mark!r} is no mark on the back; known: {', '.join(_NAMES)}")
    style = style or Style(lettering=16.0)
    size, say = style.lettering, style.say
    name, sign = _NAMES[mark]
    lines = wrapped(say(sign), size, _WIDTH - size) if notes else []
    height = _HEIGHT + (1.35 * len(lines) + (0.4 if lines else 0.0)) * size
    title = f"{say('Back')}: {say(name)}"
    board = Drawing(f"back-look {mark}", _WIDTH, height, title, say(sign))
    with board.moved(*_BACK):
        board.box((-135, -72), 270, 144, fill=PLATE, round_by=5, part="plate")
        _BEHIND[mark](board, seam)
    with board.moved(*_SIDE):
        _side(board, mark)
    for order, line in enumerate(lines, start=1):
        board.text((0.5 * size, _HEIGHT - 0.2 * size + 1.35 * order * size), line, size)
    return board.finish()


def back_words(mark: str, *, style: Style | None = None) -> tuple[str, str]:
    """Name of a mark on the back and how it is known; raises ``KeyError`` for another word."""
    say = (style or Style()).say
    name, sign = _NAMES[mark]
    return say(name), say(sign)


def _outline(across: float, seam: bool) -> str:
    if seam:
        return course(rough_band(-118, 118, 0.62 * across), closed=True)
    return course(rough(across, 0.92 * across), closed=True)


def _none(board: Drawing, seam: bool) -> None:
    """Nothing at all: the plain back of a sheet."""


def _faint(board: Drawing, seam: bool) -> None:
    fill = board.hatch("dots", ground="#f3e3b4", ink="#b08d3c")
    board.path(_outline(52, seam), fill=fill, ink=GREY, stroke=1.2, dash="3 5", part="tint")


def _clear(board: Drawing, seam: bool) -> None:
    _faint(board, seam)
    fill = board.hatch("level", ground="#b9c4d2", ink="#3f4b5c")
    board.path(_outline(40, seam), fill=fill, stroke=2.4, part="scale")


def _bump(board: Drawing, seam: bool) -> None:
    _clear(board, seam)
    fill = board.hatch("crossed", ground=METAL, ink=GREY)
    board.path(_outline(26, seam), fill=fill, stroke=2.6, part="bump")


def _drip(board: Drawing, seam: bool) -> None:
    _clear(board, seam)
    fill = board.hatch("crossed", ground=METAL, ink=GREY)
    board.path(_outline(30, seam), fill=fill, stroke=2.4, part="bump")
    drops = ((-70.0, 15.0), (6.0, 18.0), (78.0, 14.0)) if seam else ((2.0, 19.0),)
    for x, radius in drops:
        board.circle((x, 4), (0.8 * radius, radius), fill=INK, ink=PAPER, part="drip")
        board.circle((x - 4, -3), 4, fill=PAPER, ink=None)


def _hole(board: Drawing, seam: bool) -> None:
    _clear(board, seam)
    hole = [(x - (20.0 if seam else 0.0), y) for x, y in rough(30 if seam else 27, 19)]
    board.path(course(hole, closed=True), fill=PAPER, stroke=3.2, part="hole")
    for across, down in ((-0.5, 0.5), (0.0, 0.75), (0.5, 0.5)):
        x = (-20.0 if seam else 0.0) + 27 * across
        board.line((x, -19 * down), (x, 19 * down), width=1.0, dash="2 3")


def _side(board: Drawing, mark: str) -> None:
    """The weld from the side, its back down."""
    sheet = board.hatch("falling", ground=PLATE, ink="#9c9484")
    weld = board.hatch("crossed", ground=METAL, ink=GREY)
    top, foot = -_THICK / 2, _THICK / 2
    depth = {"none": 3.0, "faint": 6.0, "clear": 11.0}.get(mark, _THICK)
    if mark == "hole":
        for left, right in ((-_EDGE, -26.0), (20.0, _EDGE)):
            board.path(course(box(left, top, right, foot), closed=True), fill=sheet, part="sheet")
        lip = [(-26, top), (-20, -2), (-22, foot + 8), (-30, foot + 4), (-26, foot)]
        board.path(course(lip, closed=True), fill=weld, part="weld")
        return
    board.path(course(box(-_EDGE, top, _EDGE, foot), closed=True), fill=sheet, part="sheet")
    crown = [(-34, top), (-18, top - 9), (0, top - 12), (18, top - 9), (34, top)]
    root = [(24, top + 0.7 * depth), (0, top + depth), (-24, top + 0.7 * depth)]
    if mark == "bump":
        root = [(18, foot), (8, foot + 6), (-8, foot + 6), (-18, foot)]
    elif mark == "drip":
        root = [
            (16, foot),
            (11, foot + 14),
            (6, foot + 24),
            (-5, foot + 22),
            (-10, foot + 10),
            (-16, foot),
        ]
    board.path(course([*crown, *root], closed=True), fill=weld, stroke=1.8, part="weld")
    if mark in ("faint", "clear"):
        wide = 44.0 if mark == "faint" else 34.0
        dash = "3 5" if mark == "faint" else None
        board.line((-wide, foot + 3), (wide, foot + 3), width=3.0, ink=GREY, dash=dash, part="tint")


_BEHIND: dict[str, Callable[[Drawing, bool], None]] = {
    "none": _none,
    "faint": _faint,
    "clear": _clear,
    "bump": _bump,
    "drip": _drip,
    "hole": _hole,
}
