"""The thermal cycle: temperature against time at chosen points, with what is read from it."""

from dataclasses import dataclass

from buttonhole.paper.figure.axes import Axis, ticks
from buttonhole.paper.figure.contour import simplified
from buttonhole.paper.figure.stack import spread
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import ESTIMATE, Drawing, Fill, course, width_of, wrapped

_ACROSS, _HIGH = 560.0, 300.0
_DASHES = (None, "12 5", "3 4", "9 3 2 3")
_COOLED = (800.0, 500.0)  # degC, the span of the cooling time t8/5
_SHOWN_AFTER = 1.15  # of the time until all are below 500 degC
_TOLERANCE = 0.3  # drawing units


@dataclass(frozen=True, slots=True)
class DrawnCourse:
    """Temperature at one point: its name, times [s] and temperatures [degC]; t8/5 [s] or None."""

    name: str
    times: tuple[float, ...]
    temperatures: tuple[float, ...]
    cooling: tuple[float, float, float] | None = None  # s, value and 90 % interval
    peak: tuple[float, float, float] | None = None  # degC, value and 90 % interval


@dataclass(frozen=True, slots=True)
class DrawnCycle:
    """Courses, when the current ends and the caps open [s], named temperatures [degC]."""

    courses: tuple[DrawnCourse, ...]
    current_off: float
    release: float
    levels: tuple[tuple[str, float], ...] = ()


def cycle(drawn: DrawnCycle, *, style: Style | None = None) -> str:
    """Draw thermal cycles.

    Parameters
    ----------
    drawn : DrawnCycle
        What was reached when.
    style : Style, optional
        Letter size, units and language.

    Returns
    -------
    str
        SVG text.

    Raises
    ------
    ValueError
        If there is no course, or one has fewer than two times or not one temperature for each.
    """
    if not drawn.courses or any(
        len(one.times) < 2 or len(one.times) != len(one.temperatures) for one in drawn.courses
    ):
        raise ValueError("a thermal cycle needs at least two times and one temperature for each")
    return _CyclePicture(drawn, style or Style(lettering=18.0)).draw()


class _CyclePicture:
    """Lays thermal cycles out and draws them."""

    def __init__(self, drawn: DrawnCycle, style: Style) -> None:
        self.drawn, self.style, self.size = drawn, style, style.lettering
        self.left, self.top = 4.2 * self.size, 2.4 * self.size
        hottest = max(max(one.temperatures) for one in drawn.courses)
        named = max((level for _, level in drawn.levels), default=0.0)
        self.x = Axis(0.0, self._end(), self.left, self.left + _ACROSS)
        self.y = Axis(0.0, 1.08 * max(hottest, named, 900.0), self.top + _HIGH, self.top)
        self.levels = (*drawn.levels, *((f"{one:.0f} °C", one) for one in _COOLED))

    def _end(self) -> float:
        """Until all have cooled below 500 degC [s], and at least a little past the release."""
        until = 1.05 * self.drawn.release
        for one in self.drawn.courses:
            pairs = zip(one.times, one.temperatures, strict=True)
            hot = [moment for moment, reached in pairs if reached >= _COOLED[1]]
            until = max(until, _SHOWN_AFTER * max(hot, default=0.0))
        return min(until, max(one.times[-1] for one in self.drawn.courses))

    def draw(self) -> str:
        """Draw frame, levels, what is set, the courses and the words about each."""
        size, say = self.size, self.style.say
        names = [*(words for words, _ in self.levels), f"{say('time')} [ms]"]
        room = max(width_of(words, 0.92 * size) for words in names) + 1.0 * size
        width = self.left + _ACROSS + room + size
        rows = [wrapped(self._row(one), size, width - 5.6 * size) for one in self.drawn.courses]
        foot = self.top + _HIGH + 4.4 * size
        height = foot + (1.3 * sum(map(len, rows)) + 0.4 * len(rows) + 2.0) * size
        board = Drawing("cycle-picture", width, height, say("Thermal cycle"), self.words())
        board.text((size, 1.3 * size), f"{say('Temperature')} [°C]", size, bold=True)
        self._axes(board)
        self._levels(board)
        self._phases(board, self.top + _HIGH + 2.2 * size)
        frame = [
            (self.left, self.top),
            (self.left + _ACROSS, self.top),
            (self.left + _ACROSS, self.top + _HIGH),
            (self.left, self.top + _HIGH),
        ]
        with board.inside(course(frame, closed=True)):
            for n, one in enumerate(self.drawn.courses):
                places = [
                    (self.x.at(t), self.y.at(T))
                    for t, T in zip(one.times, one.temperatures, strict=True)
                ]
                line = course(simplified(places, _TOLERANCE))
                dash = _DASHES[n % len(_DASHES)]
                board.path(line, stroke=3.0, dash=dash, part=f"curve c{n}")
        base = foot + 0.9 * size
        for n, lines in enumerate(rows):
            ends = ((size, base - 0.3 * size), (3.6 * size, base - 0.3 * size))
            board.line(*ends, width=3.0, dash=_DASHES[n % len(_DASHES)], part=f"curve c{n}")
            for words in lines:
                board.text((4.2 * size, base), words, size)
                base += 1.3 * size
            base += 0.4 * size
        board.text((size, height - 0.5 * size), say(ESTIMATE), size, part="note")
        return board.finish()

    def words(self) -> str:
        """Say all that the picture shows."""
        say, style = self.style.say, self.style
        parts = [self._row(one) for one in self.drawn.courses]
        parts.append(f"{say('current ends at')} {style.time(self.drawn.current_off)}")
        parts.append(f"{say('caps open at')} {style.time(self.drawn.release)}")
        parts += [f"{name} {style.figure(level, 0)} °C" for name, level in self.drawn.levels]
        parts.append(say("this is an estimate; a torn coupon decides"))
        return "; ".join(parts) + "."

    def _row(self, one: DrawnCourse) -> str:
        say, style = self.style.say, self.style
        hottest = one.peak[0] if one.peak is not None else max(one.temperatures)
        words = f"{one.name}: {say('hottest')} {style.figure(hottest, 0)} °C"
        if one.cooling is None:
            return f"{words}, {say('never over 800 °C')}"
        value, low, high = (style.figure(1e3 * part, 0) for part in one.cooling)
        return f"{words}, t8/5 {value} ms ({low} {say('to')} {high})"

    def _axes(self, board: Drawing) -> None:
        size, base = self.size, self.top + _HIGH
        board.box((self.left, self.top), _ACROSS, _HIGH, stroke=1.4, part="frame")
        for value in ticks(0.0, self.y.high, 6):
            level = self.y.at(value)
            board.line((self.left - 6, level), (self.left, level), width=1.2)
            words = self.style.figure(value, 0)
            board.text((self.left - 9, level + 0.33 * size), words, size, anchor="end")
        most = max(3, int(_ACROSS / (4.0 * size)))
        for value in ticks(0.0, self.x.high * 1e3, most):
            place = self.x.at(value / 1e3)
            board.line((place, base), (place, base + 6), width=1.2)
            words = self.style.figure(value, 0)
            board.text((place, base + 1.3 * size), words, size, anchor="middle")
        beside = (self.left + _ACROSS + 0.7 * size, base + 1.3 * size)
        board.text(beside, f"{self.style.say('time')} [ms]", 0.92 * size)

    def _levels(self, board: Drawing) -> None:
        """Named temperatures as thin lines, their names behind the frame, kept apart."""
        size, end = self.size, self.left + _ACROSS
        ordered = sorted(self.levels, key=lambda one: -one[1])
        heights = [self.y.at(level) for _, level in ordered]
        rows = spread(heights, 1.2 * size, self.top, self.top + _HIGH)
        for (words, level), height, row in zip(ordered, heights, rows, strict=True):
            cooled = level in _COOLED
            dash = "2 4" if cooled else "10 4"
            board.line((self.left, height), (end, height), width=1.0, dash=dash, part="level")
            board.path(course([(end, height), (end + 0.5 * size, row)]), stroke=1.0, part="level")
            board.text((end + 0.7 * size, row + 0.33 * size), words, 0.92 * size, part="level")

    def _phases(self, board: Drawing, top: float) -> None:
        """What is set, as a strip under the same time axis: current, hold, caps open."""
        size, say = self.size, self.style.say
        bounds = (0.0, self.drawn.current_off, self.drawn.release, self.x.high)
        fills: tuple[Fill, ...] = (board.hatch("rising", ink="#777777"), "#dddddd", "none")
        names = (say("current"), say("hold"), say("caps open"))
        for begin, end, fill, name in zip(bounds, bounds[1:], fills, names, strict=False):
            places = self.x.kept(begin), self.x.kept(end)
            wide = places[1] - places[0]
            if wide < 1.0:
                continue
            board.box((places[0], top), wide, 1.5 * size, fill=fill, stroke=1.2, part="phase")
            fitting = (one * size for one in (1.0, 0.8, 0.6) if width_of(name, one * size) < wide)
            letters = next(fitting, None)
            if letters is not None:
                middle = ((places[0] + places[1]) / 2, top + 0.75 * size + 0.35 * letters)
                board.text(middle, name, letters, anchor="middle", bold=True, halo=True)
        for moment in (self.drawn.current_off, self.drawn.release):
            place = self.x.kept(moment)
            board.line((place, self.top), (place, self.top + _HIGH), width=1.0, dash="4 3")
