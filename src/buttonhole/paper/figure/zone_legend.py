"""The legend of a section: one tile for each zone, told apart by hatching and words."""

from buttonhole.paper.figure.svg import Drawing, Fill, Point

MELTED, HARDENED, CHANGED = "#43200f", "#e2b27c", "#f3e3bd"
SOFT, SHEET, DEPOSIT = "#e9eef0", "#fbf9f4", "#a06a3c"
STITCH = 6.0  # drawing units from one stitch of a corona to the next
_LINES = {"coating": (2.2, "2 3"), "zinc": (2.6, "9 3 2 3")}


def zone_fill(board: Drawing, part: str) -> Fill:
    """Give the fill of a zone: melted, deposit, hardened, changed or softened."""
    fills: dict[str, Fill] = {
        "melted": MELTED,
        "deposit": board.hatch("crossed", ground=DEPOSIT, ink="#5b3414"),
        "hardened": board.hatch("dense", ground=HARDENED),
        "changed": board.hatch("sparse", ground=CHANGED),
        "softened": board.hatch("dots", ground=SOFT),
    }
    return fills[part]


def draw_legend(board: Drawing, rows: list[tuple[str, str]], place: Point, size: float) -> None:
    """Draw a legend, one row under the other.

    Parameters
    ----------
    board : Drawing
        Where to draw.
    rows : list of (str, str)
        Part and its words; a part without a tile is words only.
    place : (float, float)
        Upper left corner in drawing units [-].
    size : float
        Letter size in drawing units [-].
    """
    left, tile = place[0], 1.6 * size
    for order, (part, words) in enumerate(rows):
        top = place[1] + 1.6 * order * size
        middle = top + 0.55 * size
        if part in ("melted", "deposit", "hardened", "changed", "softened"):
            fill = zone_fill(board, part)
            board.box((left, top), tile, 1.1 * size, fill=fill, stroke=1.2, part=part)
        elif part in _LINES:
            width, dash = _LINES[part]
            board.line((left, middle), (left + tile, middle), width=width, dash=dash)
        elif part == "corona":
            board.line((left, middle), (left + tile, middle), width=2.6)
            for step in range(int(tile / STITCH)):
                stitch = left + (step + 0.5) * STITCH
                board.line((stitch, middle - 6.5), (stitch, middle + 6.5), width=2.0)
        elif part == "interval":
            board.line((left, middle), (left + tile, middle), width=7, ink="#a8a8a8")
        start = left + (0.0 if part == "words" else 2.1 * size)
        board.text((start, top + 0.9 * size), words, size, part="legend")
