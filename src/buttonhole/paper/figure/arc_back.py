"""The back of a plate behind an arc weld, seen straight on and to scale: what a person can see."""

from dataclasses import dataclass

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import Drawing, Fill, wrapped

_ACROSS = 560.0  # drawing units from edge to edge of the plate
_PLATE = "#eef1f2"
_TINT, _ZINC, _MOLTEN = "#f2dd9b", "#b9bfc2", "#43200f"
LEAST_WIDE = 20e-3  # m of plate that is always shown


@dataclass(frozen=True, slots=True)
class DrawnRing:
    """One mark: its kind (tint, zinc or molten), words, and width with interval, all [m]."""

    kind: str
    name: str
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class DrawnBack:
    """The marks from outside in, and what is seen in words; ``length`` [m] of a seam, 0: round."""

    rings: tuple[DrawnRing, ...]
    looks: str
    length: float = 0.0


def arc_back(drawn: DrawnBack, *, style: Style | None = None) -> str:
    """Draw the back of the plate to scale.

    Parameters
    ----------
    drawn : DrawnBack
        Marks and words.
    style : Style, optional
        Letter size, units and language.

    Returns
    -------
    str
        SVG text.
    """
    style = style or Style(lettering=18.0)
    size, say = style.lettering, style.say
    widest = max([one.value for one in drawn.rings] or [0.0])
    across = max(LEAST_WIDE, 1.6 * widest, 1.15 * (drawn.length + widest))
    scale = _ACROSS / across
    tall = _ACROSS if drawn.length == 0.0 else max(8e-3, 1.7 * widest) * scale
    tall = min(tall, 0.42 * _ACROSS) if drawn.length == 0.0 else tall
    said = [_ring_words(one, style) for one in drawn.rings]
    looks = wrapped(f"{say('Back')}: {say(drawn.looks)}", 1.05 * size, _ACROSS)
    lines = looks + [part for words in said for part in wrapped(words, size, _ACROSS)]
    height = size + tall + (1.3 * len(lines) + 2.0) * size
    words = "; ".join((drawn.looks, *said)) + "."
    board = Drawing("back-picture", _ACROSS + 2 * size, height, say("Back of the plate"), words)
    board.box((size, 0.6 * size), _ACROSS, tall, fill=_PLATE, stroke=1.8, part="plate")
    middle = (size + _ACROSS / 2, 0.6 * size + tall / 2)
    plate = f"M{size},{0.6 * size} h{_ACROSS} v{tall} h-{_ACROSS} Z"
    with board.inside(plate):
        for one in drawn.rings:
            _mark(board, one, middle, drawn.length * scale, one.value * scale)
    row = 0.6 * size + tall
    for order, line in enumerate(lines):
        row += 1.3 * size
        board.text((size, row), line, size, bold=order < len(looks))
    base = height - 0.5 * size
    long = 5e-3 * scale
    board.line((size, base), (size + long, base), width=3.0)
    board.text((size + long + 6, base + 0.3 * size), style.length(5e-3, 0), size)
    return board.finish()


def _ring_words(ring: DrawnRing, style: Style) -> str:
    low, high = style.bare_length(ring.low, 1), style.bare_length(ring.high, 1)
    name, to = style.say(ring.name), style.say("to")
    return f"{name} {style.length(ring.value, 1)} ({low} {to} {high})"


def _mark(
    board: Drawing, ring: DrawnRing, middle: tuple[float, float], long: float, wide: float
) -> None:
    fills: dict[str, Fill] = {
        "tint": board.hatch("dots", ground=_TINT, ink="#8a6a1e"),
        "zinc": board.hatch("sparse", ground=_ZINC),
        "molten": _MOLTEN,
    }
    dash = {"tint": "2 4", "zinc": None, "molten": None}[ring.kind]
    corner = (middle[0] - long / 2 - wide / 2, middle[1] - wide / 2)
    board.box(
        corner, long + wide, wide, fill=fills[ring.kind], stroke=1.8, dash=dash,
        round_by=wide / 2, part=ring.kind,
    )  # fmt: skip
