"""Charts that show a slow change before a bad coupon does: EWMA and CUSUM, and how soon they do.

Sources: nist-ewma; montgomery-runger; brook-evans-1972 (run lengths).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput

Array = NDArray[np.float64]

STATES = 201  # of the chain that run lengths are worked out with; numerical


@dataclass(frozen=True, slots=True)
class EwmaChart:
    """A chart of exponentially weighted means.

    ``values``, ``lower``, ``upper`` (points,) [SI]; ``signals`` are the places outside.
    """

    values: Array  # (points,), SI
    lower: Array  # (points,), SI
    upper: Array  # (points,), SI
    signals: tuple[int, ...]


def ewma(
    x: Sequence[float],
    *,
    factor: float = 0.3,
    limit: float = 2.7,
    target: float = 0.0,
    sigma: float = 1.0,
    settled: bool = False,
) -> EwmaChart:
    """Draw a chart of exponentially weighted means.

    Parameters
    ----------
    x : sequence of float
        Readings in the order made [SI].
    factor : float
        Weight of the newest reading, over 0 up to 1 [-].
    limit : float
        Width of the limits in standard deviations of the weighted mean [-].
    target : float
        Where it should lie [SI].
    sigma : float
        Standard deviation of one reading [SI].
    settled : bool
        Limits of a long run from the first point on; else they open from the start.

    Returns
    -------
    EwmaChart
        All points with their limits.

    Raises
    ------
    BadInput
        A factor outside 0 to 1, or no scatter.

    Sources
    -------
    nist-ewma.

    Examples
    --------
    >>> ewma([52.0, 47.0], target=50.0, sigma=2.0).values.round(2).tolist()
    [50.6, 49.52]
    """
    if not 0.0 < factor <= 1.0:
        raise BadInput("factor", f"is {factor:g}; give the newest reading's weight, e.g. 0.3")
    if not sigma > 0.0:
        raise BadInput("sigma", f"is {sigma:g}; give the standard deviation of one reading")
    values, mean = [], target
    for one in x:
        mean = factor * one + (1.0 - factor) * mean
        values.append(mean)
    count = np.arange(1, len(values) + 1)
    open_share = np.ones(len(count)) if settled else 1.0 - (1.0 - factor) ** (2 * count)
    half = limit * sigma * np.sqrt(factor / (2.0 - factor) * open_share)
    points = np.array(values)
    outside = np.flatnonzero(np.abs(points - target) > half)
    return EwmaChart(points, target - half, target + half, tuple(int(i) for i in outside))


@dataclass(frozen=True, slots=True)
class CusumChart:
    """Two sums of what lies beyond a slack; ``upper``, ``lower`` (points,) [SI]."""

    upper: Array  # (points,), SI
    lower: Array  # (points,), SI
    signals: tuple[int, ...]


def cusum(x: Sequence[float], *, slack: float, limit: float, target: float = 0.0) -> CusumChart:
    """Draw a chart of cumulative sums.

    Parameters
    ----------
    x : sequence of float
        Readings in the order made [SI].
    slack : float
        Half of the shift that is to be found [SI].
    limit : float
        Height of the sum that signals [SI].
    target : float
        Where it should lie [SI].

    Returns
    -------
    CusumChart
        Both sums, neither below zero.

    Raises
    ------
    BadInput
        A slack below zero, or a limit not above it.

    Sources
    -------
    montgomery-runger.
    """
    if slack < 0.0 or not limit > 0.0:
        raise BadInput("limit", "give a slack of zero or more and a limit above zero")
    up, down, uppers, lowers = 0.0, 0.0, [], []
    for one in x:
        up = max(0.0, one - target - slack + up)
        down = max(0.0, target - slack - one + down)
        uppers.append(up)
        lowers.append(down)
    high, low = np.array(uppers), np.array(lowers)
    over = np.flatnonzero((high > limit) | (low > limit))
    return CusumChart(high, low, tuple(int(i) for i in over))


def cusum_run_length(slack: float, limit: float, shift: float = 0.0, *, both: bool = True) -> float:
    """Return how many readings a CUSUM chart takes on average until it signals.

    Parameters
    ----------
    slack : float
        In standard deviations [-].
    limit : float
        In standard deviations [-].
    shift : float
        Of the mean, in standard deviations, upwards [-].
    both : bool
        Both sides are watched; else the upper one only.

    Returns
    -------
    float
        Readings [-].

    Sources
    -------
    brook-evans-1972 (chain of states); the two sides run apart, as 1/both = 1/up + 1/down: derived.
    """
    up = _one_sided(slack, limit, shift)
    return up if not both else 1.0 / (1.0 / up + 1.0 / _one_sided(slack, limit, -shift))


def _one_sided(slack: float, limit: float, shift: float) -> float:
    from scipy.special import ndtr  # slow to load

    width = 2.0 * limit / (2 * STATES - 1)  # the first state is half as wide, about nothing
    state = width * np.arange(STATES)
    step = state[None, :] - state[:, None] + slack - shift
    moves = ndtr(step + width / 2.0) - ndtr(step - width / 2.0)
    moves[:, 0] = ndtr(step[:, 0] + width / 2.0)  # what falls below nothing stays there
    return _readings_until_out(moves, 0)


def ewma_run_length(factor: float, limit: float, shift: float = 0.0) -> float:
    """Return how many readings an EWMA chart with settled limits takes until it signals.

    Parameters
    ----------
    factor : float
        Weight of the newest reading [-].
    limit : float
        In standard deviations of the weighted mean [-].
    shift : float
        Of the mean, in standard deviations of one reading [-].

    Returns
    -------
    float
        Readings on average [-].

    Sources
    -------
    brook-evans-1972 (chain of states).
    """
    from scipy.special import ndtr

    half = limit * math.sqrt(factor / (2.0 - factor))
    width = 2.0 * half / STATES
    state = -half + width * (np.arange(STATES) + 0.5)
    kept = (1.0 - factor) * state[:, None]
    above = (state[None, :] + width / 2.0 - kept) / factor - shift
    below = (state[None, :] - width / 2.0 - kept) / factor - shift
    return _readings_until_out(ndtr(above) - ndtr(below), STATES // 2)


def _readings_until_out(moves: Array, start: int) -> float:
    inside = np.eye(len(moves)) - moves
    return float(np.linalg.solve(inside, np.ones(len(moves)))[start])
