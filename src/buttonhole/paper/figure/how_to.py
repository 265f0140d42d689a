"""How a coupon is torn: peel, chisel, torsion, bend, and the cut for a macro section."""

from collections.abc import Callable

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Point, course, wrapped

_STEEL, _JAW, _TOOL = "#e6e1d4", "#c9c9c9", "#dcb98c"
_WIDTH, _HEIGHT = 420.0, 250.0

_STEPS: dict[str, tuple[str, str, str]] = {
    "peel": (
        "Peel test",
        "Clamp one leg in the vice.",
        "Roll the other leg back over the weld until it lets go.",
    ),
    "chisel": (
        "Chisel test",
        "Drive the wedge between the sheets beside the weld, not into it.",
        "Stop when the weld lets go, or when the sheets stand open.",
    ),
    "torsion": (
        "Torsion test",
        "Clamp the lower sheet flat in the vice.",
        "Turn the upper sheet slowly round the weld; note the angle at which it lets go.",
    ),
    "bend": (
        "Bend test",
        "Cut a strip across the seam, 20 to 30 mm wide. Clamp it beside the weld, root outside.",
        "Bend it slowly over, as far as it goes; look along the root and the toes for an opening.",
    ),
    "macro": (
        "Macro section",
        "Saw beside the middle of the weld.",
        "Grind to the middle, etch, and measure the nugget at the interface.",
    ),
}

HOW_TO = tuple(_STEPS)


def how_to(test: str, *, style: Style | None = None, notes: bool = True) -> str:
    """Draw how a coupon is tested.

    Parameters
    ----------
    test : str
        One of ``HOW_TO``.
    style : Style, optional
        Letter size and language.
    notes : bool
        Whether the words stand under the picture; they are always in its description.

    Returns
    -------
    str
        SVG text, with the steps and the caution in words under the picture.

    Raises
    ------
    ValueError
        If there is no picture of the test.
    """
    if test not in _STEPS:
        raise ValueError(f"no picture shows {test!r}; known: {', '.join(_STEPS)}")
    style = style or Style(lettering=16.0)
    size, say = style.lettering, style.say
    name, *steps = _STEPS[test]
    caution = "Visor and gloves. Edges are sharp, the button can fly."
    if test == "macro":
        caution = "Etching acid: fume hood, goggles, gloves; only by someone trained."
    room = _WIDTH - 2 * size
    lines = [
        (line, False)
        for order, step in enumerate(steps, start=1)
        for line in wrapped(f"{order}: {say(step)}", size, room)
    ]
    lines += [(line, True) for line in wrapped(say(caution), 1.08 * size, room)]
    desc = " ".join(say(words) for words in (*steps, caution))
    lines = lines if notes else []
    height = _HEIGHT + (1.4 * len(lines) + 0.4) * size
    board = Drawing(f"how-to-picture {test}", _WIDTH, height, say(name), desc)
    _PICTURES[test](board)
    for order, (line, bold) in enumerate(lines):
        place = (size, _HEIGHT + (1.4 * order + 0.9) * size)
        board.text(place, line, size, bold=bold, part="note")
    return board.finish()


def _vice(board: Drawing, middle: float, top: float, gap: float) -> None:
    fill = board.hatch("falling", ground=_JAW, ink="#8a8a8a")
    for left in (middle - gap / 2 - 90, middle + gap / 2):
        board.box((left, top), 90, 240 - top, fill=fill, stroke=2.0, part="vice")


def _sheet(board: Drawing, corners: list[Point]) -> None:
    board.path(course(corners, closed=True), fill=_STEEL, stroke=1.8, part="sheet")


def _nugget(board: Drawing, place: Point, radius: float | Point = 8.0) -> None:
    board.circle(place, radius, fill=INK, ink=None, part="weld")


def _arrow(board: Drawing, curve: str, tip: Point, tail: Point) -> None:
    """A thick arrow along a path, its head at ``tip`` seen from ``tail``."""
    board.path(curve, stroke=4.5, part="motion")
    run, rise = tip[0] - tail[0], tip[1] - tail[1]
    length = (run * run + rise * rise) ** 0.5
    along, aside = (run / length, rise / length), (-rise / length, run / length)
    base = (tip[0] - 16 * along[0], tip[1] - 16 * along[1])
    head = [
        tip,
        (base[0] + 10 * aside[0], base[1] + 10 * aside[1]),
        (base[0] - 10 * aside[0], base[1] - 10 * aside[1]),
    ]
    board.path(course(head, closed=True), fill=INK, ink=None, part="motion")


def _peel(board: Drawing) -> None:
    _vice(board, 200, 150, 12)
    _sheet(board, [(194, 235), (206, 235), (206, 74), (194, 74)])
    leg = "M206,74 L206,112 Q206,124 218,124 L268,124 Q284,124 284,104 L284,92 L272,92 L272,100 "
    board.path(leg + "Q272,112 262,112 L222,112 Q218,112 218,106 L218,74 Z", fill=_STEEL)
    _nugget(board, (206, 92), (12, 9))
    board.circle((278, 78), 22, fill=board.hatch("rising", ground=_TOOL, ink="#8a5a2e"), stroke=2)
    board.box((270, 20), 16, 46, fill=_TOOL, stroke=2.0, part="tool")
    _arrow(board, "M318,92 Q342,150 300,178", (292, 184), (312, 168))
    _number(board, (150, 130), "1")
    _number(board, (362, 130), "2")


def _chisel(board: Drawing) -> None:
    fill = board.hatch("falling", ground=_JAW, ink="#8a8a8a")
    board.box((30, 166), 360, 56, fill=fill, stroke=2.0, part="block")
    _sheet(board, [(60, 152), (330, 152), (330, 166), (60, 166)])
    board.path(
        "M60,152 L330,152 L330,138 L232,138 Q220,138 206,130 L150,106 L144,118 L200,143 "
        "Q206,146 206,150 Z",
        fill=_STEEL,
        stroke=1.8,
        part="sheet",
    )
    _nugget(board, (262, 152), (24, 8))
    wedge = [(60, 116), (70, 100), (110, 104), (206, 150), (108, 152), (64, 140)]
    board.path(course(wedge, closed=True), fill=_TOOL, stroke=2.0, part="tool")
    _arrow(board, "M20,84 L66,92", (90, 96), (66, 92))
    _number(board, (120, 76), "1")
    _number(board, (262, 110), "2")


def _torsion(board: Drawing) -> None:
    fill = board.hatch("falling", ground=_JAW, ink="#8a8a8a")
    board.box((40, 30), 340, 54, fill=fill, stroke=2.0, part="vice")
    board.box((40, 166), 340, 54, fill=fill, stroke=2.0, part="vice")
    board.box((60, 84), 230, 82, fill=_STEEL, stroke=1.8, part="sheet")
    with board.moved(220, 125, -28):
        board.box((-40, -30), 190, 60, fill=PAPER, stroke=2.0, part="sheet")
        board.circle((0, 0), 20, stroke=1.6, dash="4 3", part="dent")
        _nugget(board, (0, 0), 12)
    _arrow(board, "M382,132 Q388,86 356,48", (348, 38), (360, 54))
    _number(board, (96, 125), "1")
    _number(board, (398, 60), "2")


def _bend(board: Drawing) -> None:
    _vice(board, 170, 148, 14)
    strip = "M163,236 L177,236 L177,150 Q178,118 200,98 L282,40 L273,28 L190,86 Q163,108 163,150 Z"
    board.path(strip, fill=_STEEL, stroke=1.8, part="sheet")
    weld = board.hatch("dense", ground="#8a6a50", ink=INK)
    bead = "M163,142 Q166,108 190,86 L200,98 Q180,114 177,142 Z"
    board.path(bead, fill=weld, stroke=2.0, part="weld")
    board.line((152, 126), (166, 122), width=3.0, part="root")
    _arrow(board, "M306,40 Q330,84 310,128", (300, 142), (312, 124))
    board.circle((128, 108), 26, stroke=2.6, part="loupe")
    board.line((110, 127), (84, 152), width=6.0, part="loupe")
    _number(board, (60, 190), "1")
    _number(board, (352, 84), "2")


def _macro(board: Drawing) -> None:
    _sheet(board, [(40, 120), (380, 120), (380, 142), (40, 142)])
    _sheet(board, [(40, 142), (380, 142), (380, 164), (40, 164)])
    nugget = board.hatch("dense", ground="#8a6a50", ink=INK)
    board.circle((210, 142), (58, 17), fill=nugget, stroke=2.0, part="weld")
    board.line((130, 60), (130, 210), width=2.6, dash="10 5", part="cut")
    board.path("M112,40 L148,40 L130,64 Z", fill=INK, ink=None, part="cut")
    board.line((210, 70), (210, 210), width=1.4, dash="9 3 2 3", part="axis")
    _arrow(board, "M136,86 L184,86", (204, 86), (184, 86))
    board.line((152, 186), (268, 186), width=2.0, part="dimension")
    for place in (152.0, 268.0):
        board.line((place, 146), (place, 194), width=1.4, dash="4 3", part="dimension")
    _number(board, (96, 86), "1")
    _number(board, (300, 190), "2")


def _number(board: Drawing, place: Point, label: str) -> None:
    board.circle(place, 13, fill=PAPER, stroke=2.2, part="step")
    board.text((place[0], place[1] + 6), label, 17, anchor="middle", bold=True, part="step")


_PICTURES: dict[str, Callable[[Drawing], None]] = {
    "peel": _peel,
    "chisel": _chisel,
    "torsion": _torsion,
    "bend": _bend,
    "macro": _macro,
}
