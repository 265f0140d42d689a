"""Tempering along a thermal cycle: how much of its hardness martensite keeps.

The parameter of Hollomon and Jaffe is carried along the cycle: at each step the time that would
have led to it at the present temperature is lengthened by the step. That is their rule for two
steps, one after the other, taken to the limit. It holds for tempering of about a second.
"""

import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate

Array = NDArray[np.float64]

CONSTANT = 20.0  # -, of the parameter with hours; hollomon-jaffe-1945 (from memory)
KELVIN, HOUR = 273.15, 3600.0  # K, s
COLD = 250.0  # degC, below which a step of a weld tempers nothing; judged, no source
ROOM = 20.0  # degC


def tempering_parameter(time: Array, temperature: Array) -> float:
    """Parameter of Hollomon and Jaffe at the end of a thermal cycle.

    Parameters
    ----------
    time : Array
        (steps,) rising [s].
    temperature : Array
        (steps,) [degC]; linear between the steps, each taken at its middle.

    Returns
    -------
    float
        T (20 + log10 t), T in K and t in hours, as one number [K]; 0 where it stayed cold.

    Raises
    ------
    BadInput
        The times do not rise, or there are fewer than two.

    Sources
    -------
    hollomon-jaffe-1945 (from memory); rapid-tempering-2020 (use for a second, read)

    Examples
    --------
    >>> times = np.array([0.0, 1.0])
    >>> round(tempering_parameter(times, np.array([600.0, 600.0])))
    14358
    """
    if len(time) < 2 or len(time) != len(temperature) or not bool(np.all(np.diff(time) > 0.0)):
        raise BadInput(
            "thermal cycle", "needs two times or more that rise, with a temperature each"
        )
    reached = 0.0
    middles = 0.5 * (temperature[1:] + temperature[:-1])
    for step, hot in zip(np.diff(time) / HOUR, middles, strict=True):
        if hot < COLD:
            continue
        kelvin = float(hot) + KELVIN
        before = 10.0 ** (reached / kelvin - CONSTANT)
        reached = kelvin * (CONSTANT + math.log10(before + float(step)))
    return reached


def hardness_kept(parameter: float) -> Estimate:
    """Share of its hardness as quenched that low-carbon martensite keeps.

    Parameters
    ----------
    parameter : float
        Of Hollomon and Jaffe [K].

    Returns
    -------
    Estimate
        [-]; beyond the ends of the curve the end counts.

    Sources
    -------
    table tempering_curve (from memory; grange-1977, spies-1977)
    """
    curve = table("tempering_curve")
    at = curve.column("P [K]")
    value, low, high = (
        float(np.interp(parameter, at, curve.column(f"{name} [-]")))
        for name in ("ratio", "ratio_low", "ratio_high")
    )
    return Estimate(value, low, high)


def scaled(temperature: Array, peak: float) -> Array:
    """The cycle of a neighbour that came to another peak: its rise over room scaled.

    Parameters
    ----------
    temperature : Array
        (steps,) of a place near by [degC].
    peak : float
        Hottest of the place that is asked [degC].

    Returns
    -------
    Array
        (steps,) [degC].
    """
    rise = (peak - ROOM) / max(float(temperature.max()) - ROOM, 1.0)
    found: Array = ROOM + rise * (temperature - ROOM)
    return found


def conducted_cycle(cooling: float, peak: float, *, line: bool) -> tuple[Array, Array]:
    """Thermal cycle beside an arc weld in sheet: its shape closed, its pace the solver's.

    The heat of a short line across the sheet (a plug) or of a plane through it (a fast seam) flows
    away in the sheet. How fast is set by the time from 800 to 500 degC that the solver found; the
    place is the one that came to ``peak``.

    Parameters
    ----------
    cooling : float
        Time from 800 to 500 degC from the solver's field [s].
    peak : float
        Hottest of that place [degC].
    line : bool
        True for a plug, false for a seam.

    Returns
    -------
    tuple of Array
        Times [s] and temperatures [degC].

    Raises
    ------
    BadInput
        The cooling time is not above zero, or the peak not above room.

    Sources
    -------
    rosenthal-1946 (from memory; instantaneous line and plane source)
    """
    if not (cooling > 0.0 and math.isfinite(cooling) and peak > ROOM + 1.0):
        raise BadInput("cooling time", f"is {cooling:g} s to a peak of {peak:g} degC; both must be")
    power = 1.0 if line else 0.5  # the rise falls with that power of time
    span = (500.0 - ROOM) ** (-1.0 / power) - (800.0 - ROOM) ** (-1.0 / power)
    strength = (cooling / span) ** power  # rise times time^power, K s^power
    # rise = strength t^-power exp(-delay / t) has its peak at t = delay / power
    delay = power * (strength / (math.exp(power) * (peak - ROOM))) ** (1.0 / power)
    time = np.geomspace(delay / 20.0, 200.0 * delay, 400)
    return time, ROOM + strength * time**-power * np.exp(-delay / time)
