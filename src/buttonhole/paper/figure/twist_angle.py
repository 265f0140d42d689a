"""The angle of twist at which a weld let go: where it is read, and what counts as brittle."""

import math

from buttonhole.paper.figure.broken_face import PLATE
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Point, course, wrapped

_WIDTH, _HEIGHT = 440.0, 320.0
_MIDDLE: Point = (170.0, 222.0)
_ARM = 150.0
_STEPS = (0, 20, 45, 90)


def twist_angle(brittle_below: float, *, style: Style | None = None, notes: bool = True) -> str:
    """Draw how the angle of twist is read.

    Parameters
    ----------
    brittle_below : float
        Angle under which a weld broke like glass [deg].
    style : Style, optional
        Letter size and language.
    notes : bool
        Whether the words stand under the picture; they are always in its description.

    Returns
    -------
    str
        SVG text: the lower sheet in the vice from above, the upper one turned, and a scale.
    """
    style = style or Style(lettering=16.0)
    size, say = style.lettering, style.say
    words = say(
        "Turn slowly, about 90 degrees in five seconds, and read the angle at which it let go."
    )
    brittle = f"{say('Under')} {brittle_below:.0f}°: {say('brittle')}."
    lines = wrapped(f"{words} {brittle}", size, _WIDTH - 2 * size) if notes else []
    height = _HEIGHT + (1.35 * len(lines) + (0.4 if lines else 0.0)) * size
    board = Drawing("twist-picture", _WIDTH, height, say("Angle of twist"), f"{words} {brittle}")
    with board.moved(*_MIDDLE):
        jaw = board.hatch("falling", ground="#c9c9c9", ink="#8a8a8a")
        for top in (30.0, -66.0):
            board.box((-150, top), 132, 36, fill=jaw, stroke=2.0, part="vice")
        board.box((-150, -30), _ARM + 180, 60, fill=PLATE, stroke=1.8, part="sheet")
        _scale(board, brittle_below, size)
        with board.moved(0, 0, -45):
            board.box((-34, -26), _ARM + 34, 52, fill=PAPER, stroke=2.2, part="sheet")
        board.circle((0, 0), 13, fill=INK, ink=None, part="weld")
    for order, line in enumerate(lines, start=1):
        board.text((size, _HEIGHT - 0.3 * size + 1.35 * order * size), line, size, part="note")
    return board.finish()


def _at(radius: float, degrees: float) -> Point:
    turn = math.radians(-degrees)
    return radius * math.cos(turn), radius * math.sin(turn)


def _scale(board: Drawing, brittle_below: float, size: float) -> None:
    radius = _ARM + 22
    arc = [_at(radius, degrees) for degrees in range(0, 91, 3)]
    board.path(course(arc), stroke=2.4, part="scale")
    sector = [(0.0, 0.0), *(_at(radius, brittle_below * part / 8) for part in range(9))]
    fill = board.hatch("crossed", ground="none", ink="#5c5546")
    board.path(course(sector, closed=True), fill=fill, stroke=1.4, part="brittle")
    for degrees in sorted({*_STEPS, round(brittle_below)}):
        inner, outer, place = (_at(radius + far, degrees) for far in (-7, 7, 12))
        board.line(inner, outer, width=2.6, part="scale")
        anchor = "middle" if degrees > 80 else "start"
        drop = 0.0 if degrees > 80 else 0.35 * size
        board.text((place[0], place[1] + drop), f"{degrees}°", size, anchor=anchor, halo=True)
