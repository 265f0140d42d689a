"""The plug's march against closed forms: an arc on an insulated plate, and how it cools.

Role: verification. Sources: instantaneous sources and images (Carslaw and Jaeger, from memory),
summed in ``plate.py``; the scaled Bessel function against SciPy; Neumann's two-phase solution.
"""

import math

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import erf, erfc, i0e

from buttonhole.weld.arc.plug.source import ring_gaussian, scaled_bessel
from tests.exact.column import Solid, along_z, march, orders
from tests.exact.plate import exact, weld_plate

STEEL = Solid(k=30.0, capacity=5.4e6)
THICK, SPREAD, POWER = 1.5e-3, 2e-3, 400.0


def plate_error(cell: float, step: float, change: float) -> float:
    """Largest error over the plate after 1 s, over the highest rise."""
    r, z, t, _, _ = weld_plate(STEEL, THICK, SPREAD, POWER, (1.0, 1.0), cell, (step, step, change))
    said = exact(STEEL, THICK, SPREAD, POWER, 1.0, 1.0, r, z)
    return float(np.abs(t - 20.0 - said).max() / said.max())


def test_gaussian_disc_on_a_plate_to_two_thousandths_at_the_default_grid() -> None:
    assert plate_error(0.25e-3, 4e-3, 150.0) < 2e-3


def test_the_disc_converges_with_second_order() -> None:
    # backward Euler is of first order in time: the step is quartered where the cell is halved
    errors = [plate_error(0.5e-3 / n, 16e-3 / n**2, 1e9) for n in (1, 2, 4)]
    assert min(orders(errors)) > 1.7
    assert errors[-1] < 1e-3


def test_a_thin_plate_cools_as_the_closed_form_says() -> None:
    """Time from 800 to 500 degC under an arc that burned half a second, to 0.5 %."""
    thick, on, power = 1.2e-3, 0.5, 2400.0
    r, z, _, at_800, at_500 = weld_plate(
        STEEL, thick, 3e-3, power, (on, 20.0), 0.25e-3, (2e-3, 0.02, 40.0)
    )

    def falls(level: float, row: int, ring: int) -> float:
        def over(now: float) -> float:
            at = exact(STEEL, thick, 3e-3, power, on, now, r[[ring]], z[[row]])
            return float(at[0, 0]) + 20.0 - level

        return float(brentq(over, on + 1e-3, 20.0))

    for row, ring in ((0, 0), (len(z) - 1, 0), (len(z) - 1, 8)):
        wanted = falls(500.0, row, ring) - falls(800.0, row, ring)
        found = at_500[row, ring] - at_800[row, ring]
        assert found == pytest.approx(wanted, rel=5e-3)


def test_scaled_bessel_function() -> None:
    x = np.concatenate([np.linspace(0.0, 10.0, 301), [50.0, 1e3, 1e5]])
    found = np.array([scaled_bessel(float(one)) for one in x])
    assert np.abs(found / i0e(x) - 1.0).max() < 3e-7


def test_the_ring_holds_the_same_heat_as_the_disc() -> None:
    r = np.linspace(0.0, 25e-3, 20_001)
    for rho in (0.0, 1e-3, 3.2e-3):
        flux = np.array([ring_gaussian(float(one), rho, 1.7e-3) for one in r])
        held = float(np.trapezoid(2.0 * math.pi * r * flux, r))
        assert held == pytest.approx(2.0 * math.pi * 1.7e-3**2, rel=1e-5)


def melted_depth(cell: float, mushy: float) -> tuple[float, float]:
    """Melt after 1 s under a wall at 2200 degC, found and exact [m]; steel from cold."""
    melts, wall, start, latent = 1500.0, 2200.0, 20.0, 270e3 * 7850.0
    solid = Solid(k=30.0, capacity=5.4e6, solidus=melts - mushy / 2, liquidus=melts + mushy / 2,
                  latent=latent)  # fmt: skip
    hot, cold = (solid.capacity * apart / latent for apart in (wall - melts, melts - start))

    def balance(x: float) -> float:
        melt, rest = hot * math.exp(-x * x) / erf(x), cold * math.exp(-x * x) / erfc(x)
        return float(melt - rest - x * math.sqrt(math.pi))

    front = 2.0 * brentq(balance, 1e-3, 3.0) * math.sqrt(solid.k / solid.capacity)
    cells = round(12e-3 / cell)
    t, _ = march(
        solid, (cells, 2), np.full((cells, 2), cell), along_z(solid.k, cell, cells),
        (np.full(2, 2.0 * solid.k / cell), np.zeros(2)), wall, np.full((cells, 2), start),
        np.zeros((cells, 2)), (1.0, 4000),
    )  # fmt: skip
    melted = np.clip((t[:, 0] - solid.solidus) / mushy, 0.0, 1.0)
    return float((melted * cell).sum()), front


def test_two_phase_front_at_a_tenth_of_a_millimetre() -> None:
    # the exact front is sharp; ours melts over 45 K, about as wide as the sheets' own range
    found, front = melted_depth(0.1e-3, 45.0)
    assert found == pytest.approx(front, rel=2e-3)
    finer, front = melted_depth(0.05e-3, 45.0)
    assert finer == pytest.approx(front, rel=1e-3)
