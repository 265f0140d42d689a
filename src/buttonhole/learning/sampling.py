"""Draws from what is believed after the evidence: a slow way that is sure, a quick one that warns.

All unknowns are standard normal before the evidence. The sure way lets the evidence in by steps and
moves the draws after each (tempered sequential Monte Carlo). The quick one finds the top of the
posterior, draws from a wide bell round it and weights; its effective number of draws tells when it
is not to be believed.

The methods are from memory, their sizes after trials of our own, no source.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput

Array = NDArray[np.float64]
LogLikelihood = Callable[[Array], Array]

PARTICLES, MOVES = 2000, 5
MOST_STAGES = 40  # of letting the evidence in; usual are two to ten
KEEP = 0.5  # -, share of effective draws after each step of the evidence
FIRST, QUICK = 1500, 3000  # draws
FREEDOM = 7.0  # -, of the wide bell
NEWTON = 12  # steps to the top at most
ENOUGH = 400.0  # effective draws under which the quick way hands over
STEP = 1e-3  # of the numerical derivatives


@dataclass(frozen=True, slots=True)
class Draws:
    """Draws ``z`` (n, unknowns) [-], ``weight`` (n,) [-] summing to one, and how they were made."""

    z: Array  # (n, unknowns), -
    weight: Array  # (n,), -
    engine: str
    stages: int

    @property
    def effective(self) -> float:
        """Effective number of draws [-]."""
        return float(1.0 / np.sum(self.weight**2))


def tempered(
    likelihood: LogLikelihood,
    unknowns: int,
    seed: int,
    *,
    particles: int = PARTICLES,
    moves: int = MOVES,
) -> Draws:
    """Draw by tempered sequential Monte Carlo.

    Parameters
    ----------
    likelihood : callable
        From (n, unknowns) to log likelihoods (n,) [-].
    unknowns : int
        How many.
    seed : int
        The same gives the same draws.
    particles : int
        How many draws.
    moves : int
        After each step of the evidence.

    Returns
    -------
    Draws
        All of one weight.

    Raises
    ------
    BadInput
        The evidence lies so far out that it must hold a slip.
    """
    chance = np.random.default_rng(seed)
    z = chance.standard_normal((particles, unknowns))
    fit, level, stages = likelihood(z), 0.0, 0
    keep = 0.9  # how much of the old place a move keeps; follows what is accepted
    while level < 1.0:
        step = _next_step(fit, 1.0 - level)
        weight = np.exp(step * (fit - fit.max()))
        weight /= weight.sum()
        level = min(level + step, 1.0)
        middle, spread = _bell(z, weight)
        chosen = _systematic(weight, chance)
        z, fit = z[chosen], fit[chosen]
        for _ in range(moves):
            z, fit, taken = _move(z, fit, level, likelihood, (middle, spread), keep, chance)
            keep = float(np.clip(keep + 0.3 * (0.35 - taken), 0.05, 0.995))
        stages += 1
        if stages >= MOST_STAGES and level < 1.0:
            raise BadInput(
                "coupons",
                "contradict what any such machine can be by far; look for a slip in a reading or a "
                "unit and correct it",
            )
    return Draws(z, np.full(particles, 1.0 / particles), "tempered", stages)


def before_any(unknowns: int, seed: int, *, draws: int = QUICK) -> Draws:
    """Draw what is believed before any evidence.

    Parameters
    ----------
    unknowns : int
        How many.
    seed : int
        The same gives the same draws.
    draws : int
        How many.

    Returns
    -------
    Draws
        All of one weight.
    """
    z = np.random.default_rng(seed).standard_normal((draws, unknowns))
    return Draws(z, np.full(draws, 1.0 / draws), "prior", 0)


def _next_step(fit: Array, left: float) -> float:
    """How much more of the evidence leaves half of the draws effective [-]."""
    low, high = 0.0, left
    if _effective(fit, high) >= KEEP * len(fit):
        return high
    for _ in range(40):
        middle = 0.5 * (low + high)
        if _effective(fit, middle) >= KEEP * len(fit):
            low = middle
        else:
            high = middle
    return max(low, 1e-6)


def _effective(fit: Array, step: float) -> float:
    weight = np.exp(step * (fit - fit.max()))
    return float(weight.sum() ** 2 / np.sum(weight**2))


def _bell(z: Array, weight: Array) -> tuple[Array, Array]:
    middle = weight @ z
    off = z - middle
    square = (off * weight[:, None]).T @ off + 1e-6 * np.eye(z.shape[1])
    spread = np.asarray(np.linalg.cholesky(square), np.float64)
    return middle, spread


def _systematic(weight: Array, chance: np.random.Generator) -> NDArray[np.int64]:
    places = (chance.random() + np.arange(len(weight))) / len(weight)
    total = np.cumsum(weight)
    total[-1] = 1.0
    return np.searchsorted(total, places).astype(np.int64)


def _move(
    z: Array,
    fit: Array,
    level: float,
    likelihood: LogLikelihood,
    bell: tuple[Array, Array],
    keep: float,
    chance: np.random.Generator,
) -> tuple[Array, Array, float]:
    """One move that leaves the bell as it is and is accepted by what the bell leaves out."""
    middle, spread = bell
    old = np.linalg.solve(spread, (z - middle).T).T
    new = keep * old + np.sqrt(1.0 - keep**2) * chance.standard_normal(z.shape)
    moved = middle + new @ spread.T
    there = likelihood(moved)
    gain = level * (there - fit) - 0.5 * (np.sum(moved**2, axis=1) - np.sum(z**2, axis=1))
    gain += 0.5 * (np.sum(new**2, axis=1) - np.sum(old**2, axis=1))
    taken = np.log(chance.random(len(z))) < gain
    z = np.where(taken[:, None], moved, z)
    return z, np.where(taken, there, fit), float(taken.mean())


def quick(likelihood: LogLikelihood, unknowns: int, seed: int, *, draws: int = QUICK) -> Draws:
    """Draw from a wide bell round the top of the posterior, weighted.

    Parameters
    ----------
    likelihood : callable
        From (n, unknowns) to log likelihoods (n,) [-].
    unknowns : int
        How many.
    seed : int
        The same gives the same draws.
    draws : int
        How many.

    Returns
    -------
    Draws
        Look at ``effective`` before using them.
    """
    chance = np.random.default_rng(seed)
    top, spread = _top(likelihood, unknowns)
    z, weight = _weighted_bell(likelihood, (top, spread), FIRST, chance)
    # the first draws tell where the middle and the width really are, the second ones count
    z, weight = _weighted_bell(likelihood, _bell(z, weight), draws, chance)
    return Draws(z, weight, "quick", 2)


def _weighted_bell(
    likelihood: LogLikelihood, bell: tuple[Array, Array], draws: int, chance: np.random.Generator
) -> tuple[Array, Array]:
    middle, spread = bell
    unknowns = len(middle)
    normal = chance.standard_normal((draws, unknowns))
    stretched = normal * np.sqrt(FREEDOM / chance.chisquare(FREEDOM, draws))[:, None]
    z = middle + stretched @ spread.T
    of_bell = -0.5 * (FREEDOM + unknowns) * np.log1p(np.sum(stretched**2, axis=1) / FREEDOM)
    log_weight = likelihood(z) - 0.5 * np.sum(z**2, axis=1) - of_bell
    weight = np.exp(log_weight - log_weight.max())
    return z, weight / weight.sum()


def _top(likelihood: LogLikelihood, unknowns: int) -> tuple[Array, Array]:
    """Top of the posterior and the spread there, by Newton's steps with numerical derivatives."""
    place = np.zeros(unknowns)
    pattern, pairs = _pattern(unknowns)

    def height(points: Array) -> Array:
        found: Array = likelihood(points) - 0.5 * np.sum(points**2, axis=1)
        return found

    curvature = -np.eye(unknowns)
    for _ in range(NEWTON):
        around = height(place + 20.0 * STEP * pattern)
        slope, curvature = _derivatives(around, unknowns, pairs, 20.0 * STEP)
        step = _uphill(slope, curvature)
        shares = 0.5 ** np.arange(7)
        tried = height(place + shares[:, None] * step)
        best = int(np.argmax(tried))
        if not tried[best] > around[0] + 1e-6:
            break
        place = place + shares[best] * step
        if np.abs(shares[best] * step).max() < 5e-3:
            break
    around = height(place + 20.0 * STEP * pattern)
    _, curvature = _derivatives(around, unknowns, pairs, 20.0 * STEP)
    values, vectors = np.linalg.eigh(-curvature)
    values = np.maximum(values, 1.0 / 1.5**2)  # nothing is wider than before the evidence
    return place, vectors / np.sqrt(values)


def _pattern(n: int) -> tuple[Array, list[tuple[int, int]]]:
    eye = np.eye(n)
    pairs = [(i, j) for i in range(n) for j in range(i)]
    rows = [np.zeros(n), *eye, *(-eye), *(eye[i] + eye[j] for i, j in pairs)]
    return np.array(rows), pairs


def _derivatives(
    around: Array, n: int, pairs: list[tuple[int, int]], step: float
) -> tuple[Array, Array]:
    middle, up, down = around[0], around[1 : n + 1], around[n + 1 : 2 * n + 1]
    slope = (up - down) / (2.0 * step)
    curvature = np.diag((up - 2.0 * middle + down) / step**2)
    for (i, j), both in zip(pairs, around[2 * n + 1 :], strict=True):
        crossed = (both - up[i] - up[j] + middle) / step**2
        # forward in both directions: its error of third order falls out against the backward one
        curvature[i, j] = curvature[j, i] = crossed
    return slope, curvature


def _uphill(slope: Array, curvature: Array) -> Array:
    values, vectors = np.linalg.eigh(-curvature)
    values = np.maximum(values, 0.3)
    step: Array = vectors @ ((vectors.T @ slope) / values)
    longest = float(np.abs(step).max())
    return step if longest <= 2.0 else step * (2.0 / longest)
