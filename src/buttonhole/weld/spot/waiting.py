"""Compiled kernel: heat flows while no current does, before the weld and between two welds.

Numerical, no source; the arrays are those of ``march``.
"""

import math

import numba

from buttonhole.weld.spot.fields import HEAT, OUTSIDE, TEMPERATURE
from buttonhole.weld.spot.march import keep_peak, prepare, properties, thermal

FIRST, GROWTH = 1e-3, 1.3  # s, and - from step to step
COOLING = 0.02  # -, of the largest excess a step may take off


@numba.njit(cache=True, nogil=True)
def wait(cells, grid, material, joint, feed, work, radii, opened, duration, longest):
    """Let ``duration`` [s] pass in steps of at most ``longest`` [s].

    Returns the heat [J] that crossed the outer planes inwards; NaN where the state was not finite.
    With ``opened`` the caps have left the sheets.
    """
    now, dt, crossed = 0.0, FIRST, 0.0
    cells[HEAT, :, :] = 0.0
    properties(cells, grid, material)
    while now < duration - 1e-9:
        this = min(dt, duration - now)
        prepare(cells, grid, material, joint, work, opened, radii)
        largest, came = thermal(cells, grid, material, work, feed[OUTSIDE], this, 1.0)
        if not math.isfinite(largest):
            return math.nan
        properties(cells, grid, material)
        keep_peak(cells, grid[6])
        crossed += came
        now += this
        hottest = cells[TEMPERATURE].max() - 20.0
        wish = this * COOLING * max(hottest, 1.0) / max(largest, 1e-6)
        dt = min(max(min(wish, GROWTH * this), FIRST), longest)
    return crossed
