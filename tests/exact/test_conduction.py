"""Conduction against exact solutions: half-spaces with a source, a heated slab, a Bessel mode.

Role: verification. Sources: classical solutions (Carslaw and Jaeger, Conduction of heat in solids,
2nd edition, sections 2.9, 3.4 and 7.6; from memory), worked out here. Backward Euler is of first
order in time, so the time step is quartered where the cell is halved: second order shows in both.
"""

import math

import numpy as np
from scipy.special import erfc, j0

from buttonhole.weld.spot.joule import joule_across, joule_along, share_above
from buttonhole.weld.spot.potential import FIELDS, solve_potential
from tests.exact.column import START, Solid, along_z, march, orders

STEEL = Solid(k=30.0, capacity=5e6)


def half_spaces(cells: int) -> float:
    """Largest field error over the largest rise, steel on copper, 20 MW/m2 between them, 10 ms."""
    depth, flux, seconds = 5e-3, 20e6, 0.010
    k = np.array([30.0, 330.0])
    capacity = 3.5e6  # alike in both, as the kernel is given one table
    nz, dz = 2 * cells, depth / cells
    solid = Solid(k=1.0, capacity=capacity)
    g_z, g_r = along_z(1.0, dz, nz)
    g_z[1:cells], g_z[cells + 1 : nz] = k[0] / dz, k[1] / dz
    g_a, g_b = 2.0 * k[0] / dz, 2.0 * k[1] / dz
    g_z[cells] = 1.0 / (1.0 / g_a + 1.0 / g_b)
    heat = np.zeros((nz, 2))
    above = share_above(g_a, g_b, 1e15)
    heat[cells - 1], heat[cells] = flux * above, flux * (1.0 - above)
    volume = np.full((nz, 2), dz)
    none = np.zeros(2)
    steps = 40 * (cells // 25) ** 2
    t, _ = march(
        solid, (nz, 2), volume, (g_z, g_r), (none, none), START,
        np.full((nz, 2), START), heat, (seconds, steps),
    )  # fmt: skip
    effusivity = np.sqrt(k * capacity)
    z = (np.arange(nz) + 0.5) * dz - depth
    side = (z > 0).astype(int)
    share = effusivity[side] / effusivity.sum()
    spread = np.sqrt(k[side] / capacity * seconds)
    x = np.abs(z) / (2.0 * spread)
    ierfc = np.exp(-(x**2)) / math.sqrt(math.pi) - x * erfc(x)
    exact = 2.0 * flux * share * spread / k[side] * ierfc
    return float(np.abs(t[:, 0] - START - exact).max() / exact.max())


def test_two_half_spaces_with_a_source_between_them() -> None:
    errors = [half_spaces(cells) for cells in (25, 50, 100)]
    assert errors[-1] < 2.5e-3
    assert min(orders(errors)) > 1.7


def heated_slab(cells: int) -> float:
    """Error at the middle of a slab between cold planes that a voltage heats, against a series."""
    length, volts, rho, seconds = 2e-3, 0.2, 1e-6, 0.030
    dz, solid = length / cells, Solid(k=30.0, capacity=5e6)
    shape = (cells, 2)
    area = np.array([0.5, 0.5])
    e_z = np.full((cells + 1, 2), 0.5 / (rho * dz))
    e_z[[0, -1]] = 0.0
    e_r = np.zeros((cells, 3))
    end = area / (0.5 * dz * rho)
    ends = np.array([end, end, end, end])
    phi, heat = np.zeros(shape), np.zeros(shape)
    reach = np.full(cells, 2)
    solve_potential(e_z, e_r, end, end, reach, phi, 1e-10, np.zeros((FIELDS, *shape)))
    evenly = np.full(shape, rho)
    contact_of = np.full(cells + 1, -1, dtype=np.int64)
    nothing = np.ones((1, 2))
    power = joule_across(
        e_z, ends, phi, reach, np.full(shape, 30.0), evenly, np.full(cells, dz), contact_of,
        nothing, nothing, heat,
    )  # fmt: skip
    power += joule_along(e_r, phi, reach, evenly, np.ones(2), heat)
    assert abs(power * rho * length - 1.0) < 1e-9
    g_z = np.full((cells + 1, 2), 0.5 * solid.k / dz)
    g_z[[0, -1]] = 0.0
    cold = area * solid.k / (0.5 * dz)
    t, _ = march(
        solid, shape, np.full(shape, 0.5 * dz), (g_z, np.zeros((cells, 3))), (cold, cold),
        START, np.full(shape, START), heat * volts**2, (seconds, 30 * (cells // 10) ** 2),
    )  # fmt: skip
    source = volts**2 / (rho * length**2)
    z = (np.arange(cells) + 0.5) * dz
    exact = source / (2.0 * solid.k) * z * (length - z)
    for n in range(1, 40, 2):
        decay = math.exp(-solid.k / solid.capacity * (n * math.pi / length) ** 2 * seconds)
        wave = np.sin(n * math.pi * z / length)
        exact -= 4.0 * source * length**2 / (solid.k * (n * math.pi) ** 3) * decay * wave
    return float(np.abs(t[:, 0] - START - exact).max() / exact.max())


def test_a_slab_heated_by_current_between_cold_planes() -> None:
    errors = [heated_slab(cells) for cells in (10, 20, 40)]
    assert errors[-1] < 2e-3
    assert min(orders(errors)) > 1.8


def bessel_mode(cells: int) -> float:
    """Error of a radial mode that dies away in an insulated disc."""
    radius, seconds, root = 5e-3, 0.100, 3.8317059702075125
    faces = np.linspace(0.0, radius, cells + 1)
    middle, dr = (faces[1:] + faces[:-1]) / 2, radius / cells
    thick = 1e-3
    volume = np.tile(math.pi * np.diff(faces**2) * thick, (2, 1))
    g_r = np.zeros((2, cells + 1))
    g_r[:, 1:cells] = STEEL.k * 2.0 * math.pi * faces[1:cells] * thick / dr
    g_z, none = np.zeros((3, cells)), np.zeros(cells)
    start = np.tile(1000.0 + 500.0 * j0(root * middle / radius), (2, 1))
    t, _ = march(
        STEEL, (2, cells), volume, (g_z, g_r), (none, none), START, start, np.zeros((2, cells)),
        (seconds, 20 * (cells // 10) ** 2),
    )  # fmt: skip
    rate = STEEL.k / STEEL.capacity * (root / radius) ** 2
    exact = 1000.0 + 500.0 * j0(root * middle / radius) * math.exp(-rate * seconds)
    return float(np.abs(t[0] - exact).max() / 500.0)


def test_a_radial_mode_dies_away_at_its_rate() -> None:
    errors = [bessel_mode(cells) for cells in (10, 20, 40)]
    assert errors[-1] < 1e-3
    assert min(orders(errors)) > 1.8
