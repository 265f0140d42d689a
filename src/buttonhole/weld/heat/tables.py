"""Material properties against enthalpy, so that a look-up needs no search. Numerical, no source."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import MaterialCurves

Array = NDArray[np.float64]

POINTS = 4096
TOP = 2860.0  # degC, where iron boils, from memory; what more comes in leaves as vapour
T_STEP = 1.0  # K, spacing of the tables against temperature
T_FIRST = 20.0  # degC; enthalpy is counted from here


@dataclass(frozen=True, slots=True)
class MaterialTables:
    """Properties of several materials, one row each.

    ``by_enthalpy`` arrays are uniform in volumetric enthalpy with spacing ``enthalpy_step`` [J/m3]
    (row by row), the others uniform in temperature with spacing ``T_STEP`` from ``T_FIRST``.
    """

    enthalpy_step: Array  # (materials,), J/m3
    temperature: Array  # (materials, POINTS), degC
    conductivity: Array  # (materials, POINTS), W/m/K
    resistivity: Array  # (materials, POINTS), ohm m
    enthalpy: Array  # (materials, temperatures), J/m3
    flow_stress: Array  # (materials, temperatures), Pa
    solidus: Array  # (materials,), degC
    liquidus: Array  # (materials,), degC


def material_tables(curves: Sequence[MaterialCurves]) -> MaterialTables:
    """Tabulate materials against enthalpy, the latent heat spread evenly over the melting range.

    Parameters
    ----------
    curves : sequence of MaterialCurves
        One for each row of the tables.

    Returns
    -------
    MaterialTables
        Enthalpy in [J/m3], temperature in [degC].
    """
    t = np.arange(T_FIRST, TOP + T_STEP / 2, T_STEP)
    columns: dict[str, list[Array]] = {key: [] for key in ("h", "T", "k", "rho", "s")}
    for curve in curves:
        capacity = np.interp(t, curve.temperature, curve.heat_capacity) * curve.density
        steps = 0.5 * (capacity[1:] + capacity[:-1]) * T_STEP
        melted = np.clip((t - curve.solidus) / (curve.liquidus - curve.solidus), 0.0, 1.0)
        enthalpy = np.concatenate([[0.0], np.cumsum(steps)])
        enthalpy += curve.latent_heat * curve.density * melted
        even = np.linspace(0.0, enthalpy[-1], POINTS)
        at = np.interp(even, enthalpy, t)
        columns["h"].append(enthalpy)
        columns["T"].append(at)
        columns["k"].append(np.interp(at, curve.temperature, curve.conductivity))
        columns["rho"].append(np.interp(at, curve.temperature, curve.resistivity))
        columns["s"].append(np.interp(t, curve.temperature, curve.flow_stress))
    stacked = {key: np.ascontiguousarray(column) for key, column in columns.items()}
    return MaterialTables(
        enthalpy_step=stacked["h"][:, -1] / (POINTS - 1),
        temperature=stacked["T"],
        conductivity=stacked["k"],
        resistivity=stacked["rho"],
        enthalpy=stacked["h"],
        flow_stress=stacked["s"],
        solidus=np.array([curve.solidus for curve in curves]),
        liquidus=np.array([curve.liquidus for curve in curves]),
    )
