"""The seam's conduction kernel alone against closed forms. Role: verification.

Sources: Neumann's two-phase front (Carslaw and Jaeger, from memory; equal properties of solid and
melt, its equation solved here), the instantaneous line source in a plate, and the weights of the
stages (a linear cell's decay).
"""

import itertools
import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import erf, erfc

from buttonhole.weld.arc.seam.diffusion import advance, stages_for
from buttonhole.weld.arc.seam.tables import seam_tables
from tests.exact.seam_plate import CP, RHO, K, bare, even_metal

Array = NDArray[np.float64]

WALL, MELTS, RANGE, LATENT = 2200.0, 1500.0, 45.0, 270e3  # degC, degC, K, J/kg


def step_through(
    start: Array, sizes: tuple[Array, Array], seconds: float, steps: int, latent: bool, wall: bool
) -> Array:
    """March cells in one layer; temperatures [degC]. The first in x never changes if ``wall``."""
    dx, dy = sizes
    melt = (MELTS - RANGE / 2, MELTS + RANGE / 2, LATENT) if latent else (2800.0, 2850.0, 0.0)
    tables = seam_tables([even_metal(K, *melt, name=f"even {latent}")], bare(1.6e-3))
    nx, ny = len(dx), len(dy)
    shape = (nx + 2, 3, ny + 2)
    wide, high, deep = (np.pad(each, 1, mode="edge") for each in (dx, dy, np.array([1e-3])))
    t_table = tables.table[0, :, 1]
    h = np.zeros(shape)
    even = np.arange(len(t_table)) / tables.per_step[0]
    h[1:-1, 1, 1:-1] = np.interp(start, t_table, even)
    gx, gy, gz = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    for x in range(2, nx + 1):
        way = 0.5 * (wide[x] + (0.0 if wall and x == 2 else wide[x - 1]))
        gx[x, 1, 1:-1] = dy * deep[1] / way
    for y in range(2, ny + 1):
        gy[1:-1, 1, y] = dx * deep[1] / (0.5 * (high[y] + high[y - 1]))
    over_x = 1.0 / wide
    if wall:
        over_x[1] = 0.0  # as large as one likes
    zero = np.zeros(shape)
    rate = float(tables.fastest * (4.0 / dx.min() ** 2 + 4.0 / dy.min() ** 2))
    scratch, theta, t, give = zero.copy(), zero.copy(), zero.copy(), zero.copy()
    low, high_end = np.array([1, 1, 1]), np.array([1, ny + 1, 1])
    dt = seconds / steps
    s, _ = stages_for(dt, 0.95 / rate)
    while 0.5 * (s * s + s) * 0.95 / rate < dt:
        s += 2
    for _ in range(steps):
        h, scratch, lost = advance(
            h, scratch, dt, s, False, zero, np.array([1, 2, 1, 2]), theta, t, give,
            np.zeros(shape, dtype=np.int64), 1, nx + 1, low, high_end, tables.per_step,
            tables.table, gx, gy, gz, wide, high, over_x, 1.0 / high, 1.0 / deep, zero,
            np.zeros(ny + 2), 20.0, np.zeros((0, 4), dtype=np.int64), 0, np.zeros((nx + 2, ny + 2)),
        )  # fmt: skip
        assert lost == 0.0
    found: Array = np.interp(h[1:-1, 1, 1:-1], even, t_table)
    return found


def front(seconds: float) -> float:
    """Neumann's front [m]."""
    above, below = CP * (WALL - MELTS) / LATENT, CP * (MELTS - 20.0) / LATENT

    def balance(x: float) -> float:
        melt = above * math.exp(-x * x) / erf(x)
        return float(melt - below * math.exp(-x * x) / erfc(x) - x * math.sqrt(math.pi))

    return 2.0 * brentq(balance, 1e-3, 3.0) * math.sqrt(K / (RHO * CP) * seconds)


def melted(cell: float, steps: int) -> float:
    """Depth of the melt after a second [m], by the share of every cell that is molten."""
    count = round(12e-3 / cell)
    start = np.full((count + 1, 1), 20.0)
    start[0] = WALL
    sizes = (np.full(count + 1, cell), np.array([1e-3]))
    t = step_through(start, sizes, 1.0, steps, latent=True, wall=True)[1:, 0]
    share = np.clip((t - MELTS + RANGE / 2) / RANGE, 0.0, 1.0)
    return float(share.sum() * cell)


def test_melting_front_as_neumann_says() -> None:
    """Within 0.2 % at cells of 0.1 mm, the melting range 45 K wide."""
    exact = front(1.0)
    assert melted(0.1e-3, 2000) == pytest.approx(exact, rel=2e-3)
    assert abs(melted(0.2e-3, 500) / exact - 1.0) < 0.03


def spread(cell: float, steps: int) -> float:
    """Error [K] of a line of heat, spread for 1 s from a width of 1.5 mm, against the exact one."""
    a, width, seconds, peak = K / (RHO * CP), 1.5e-3, 1.0, 900.0
    count = round(40e-3 / cell)
    middle = (np.arange(count) + 0.5) * cell - 20e-3
    square = middle[:, None] ** 2 + middle[None, :] ** 2
    start = 20.0 + peak * np.exp(-square / (2.0 * width**2))
    sizes = (np.full(count, cell), np.full(count, cell))
    t = step_through(start, sizes, seconds, steps, latent=False, wall=False)
    wide = width**2 + 2.0 * a * seconds
    want = 20.0 + peak * width**2 / wide * np.exp(-square / (2.0 * wide))
    return float(np.abs(t - want).max())


def test_a_line_of_heat_spreads_in_a_plate_at_second_order() -> None:
    # steps go down with the square of the cell, so one order shows both
    errors = [spread(cell * 1e-3, steps) for cell, steps in ((1.0, 25), (0.5, 100), (0.25, 400))]
    orders = [math.log2(a / b) for a, b in itertools.pairwise(errors)]
    assert min(orders) > 1.8
    assert errors[1] < 0.005 * 900.0


def test_error_falls_with_the_step() -> None:
    fine = 0.5e-3
    limit = spread(fine, 1600)
    errors = [abs(spread(fine, steps) - limit) for steps in (10, 20, 40)]
    orders = [math.log2(a / b) for a, b in itertools.pairwise(errors)]
    assert min(orders) > 0.8


def test_uniform_metal_stays_as_it_is() -> None:
    start = np.full((12, 12), 777.0)
    sizes = (np.full(12, 0.5e-3), np.full(12, 0.5e-3))
    t = step_through(start, sizes, 1.0, 40, latent=False, wall=False)
    assert np.abs(t - 777.0).max() < 1e-8
