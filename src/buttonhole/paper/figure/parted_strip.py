"""The broken faces of a seam, seen straight on: a strip of sheet with what is left on it."""

from dataclasses import dataclass

from buttonhole.paper.figure.broken_face import (
    COPPER,
    GREY,
    METAL,
    rough_band,
    smooth_fill,
    standing_fill,
    torn_fill,
)
from buttonhole.paper.figure.parted import strip
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Fill, Point, course

LONG = 118.0  # half of a seam, drawing units


@dataclass(frozen=True, slots=True)
class Band:
    """One band along the strip: ``kind`` is torn, standing, smooth, bead, braze, gap or line."""

    kind: str
    left: float = -LONG
    right: float = LONG
    half: float = 17.0
    at: float = 0.0  # of its middle line, growing downwards


@dataclass(frozen=True, slots=True)
class StripFace:
    """A face of a seam: bands from below to above, pores, and lines of cracks."""

    bands: tuple[Band, ...]
    pores: tuple[tuple[float, float, float], ...] = ()
    cracks: tuple[tuple[Point, ...], ...] = ()

    def __call__(self, board: Drawing, style: Style) -> None:
        """Draw it about the origin."""
        strip(board)
        for band in self.bands:
            with board.moved(0.0, band.at):
                _band(board, band)
        for x, y, radius in self.pores:
            board.circle((x, y), radius, fill=INK, ink=PAPER, stroke=1.2, part="pore")
        for crack in self.cracks:
            board.path(course(crack), stroke=6.0, ink=PAPER)
            board.path(course(crack), stroke=3.0, part="crack")


def _band(board: Drawing, band: Band) -> None:
    if band.kind in ("line", "gap"):
        wide = 3.0 if band.kind == "line" else 2 * band.half
        board.line((band.left, 0), (band.right, 0), width=wide, ink=INK, part=band.kind)
        return
    fills: dict[str, Fill] = {
        "torn": torn_fill(board),
        "standing": standing_fill(board),
        "smooth": smooth_fill(board),
        "bead": board.hatch("crossed", ground=METAL, ink=GREY),
        "braze": board.hatch("dots", ground=COPPER, ink="#5a3510"),
    }
    corners = rough_band(band.left, band.right, band.half)
    if band.kind == "smooth":
        corners = [
            (band.left, -band.half), (band.right, -band.half),
            (band.right, band.half), (band.left, band.half),
        ]  # fmt: skip
    fill = fills[band.kind]
    board.path(course(corners, closed=True), fill=fill, stroke=2.0, part=band.kind)


BEAD = Band("bead")
TORN = Band("torn")
SMOOTH = Band("smooth", half=20.0)
EDGE_TORN = Band("torn", half=9.0)


def zigzag(left: float, right: float, at: float = 0.0) -> tuple[Point, ...]:
    """Corners of a crack along a seam."""
    count = max(3, round((right - left) / 12))
    step = (right - left) / count
    return tuple((left + step * one, at + (4.0 if one % 2 else -4.0)) for one in range(count + 1))
