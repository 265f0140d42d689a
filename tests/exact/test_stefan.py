"""A melting front against Neumann's two-phase solution.

Role: verification. Source: Neumann's solution (Carslaw and Jaeger, section 11.2; from memory), here
for equal properties of solid and melt, its equation solved in the test. The exact front is sharp;
the kernel melts over a range, here 4 K, so errors do not vanish altogether.
"""

import math

import numpy as np
from scipy.optimize import brentq
from scipy.special import erf, erfc

from tests.exact.column import Solid, along_z, march, orders

MELTS = 1500.0  # degC
STEEL = Solid(k=30.0, capacity=6e6, solidus=1498.0, liquidus=1502.0, latent=2e9)
WALL, START, SECONDS, DEPTH = 2200.0, 1000.0, 0.1, 8e-3


def front() -> float:
    above = STEEL.capacity * (WALL - MELTS) / STEEL.latent
    below = STEEL.capacity * (MELTS - START) / STEEL.latent

    def balance(x: float) -> float:
        melt = above * math.exp(-x * x) / erf(x)
        solid = below * math.exp(-x * x) / erfc(x)
        return float(melt - solid - x * math.sqrt(math.pi))

    found = brentq(balance, 1e-3, 3.0)
    return 2.0 * found * math.sqrt(STEEL.k / STEEL.capacity * SECONDS)


def melted(cells: int) -> float:
    dz = DEPTH / cells
    hot, none = np.full(2, 2.0 * STEEL.k / dz), np.zeros(2)
    t, _ = march(
        STEEL, (cells, 2), np.full((cells, 2), dz), along_z(STEEL.k, dz, cells), (hot, none),
        WALL, np.full((cells, 2), START), np.zeros((cells, 2)), (SECONDS, 200 * cells // 40),
    )  # fmt: skip
    liquid = np.clip((t[:, 0] - STEEL.solidus) / (STEEL.liquidus - STEEL.solidus), 0.0, 1.0)
    return float((liquid * dz).sum())


def test_the_front_moves_as_neumann_says() -> None:
    exact = front()
    errors = [abs(melted(cells) / exact - 1.0) for cells in (20, 40, 80, 160)]
    assert errors[-1] < 0.01
    # a front that jumps from cell to cell makes single orders uneven: the mean over three halvings
    assert sum(orders(errors)) / 3 > 0.8
