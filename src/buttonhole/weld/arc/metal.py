"""A metal as the arc's solvers need it: its curves, how it radiates, what leaves as vapour."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import MaterialCurves, curves
from buttonhole.joint.steel import Steel

Array = NDArray[np.float64]

AMBIENT = 20.0  # degC
BOLTZMANN = 5.670374e-8  # W/m2/K4
KELVIN = 273.15
GAS = 8.314  # J/mol/K
ATMOSPHERE = 101325.0  # Pa
ESCAPING = 0.82  # -, share of the vapour that does not come back, from memory
NO_TRANSFORMATION = 900.0  # degC; bound of the zone drawn where nothing is known to change


@dataclass(frozen=True, slots=True)
class Vapour:
    """What boils off first: boiling point [K], heat of evaporation [J/kg], molar mass [kg/mol]."""

    boiling: float  # K
    heat: float  # J/kg
    molar_mass: float  # kg/mol


IRON = Vapour(3133.0, 6.09e6, 0.0558)  # from memory
COPPER = Vapour(2835.0, 4.73e6, 0.0635)  # from memory
ALUMINIUM = Vapour(2743.0, 10.9e6, 0.0270)  # from memory; magnesium leaves earlier and is not seen


@dataclass(frozen=True, slots=True, eq=False)
class ThermalMetal:
    """Curves of a metal, emissivity [-] of its hot face, vapour, and what heat does to it.

    ``steel`` where it is one. ``softens_over`` [degC]: a peak from which a metal that does not
    transform has lost strength; None where it loses none or nobody knows.
    ``glows``: it shows by its colour how hot it is before it melts. ``surface_tension`` [N/m] and
    ``melt_density`` [kg/m3] of its melt. ``oxide_skin``: its melt does not wet a face of it that
    has not melted itself.
    """

    curves: MaterialCurves
    emissivity: float = 0.7  # -, oxidised steel, common practice, no source
    vapour: Vapour = IRON
    steel: Steel | None = None
    softens_over: float | None = None
    glows: bool = True
    surface_tension: float = 1.2  # N/m, steel, from memory
    melt_density: float = 7000.0  # kg/m3, steel, from memory
    oxide_skin: bool = False

    def __eq__(self, other: object) -> bool:
        """The same metal is one of the same name: its curves are arrays."""
        if not isinstance(other, ThermalMetal):
            return NotImplemented
        return (self.curves.name, self.steel) == (other.curves.name, other.steel)

    def __hash__(self) -> int:
        return hash(self.curves.name)

    @property
    def changes_at(self) -> float:
        """Peak from which it counts as changed by the heat [degC]: Ac1, or where it softens."""
        if math.isfinite(self.curves.ac1):
            return self.curves.ac1
        if self.softens_over is not None:
            return self.softens_over
        return min(NO_TRANSFORMATION, self.curves.solidus - 1.0)


def steel_metal(steel: Steel) -> ThermalMetal:
    """Return a sheet steel for an arc's solver."""
    return ThermalMetal(curves(steel), steel=steel)


def given_off(
    temperature: Array, metal: ThermalMetal, convection: float, emissivity: float, *, vapour: bool
) -> Array:
    """Heat a bare face gives off: to the air, by radiation, as vapour.

    Parameters
    ----------
    temperature : Array
        Of the face [degC], any shape.
    metal : ThermalMetal
        What boils off.
    convection : float
        To the air [W/m2/K].
    emissivity : float
        Of the face [-].
    vapour : bool
        Whether it boils off.

    Returns
    -------
    Array
        [W/m2], of the same shape.

    Sources
    -------
    handbook-memory (Hertz-Knudsen evaporation with the vapour pressure of Clausius and Clapeyron)
    """
    kelvin = temperature + KELVIN
    flux = convection * (temperature - AMBIENT)
    flux = flux + emissivity * BOLTZMANN * (kelvin**4 - (AMBIENT + KELVIN) ** 4)
    if vapour:
        made = metal.vapour
        rise = made.heat * made.molar_mass / GAS * (1.0 / made.boiling - 1.0 / kelvin)
        pressure = ATMOSPHERE * np.exp(np.minimum(rise, 3.0))
        speed = np.sqrt(made.molar_mass / (2.0 * math.pi * GAS * kelvin))
        flux = flux + ESCAPING * pressure * speed * made.heat
    lost: Array = np.where(temperature > AMBIENT, flux, 0.0)
    return lost
