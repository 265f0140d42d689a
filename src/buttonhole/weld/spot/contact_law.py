"""Compiled kernels: how well a pressed contact carries current and heat.

The areal resistance is a film term, which falls with pressure and, for good, with the hottest the
contact spots have been, and a small metallic rest. The spots are hotter than the faces by the
voltage across them (Kohlrausch), so that a bad film burns itself off. The thermal conductance grows
with pressure as metallic spots do and is never less than what the current path alone conducts
(Wiedemann and Franz).

Sources: en-1993-1-2 (softening); the rest derived from the notes on contact, from memory.
"""

import math

import numba

LORENZ = 2.44e-8  # W ohm/K2
METALLIC = 2e-11  # ohm m2, what is left when the film has gone
REFERENCE_PRESSURE = 100e6  # Pa
LEAST_PRESSURE = 5e6  # Pa; where sheets only just touch
AIR = 100.0  # W/m2/K, across a gap that is open

# EN 1993-1-2 table 3.1, ky at 20, 100, 200 ... 1200 degC; continued to the melt as the notes on
# contact say: the film law follows the softening of the asperities under it.
SOFTENING = (1.0, 1.0, 1.0, 1.0, 1.0, 0.78, 0.47, 0.23, 0.11, 0.06, 0.04, 0.02, 0.015, 0.012, 0.008)
SOFTENING_LAST = 0.005


@numba.njit(cache=True)
def softening(t):
    """Share of the cold strength left at ``t`` [degC]."""
    x = max(t, 0.0) / 100.0
    if not x < 14.0:  # also catches NaN
        return SOFTENING_LAST
    n = int(x)
    return SOFTENING[n] + (x - n) * (SOFTENING[n + 1] - SOFTENING[n])


@numba.njit(cache=True)
def spot_temperature(t, voltage):
    """Temperature [degC] of the contact spots between faces at ``t`` [degC] under a voltage [V]."""
    kelvin = t + 273.15
    return math.sqrt(kelvin * kelvin + voltage * voltage / (4.0 * LORENZ)) - 273.15


@numba.njit(cache=True)
def pressure(r, radius, force, shape):
    """Pressure [Pa] at ``r`` [m] in a contact of ``radius`` [m] under ``force`` [N].

    ``shape`` 0 is even pressure, 0.5 Hertz's; the integral over the contact is the force.
    """
    mean = force / (math.pi * radius * radius)
    if shape == 0.0:
        return max(mean, LEAST_PRESSURE)
    x = 1.0 - (r / radius) ** 2
    if x <= 0.0:
        return LEAST_PRESSURE
    return max(mean * (1.0 + shape) * x**shape, LEAST_PRESSURE)


@numba.njit(cache=True)
def resistance(film, exponent, p, hottest):
    """Areal resistance [ohm m2]; ``film`` [ohm m2] at 100 MPa, cold."""
    return film * (REFERENCE_PRESSURE / p) ** exponent * softening(hottest) + METALLIC


@numba.njit(cache=True)
def burnt_to(film, exponent, p, now, hottest, density):
    """Highest temperature [degC] the contact spots have seen, with a current density [A/m2].

    Hotter spots soften, the film gets thinner and the voltage across it falls: there is one
    temperature at which voltage and temperature agree.
    """
    low = max(hottest, now)
    volts = density * resistance(film, exponent, p, low)
    high = spot_temperature(now, volts)
    if high <= low:
        return low
    for _ in range(12):
        middle = 0.5 * (low + high)
        volts = density * resistance(film, exponent, p, middle)
        if spot_temperature(now, volts) > middle:
            low = middle
        else:
            high = middle
    return low


@numba.njit(cache=True)
def conductance(h, exponent, p, t, rc):
    """Areal thermal conductance [W/m2/K]; ``h`` [W/m2/K] at 100 MPa, ``t`` in degC."""
    return max(h * (p / REFERENCE_PRESSURE) ** exponent, LORENZ * (t + 273.15) / rc)
