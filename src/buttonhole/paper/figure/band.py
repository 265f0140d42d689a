"""A property against temperature: the curve in use, and the band that it may lie in."""

from dataclasses import dataclass

from buttonhole.paper.figure.axes import Axis, places, ticks
from buttonhole.paper.figure.contour import simplified
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import Drawing, course, wrapped

_ACROSS, _HIGH = 560.0, 260.0
_TOLERANCE = 0.3  # drawing units
_MORE = 1.08  # the frame reaches a little over the highest end of the band


@dataclass(frozen=True, slots=True)
class DrawnBand:
    """A property by name and unit at temperatures [degC]; ``note`` stands below, word for word.

    ``values``, ``low`` and ``high`` are in the unit named, one for each temperature.
    """

    name: str
    unit: str
    temperatures: tuple[float, ...]  # degC
    values: tuple[float, ...]  # in the unit of the property
    low: tuple[float, ...]  # in the unit of the property
    high: tuple[float, ...]  # in the unit of the property
    note: str


def band(drawn: DrawnBand, *, style: Style | None = None) -> str:
    """Draw a property curve in its band.

    Parameters
    ----------
    drawn : DrawnBand
        The property.
    style : Style, optional
        Letter size and language.

    Returns
    -------
    str
        SVG text.

    Raises
    ------
    ValueError
        If there are fewer than two temperatures, or not one value, low and high for each.
    """
    count = len(drawn.temperatures)
    if count < 2 or {len(drawn.values), len(drawn.low), len(drawn.high)} != {count}:
        raise ValueError("a band needs two temperatures and a value, low and high for each")
    return _BandPicture(drawn, style or Style(lettering=18.0)).draw()


class _BandPicture:
    """Lays one property out and draws it."""

    def __init__(self, drawn: DrawnBand, style: Style) -> None:
        self.drawn, self.style, self.size = drawn, style, style.lettering
        self.left, self.top = 4.6 * self.size, 2.4 * self.size
        hot = drawn.temperatures
        self.x = Axis(hot[0], hot[-1], self.left, self.left + _ACROSS)
        self.y = Axis(0.0, _MORE * max(drawn.high), self.top + _HIGH, self.top)

    def draw(self) -> str:
        """Draw frame, band, curve and note."""
        size, drawn = self.size, self.drawn
        width = self.left + _ACROSS + 1.5 * size
        note = wrapped(drawn.note, size, width - 2.0 * size)
        foot = self.top + _HIGH + 4.0 * size
        height = foot + (1.3 * len(note) + 0.4) * size
        title = f"{drawn.name} [{drawn.unit}]"
        board = Drawing("band-picture", width, height, title, self.words())
        board.text((size, 1.3 * size), title, size, bold=True)
        upper, lower = self._line(drawn.high), self._line(drawn.low)
        fill = board.hatch("rising", ground="#eeeeee", ink="#999999")
        board.path(
            course([*upper, *reversed(lower)], closed=True), fill=fill, stroke=1.0, part="band"
        )
        board.path(course(self._line(drawn.values)), stroke=3.2, part="curve c0")
        self._axes(board)
        for n, words in enumerate(note):
            board.text((size, foot + 1.3 * n * size), words, size, part="note")
        return board.finish()

    def words(self) -> str:
        """Say the ends of the curve, its highest and lowest value."""
        drawn, say = self.drawn, self.style.say
        parts = []
        for at in (0, len(drawn.values) // 2, len(drawn.values) - 1):
            value, low, high = (
                f"{column[at]:.3g}" for column in (drawn.values, drawn.low, drawn.high)
            )
            parts.append(
                f"{drawn.temperatures[at]:.0f} °C: {value} {drawn.unit} ({low} {say('to')} {high})"
            )
        return "; ".join([*parts, drawn.note])

    def _line(self, values: tuple[float, ...]) -> list[tuple[float, float]]:
        pairs = zip(self.drawn.temperatures, values, strict=True)
        return list(simplified([(self.x.at(t), self.y.at(v)) for t, v in pairs], _TOLERANCE))

    def _axes(self, board: Drawing) -> None:
        size, base, style = self.size, self.top + _HIGH, self.style
        board.box((self.left, self.top), _ACROSS, _HIGH, stroke=1.4, part="frame")
        values = ticks(0.0, self.y.high, 6)
        for value in values:
            level = self.y.at(value)
            board.line((self.left - 6, level), (self.left, level), width=1.2)
            words = style.figure(value, places(values))
            board.text((self.left - 9, level + 0.33 * size), words, size, anchor="end")
        for value in ticks(self.x.low, self.x.high, max(3, int(_ACROSS / (4.0 * size)))):
            place = self.x.at(value)
            board.line((place, base), (place, base + 6), width=1.2)
            board.text((place, base + 1.3 * size), style.figure(value, 0), size, anchor="middle")
        words = f"{style.say('Temperature')} [°C]"
        board.text((self.left + _ACROSS, base + 2.3 * size), words, 0.92 * size, anchor="end")
