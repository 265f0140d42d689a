"""Where a field passes a level: closed outlines by marching squares."""

import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.paper.figure.svg import Point

Array = NDArray[np.float64]
Edge = tuple[int, int, int]  # 0: towards the next column, 1: towards the next row; row; column

# Sides of a square, counted 0 top, 1 right, 2 bottom, 3 left, that the outline joins, by which
# corners lie above the level (1 upper left, 2 upper right, 4 lower right, 8 lower left).
_JOINED: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),),
    2: ((0, 1),),
    3: ((3, 1),),
    4: ((1, 2),),
    6: ((0, 2),),
    7: ((3, 2),),
    8: ((2, 3),),
    9: ((2, 0),),
    11: ((2, 1),),
    12: ((1, 3),),
    13: ((1, 0),),
    14: ((0, 3),),
}


def outlines(x: Array, y: Array, field: Array, level: float) -> list[list[Point]]:
    """Find the closed outlines of the region where a field lies above a level.

    Parameters
    ----------
    x : array, shape (nx,)
        Places of the columns, rising [m].
    y : array, shape (ny,)
        Places of the rows, rising [m].
    field : array, shape (ny, nx)
        The field, in the unit of the level [-].
    level : float
        The level [-].

    Returns
    -------
    list of list of (float, float)
        Outlines as corners [m]; the last corner joins the first. The edge of the field closes a
        region that reaches it. Fill with the even-odd rule.

    Raises
    ------
    ValueError
        If the field holds NaN.
    """
    if not np.all(np.isfinite(field)):
        raise ValueError("the field to contour holds values that are not finite")
    sill_x, sill_y = 1e-6 * (x[-1] - x[0]), 1e-6 * (y[-1] - y[0])
    x = np.concatenate(([x[0] - sill_x], x, [x[-1] + sill_x]))
    y = np.concatenate(([y[0] - sill_y], y, [y[-1] + sill_y]))
    field = np.pad(field, 1, constant_values=level - 1.0)
    return [
        [_crossing(edge, x, y, field, level) for edge in loop]
        for loop in _loops(_links(field, level))
    ]


def simplified(points: list[Point], tolerance: float) -> list[Point]:
    """Leave out corners that the line through their neighbours does not miss by much.

    Parameters
    ----------
    points : list of (float, float)
        Corners of an open line in drawing units [-].
    tolerance : float
        Largest distance a dropped corner may lie off the line, in drawing units [-].

    Returns
    -------
    list of (float, float)
        Kept corners; both ends stay.
    """
    keep = {0, len(points) - 1}
    spans = [(0, len(points) - 1)]
    while spans:
        start, end = spans.pop()
        if end - start < 2:
            continue
        (x0, y0), (x1, y1) = points[start], points[end]
        length = math.hypot(x1 - x0, y1 - y0)
        worst, where = -1.0, start
        for index in range(start + 1, end):
            x, y = points[index]
            if length > 0:
                off = abs((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)) / length
            else:
                off = math.hypot(x - x0, y - y0)
            if off > worst:
                worst, where = off, index
        if worst > tolerance:
            keep.add(where)
            spans += [(start, where), (where, end)]
    return [points[index] for index in sorted(keep)]


def _links(field: Array, level: float) -> dict[Edge, list[Edge]]:
    above = field > level
    codes = above[:-1, :-1] * 1 + above[:-1, 1:] * 2 + above[1:, 1:] * 4 + above[1:, :-1] * 8
    links: dict[Edge, list[Edge]] = {}
    for row, column in np.argwhere((codes > 0) & (codes < 15)).tolist():
        code = int(codes[row, column])
        sides: tuple[Edge, ...] = (
            (0, row, column),
            (1, row, column + 1),
            (0, row + 1, column),
            (1, row, column),
        )
        if code in (5, 10):
            # a saddle: the mean of the corners says which pair hangs together
            joined = float(field[row : row + 2, column : column + 2].mean()) > level
            pairs: tuple[tuple[int, int], ...] = (
                ((0, 1), (2, 3)) if joined == (code == 5) else ((3, 0), (1, 2))
            )
        else:
            pairs = _JOINED[code]
        for start, end in pairs:
            links.setdefault(sides[start], []).append(sides[end])
            links.setdefault(sides[end], []).append(sides[start])
    return links


def _loops(links: dict[Edge, list[Edge]]) -> list[list[Edge]]:
    loops = []
    left = set(links)
    for start in links:
        if start not in left:
            continue
        loop, here = [], start
        while here in left:
            left.discard(here)
            loop.append(here)
            here = next((edge for edge in links[here] if edge in left), start)
        loops.append(loop)
    return loops


def _crossing(edge: Edge, x: Array, y: Array, field: Array, level: float) -> Point:
    direction, row, column = edge
    end_row, end_column = (row, column + 1) if direction == 0 else (row + 1, column)
    first, last = float(field[row, column]), float(field[end_row, end_column])
    share = (level - first) / (last - first)
    return (
        float(x[column] + share * (x[end_column] - x[column])),
        float(y[row] + share * (y[end_row] - y[row])),
    )
