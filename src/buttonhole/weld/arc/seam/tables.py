"""Metals of a seam against enthalpy: potential and temperature. Numerical, no source."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.metal import AMBIENT, ThermalMetal, given_off
from buttonhole.weld.arc.seam.constants import SeamConstants
from buttonhole.weld.heat.tables import material_tables

__all__ = ["AMBIENT", "SeamTables", "loss_flux", "seam_tables"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SeamTables:
    """Several metals, one row each; uniform in volumetric enthalpy from 20 degC."""

    per_step: Array  # (metals,), m3/J: one over the spacing
    table: Array  # (metals, points, 3), SI: potential W/m, temperature degC, loss W/m2
    solidus: Array  # (metals,), degC
    fastest: float  # m2/s, largest diffusivity


def loss_flux(temperature: Array, metal: ThermalMetal, constants: SeamConstants) -> Array:
    """Heat a bare face gives off at a ``temperature`` [degC]: to the air, by radiation, as vapour.

    Returns
    -------
    array, shape of ``temperature``
        [W/m2].

    Sources
    -------
    from memory (``given_off``).
    """
    emissivity = metal.emissivity if constants.emissivity is None else constants.emissivity
    return given_off(
        temperature, metal, constants.convection, emissivity, vapour=constants.evaporation
    )


def seam_tables(metals: Sequence[ThermalMetal], constants: SeamConstants) -> SeamTables:
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
