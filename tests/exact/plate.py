"""An arc that stands still on an insulated plate: the plug's march, and the exact answer."""

import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.plug import fields as f
from buttonhole.weld.arc.plug import march as kernel
from tests.exact.column import POINTS, START, Solid, tables

Array = NDArray[np.float64]
RADIUS = 40e-3  # m; nothing of what is looked at has reached the edge


def faces(cell: float) -> Array:
    """Rings even to 10 mm, then each wider by the same factor, alike on every grid."""
    fine = np.linspace(0.0, 10e-3, round(10e-3 / cell) + 1)
    count = round(24 * 0.5e-3 / cell)
    way = np.linspace(0.0, 1.0, count + 1)[1:]
    growth = RADIUS / 10e-3
    return np.concatenate([fine, 10e-3 * growth**way])


def weld_plate(
    solid: Solid,
    thick: float,
    spread: float,
    power: float,
    times: tuple[float, float],
    cell: float,
    limits: tuple[float, float, float],
) -> tuple[Array, Array, Array, Array, Array]:
    """March; middles of rings and rows [m], temperatures [degC], times through 800 and 500 degC.

    ``times``: arc on, end [s]. ``limits``: longest step with and without arc [s], change [K].
    """
    step, t_table, h_table = tables(solid, 3000.0)
    r_faces = faces(cell)
    rows = max(round(thick / cell), 1)
    z_faces = np.concatenate([[-cell], np.linspace(0.0, thick, rows + 1)])
    shape = (rows + 1, len(r_faces) - 1)
    r, area = (r_faces[1:] + r_faces[:-1]) / 2, math.pi * np.diff(r_faces**2)
    dz = np.diff(z_faces)
    part = np.zeros(shape, dtype=np.int64)
    part[0] = -1  # the row a head would grow into
    cells = np.zeros((f.CELL_FIELDS, *shape))
    for field in (f.TEMPERATURE, f.PEAK, f.BEFORE):
        cells[field] = START
    cells[f.CONDUCTIVITY] = cells[f.CAPACITY] = 1.0
    cells[f.VOLUME] = dz[:, None] * area[None, :]
    closure = np.zeros(f.CLOSURE)
    closure[f.ARC_HEAT], closure[f.SPREAD], closure[f.CONTACT] = power, spread, 1e4
    sums = np.zeros(f.SUMS)
    nz, nr = shape
    status, _ = kernel.march(
        cells,
        (part, r_faces, z_faces, dz, area, r, 1, 1),
        (1, np.full(nz + 1, -1, dtype=np.int64), np.zeros((0, 3), dtype=np.int64),
         np.zeros((0, 5))),
        (step, np.stack([t_table, np.full((1, POINTS), solid.k), np.ones((1, POINTS))]), h_table,
         np.array([solid.solidus]), np.zeros((1, 2))),
        (np.array([0.0, times[0]]), np.zeros(2)), closure,
        (np.ones(nr, dtype=np.int64), np.zeros((1, nr), dtype=np.int64), np.zeros((nz + 1, nr)),
         np.zeros((nz, nr + 1)), np.zeros((2, nr)), np.zeros((nr, 4))),
        np.array([1e9, 2000.0, 0.0, times[0], 0.0]),
        np.array([limits[0], limits[1], limits[2], times[1]]), sums,
    )  # fmt: skip
    assert status == f.DONE
    z = (z_faces[2:] + z_faces[1:-1]) / 2
    return r, z, cells[f.TEMPERATURE, 1:], cells[f.AT_800, 1:], cells[f.AT_500, 1:]


def exact(
    solid: Solid,
    thick: float,
    spread: float,
    power: float,
    on: float,
    now: float,
    r: Array,
    z: Array,
) -> Array:
    """Rise [K] over rings and rows: Gaussian disc with images, (rows, rings).

    Carslaw and Jaeger's instantaneous sources, summed over the time the arc burned and over the
    plate's mirror images; substituting the root of the age takes the singular start away.
    """
    a = solid.k / solid.capacity
    low, high = max(now - on, 0.0), now
    nodes, weights = np.polynomial.legendre.leggauss(400)
    u = math.sqrt(low) + (math.sqrt(high) - math.sqrt(low)) * (nodes + 1) / 2
    du = (math.sqrt(high) - math.sqrt(low)) / 2 * weights
    total = np.zeros((len(z), len(r)))
    for root, weight in zip(u, du, strict=True):
        age = root * root
        wide = 2.0 * spread**2 + 4.0 * a * age
        across = np.exp(-(r**2) / wide) / (math.pi * wide)
        images = 2.0 * thick * np.arange(-60, 61)
        deep = np.exp(-((z[:, None] - images[None, :]) ** 2) / (4.0 * a * age)).sum(axis=1)
        # 2 u du / sqrt(4 pi a u^2), doubled by the insulated face
        total += weight * 4.0 / math.sqrt(4.0 * math.pi * a) * deep[:, None] * across[None, :]
    return power / solid.capacity * total
