"""Torn spot welds: how each fracture mode looks, and what to measure on it."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from buttonhole.paper.figure.broken_face import FUSED, METAL, PLATE, callipers, rough
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Point, course, wrapped

_ACROSS, _DOWN = 66.0, 57.0  # half axes of the drawn weld: a little oval, as welds are
_FACE: Point = (150.0, 130.0)  # middle of the view from above
_SIDE: Point = (450.0, 130.0)  # middle of the view from the side


@dataclass(frozen=True, slots=True)
class _Mode:
    """What one fracture mode is called, how it is known, and whether it has a diameter."""

    name: str
    sign: str
    measure: str
    measured: bool


_MODES: dict[str, _Mode] = {
    "full_button": _Mode(
        "Full button",
        "A button stands on one sheet, a hole is in the other.",
        "Measure the button, largest and smallest, at 90 degrees.",
        True,
    ),
    "partial_button": _Mode(
        "Partial button",
        "Part of the weld pulled a button, the rest parted between the sheets.",
        "Measure the whole fused area, largest and smallest, at 90 degrees.",
        True,
    ),
    "interfacial": _Mode(
        "Interfacial",
        "The weld parted between the sheets: a rough disc on both.",
        "Measure the rough disc only. The bright corona ring is pressed, not fused.",
        True,
    ),
    "partial_thickness": _Mode(
        "Partial thickness",
        "A shallow button: it tore out part of the sheet's thickness, no hole.",
        "Measure the fused area, largest and smallest, at 90 degrees.",
        True,
    ),
    "no_weld": _Mode(
        "No weld",
        "Both faces are smooth. Only a mark of the caps and heat is seen.",
        "Nothing to measure: the diameter is zero.",
        False,
    ),
    "stuck_weld": _Mode(
        "Stuck weld",
        "Smooth bright zinc held the sheets; no rough fused core.",
        "Nothing to measure: zinc that sticks is no weld.",
        False,
    ),
    "expelled": _Mode(
        "Expelled",
        "Splash left a hole or a hollow, with streaks of metal round it.",
        "Do not measure. Find the cause: gap, force, dirt, then current.",
        False,
    ),
}

FRACTURE_MODES = tuple(_MODES)


def torn(mode: str, *, style: Style | None = None, notes: bool = True) -> str:
    """Draw a torn weld.

    Parameters
    ----------
    mode : str
        One of ``FRACTURE_MODES``.
    style : Style, optional
        Letter size and language.
    notes : bool
        Whether the words stand under the picture; they are always in its description.

    Returns
    -------
    str
        SVG text: the torn face from above with both calliper positions where there is something
        to measure, and both halves from the side.

    Raises
    ------
    ValueError
        If the mode is not known.
    """
    if mode not in _MODES:
        raise ValueError(f"{mode!r} is no fracture mode; known: {', '.join(_MODES)}")
    style = style or Style(lettering=16.0)
    size, say, what = style.lettering, style.say, _MODES[mode]
    width = 600.0
    lines = [(line, False) for line in wrapped(say(what.sign), size, width - 2 * size)]
    lines += [(line, True) for line in wrapped(say(what.measure), 1.08 * size, width - 2 * size)]
    lines = lines if notes else []
    height = 262 + (1.35 * len(lines) + 0.2) * size
    desc = f"{say(what.sign)} {say(what.measure)}"
    board = Drawing(f"torn-picture {mode}", width, height, say(what.name), desc)
    board.box((30, 20), 240, 220, fill=PLATE, round_by=6, part="plate")
    with board.moved(*_FACE):
        _FROM_ABOVE[mode](board, style)
        if what.measured:
            callipers(board, (_ACROSS, _DOWN), style, ("d max", "d min"))
    with board.moved(*_SIDE):
        _FROM_SIDE[mode](board)
    for order, (line, bold) in enumerate(lines):
        place = (size, 258 + (1.35 * order + 0.7) * size)
        board.text(place, line, size, bold=bold, part="note")
    return board.finish()


def _dent(board: Drawing) -> None:
    board.circle((0, 0), (88, 84), stroke=1.2, dash="6 4", part="dent")


def _above_full(board: Drawing, style: Style) -> None:
    _dent(board)
    fill = board.hatch("dense", ground=METAL, ink="#5c5546")
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fill, stroke=2.6, part="button")
    board.path(course(rough(_ACROSS * 0.80, _DOWN * 0.80), closed=True), fill=METAL, stroke=1.4)


def _above_partial(board: Drawing, style: Style) -> None:
    _dent(board)
    fused = board.hatch("dots", ground=PAPER, ink="#5c5546")
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fused, stroke=1.8, part="fused")
    half = [*rough(_ACROSS, _DOWN, 0.65 * math.pi, 1.75 * math.pi)]
    fill = board.hatch("dense", ground=METAL, ink="#5c5546")
    board.path(course(half, closed=True), fill=fill, stroke=2.6, part="button")


def _above_interfacial(board: Drawing, style: Style) -> None:
    _dent(board)
    board.circle((0, 0), (_ACROSS + 15, _DOWN + 15), fill=PAPER, stroke=1.4, part="corona")
    fused = board.hatch("dots", ground=FUSED, ink="#3c362b")
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fused, stroke=2.2, part="fused")
    words, size = style.say("corona"), style.lettering
    board.line((58, 52), (84, 82), width=1.2, part="lead")
    board.text((118, 82 + size), words, size, anchor="end", halo=True, part="name")


def _above_partial_thickness(board: Drawing, style: Style) -> None:
    _dent(board)
    fill = board.hatch("rising", ground=METAL, ink="#5c5546")
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fill, stroke=2.4, part="fused")
    inner = course(rough(_ACROSS * 0.62, _DOWN * 0.62), closed=True)
    board.path(inner, fill=PAPER, stroke=1.6, dash="5 3", part="shelf")


def _above_none(board: Drawing, style: Style) -> None:
    _dent(board)
    board.circle((0, 0), (_ACROSS, _DOWN), stroke=1.2, dash="2 5", part="mark")


def _above_stuck(board: Drawing, style: Style) -> None:
    _dent(board)
    fill = board.hatch("level", ground=PAPER, ink="#9a9a9a")
    board.circle((0, 0), (_ACROSS, _DOWN), fill=fill, stroke=1.4, part="zinc")
    board.text((0, 6), style.say("zinc"), style.lettering, anchor="middle", bold=True, halo=True)


def _above_expelled(board: Drawing, style: Style) -> None:
    _dent(board)
    for turn in (0.35, 1.1, 2.0, 2.75, 3.6, 4.3, 5.2, 5.9):
        inner, outer = 66 + 6 * math.sin(3 * turn), 92 + 18 * math.sin(5 * turn)
        start = (inner * math.cos(turn), inner * math.sin(turn))
        end = (outer * math.cos(turn), outer * math.sin(turn))
        board.line(start, end, width=4.0, part="splash")
        board.circle(end, 4.0, fill=INK, ink=None, part="splash")
    fused = board.hatch("dots", ground=FUSED, ink="#3c362b")
    board.path(course(rough(_ACROSS, _DOWN), closed=True), fill=fused, stroke=2.0, part="fused")
    hole = [(x + 8, y - 6) for x, y in rough(34, 24)]
    board.path(course(hole, closed=True), fill=INK, stroke=2.0, part="hole")


def _sheet(board: Drawing, level: float, left: float, right: float, *, tall: float = 26) -> None:
    fill = board.hatch("rising", ground=PLATE, ink="#9c9484")
    board.box((left, level), right - left, tall, fill=fill, part="sheet")


def _side_full(board: Drawing) -> None:
    _sheet(board, -70, -120, -42)
    _sheet(board, -70, 42, 120)
    _sheet(board, 40, -120, 120)
    fill = board.hatch("dense", ground=METAL, ink="#5c5546")
    stub = [(-46, 40), (-40, 20), (-43, 12), (43, 12), (39, 22), (46, 40)]
    board.path(course(stub, closed=True), fill=fill, stroke=2.2, part="button")


def _side_partial(board: Drawing) -> None:
    _sheet(board, -70, -120, -42)
    _sheet(board, -70, 4, 120)
    _sheet(board, 40, -120, 120)
    fill = board.hatch("dense", ground=METAL, ink="#5c5546")
    stub = [(-46, 40), (-40, 20), (-43, 12), (0, 12), (-4, 24), (6, 40)]
    board.path(course(stub, closed=True), fill=fill, stroke=2.2, part="button")
    board.line((6, 39), (44, 39), width=5, dash="3 2", part="fused")
    board.line((6, -43), (44, -43), width=5, dash="3 2", part="fused")


def _side_interfacial(board: Drawing) -> None:
    _sheet(board, -70, -120, 120)
    _sheet(board, 40, -120, 120)
    board.line((-44, 39), (44, 39), width=6, dash="3 2", part="fused")
    board.line((-44, -43), (44, -43), width=6, dash="3 2", part="fused")


def _side_partial_thickness(board: Drawing) -> None:
    _sheet(board, 40, -120, 120)
    fill = board.hatch("rising", ground=PLATE, ink="#9c9484")
    upper = [(-120, -70), (120, -70), (120, -44), (42, -44), (28, -57), (-28, -57), (-42, -44)]
    board.path(course([*upper, (-120, -44)], closed=True), fill=fill, part="sheet")
    stub = board.hatch("dense", ground=METAL, ink="#5c5546")
    board.path(
        course([(-44, 40), (-30, 27), (30, 27), (44, 40)], closed=True), fill=stub, part="button"
    )


def _side_none(board: Drawing) -> None:
    _sheet(board, -70, -120, 120)
    _sheet(board, 40, -120, 120)


def _side_stuck(board: Drawing) -> None:
    _side_none(board)
    for level in (38.0, -42.0):
        board.line((-44, level), (44, level), width=3.0, ink="#8d8d8d", part="zinc")


def _side_expelled(board: Drawing) -> None:
    _sheet(board, -70, -120, -16)
    _sheet(board, -70, 22, 120)
    _sheet(board, 40, -120, -26)
    _sheet(board, 40, 30, 120)
    for x, y in ((-60, 16), (-86, 6), (66, 14), (92, 2)):
        board.circle((x, y), 4.5, fill=INK, ink=None, part="splash")


_FROM_ABOVE: dict[str, Callable[[Drawing, Style], None]] = {
    "full_button": _above_full,
    "partial_button": _above_partial,
    "interfacial": _above_interfacial,
    "partial_thickness": _above_partial_thickness,
    "no_weld": _above_none,
    "stuck_weld": _above_stuck,
    "expelled": _above_expelled,
}
_FROM_SIDE: dict[str, Callable[[Drawing], None]] = {
    "full_button": _side_full,
    "partial_button": _side_partial,
    "interfacial": _side_interfacial,
    "partial_thickness": _side_partial_thickness,
    "no_weld": _side_none,
    "stuck_weld": _side_stuck,
    "expelled": _side_expelled,
}
