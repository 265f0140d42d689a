"""The window: nugget diameter against current, one strip for each faying interface."""

from dataclasses import dataclass

from buttonhole.paper.figure.axes import Axis, places, ticks
from buttonhole.paper.figure.stack import DrawnLimit
from buttonhole.paper.figure.style import INCH, Style
from buttonhole.paper.figure.svg import ESTIMATE, PAPER, Drawing, course, width_of

_ACROSS = 600.0  # drawing units along the current axis
_BAND = "#d9d2c3"


@dataclass(frozen=True, slots=True)
class DrawnCurve:
    """Nugget diameter at one interface over the currents [m], its interval and its limits.

    ``low`` and ``high`` are empty when no interval is known.
    """

    diameters: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()
    limits: tuple[DrawnLimit, ...] = ()


@dataclass(frozen=True, slots=True)
class DrawnScatter:
    """Scatter of the chosen point: current [A] and, for each interface, diameter [m]."""

    current_low: float
    current_high: float
    diameters_low: tuple[float, ...]
    diameters_high: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class DrawnWindow:
    """A window at one weld time and force; currents rise [A]."""

    currents: tuple[float, ...]
    curves: tuple[DrawnCurve, ...]
    usable: tuple[float, float] | None  # A, from the limits to splash; None: there is no window
    expulsion_current: float | None = None  # A; None: no splash within the currents drawn
    chosen_current: float | None = None  # A
    chosen_diameters: tuple[float, ...] = ()  # m, one for each interface
    scatter: DrawnScatter | None = None
    setting: str = ""  # what is held: weld time, force, caps


def window(drawn: DrawnWindow, *, style: Style | None = None) -> str:
    """Draw a window plot.

    Parameters
    ----------
    drawn : DrawnWindow
        Curves, limits, splash and the chosen point.
    style : Style, optional
        Letter size, units and language.

    Returns
    -------
    str
        SVG text.

    Raises
    ------
    ValueError
        If there are fewer than two currents, or a curve does not match them.
    """
    if len(drawn.currents) < 2:
        raise ValueError("a window needs at least two currents")
    for curve in drawn.curves:
        if any(len(one) not in (0, len(drawn.currents)) for one in (curve.low, curve.high)):
            raise ValueError("every interval of a curve needs one value for each current")
        if len(curve.diameters) != len(drawn.currents):
            raise ValueError("every curve needs one diameter for each current")
    return _WindowPicture(drawn, style or Style(lettering=18.0)).draw()


class _WindowPicture:
    """Lays one window out and draws it."""

    def __init__(self, drawn: DrawnWindow, style: Style) -> None:
        self.drawn, self.style, self.size = drawn, style, style.lettering
        self.strip = 8.0 * self.size  # height of one interface's strip
        self.left = 5.2 * self.size
        self.top = 2.9 * self.size
        ends = (drawn.currents[0], drawn.currents[-1])
        self.x = Axis(ends[0], ends[1], self.left, self.left + _ACROSS)
        limits = [one.diameter for curve in drawn.curves for one in curve.limits]
        peaks = [max((*curve.diameters, *curve.high)) for curve in drawn.curves]
        self.tallest = 1.08 * max([*limits, *peaks, 1e-3])

    def draw(self) -> str:
        """Draw the strips, the bar of usable current and the current axis."""
        size = self.size
        strips = len(self.drawn.curves) * (self.strip + 0.7 * size)
        width = max(self.left + _ACROSS + size, width_of(self._head(), size) + 2 * size)
        width = min(width, self.left + _ACROSS + 14 * size)
        height = self.top + strips + 6.7 * size
        title = self.style.say("Window: nugget diameter against welding current")
        board = Drawing("window-picture", width, height, title, self.words())
        board.text((size, 1.3 * size), self._head(), size, bold=True, room=width - 2 * size)
        for index, curve in enumerate(self.drawn.curves):
            top = self.top + index * (self.strip + 0.7 * size)
            self._strip(board, index, curve, top)
        self._usable_bar(board, self.top + strips)
        self._current_axis(board, self.top + strips + 2.0 * size)
        return board.finish()

    def words(self) -> str:
        """Say all that the picture shows."""
        say, style, drawn = self.style.say, self.style, self.drawn
        parts = [self._head(), self._usable_words()]
        if drawn.expulsion_current is not None:
            parts.append(f"{say('splash from')} {style.current(drawn.expulsion_current)}")
        for index, curve in enumerate(drawn.curves):
            parts.append(
                f"{say('interface')} {index + 1}-{index + 2}: "
                f"{style.length(curve.diameters[0])} {say('to')} "
                f"{style.length(curve.diameters[-1])} {say('between')} "
                f"{style.current(drawn.currents[0])} {say('and')} "
                f"{style.current(drawn.currents[-1])}"
            )
            parts += [
                f"{say('at least')} {style.length(one.diameter)} {one.name}" for one in curve.limits
            ]
        if drawn.chosen_current is not None:
            sizes = ", ".join(style.length(one) for one in drawn.chosen_diameters)
            parts.append(f"{say('chosen')} {style.current(drawn.chosen_current)}: {sizes}")
        parts.append(say("this is an estimate; a torn coupon decides"))
        return "; ".join(part for part in parts if part) + "."

    def _head(self) -> str:
        unit = self.style.length_unit
        held = f" · {self.drawn.setting}" if self.drawn.setting else ""
        return f"{self.style.say('Nugget diameter')} [{unit}]{held}"

    def _usable_words(self) -> str:
        say, usable = self.style.say, self.drawn.usable
        if usable is None:
            return say("no usable current")
        low, high = (self.style.current(one) for one in usable)
        return f"{say('usable')} {low} {say('to')} {high}"

    def _strip(self, board: Drawing, index: int, curve: DrawnCurve, top: float) -> None:
        size = self.size
        y = Axis(0.0, self.tallest, top + self.strip, top)
        self._grid(board, y)
        if curve.low and curve.high:
            there = [*zip(self.drawn.currents, curve.high, strict=True)]
            back = [*zip(self.drawn.currents, curve.low, strict=True)][::-1]
            band = course([(self.x.at(a), y.at(d)) for a, d in there + back], closed=True)
            board.path(band, fill=_BAND, ink=None, part="interval")
        self._splash(board, top)
        points = zip(self.drawn.currents, curve.diameters, strict=True)
        board.path(course([(self.x.at(a), y.at(d)) for a, d in points]), stroke=3.0, part="curve")
        self._limits(board, curve, y)
        board.box((self.left, top), _ACROSS, self.strip, stroke=1.4, part="frame")
        self._chosen(board, index, y)
        name = f"{index + 1}-{index + 2}"
        board.text((size * 0.6, top + 1.1 * size), name, 1.15 * size, bold=True, part="name")

    def _splash(self, board: Drawing, top: float) -> None:
        start = self.drawn.expulsion_current
        if start is None or start >= self.x.high:
            return
        place, end = self.x.kept(start), self.left + _ACROSS
        fill = board.hatch("falling", ink="#8d8d8d")
        board.box((place, top), end - place, self.strip, fill=fill, ink=None, part="splash")
        board.line((place, top), (place, top + self.strip), width=2.4, part="splash")
        words = self.style.say("splash")
        if end - place > width_of(words, self.size) + 8:
            middle = ((place + end) / 2, top + self.strip - 0.7 * self.size)
            board.text(middle, words, self.size, anchor="middle", bold=True, halo=True)

    def _grid(self, board: Drawing, y: Axis) -> None:
        per_unit = INCH if self.style.system == "inch" else 1e-3
        values = ticks(0.0, self.tallest / per_unit, 5)
        count = places(values)
        for value in values:
            level = y.at(value * per_unit)
            board.line((self.left - 6, level), (self.left, level), width=1.2)
            if level - self.size * 0.4 > y.end + 0.9 * self.size or value == 0.0:
                words = self.style.figure(value, count)
                board.text((self.left - 9, level + 0.3 * self.size), words, self.size, anchor="end")

    def _limits(self, board: Drawing, curve: DrawnCurve, y: Axis) -> None:
        size = self.size
        highest = max((one.diameter for one in curve.limits), default=0.0)
        for one in curve.limits:
            level = y.at(one.diameter)
            board.line(
                (self.left, level),
                (self.left + _ACROSS, level),
                width=2.2,
                dash="10 5",
                part="limit",
            )
            words = f"{self.style.bare_length(one.diameter)} {one.name}"
            down = -0.3 * size if one.diameter == highest else 1.0 * size
            board.text((self.left + 8, level + down), words, 0.92 * size, halo=True, part="limit")

    def _chosen(self, board: Drawing, index: int, y: Axis) -> None:
        drawn, scatter = self.drawn, self.drawn.scatter
        if drawn.chosen_current is None:
            return
        x = self.x.kept(drawn.chosen_current)
        board.line((x, y.end), (x, y.start), width=1.2, dash="3 4", part="chosen")
        if scatter is not None:
            left, right = self.x.kept(scatter.current_low), self.x.kept(scatter.current_high)
            upper = y.kept(scatter.diameters_high[index])
            lower = y.kept(scatter.diameters_low[index])
            board.box((left, upper), right - left, lower - upper, stroke=2.0, part="scatter")
        level = y.kept(drawn.chosen_diameters[index])
        board.circle((x, level), 7.5, fill=PAPER, stroke=3.2, part="chosen")
        words = self.style.bare_length(drawn.chosen_diameters[index])
        board.text((x + 14, level + 1.35 * self.size), words, self.size, bold=True, halo=True)

    def _usable_bar(self, board: Drawing, top: float) -> None:
        size, usable = self.size, self.drawn.usable
        middle = top + 0.6 * size
        words = self._usable_words()
        room = width_of(words, size)
        if usable is None:
            place = (self.left + _ACROSS / 2, middle + 0.35 * size)
            board.text(place, words, size, anchor="middle", bold=True)
            return
        start, end = self.x.kept(usable[0]), self.x.kept(usable[1])
        board.line((start, middle), (end, middle), width=9, part="usable")
        for stop in (start, end):
            board.line((stop, middle - 10), (stop, middle + 10), width=2.4, part="usable")
        fits_right = self.left + _ACROSS - end > room + 12
        place = (end + 10, middle) if fits_right else (start - 10, middle)
        if not fits_right and start - 10 - room < 0.5 * size:
            place = ((start + end) / 2, middle + 1.25 * size)
            board.text(place, words, size, anchor="middle", bold=True, halo=True)
            return
        anchor = "start" if fits_right else "end"
        board.text((place[0], middle + 0.35 * size), words, size, anchor=anchor, bold=True)

    def _current_axis(self, board: Drawing, top: float) -> None:
        size = self.size
        board.line((self.left, top), (self.left + _ACROSS, top), width=1.6)
        values = ticks(self.x.low / 1e3, self.x.high / 1e3, 8)
        count = places(values)
        for value in values:
            tick = self.x.at(value * 1e3)
            board.line((tick, top), (tick, top + 6), width=1.4)
            words = self.style.figure(value, count)
            board.text((tick, top + 1.35 * size), words, size, anchor="middle")
        words = f"{self.style.say('welding current, rms')} [kA]"
        place = (self.left + _ACROSS, top + 2.75 * size)
        board.text(place, words, size, anchor="end")
        board.text((size, top + 4.1 * size), self.style.say(ESTIMATE), size, part="note")
