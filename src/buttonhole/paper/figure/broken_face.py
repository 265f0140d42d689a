"""What broken metal looks like in every drawing of a torn weld, and where the calliper goes."""

import math

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Fill, Point, course

PLATE, METAL, FUSED, GREY = "#efece4", "#cfc8b8", "#b9b1a0", "#5c5546"
COPPER = "#e2b07a"


def rough(across: float, down: float, start: float = 0.0, end: float = 2 * math.pi) -> list[Point]:
    """Corners of a torn edge: an ellipse with a fixed unevenness.

    Parameters
    ----------
    across, down : float
        Half axes in drawing units [-].
    start, end : float
        Part of the round [rad].

    Returns
    -------
    list of (float, float)
        Corners about the middle.
    """
    count = 72
    points = []
    for step in range(count + 1):
        turn = start + (end - start) * step / count
        uneven = 1.0 + 0.030 * math.sin(7 * turn) + 0.022 * math.sin(13 * turn + 1.0)
        points.append((across * uneven * math.cos(turn), down * uneven * math.sin(turn)))
    return points


def rough_band(left: float, right: float, half: float) -> list[Point]:
    """Corners of a torn band along a seam, about its middle line; all in drawing units."""
    count = 40
    upper, lower = [], []
    for step in range(count + 1):
        x = left + (right - left) * step / count
        uneven = 0.08 * half * math.sin(0.31 * x) + 0.06 * half * math.sin(0.73 * x + 1.0)
        upper.append((x, -half + uneven))
        lower.append((x, half + 0.8 * uneven))
    return [*upper, *reversed(lower)]


def torn_fill(board: Drawing) -> Fill:
    """Fused metal that was torn: dark dots, known without colour."""
    return board.hatch("dots", ground=FUSED, ink="#3c362b")


def standing_fill(board: Drawing) -> Fill:
    """Metal that was pulled out and stands on the other half: dense strokes."""
    return board.hatch("dense", ground=METAL, ink=GREY)


def smooth_fill(board: Drawing) -> Fill:
    """A face that was never fused: bright, with a few level strokes."""
    return board.hatch("level", ground=PAPER, ink="#9a9a9a")


def callipers(board: Drawing, halves: Point, style: Style, names: tuple[str, str]) -> None:
    """Two measures at 90 degrees, from torn edge to torn edge, each with its name.

    Parameters
    ----------
    board : Drawing
        Its origin is the middle of what is measured.
    halves : (float, float)
        Half of what is measured across and down, in drawing units [-].
    style : Style
        Letter size and language.
    names : (str, str)
        What stands beside the two; empty: nothing does.
    """
    size = style.lettering
    for name, half, turned in zip(names, halves, (0.0, 90.0), strict=True):
        wide = min(16.0, 0.45 * half + 4.0)
        head = min(10.0, 0.4 * half)
        with board.moved(0, 0, turned):
            board.line((-half, 0), (half, 0), width=5.0, ink=PAPER)
            board.line((-half, 0), (half, 0), width=2.0, part="calliper")
            for sign in (-1.0, 1.0):
                board.line((sign * half, -wide), (sign * half, wide), width=5.6, ink=PAPER)
                board.line((sign * half, -wide), (sign * half, wide), width=3.2, part="calliper")
                point = [(sign * (half - head), -5), (sign * half, 0), (sign * (half - head), 5)]
                board.path(course(point), stroke=2.0, ink=INK, part="calliper")
        if name:
            place = _beside(halves, size, down=turned > 0.0)
            board.text(place, style.say(name), size * 0.9, bold=True, halo=True, part="name")


def _beside(halves: Point, size: float, *, down: bool) -> Point:
    """Where the name of a measure stands: in a wide face inside it, of a flat band outside it."""
    across, tall = halves
    if tall < 36.0:
        return (8.0, tall + 1.1 * size) if down else (-across + 4.0, -tall - 0.5 * size)
    return (6.0, min(38.0, tall - 2.0)) if down else (-36.0, -8.0)
