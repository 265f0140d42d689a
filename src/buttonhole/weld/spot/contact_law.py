"""Compiled kernels: how well a pressed contact carries current and heat.

The areal resistance is a film term, which falls with pressure and, for good, with the hottest the
contact has been, and a small metallic rest. The thermal conductance grows with pressure as metallic
spots do and is never less than what the current path alone conducts (Wiedemann and Franz).
"""

import math

import numba

LORENZ = 2.44e-8  # W ohm/K2
METALLIC = 2e-11  # ohm m2, what is left when the film has gone
REFERENCE_PRESSURE = 100e6  # Pa
LEAST_PRESSURE = 3e6  # Pa; where sheets only just touch
AIR = 100.0  # W/m2/K, across a gap that is open

# EN 1993-1-2 table 3.1, ky at 20, 100, 200 ... 1200 degC; continued to the melt as the notes on
# contact say: the film law follows the softening of the asperities under it.
SOFTENING = (1.0, 1.0, 1.0, 1.0, 1.0, 0.78, 0.47, 0.23, 0.11, 0.06, 0.04, 0.02, 0.015, 0.012, 0.008)
SOFTENING_LAST = 0.005


@numba.njit(cache=True)
def softening(t):
    """Share of the cold strength left at ``t`` [degC]."""
    x = max(t, 0.0) / 100.0
    n = int(x)
    if n >= len(SOFTENING) - 1:
        return SOFTENING_LAST
    return SOFTENING[n] + (x - n) * (SOFTENING[n + 1] - SOFTENING[n])


@numba.njit(cache=True)
def pressure(r, radius, force, shape):
    """Pressure [Pa] at ``r`` [m] in a contact of ``radius`` [m] under ``force`` [N].

    ``shape`` 0 is even pressure, 0.5 Hertz's; the integral over the contact is the force.
    """
    mean = force / (math.pi * radius * radius)
    x = 1.0 - (r / radius) ** 2
    if shape == 0.0:
        return max(mean, LEAST_PRESSURE)
    if x <= 0.0:
        return LEAST_PRESSURE
    return max(mean * (1.0 + shape) * x**shape, LEAST_PRESSURE)


@numba.njit(cache=True)
def resistance(film, exponent, p, hottest):
    """Areal resistance [ohm m2]; ``film`` [ohm m2] at 100 MPa, cold."""
    return film * (REFERENCE_PRESSURE / p) ** exponent * softening(hottest) + METALLIC


@numba.njit(cache=True)
def conductance(h, exponent, p, t, rc):
    """Areal thermal conductance [W/m2/K]; ``h`` [W/m2/K] at 100 MPa, ``t`` in degC."""
    return max(h * (p / REFERENCE_PRESSURE) ** exponent, LORENZ * (t + 273.15) / rc)
