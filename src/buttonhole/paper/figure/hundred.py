"""A hundred welds in a flange: how many are sure to be good, how many may be, how many are not."""

from dataclasses import dataclass

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import ESTIMATE, INK, PAPER, Drawing, Fill, width_of

_COLUMNS, _ROWS = 20, 5
_ACROSS = 640.0


@dataclass(frozen=True, slots=True)
class DrawnHundred:
    """Shares of good welds [-]: ``low`` is reached for sure, ``value`` is expected, ``high`` may
    be.
    """

    value: float
    low: float
    high: float


def in_hundred(share: float) -> int:
    """Say a share in hundredths; all of them only where not one is missing.

    Parameters
    ----------
    share : float
        [-].

    Returns
    -------
    int
        0 to 100.
    """
    return 100 if share >= 1.0 else min(99, max(0, round(100.0 * share)))


def hundred(drawn: DrawnHundred, *, style: Style | None = None) -> str:
    """Draw a hundred welds as they are expected.

    Parameters
    ----------
    drawn : DrawnHundred
        Shares of good ones.
    style : Style, optional
        Letter size and language.

    Returns
    -------
    str
        SVG text: full spots for the low end, hatched for what is expected besides, open with a
        cross for what is not.
    """
    style = style or Style(lettering=20.0)
    say, size = style.say, style.lettering
    low, value = (in_hundred(share) for share in (drawn.low, drawn.value))
    shown = (
        (low, INK, say("good even at the low end")),
        (value - low, "hatch", say("expected to be good")),
        (100 - value, PAPER, say("not expected to be good")),
    )
    step = _ACROSS / _COLUMNS
    legend = _legend_rows(shown, size)
    height = _ROWS * step + (1.5 * len(legend) + 2.6) * size
    desc = "; ".join(f"{count} {words}" for count, _, words in shown) + "."
    board = Drawing("hundred-picture", _ACROSS, height, say("A hundred such welds"), desc)
    board.box((0.0, 0.1 * step), _ACROSS, (_ROWS - 0.2) * step, fill=PAPER, ink=INK, part="flange")
    looks = [look for count, look, _ in shown for _ in range(count)]
    for place, look in enumerate(looks):
        middle = ((place % _COLUMNS + 0.5) * step, (place // _COLUMNS + 0.5) * step)
        _spot(board, middle, 0.3 * step, look)
    for row, entries in enumerate(legend):
        across, down = 0.6 * size, _ROWS * step + (1.3 + 1.5 * row) * size
        for count, look, words in entries:
            _spot(board, (across, down - 0.3 * size), 0.4 * size, look)
            text = f"{count} {words}"
            board.text((across + 0.8 * size, down), text, size, part="legend")
            across += width_of(text, size) + 2.4 * size
    foot = (0.0, height - 0.5 * size)
    board.text(foot, say(ESTIMATE), 0.8 * size, part="foot")
    return board.finish()


_Entry = tuple[int, str, str]


def _legend_rows(shown: tuple[_Entry, ...], size: float) -> list[list[_Entry]]:
    """Lay the legend out in as many rows as its letters need."""
    rows: list[list[_Entry]] = [[]]
    room = _ACROSS
    for entry in shown:
        need = width_of(f"{entry[0]} {entry[2]}", size) + 2.4 * size
        if rows[-1] and need > room:
            rows.append([])
            room = _ACROSS
        rows[-1].append(entry)
        room -= need
    return rows


def _spot(board: Drawing, middle: tuple[float, float], radius: float, look: str) -> None:
    fill: Fill = board.hatch("rising", ground=PAPER, ink=INK) if look == "hatch" else look
    board.circle(middle, radius, fill=fill, ink=INK, stroke=1.6, part="spot")
    if look == PAPER:
        reach = 0.55 * radius
        x, y = middle
        for slope in (1.0, -1.0):
            ends = ((x - reach, y - slope * reach), (x + reach, y + slope * reach))
            board.line(*ends, width=2.4, part="spot")
