"""How likely a set-up gives welds that are large enough and throw nothing out.

The predicted welds are known at a few currents, at a little less and a little more force, and with
worn faces; between them they are taken as straight. The machine's scatter and what is not known are
laid over that by points that fill the space evenly, always the same ones: nothing is drawn by lot.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.estimate import Estimate

Array = NDArray[np.float64]

# How many points and their generator, of the least error among all (tried here).
WELDS = (127, 83)  # -, for what scatters
WORLDS = (89, 34)  # -, for what is not known
REACH = 2.0  # standard deviations of the force at which the other force levels are welded
ALIKE = 0.01  # -, chances of two currents that differ by less are alike; judged, no source
RARE = 1e-6  # -, probabilities are compared by their odds, and none is nought


@dataclass(frozen=True, slots=True)
class Scatter:
    """What differs from weld to weld, and what nobody knows before a coupon.

    ``current``, ``force`` [-]: standard deviations from weld to weld. ``face`` [-]: by how much a
    face grows from one dressing to the next; any wear up to it is equally likely. ``rest`` [-]: of
    the diameter, what repeats of one setting scatter besides. Not known are ``gain`` [-], the
    standard deviation of the true current over the set one, and ``model`` [-], that of the true
    diameter over the predicted one.
    """

    current: float = 0.03  # -, assumption, no source
    force: float = 0.05  # -, assumption, no source
    face: float = 0.10  # -, dressing is due at 10 to 20 % (from memory)
    rest: float = 0.03  # -, so that repeats scatter as published ones do, 4 to 10 % in all
    gain: float = 0.03  # -, assumption, no source
    model: float = 0.10  # -


@dataclass(frozen=True, slots=True)
class Curves:
    """Predicted welds of one weld time over rising currents."""

    currents: Array  # (currents,), A
    nugget: Array  # (interfaces, currents), m
    expulsion: Array  # (currents,), probability [-]


_Row = Callable[[Curves], Array]


@dataclass(frozen=True, slots=True)
class CurveSurroundings:
    """The same welds at another force and with worn faces; None: their change is left out."""

    less_force: Curves | None = None
    more_force: Curves | None = None
    worn: Curves | None = None


@dataclass(frozen=True, slots=True)
class Chances:
    """What becomes of a weld, for each set current.

    ``good`` holds all that is believed: at its value what is not known is averaged, between low and
    high lie nine of ten worlds. ``known`` is the chance if the model and the display are right.
    """

    currents: Array  # (n,), A
    good: Array  # (n,), -
    low: Array  # (n,), -
    high: Array  # (n,), -
    known: Array  # (n,), -
    small: Array  # (interfaces, n), chance that it stays too small there [-]
    splash: Array  # (n,), chance that it is thrown out [-]

    def estimate(self, at: int) -> Estimate:
        """Return the chance of a good weld at one of the currents, with its interval [-]."""
        return Estimate(float(self.good[at]), float(self.low[at]), float(self.high[at]))


def _spread_points(count: int, generator: int, dimensions: int) -> Array:
    """Points that fill the unit cube evenly, and each of its sides by equal steps.

    Notes
    -----
    A lattice of powers of one generator, a numerical method from memory.
    """
    steps = [pow(generator, power, count) for power in range(dimensions)]
    points: Array = (np.outer(np.arange(count), steps) % count + 0.5) / count
    return points


def _normal(share: Array) -> Array:
    one = NormalDist()
    return np.array([one.inv_cdf(min(max(float(p), 1e-6), 1.0 - 1e-6)) for p in share])


def chances(
    at: Array,
    curves: Curves,
    minimum_diameters: tuple[float, ...],
    scatter: Scatter,
    surroundings: CurveSurroundings | None = None,
) -> Chances:
    """Work out what becomes of welds at some set currents.

    Parameters
    ----------
    at : Array
        Set currents [A].
    curves : Curves
        The predicted welds. Past the last current nugget and expulsion grow on as between the
        last two; below the first the first holds.
    minimum_diameters : tuple of float
        Least nugget at each interface [m].
    scatter : Scatter
        What scatters and what is not known [-].
    surroundings : CurveSurroundings, optional
        Welds at other forces and with worn faces.

    Returns
    -------
    Chances
        For each of the currents [-].

    Notes
    -----
    Half of the model's doubt moves expulsion as well, as the prediction has it: engineering
    judgement, no source.
    """
    beside = surroundings or CurveSurroundings()
    shares = _spread_points(*WELDS, 3)
    set_to = 1.0 + scatter.current * _normal(shares[:, 0])
    forces = _normal(shares[:, 1]) / REACH  # in steps to the neighbouring force levels
    wear = shares[:, 2]  # of the growth between two dressings
    doubt = _spread_points(*WORLDS, 2)
    worlds = [
        (1.0 + scatter.gain * g, 1.0 + scatter.model * m)
        for g, m in zip(_normal(doubt[:, 0]), _normal(doubt[:, 1]), strict=True)
    ]
    field = _Field(curves, beside, np.asarray(minimum_diameters, float), scatter.rest)
    steps = (np.outer(at, set_to), forces, wear)
    known, _small, _splash = field.welded(steps, (1.0, 1.0))
    found = [field.welded(steps, world) for world in worlds]
    good = np.array([one[0] for one in found])
    low, high = np.quantile(good, (0.05, 0.95), axis=0)
    return Chances(
        np.asarray(at, float),
        good.mean(axis=0),
        low,
        high,
        known,
        np.mean([one[1] for one in found], axis=0),
        np.mean([one[2] for one in found], axis=0),
    )


@dataclass(frozen=True, slots=True)
class _Field:
    """Predicted welds with their neighbours."""

    curves: Curves
    beside: CurveSurroundings
    least: Array  # (interfaces,), m
    rest: float  # -

    def welded(
        self, steps: tuple[Array, Array, Array], world: tuple[float, float]
    ) -> tuple[Array, Array, Array]:
        """Chances of good, too small (interfaces, n) and thrown out, mean of the welds [-]."""
        from scipy.special import expit, ndtr  # slow to load

        flowing, forces, wear = steps
        gain, size = world
        flowing = flowing * gain
        reached = np.ones_like(flowing)
        small = np.empty((len(self.least), len(flowing)))
        for i, least in enumerate(self.least):
            diameter = size * self._between(flowing, forces, wear, partial(_diameter, i))
            over = (diameter - least) / (max(self.rest, 1e-4) * np.maximum(diameter, 0.1 * least))
            enough = ndtr(over)
            small[i] = 1.0 - enough.mean(axis=1)
            reached *= enough
        # a nugget larger than predicted lies nearer to its splash; half of the doubt is common
        nearer = flowing * (1.0 + 0.5 * (size - 1.0))
        kept = 1.0 - expit(self._between(nearer, forces, wear, _odds))
        return (reached * kept).mean(axis=1), small, 1.0 - kept.mean(axis=1)

    def _between(self, flowing: Array, forces: Array, wear: Array, row: _Row) -> Array:
        """A value at currents (n, welds), forces and wear (welds,), straight between the known."""
        currents = self.curves.currents
        grid = _past(currents, currents)

        def drawn(curves: Curves) -> Array:
            return _past(row(curves), currents)

        middle = drawn(self.curves)
        found = np.interp(flowing, grid, middle)
        less, more, worn = self.beside.less_force, self.beside.more_force, self.beside.worn
        for curves, share in ((less, np.maximum(-forces, 0.0)), (more, np.maximum(forces, 0.0))):
            if curves is not None:
                found = found + share * np.interp(flowing, grid, drawn(curves) - middle)
        if worn is not None:
            found = found + wear * np.interp(flowing, grid, drawn(worn) - middle)
        return found


def _past(row: Array, currents: Array) -> Array:
    """A row that goes on half as far again as its last current, as it rose to it."""
    rise = (row[-1] - row[-2]) / (currents[-1] - currents[-2]) if len(row) > 1 else 0.0
    return np.append(row, row[-1] + max(float(rise), 0.0) * 0.5 * currents[-1])


def _diameter(interface: int, curves: Curves) -> Array:
    found: Array = curves.nugget[interface]
    return found


def _odds(curves: Curves) -> Array:
    chance = np.clip(curves.expulsion, RARE, 1.0 - RARE)
    return np.log(chance / (1.0 - chance))


def least_of_best(values: Array) -> int:
    """Return the first place whose chance, of ``values`` [-], is alike the greatest.

    Of currents that are alike the least brings the least heat, and lies farther from a splash that
    comes sooner than predicted.
    """
    return int(np.flatnonzero(values >= float(np.max(values)) - ALIKE)[0])
