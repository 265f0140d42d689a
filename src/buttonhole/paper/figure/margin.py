"""The margin bar: where a reading stands between its limit and splash."""

from dataclasses import dataclass

from buttonhole.paper.figure.axes import Axis
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, cut_to, width_of

_ACROSS = 640.0


@dataclass(frozen=True, slots=True)
class DrawnMargin:
    """A mean diameter against its limit, all [m]; splash starts at ``upper``."""

    diameter: float
    uncertainty: float  # expanded, half width
    limit: float
    guard_band: float
    upper: float | None = None
    verdict: str = ""  # one word, shown beside the dot


def margin(drawn: DrawnMargin, *, style: Style | None = None) -> str:
    """Draw a margin bar.

    Parameters
    ----------
    drawn : DrawnMargin
        Reading, limit, guard band and, if known, the diameter at splash.
    style : Style, optional
        Letter size, units and language.

    Returns
    -------
    str
        SVG text.
    """
    return _MarginPicture(drawn, style or Style(lettering=20.0)).draw()


class _MarginPicture:
    """Lays one margin bar out and draws it."""

    def __init__(self, drawn: DrawnMargin, style: Style) -> None:
        self.drawn, self.style, self.size = drawn, style, style.lettering
        guarded = drawn.limit + drawn.guard_band
        low = min(drawn.limit, drawn.diameter - drawn.uncertainty)
        high = max(guarded, drawn.diameter + drawn.uncertainty, drawn.upper or 0.0)
        room = 0.12 * (high - low) or 1e-3
        self.axis = Axis(max(0.0, low - room), high + room, self.size, self.size + _ACROSS)
        self.level = 3.4 * self.size  # the bar itself

    def draw(self) -> str:
        """Draw the bar, its ends, the guard band and the dot."""
        size = self.size
        title = self.style.say("Margin between the limit and splash")
        width, height = _ACROSS + 2 * size, (7.4 if self.drawn.guard_band > 0 else 6.2) * size
        board = Drawing("margin-picture", width, height, title, self.words())
        self._bar(board)
        self._limit(board)
        self._splash(board)
        self._dot(board)
        return board.finish()

    def _bar(self, board: Drawing) -> None:
        drawn, axis = self.drawn, self.axis
        limit, guarded = axis.at(drawn.limit), axis.at(drawn.limit + drawn.guard_band)
        upper = axis.end if drawn.upper is None else axis.at(drawn.upper)
        board.line((axis.start, self.level), (axis.end, self.level), width=1.6)
        for start, end, fill, part in (
            (axis.start, limit, board.hatch("dense", ink="#444444"), "below"),
            (limit, guarded, board.hatch("rising", ground=PAPER, ink="#777777"), "guard"),
            (guarded, upper, PAPER, "room"),
            (max(upper, guarded), axis.end, board.hatch("falling", ink="#777777"), "splash"),
        ):
            if end > start:
                tall = 0.95 * self.size
                ink = INK if part in ("guard", "room") else None
                corner = (start, self.level - tall / 2)
                board.box(corner, end - start, tall, fill=fill, ink=ink, part=part)

    def _limit(self, board: Drawing) -> None:
        say, style, drawn = self.style.say, self.style, self.drawn
        place = self.axis.at(drawn.limit)
        self._mark(board, place)
        words = f"{say('limit')} {style.bare_length(drawn.limit)}"
        self._below(board, place, words, 2.2, bold=True)
        if drawn.guard_band > 0:
            words = f"{say('guard band')} {style.bare_length(drawn.guard_band)}"
            self._below(board, self.axis.at(drawn.limit + drawn.guard_band / 2), words, 3.5)

    def _splash(self, board: Drawing) -> None:
        if self.drawn.upper is not None:
            place = self.axis.at(self.drawn.upper)
            self._mark(board, place)
            words = f"{self.style.say('splash')} {self.style.bare_length(self.drawn.upper)}"
            row = 2.2
            if place - self.axis.at(self.drawn.limit) < 12 * self.size:
                row = 3.5  # too near the limit's own label
            self._below(board, place, words, row)

    def _below(
        self, board: Drawing, place: float, words: str, row: float, *, bold: bool = False
    ) -> None:
        """Write under the bar, as near to a place as the picture's edges allow."""
        half = width_of(words, self.size) / 2
        middle = min(max(place, half), board.width - half)
        spot = (middle, self.level + row * self.size)
        board.text(spot, words, self.size, anchor="middle", bold=bold, part="limit")

    def _mark(self, board: Drawing, place: float) -> None:
        reach = 0.95 * self.size
        ends = ((place, self.level - reach), (place, self.level + reach))
        board.line(*ends, width=3.4, part="limit")

    def words(self) -> str:
        """Say all that the picture shows."""
        say, style, drawn = self.style.say, self.style, self.drawn
        parts = [
            f"{say('diameter')} {self._reading()}",
            f"{say('limit')} {style.length(drawn.limit)}",
            f"{say('guard band')} {style.length(drawn.guard_band)}",
        ]
        if drawn.upper is not None:
            parts.append(f"{say('splash from')} {style.length(drawn.upper)}")
        if drawn.verdict:
            parts.insert(0, drawn.verdict)
        return "; ".join(parts) + "."

    def _reading(self) -> str:
        drawn, style = self.drawn, self.style
        return f"{style.length(drawn.diameter)} ± {style.bare_length(drawn.uncertainty)}"

    def _dot(self, board: Drawing) -> None:
        size, drawn = self.size, self.drawn
        place = self.axis.at(drawn.diameter)
        ends = [self.axis.at(drawn.diameter + s * drawn.uncertainty) for s in (-1.0, 1.0)]
        board.line((ends[0], self.level), (ends[1], self.level), width=4.0, part="reading")
        for end in ends:
            board.line((end, self.level - 9), (end, self.level + 9), width=3.0, part="reading")
        board.circle((place, self.level), 0.5 * size, fill=INK, part="reading")
        words = self._reading()
        if drawn.verdict:
            room = board.width - width_of(words, 1.15 * size) - 2 * size
            words = f"{cut_to(drawn.verdict, 1.15 * size, room)}: {words}"
        half = width_of(words, 1.15 * size) / 2
        middle = min(max(place, self.axis.start + half), self.axis.end - half)
        board.text(
            (middle, self.level - 1.5 * size), words, 1.15 * size, anchor="middle", bold=True
        )
