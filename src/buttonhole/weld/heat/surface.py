"""Compiled kernels: what a hot surface loses to the air, and what boils off it.

Still air beside oxidised steel; Hertz-Knudsen evaporation with the vapour pressure of iron by
Clausius-Clapeyron, heat of vaporisation 6.09 MJ/kg, boiling at 3133 K.

Sources: handbook-memory
"""

import math

import numba

ROOM = 20.0  # degC
KELVIN = 273.15
STEFAN_BOLTZMANN = 5.670374419e-8  # W/m2/K4
EMISSIVITY = 0.7  # -, oxidised steel
FILM = 10.0  # W/m2/K, still air
EVAPORATION_FROM = 1900.0  # degC; below it boiling off is less than a thousandth of an arc's flux
BOILS_AT = 3133.0  # K
VAPORISATION = 6.09e6  # J/kg
MOLAR_MASS = 0.05585  # kg/mol
GAS_CONSTANT = 8.314462618  # J/mol/K
ATMOSPHERE = 101325.0  # Pa
NET_SHARE = 0.82  # -, of what leaves a boiling surface and does not come back


@numba.njit(cache=True)
def air_coefficient(t, extra):
    """Heat lost to the air [W/m2/K] over the rise above room at a surface of ``t`` [degC].

    ``extra`` [W/m2/K] stands for a bar, a magnet or a clamp on that face.
    """
    hot, cold = t + KELVIN, ROOM + KELVIN
    radiated = EMISSIVITY * STEFAN_BOLTZMANN * (hot * hot + cold * cold) * (hot + cold)
    return FILM + extra + radiated


@numba.njit(cache=True)
def evaporation(t):
    """Heat that boils off a steel surface of ``t`` [degC], in [W/m2]."""
    if t < EVAPORATION_FROM:
        return 0.0
    hot = t + KELVIN
    rise = VAPORISATION * MOLAR_MASS / GAS_CONSTANT * (1.0 / BOILS_AT - 1.0 / hot)
    pressure = ATMOSPHERE * math.exp(rise)
    rate = NET_SHARE * pressure * math.sqrt(MOLAR_MASS / (2.0 * math.pi * GAS_CONSTANT * hot))
    return rate * VAPORISATION
