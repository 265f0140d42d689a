"""The thermal cycle at a point of the weld: temperature against time, and what is read from it."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.spot.fields import STENCIL
from buttonhole.weld.spot.layout import SHEET_RADIUS, Layout

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

MAX_POINTS = 20
COOLING = (800.0, 500.0)  # degC, of the cooling time t8/5 (common practice)
HEATING = (500.0, 700.0)  # degC, of the heating rate: just below where steel begins to transform


@dataclass(frozen=True, slots=True)
class Point:
    """A place in the weld: ``radius`` [m] from its axis, ``depth`` [m] below the face on side A.

    On a faying interface it is read from both sides.
    """

    radius: float
    depth: float


def check_point(point: Point, total_thickness: float) -> None:
    """Refuse a point that does not lie in the sheets.

    Parameters
    ----------
    point : Point
        The place asked for.
    total_thickness : float
        Of all sheets [m].

    Raises
    ------
    BadInput
        Naming what would be right.
    """
    if not 0.0 <= point.radius <= SHEET_RADIUS:  # also catches NaN
        raise BadInput(
            "cycle radius",
            f"is {point.radius * 1e3:g} mm; give 0 (the weld axis) to {SHEET_RADIUS * 1e3:g} mm",
        )
    if not 0.0 <= point.depth <= total_thickness * (1.0 + 1e-9):
        raise BadInput(
            "cycle depth",
            f"is {point.depth * 1e3:g} mm; give 0 (the face on side A) to "
            f"{total_thickness * 1e3:g} mm, the thickness of all sheets",
        )


def stencil(layout: Layout, points: tuple[Point, ...], total: float) -> tuple[Indices, Array]:
    """Say from which cells the temperature at each point is read.

    Between the middles of cells it is taken as linear, across a faying interface too; outside the
    outermost middles it is that of the outermost cell.

    Parameters
    ----------
    layout : Layout
        What is solved; where that is a mirrored half, points below it are read from above.
    points : tuple of Point
        The places.
    total : float
        Thickness of all sheets [m].

    Returns
    -------
    tuple of arrays
        (points, 4, 2) row and column of the cells, (points, 4) their weights [-].
    """
    at = np.zeros((len(points), STENCIL, 2), dtype=np.int64)
    weights = np.zeros((len(points), STENCIL))
    r = (layout.r_faces[1:] + layout.r_faces[:-1]) / 2
    z = (layout.z_faces[1:] + layout.z_faces[:-1]) / 2
    sheets = (layout.part[:, 0] > 0) & (z < total)
    first, last = (int(one) for one in np.flatnonzero(sheets)[[0, -1]])
    for n, point in enumerate(points):
        below = point.depth > layout.z_faces[-1]
        depth = total - point.depth if below else point.depth
        rows = _between(z[first : last + 1], depth)
        columns = _between(r, point.radius)
        pairs = [(first + j, i, a * b) for j, a in rows for i, b in columns]
        for k, (j, i, weight) in enumerate(pairs):
            at[n, k], weights[n, k] = (j, i), weight
    return at, weights


def _between(middles: Array, x: float) -> tuple[tuple[int, float], tuple[int, float]]:
    """The two neighbours of a place and their shares."""
    k = int(np.clip(np.searchsorted(middles, x) - 1, 0, len(middles) - 2))
    share = float(np.clip((x - middles[k]) / (middles[k + 1] - middles[k]), 0.0, 1.0))
    return (k, 1.0 - share), (k + 1, share)


def cooling_time(time: Array, temperature: Array) -> float:
    """Time from 800 to 500 degC after the last time it was hotter than 800 degC.

    Parameters
    ----------
    time : Array
        (steps,) [s], rising.
    temperature : Array
        (steps,) [degC]; linear between the steps.

    Returns
    -------
    float
        [s]; NaN where it never came to 800 degC, infinite where it ended above 500 degC.

    Sources
    -------
    common practice, no source (the definition of t8/5).
    """
    high, low = COOLING
    hot = np.flatnonzero(temperature >= high)
    if not len(hot):
        return math.nan
    falls = _falling(time, temperature, high, int(hot[-1])), _falling(time, temperature, low, 0)
    return falls[1] - falls[0]


def _falling(time: Array, temperature: Array, level: float, start: int) -> float:
    over = np.flatnonzero(temperature[start:] >= level)
    k = start + int(over[-1]) if len(over) else start
    if k + 1 >= len(time):
        return math.inf
    share = (temperature[k] - level) / (temperature[k] - temperature[k + 1])
    return float(time[k] + share * (time[k + 1] - time[k]))


def heating_rate(time: Array, temperature: Array) -> float:
    """Mean heating rate from 500 to 700 degC, the first time.

    Parameters
    ----------
    time : Array
        (steps,) [s], rising.
    temperature : Array
        (steps,) [degC]; linear between the steps.

    Returns
    -------
    float
        [K/s]; NaN where it never came to 700 degC.
    """
    low, high = HEATING
    if temperature.max() < high:
        return math.nan
    return (high - low) / (_rising(time, temperature, high) - _rising(time, temperature, low))


def _rising(time: Array, temperature: Array, level: float) -> float:
    k = int(np.flatnonzero(temperature >= level)[0])
    if k == 0:
        return float(time[0])
    share = (level - temperature[k - 1]) / (temperature[k] - temperature[k - 1])
    return float(time[k - 1] + share * (time[k] - time[k - 1]))
