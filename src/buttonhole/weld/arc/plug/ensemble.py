"""How far the figures of a plug weld are to be believed: many coarse marches over what is doubted.

The design is a fixed one that fills space evenly, so the same input gives the same intervals.
"""

import dataclasses
import math
from collections.abc import Iterator
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.machine_map import VOLTAGE_SPREAD
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.plug.closure import CLOSURE, DOUBTS, Doubt, PlugClosure
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.plug.marks import PlugMarks, read_marks
from buttonhole.weld.arc.plug.simulation import COARSE, simulate
from buttonhole.weld.arc.set_up import ArcSetUp

MEMBERS = 48  # numerical: the ends of a 90 % interval are then good to a fifth of its width
ROUNDS = 60  # of the root below, numerical

Array = NDArray[np.float64]


def even_points(count: int, dimensions: int) -> Array:
    """Points that fill the unit cube evenly, and each of its edges in equal steps.

    Parameters
    ----------
    count : int
        How many.
    dimensions : int
        Of the cube.

    Returns
    -------
    Array
        (count, dimensions), between 0 and 1 [-].

    Sources
    -------
    numerical (additive recurrence with the root of x^(d+1) = x + 1)
    iman-conover-1982 (taking out what correlation a few points have by chance)
    """
    root = 2.0
    for _ in range(ROUNDS):
        root = (1.0 + root) ** (1.0 / (dimensions + 1))
    steps = root ** -np.arange(1.0, dimensions + 1.0)
    points = (0.5 + np.outer(np.arange(1, count + 1), steps)) % 1.0
    if count <= dimensions + 1:  # so few are always correlated
        return _ranked(points)
    for _ in range(3):  # each round leaves a small part of the correlation before
        scores = _ranked(points) - 0.5
        mixed = np.linalg.cholesky(np.corrcoef(scores.T))
        points = np.linalg.solve(mixed, scores.T).T
    return _ranked(points)


def _ranked(points: Array) -> Array:
    """Replace each coordinate by its rank, in the middle of equal steps from 0 to 1 [-]."""
    ranks = points.argsort(axis=0, kind="stable").argsort(axis=0, kind="stable")
    middles: Array = (ranks + 0.5) / len(points)
    return middles


def _moved(value: float, doubt: Doubt, share: float) -> float:
    """Value [SI] at one share [-] of what is believed of it."""
    if doubt.kind == "even":
        return value + doubt.spread * (2.0 * share - 1.0)
    z = NormalDist().inv_cdf(min(max(share, 1e-6), 1.0 - 1e-6))
    if doubt.kind == "lognormal":
        return value * math.exp(doubt.spread * z)
    return value + doubt.spread * z


def drawn_closures(current_spread: float, count: int = MEMBERS) -> Iterator[PlugClosure]:
    """Yield closures spread over what is doubted.

    Parameters
    ----------
    current_spread : float
        Standard deviation of ln current [-].
    count : int
        How many.
    """
    doubts = (
        *DOUBTS,
        Doubt("current_factor", current_spread, "lognormal"),
        Doubt("voltage_shift", VOLTAGE_SPREAD, "normal"),
    )
    for point in even_points(count, len(doubts)):
        moved = {
            doubt.name: _moved(getattr(CLOSURE, doubt.name), doubt, float(share))
            for doubt, share in zip(doubts, point, strict=True)
        }
        yield dataclasses.replace(CLOSURE, **moved)


def members(
    joint: PlugJoint,
    set_up: ArcSetUp,
    current_spread: float,
    law: MeltingLaw | None = None,
    count: int = MEMBERS,
) -> list[PlugMarks]:
    """March coarsely over what is doubted.

    Parameters
    ----------
    joint : PlugJoint
        Sheets, holes, path.
    set_up : ArcSetUp
        What is set.
    current_spread : float
        Standard deviation of ln current [-].
    law : MeltingLaw or None
        This machine's own melting law.
    count : int
        How many marches.

    Returns
    -------
    list of PlugMarks
        One for each march [SI].
    """
    return [
        read_marks(simulate(joint, set_up, COARSE, closure, law))
        for closure in drawn_closures(current_spread, count)
    ]
