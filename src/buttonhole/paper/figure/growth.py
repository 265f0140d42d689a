"""The growth curve: nugget diameter against time while current flows."""

from dataclasses import dataclass

from buttonhole.paper.figure.axes import Axis, places, ticks
from buttonhole.paper.figure.stack import DrawnLimit, spread
from buttonhole.paper.figure.style import INCH, Style
from buttonhole.paper.figure.svg import ESTIMATE, Drawing, course, width_of

_ACROSS, _HIGH = 560.0, 260.0
_DASHES = (None, "12 5", "3 4")


@dataclass(frozen=True, slots=True)
class DrawnGrowth:
    """Times [s], current [A] at those times and, per interface, diameters [m] and a limit."""

    times: tuple[float, ...]
    current: tuple[float, ...]
    diameters: tuple[tuple[float, ...], ...]
    limits: tuple[DrawnLimit | None, ...] = ()


def growth(drawn: DrawnGrowth, *, style: Style | None = None) -> str:
    """Draw a growth curve.

    Parameters
    ----------
    drawn : DrawnGrowth
        The weld against time.
    style : Style, optional
        Letter size, units and language.

    Returns
    -------
    str
        SVG text.

    Raises
    ------
    ValueError
        If there are fewer than two times or a curve does not match them.
    """
    rows = (drawn.current, *drawn.diameters)
    if len(drawn.times) < 2 or any(len(row) != len(drawn.times) for row in rows):
        raise ValueError("a growth curve needs at least two times and one value for each")
    return _GrowthPicture(drawn, style or Style(lettering=18.0)).draw()


class _GrowthPicture:
    """Lays one growth curve out and draws it."""

    def __init__(self, drawn: DrawnGrowth, style: Style) -> None:
        self.drawn, self.style, self.size = drawn, style, style.lettering
        self.limits = [one for one in drawn.limits if one is not None]
        sizes = [d for row in drawn.diameters for d in row] + [one.diameter for one in self.limits]
        self.left, self.top = 4.2 * self.size, 2.4 * self.size
        self.x = Axis(drawn.times[0], drawn.times[-1], self.left, self.left + _ACROSS)
        self.y = Axis(0.0, 1.1 * max([*sizes, 1e-3]), self.top + _HIGH, self.top)

    def draw(self) -> str:
        """Draw the curves, limits, current and axes."""
        size, style = self.size, self.style
        names = [self._end_words(index) for index in range(len(self.drawn.diameters))]
        room = max(width_of(words, size) for words in names)
        foot = self.top + _HIGH + 3.6 * size
        height = foot + 3.9 * size
        title = style.say("Growth of the nugget while current flows")
        width = self.left + _ACROSS + room + 2.0 * size
        board = Drawing("growth-picture", width, height, title, self.words())
        head = f"{style.say('Nugget diameter')} [{style.length_unit}]"
        board.text((size, 1.3 * size), head, size, bold=True)
        self._axes(board)
        for one in self.limits:
            level = self.y.at(one.diameter)
            ends = ((self.left, level), (self.left + _ACROSS, level))
            board.line(*ends, width=2.0, dash="10 5", part="limit")
            words = f"{style.bare_length(one.diameter)} {one.name}"
            board.text((self.left + 8, level - 0.3 * size), words, 0.92 * size, halo=True)
        for index, row in enumerate(self.drawn.diameters):
            points = zip(self.drawn.times, row, strict=True)
            line = course([(self.x.at(t), self.y.at(d)) for t, d in points])
            board.path(line, stroke=3.2, dash=_DASHES[index % 3], part=f"curve c{index}")
        self._ends(board, names)
        self._current(board, self.top + _HIGH + 2.3 * size)
        return board.finish()

    def words(self) -> str:
        """Say all that the picture shows."""
        say, style, drawn = self.style.say, self.style, self.drawn
        parts = []
        for index, row in enumerate(drawn.diameters):
            first = next((t for t, d in zip(drawn.times, row, strict=True) if d > 0.0), None)
            melts = say("does not melt")
            if first is not None:
                largest = style.length(max(row))
                melts = f"{say('melts at')} {style.time(first)}, {say('largest')} {largest}"
            parts.append(f"{say('interface')} {index + 1}-{index + 2} {melts}")
        parts += [
            f"{say('at least')} {style.length(one.diameter)} {one.name}" for one in self.limits
        ]
        parts.append(say("this is an estimate; a torn coupon decides"))
        return "; ".join(parts) + "."

    def _end_words(self, index: int) -> str:
        largest = max(self.drawn.diameters[index])
        return f"{index + 1}-{index + 2}: {self.style.bare_length(largest)}"

    def _ends(self, board: Drawing, names: list[str]) -> None:
        size = self.size
        ends = [
            (self.y.at(row[-1]), name)
            for row, name in zip(self.drawn.diameters, names, strict=True)
        ]
        ends.sort()
        rows = spread([level for level, _ in ends], 1.25 * size, self.top, self.top + _HIGH)
        for row, (level, name) in zip(rows, ends, strict=True):
            start = self.left + _ACROSS
            board.path(course([(start, level), (start + 0.6 * size, row)]), stroke=1.2)
            board.text((start + 0.8 * size, row + 0.35 * size), name, size, bold=True)

    def _axes(self, board: Drawing) -> None:
        size = self.size
        board.box((self.left, self.top), _ACROSS, _HIGH, stroke=1.4, part="frame")
        per_unit = INCH if self.style.system == "inch" else 1e-3
        values = ticks(0.0, self.y.high / per_unit, 6)
        for value in values:
            level = self.y.at(value * per_unit)
            board.line((self.left - 6, level), (self.left, level), width=1.2)
            words = self.style.figure(value, places(values))
            board.text((self.left - 9, level + 0.33 * size), words, size, anchor="end")
        base = self.top + _HIGH
        for value in ticks(self.x.low * 1e3, self.x.high * 1e3, 8):
            place = self.x.at(value / 1e3)
            board.line((place, base), (place, base + 6), width=1.2)
            board.text(
                (place, base + 1.3 * size), self.style.figure(value, 0), size, anchor="middle"
            )

    def _current(self, board: Drawing, top: float) -> None:
        """The current as a low strip under the same time axis."""
        size = self.size
        most = max(self.drawn.current)
        tall = 1.6 * size
        strip = Axis(0.0, max(most, 1.0), top + tall, top)
        points = [
            (self.x.at(t), strip.at(a))
            for t, a in zip(self.drawn.times, self.drawn.current, strict=True)
        ]
        area = [(points[0][0], top + tall), *points, (points[-1][0], top + tall)]
        fill = board.hatch("level", ink="#777777")
        board.path(course(area, closed=True), fill=fill, stroke=1.4, part="current")
        words = f"{self.style.say('current')} {self.style.current(most)}"
        board.text((self.left + 8, top + 1.1 * size), words, size, bold=True, halo=True)
        words = f"{self.style.say('time')} [ms]"
        board.text((self.left + _ACROSS, top + tall + 1.3 * size), words, size, anchor="end")
        place = (size, top + tall + 2.6 * size)
        board.text(place, self.style.say(ESTIMATE), size, part="note")
