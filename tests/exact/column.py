"""A column of cells with even properties, for problems that have an exact answer."""

import itertools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.heat.conduction import conduct

Array = NDArray[np.float64]
START = 20.0  # degC, where the tables begin
POINTS = 8192


@dataclass(frozen=True)
class Solid:
    """Even properties: W/m/K, J/m3/K, and a melting range [degC] with its heat [J/m3]."""

    k: float
    capacity: float
    solidus: float = 1e6
    liquidus: float = 2e6
    latent: float = 0.0


def tables(solid: Solid, top: float) -> tuple[Array, Array, Array]:
    """Enthalpy step, temperature by enthalpy, enthalpy by temperature (1 K), as the kernels ask."""
    t = np.arange(START, top + 0.5, 1.0)

    def enthalpy(at: Array) -> Array:
        melted = np.clip((at - solid.solidus) / (solid.liquidus - solid.solidus), 0.0, 1.0)
        return solid.capacity * (at - START) + solid.latent * melted

    fine = np.linspace(START, top, 400_001)
    last = float(enthalpy(np.array([top]))[0])
    even = np.linspace(0.0, last, POINTS)
    by_enthalpy = np.interp(even, enthalpy(fine), fine)
    return np.array([last / (POINTS - 1)]), by_enthalpy[None, :], enthalpy(t)[None, :]


def march(
    solid: Solid,
    shape: tuple[int, int],
    volume: Array,
    conductances: tuple[Array, Array],
    ends: tuple[Array, Array],
    outside: float,
    start: Array,
    heat: Array,
    times: tuple[float, int],
    top: float = 3000.0,
) -> tuple[Array, Array]:
    """Run the thermal step; temperature [degC] and enthalpy [J/m3] at the end.

    ``times``: duration [s] and number of steps.
    """
    step, t_table, h_table = tables(solid, top)
    part = np.zeros(shape, dtype=np.int64)
    reach = np.full(shape[0], shape[1])
    t = start.copy()
    enthalpy = np.interp(t, np.arange(START, top + 0.5, 1.0), h_table[0])
    work = [np.zeros(shape) for _ in range(5)]
    dt = times[0] / times[1]
    for _ in range(times[1]):
        change, _ = conduct(
            enthalpy, t, part, reach, volume, conductances[0], conductances[1], ends[0], ends[1],
            outside, heat, dt, step, t_table, h_table, work[0], work[1], work[2], work[3],
            np.zeros((shape[1], 4)), work[4],
        )  # fmt: skip
        assert np.isfinite(change)
        t = np.interp(enthalpy, np.arange(POINTS) * step[0], t_table[0])
    return t, enthalpy


def along_z(k: float, dz: float, nz: int) -> tuple[Array, Array]:
    """Conductances of a column of 1 m2, two equal rings that do not exchange heat."""
    g_z = np.full((nz + 1, 2), k / dz)
    g_z[[0, -1]] = 0.0
    return g_z, np.zeros((nz, 3))


def orders(errors: list[float]) -> list[float]:
    """Observed order between grids, each twice as fine as the one before."""
    return [float(np.log2(a / b)) for a, b in itertools.pairwise(errors)]
