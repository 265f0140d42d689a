"""Do and don't: small pictures for the bay card, each with a tick or a cross."""

from collections.abc import Callable
from dataclasses import dataclass

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, course

_COPPER, _STEEL = "#e9b98c", "#e6e1d4"
_WIDTH, _HEIGHT = 150.0, 110.0


@dataclass(frozen=True, slots=True)
class _Advice:
    """What one small picture says, and whether it is a do or a don't."""

    words: str
    do: bool


_ADVICE: dict[str, _Advice] = {
    "gun_square": _Advice("Gun square to the sheets", True),
    "torch_as_set": _Advice("Keep tube distance and angle", True),
    "sheets_tight": _Advice("Sheets clean and clamped tight", True),
    "no_other_supply": _Advice("No other outlet or lead", False),
    "no_worn_cap": _Advice("No worn cap: dress it", False),
    "stop_at_splash": _Advice("Splash: stop and ask", False),
}

ICONS = tuple(_ADVICE)


def icon(name: str, *, style: Style | None = None) -> str:
    """Draw a small picture of something to do or not to do.

    Parameters
    ----------
    name : str
        One of ``ICONS``.
    style : Style, optional
        Language.

    Returns
    -------
    str
        SVG text without lettering: put :func:`advice` beside it.

    Raises
    ------
    ValueError
        If there is no such picture.
    """
    words = advice(name, style=style)
    board = Drawing(f"icon-picture {name}", _WIDTH, _HEIGHT, words, "")
    _PICTURES[name](board)
    _sign(board, _ADVICE[name].do)
    return board.finish()


def advice(name: str, *, style: Style | None = None) -> str:
    """Say what a small picture means.

    Parameters
    ----------
    name : str
        One of ``ICONS``.
    style : Style, optional
        Language.

    Returns
    -------
    str
        A few words.

    Raises
    ------
    ValueError
        If there is no such picture.
    """
    if name not in _ADVICE:
        raise ValueError(f"{name!r} is no advice picture; known: {', '.join(_ADVICE)}")
    return (style or Style()).say(_ADVICE[name].words)


def _sign(board: Drawing, do: bool) -> None:
    with board.moved(128, 22):
        if do:
            board.circle((0, 0), 18, fill=PAPER, stroke=3.0, part="do")
            board.path(course([(-9, 0), (-2, 8), (10, -8)]), stroke=5.0, part="do")
        else:
            board.box((-17, -17), 34, 34, fill=INK, round_by=3, part="dont")
            for sign in (1.0, -1.0):
                board.line((-9, -9 * sign), (9, 9 * sign), ink=PAPER, width=5.0, part="dont")


def _tip(board: Drawing, x: float, y: float, turned: float = 0.0, *, worn: bool = False) -> None:
    """One electrode pointing down, its face at the place."""
    with board.moved(x, y, turned):
        face = 17.0 if worn else 7.0
        outline = [(-face, 0), (face, 0), (18, -18), (18, -42), (-18, -42), (-18, -18)]
        board.path(course(outline, closed=True), fill=_COPPER, stroke=2.2, part="cap")


def _sheets(board: Drawing, top: float, gap: float = 0.0) -> None:
    board.box((8, top), 104, 8, fill=_STEEL, stroke=1.8, part="sheet")
    board.box((8, top + 8 + gap), 104, 8, fill=_STEEL, stroke=1.8, part="sheet")


def _gun_square(board: Drawing) -> None:
    _sheets(board, 47)
    _tip(board, 60, 47)
    _tip(board, 60, 63, 180)
    board.path(course([(84, 47), (84, 35), (72, 35)]), stroke=2.4, part="square")


def _torch_as_set(board: Drawing) -> None:
    _sheets(board, 72)
    with board.moved(60, 70, 20):
        board.line((0, 0), (0, -24), width=3.0, part="wire")
        tube = [(-7, -24), (7, -24), (11, -62), (-11, -62)]
        board.path(course(tube, closed=True), fill=_COPPER, stroke=2.2, part="tube")
    for level in (70.0, 47.0):
        board.line((96, level), (112, level), width=2.0, part="distance")
    board.line((104, 70), (104, 47), width=2.0, part="distance")


def _sheets_tight(board: Drawing) -> None:
    _sheets(board, 47)
    for x in (30.0, 90.0):
        board.line((x, 8), (x, 40), width=5.0, part="clamp")
        board.path(course([(x - 9, 32), (x, 45), (x + 9, 32)], closed=True), fill=INK, ink=None)
        board.line((x, 102), (x, 70), width=5.0, part="clamp")
        board.path(course([(x - 9, 78), (x, 65), (x + 9, 78)], closed=True), fill=INK, ink=None)


def _no_other_supply(board: Drawing) -> None:
    board.box((10, 26), 50, 58, fill=PAPER, stroke=2.6, round_by=5, part="outlet")
    board.circle((35, 55), 17, stroke=2.2, part="outlet")
    for x in (28.0, 42.0):
        board.circle((x, 55), 3.2, fill=INK, ink=None, part="outlet")
    board.path("M60,55 C84,55 74,92 96,92 C116,92 112,66 138,66", stroke=4.5, part="lead")


def _no_worn_cap(board: Drawing) -> None:
    _tip(board, 60, 58, worn=True)
    board.path("M43,58 Q34,64 30,58 M77,58 Q86,64 90,58", stroke=2.2, part="cap")
    _sheets(board, 64)


def _stop_at_splash(board: Drawing) -> None:
    _sheets(board, 60)
    _tip(board, 60, 60)
    for start, end in (
        ((38, 68), (8, 92)),
        ((46, 78), (32, 104)),
        ((82, 68), (112, 92)),
        ((74, 78), (88, 104)),
    ):
        board.line(start, end, width=3.0, dash="6 4", part="splash")
        board.circle(end, 3.6, fill=INK, ink=None, part="splash")


_PICTURES: dict[str, Callable[[Drawing], None]] = {
    "gun_square": _gun_square,
    "torch_as_set": _torch_as_set,
    "sheets_tight": _sheets_tight,
    "no_other_supply": _no_other_supply,
    "no_worn_cap": _no_worn_cap,
    "stop_at_splash": _stop_at_splash,
}
