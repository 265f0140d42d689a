"""Metals of a seam against enthalpy: potential and temperature. Numerical, no source."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.seam.constants import SeamConstants
from buttonhole.weld.arc.seam.metal import SeamMetal
from buttonhole.weld.heat.tables import material_tables

Array = NDArray[np.float64]

AMBIENT = 20.0  # degC
BOLTZMANN = 5.670374e-8  # W/m2/K4
KELVIN = 273.15
GAS = 8.314  # J/mol/K
ATMOSPHERE = 101325.0  # Pa
ESCAPING = 0.82  # -, share of the vapour that does not come back, from memory


@dataclass(frozen=True, slots=True)
class SeamTables:
    """Several metals, one row each; uniform in volumetric enthalpy from 20 degC."""

    per_step: Array  # (metals,), m3/J: one over the spacing
    table: Array  # (metals, points, 3), SI: potential W/m, temperature degC, loss W/m2
    solidus: Array  # (metals,), degC
    fastest: float  # m2/s, largest diffusivity


def loss_flux(temperature: Array, metal: SeamMetal, constants: SeamConstants) -> Array:
    """Heat a bare face gives off at a ``temperature`` [degC]: to the air, by radiation, as vapour.

    Returns
    -------
    array, shape of ``temperature``
        [W/m2].

    Sources
    -------
    from memory (Hertz-Knudsen evaporation with the vapour pressure of Clausius and Clapeyron).
    """
    kelvin = temperature + KELVIN
    emissivity = metal.emissivity if constants.emissivity is None else constants.emissivity
    flux = constants.convection * (temperature - AMBIENT)
    flux = flux + emissivity * BOLTZMANN * (kelvin**4 - (AMBIENT + KELVIN) ** 4)
    if constants.evaporation:
        vapour = metal.vapour
        rise = vapour.heat * vapour.molar_mass / GAS * (1.0 / vapour.boiling - 1.0 / kelvin)
        pressure = ATMOSPHERE * np.exp(np.minimum(rise, 3.0))
        speed = np.sqrt(vapour.molar_mass / (2.0 * math.pi * GAS * kelvin))
        flux = flux + ESCAPING * pressure * speed * vapour.heat
    lost: Array = np.where(temperature > AMBIENT, flux, 0.0)
    return lost


def seam_tables(metals: Sequence[SeamMetal], constants: SeamConstants) -> SeamTables:
    """Tabulate metals, the conductivity of the melt raised by stirring."""
    found = material_tables([metal.curves for metal in metals])
    stirring = constants.stirring
    melted = (found.temperature - found.solidus[:, None]) / (found.liquidus - found.solidus)[
        :, None
    ]
    k = found.conductivity * (1.0 + (stirring - 1.0) * np.clip(melted, 0.0, 1.0))
    rises = 0.5 * (k[:, 1:] + k[:, :-1]) * np.diff(found.temperature, axis=1)
    potential = np.concatenate([np.zeros((len(metals), 1)), np.cumsum(rises, axis=1)], axis=1)
    fastest = float((np.diff(potential, axis=1) / found.enthalpy_step[:, None]).max())
    if len(metals) > 1:
        # between unlike metals the mean conductivity from 20 degC counts
        mean = potential[:, 1:] / (found.temperature[:, 1:] - 20.0)
        rate = np.diff(found.temperature, axis=1) / found.enthalpy_step[:, None]
        fastest = max(fastest, float(mean.max() * rate.max()))
    lost = [loss_flux(t, m, constants) for t, m in zip(found.temperature, metals, strict=True)]
    return SeamTables(
        per_step=1.0 / found.enthalpy_step,
        table=np.ascontiguousarray(np.stack([potential, found.temperature, lost], axis=2)),
        solidus=found.solidus,
        fastest=fastest,
    )
