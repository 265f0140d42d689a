"""Fits a temper pulse to how a weld cools: it must find hardened metal and stay under Ac1."""

import itertools
import math
from dataclasses import replace

import numpy as np

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp, governing_steel
from buttonhole.weld.spot.cycle import Point
from buttonhole.weld.spot.programme import MAX_TIME
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import COARSE, Simulation, simulate

COLD, TEMPERED = 250.0, 550.0  # degC: hardened below, softened above; judged, no source
BELOW_AC1 = 40.0  # K, left for what is not known; judged, no source
SHARES = (0.35, 0.40, 0.45, 0.50, 0.55, 0.60, 0.65, 0.70)  # -, of the welding current


def faying_centres(stack: StackUp) -> tuple[Point, ...]:
    """Return the points on the weld axis where the sheets of a stack-up meet."""
    depths = itertools.accumulate(sheet.thickness for sheet in stack.sheets[:-1])
    return tuple(Point(0.0, depth) for depth in depths)


def centre_at(weld: Simulation, moment: float) -> float:
    """Return how hot the hottest watched point is.

    Parameters
    ----------
    weld : Simulation
        Marched with the faying centres as points.
    moment : float
        From first current on [s].

    Returns
    -------
    float
        Temperature [degC].
    """
    at = int(np.searchsorted(weld.trace[:, 0], moment))
    return float(weld.trace[min(at, len(weld.trace) - 1), 1:].max())


def tempering(way: SpotSetUp, weld: Simulation) -> tuple[float, float]:
    """Return how hot the weld is before its last pulse, and how hot it gets from then on.

    Parameters
    ----------
    way : SpotSetUp
        With a temper pulse last.
    weld : Simulation
        Its march, with the faying centres as points.

    Returns
    -------
    tuple of float
        Before and hottest after [degC].
    """
    begins = way.weld_time - way.pulses[-1].time
    later = weld.trace[weld.trace[:, 0] >= begins, 1:]
    return centre_at(weld, begins), float(later.max())


def fitted_temper(stack: StackUp, way: SpotSetUp) -> SpotSetUp | None:
    """Fit the rest before the temper pulse and its current to how the weld cools.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    way : SpotSetUp
        With a temper pulse last.

    Returns
    -------
    SpotSetUp or None
        None where the weld does not get cold in time, or no current tempers it under Ac1.
    """
    *welding, temper = way.pulses
    centres = faying_centres(stack)
    alone = replace(way, pulses=tuple(welding))
    most = MAX_TIME - alone.weld_time - temper.time - way.hold_time
    cooled = simulate(stack, replace(alone, hold_time=most), COARSE, points=centres)
    cold = (cooled.trace[:, 0] > alone.weld_time) & (cooled.trace[:, 1:].max(axis=1) <= COLD)
    if not cold.any():
        return None
    rest = float(cooled.trace[np.flatnonzero(cold)[0], 0]) - alone.weld_time
    rest = math.ceil(rest / 0.05 + 1.0) * 0.05  # the fine grid may cool a little later
    if rest > most:
        return None
    ac1 = curves(governing_steel(stack)).ac1
    rested = (*welding[:-1], replace(welding[-1], cool_time=rest))
    for share in SHARES:
        current = round(share * welding[-1].current, -2)
        tried = replace(way, pulses=(*rested, replace(temper, current=current)))
        _before, after = tempering(tried, simulate(stack, tried, COARSE, points=centres))
        if after > ac1 - BELOW_AC1:
            return None
        if after >= TEMPERED + BELOW_AC1:
            return tried
    return None


def temper_gain(before: float, tempered: float, stack: StackUp) -> tuple[str, ...]:
    """Say what a temper pulse does, if it finds hardened metal and stays under Ac1.

    Parameters
    ----------
    before, tempered : float
        How hot the weld is before the pulse, and becomes [degC].
    stack : StackUp
        The sheets.

    Returns
    -------
    tuple of str
        Nothing where it does not help.
    """
    ac1 = curves(governing_steel(stack)).ac1
    if not (before <= COLD and TEMPERED <= tempered <= ac1):
        return ()
    return (f"tempers: {before:.0f} °C before, {tempered:.0f} °C after, under Ac1 ({ac1:.0f} °C)",)
