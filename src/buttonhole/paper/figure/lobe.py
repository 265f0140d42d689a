"""The lobe: usable currents over weld time, one panel for each force, all to one scale.

Time runs to the right and current upwards, so a panel reads like the growth of a nugget. The usable
band of its own force is hatched, the outline of the other one lies over it as a dashed line.
Lines are told apart by their dash and by a word at their end, never by colour.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from buttonhole.paper.figure.axes import Axis, places, ticks
from buttonhole.paper.figure.stack import spread
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import ESTIMATE, PAPER, Drawing, course, width_of

_ACROSS, _HIGH = 560.0, 280.0  # drawing units of a panel
_WIDTHS = {"least weld": 3.2, "splash": 3.2, "dent": 2.0, "other": 1.6}
_DASHES = {"least weld": None, "splash": None, "dent": "2 5", "other": "9 5"}


@dataclass(frozen=True, slots=True)
class DrawnBoundary:
    """One limit over the weld times: currents [A], NaN where it is not on the map.

    ``sort``: ``least weld``, ``splash``, ``dent`` or ``other`` (a least weld by another rule).
    """

    sort: str
    name: str
    currents: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class DrawnForce:
    """A force [N] with the ends of its usable currents [A], NaN where there are none.

    ``point``: weld time [s] and current [A] of the robust set-up, ``words`` what is said of it.
    """

    force: float
    low: tuple[float, ...]
    high: tuple[float, ...]
    boundaries: tuple[DrawnBoundary, ...]
    point: tuple[float, float] | None = None
    words: str = ""


@dataclass(frozen=True, slots=True)
class DrawnLobe:
    """Panels over the same weld times [s] and between the same currents [A]."""

    times: tuple[float, ...]
    currents: tuple[float, float]
    forces: tuple[DrawnForce, ...]
    setting: str = ""


def lobe(drawn: DrawnLobe, *, style: Style | None = None) -> str:
    """Draw a lobe.

    Parameters
    ----------
    drawn : DrawnLobe
        Panels, limits and robust points.
    style : Style, optional
        Letter size and language.

    Returns
    -------
    str
        SVG text.

    Raises
    ------
    ValueError
        If there are fewer than two weld times, no force, or a limit does not match the times.
    """
    if len(drawn.times) < 2 or not drawn.forces:
        raise ValueError("a lobe needs at least two weld times and one force")
    for force in drawn.forces:
        rows = (force.low, force.high, *(one.currents for one in force.boundaries))
        if any(len(row) != len(drawn.times) for row in rows):
            raise ValueError("every limit needs one current for each weld time")
    return _LobePicture(drawn, style or Style(lettering=18.0)).draw()


class _LobePicture:
    """Lays one lobe out and draws it."""

    def __init__(self, drawn: DrawnLobe, style: Style) -> None:
        self.drawn, self.style, self.size = drawn, style, style.lettering
        self.left, self.top = 4.2 * self.size, 2.7 * self.size
        self.step = _HIGH + 3.6 * self.size
        self.x = Axis(drawn.times[0], drawn.times[-1], self.left, self.left + _ACROSS)

    def draw(self) -> str:
        """Draw a panel for each force, the time axis under each of them."""
        size, style, forces = self.size, self.style, self.drawn.forces
        names = [one.name for force in forces for one in force.boundaries]
        room = max((width_of(name, size) for name in names), default=0.0)
        heads = max(width_of(self._panel_words(one), size) for one in forces)
        width = max(self.left + _ACROSS + room + 2.0 * size, heads + 2.0 * size)
        width = max(width, width_of(self._head(), size) + 2.0 * size)
        height = self.top + len(forces) * (self.step + 1.5 * size) + 1.2 * size
        title = style.say("Usable currents against weld time, by electrode force")
        board = Drawing("lobe-picture", width, height, title, self.words())
        board.text((size, 1.3 * size), self._head(), size, bold=True)
        for number, force in enumerate(forces):
            self._panel(board, number, force)
        board.text((size, height - 0.7 * size), style.say(ESTIMATE), size, part="note")
        return board.finish()

    def words(self) -> str:
        """Say all that the picture shows."""
        say, style, drawn = self.style.say, self.style, self.drawn
        parts = []
        for force in drawn.forces:
            parts.append(self._panel_words(force))
            rows = zip(drawn.times, force.low, force.high, strict=True)
            parts += [
                f"{style.time(time)}: {style.current(low)} {say('to')} {style.current(high)}"
                for time, low, high in rows
                if not math.isnan(low)
            ]
            if all(math.isnan(low) for low in force.low):
                parts.append(say("no usable current"))
        parts.append(say("this is an estimate; a torn coupon decides"))
        return "; ".join(part for part in parts if part) + "."

    def _head(self) -> str:
        held = f" · {self.drawn.setting}" if self.drawn.setting else ""
        return f"{self.style.say('Welding current, rms')} [kA]{held}"

    def _panel_words(self, force: DrawnForce) -> str:
        at = self._newtons(force)
        others = ", ".join(self._newtons(one) for one in self.drawn.forces if one is not force)
        dashed = f" ({self.style.say('dashed')} {others})" if others else ""
        return f"{at}{dashed}: {force.words}" if force.words else f"{at}{dashed}"

    def _newtons(self, force: DrawnForce) -> str:
        return f"{self.style.figure(force.force / 1e3, 2)} kN"

    def _panel(self, board: Drawing, number: int, force: DrawnForce) -> None:
        size = self.size
        top = self.top + number * (self.step + 1.5 * size) + 1.3 * size
        y = Axis(*self.drawn.currents, top + _HIGH, top)
        board.text((self.left, top - 0.5 * size), self._panel_words(force), size, bold=True)
        fill = board.hatch("falling" if number % 2 else "rising", ink="#9a9a9a")
        for points in self._bands(force, y):
            board.path(course(points, closed=True), fill=fill, ink=None, part="usable")
        for other in self.drawn.forces:
            if other is not force:
                for points in self._bands(other, y):
                    line = course(points, closed=True)
                    board.path(line, stroke=1.6, dash="4 6", part="other-force")
        frame = [(self.left, top), (self.left + _ACROSS, top)]
        frame += [(self.left + _ACROSS, top + _HIGH), (self.left, top + _HIGH)]
        with board.inside(course(frame, closed=True)):
            for one in force.boundaries:
                self._boundary(board, one, y)
        board.box((self.left, top), _ACROSS, _HIGH, stroke=1.4, part="frame")
        self._names(board, force, y)
        self._point(board, force, y)
        self._axes(board, y)

    def _bands(self, force: DrawnForce, y: Axis) -> list[list[tuple[float, float]]]:
        """Outlines of the usable currents, one for each run of weld times that has some."""
        rows = list(zip(self.drawn.times, force.low, force.high, strict=True))
        found: list[list[tuple[float, float]]] = []
        for run in _runs(rows):
            up = [(self.x.at(time), y.kept(low)) for time, low, _high in run]
            back = [(self.x.at(time), y.kept(high)) for time, _low, high in reversed(run)]
            if len(run) == 1:  # a single weld time is shown as a narrow bar
                (x, low), (_x, high) = up[0], back[0]
                up, back = [(x - 4, low), (x + 4, low)], [(x + 4, high), (x - 4, high)]
            found.append(up + back)
        return found

    def _boundary(self, board: Drawing, one: DrawnBoundary, y: Axis) -> None:
        points = [
            (self.x.at(time), y.at(current))
            for time, current in zip(self.drawn.times, one.currents, strict=True)
            if not math.isnan(current)
        ]
        if len(points) > 1:
            part = one.sort.replace(" ", "-")
            width, dash = _WIDTHS[one.sort], _DASHES[one.sort]
            board.path(course(points), stroke=width, dash=dash, part=part)

    def _names(self, board: Drawing, force: DrawnForce, y: Axis) -> None:
        """A word at the right end of each limit, moved apart where they would touch."""
        size, ends = self.size, []
        for one in force.boundaries:
            known = [
                (time, current)
                for time, current in zip(self.drawn.times, one.currents, strict=True)
                if not math.isnan(current)
            ]
            if len(known) > 1:
                time, current = known[-1]
                ends.append((y.kept(current), self.x.at(time), one.name))
        ends.sort()
        rows = spread([level for level, _x, _name in ends], 1.2 * size, y.end, y.start)
        for row, (level, x, name) in zip(rows, ends, strict=True):
            edge = self.left + _ACROSS + 0.6 * size
            board.path(course([(x, level), (edge, row)]), stroke=1.0, part="leader")
            board.text((edge + 0.2 * size, row + 0.35 * size), name, size, part="name")

    def _point(self, board: Drawing, force: DrawnForce, y: Axis) -> None:
        if force.point is None:
            return
        x, level = self.x.kept(force.point[0]), y.kept(force.point[1])
        board.line((x, y.start), (x, level), width=1.2, dash="3 4", part="chosen")
        board.line((self.left, level), (x, level), width=1.2, dash="3 4", part="chosen")
        board.circle((x, level), 7.5, fill=PAPER, stroke=3.2, part="chosen")
        words = self.style.current(force.point[1])
        left = x > self.left + 0.8 * _ACROSS  # to the right of it stand the names of the limits
        place = (x - 14 if left else x + 14, level - 0.6 * self.size)
        anchor = "end" if left else "start"
        board.text(place, words, self.size, anchor=anchor, bold=True, halo=True)

    def _axes(self, board: Drawing, y: Axis) -> None:
        size, style = self.size, self.style
        values = ticks(y.low / 1e3, y.high / 1e3, 6)
        for value in values:
            level = y.at(value * 1e3)
            board.line((self.left - 6, level), (self.left, level), width=1.2)
            words = style.figure(value, places(values))
            board.text((self.left - 9, level + 0.33 * size), words, size, anchor="end")
        base = y.start
        for value in ticks(self.x.low * 1e3, self.x.high * 1e3, 6):
            place = self.x.at(value / 1e3)
            board.line((place, base), (place, base + 6), width=1.2)
            board.text((place, base + 1.3 * size), style.figure(value, 0), size, anchor="middle")
        words = f"{style.say('weld time')} [ms]"
        board.text((self.left + _ACROSS, base + 2.5 * size), words, size, anchor="end")


_Row = tuple[float, float, float]


def _runs(rows: Sequence[_Row]) -> list[list[_Row]]:
    """Split where there is no usable current."""
    found: list[list[_Row]] = [[]]
    for row in rows:
        if math.isnan(row[1]):
            found.append([])
        else:
            found[-1].append(row)
    return [run for run in found if run]
