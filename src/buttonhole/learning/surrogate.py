"""The solver near one set-up, as polynomials: quick enough to be asked a million times.

It is fitted for one joint in what reaches the weld (current, force, face ...), not for one shop:
what a machine gets wrong only moves the point at which it is read. Runs that show no more than "at
most" or "at least" (nothing melted, never splashes) push one way only.

The degree, the number of runs and the rule that the error counts are our own choice after
trials, no source.
"""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput

Array = NDArray[np.float64]

DEGREE = 3
MM = 1e-3  # m
HELD_OUT = 5  # every so manieth run is kept for finding the error
ROUNDS = 30  # of the fit with one-sided runs
WORST = 0.1e-3  # m, error of a diameter that 99 of 100 held-out runs should keep to


@dataclass(frozen=True, slots=True)
class Surrogate:
    """Smooth figures of the welds of one joint round one set-up.

    The first figures are ``size`` at each interface [m], then ``melt`` at each interface (over 0
    where it melts) and ``spoil`` (standard normal score of a splash or of falling through), then
    ``others`` by name. ``inputs`` are read relative to ``middle`` and in steps of ``reach``.
    ``error`` and ``worst``: root mean square and 99 % of the held-out runs. ``size_doubt`` [m]:
    what the runs themselves may be off against the solver, one standard deviation.
    ``melt_spread`` [-]: the width of ``melt`` within which it may or may not have melted.
    ``squared``: sizes over 1 mm are held as squares, which begin from nothing without a bend.
    """

    inputs: tuple[str, ...]
    middle: Array  # (inputs,), SI
    reach: Array  # (inputs,), SI
    interfaces: int
    others: tuple[str, ...]
    coefficients: Array  # (figures, terms), SI
    error: Array  # (figures,), SI
    worst: Array  # (figures,), SI
    size_doubt: float  # m
    melt_spread: Array  # (interfaces,), -
    runs: int
    squared: bool = False

    @property
    def figures(self) -> int:
        """How many figures it gives."""
        return 2 * self.interfaces + 1 + len(self.others)

    @property
    def size_error(self) -> float:
        """Standard deviation of a diameter against the solver's, all told [m]."""
        own = float(np.sqrt(np.mean(self.error[: self.interfaces] ** 2)))
        return float(np.hypot(own, self.size_doubt))

    @property
    def trusted(self) -> bool:
        """99 of 100 held-out runs keep within what a calliper can tell."""
        return bool((self.worst[: self.interfaces] <= WORST).all())

    def place(self, name: str) -> int:
        """Column of a figure: ``size``, ``melt`` (of the first interface), ``spoil`` or another."""
        first = {"size": 0, "melt": self.interfaces, "spoil": 2 * self.interfaces}
        if name in first:
            return first[name]
        return 2 * self.interfaces + 1 + self.others.index(name)

    def at(self, x: Array) -> Array:
        """Read the figures.

        Parameters
        ----------
        x : Array
            (..., inputs), what reaches the weld [SI].

        Returns
        -------
        Array
            (..., figures) [SI].
        """
        found = self.raw(x)
        if self.squared:
            found[..., : self.interfaces] = from_square(found[..., : self.interfaces])
        return found

    def raw(self, x: Array) -> Array:
        """Read the polynomials themselves.

        Parameters
        ----------
        x : Array
            (..., inputs), what reaches the weld [SI].

        Returns
        -------
        Array
            (..., figures), sizes as they are held [SI].
        """
        found: Array = terms((x - self.middle) / self.reach) @ self.coefficients.T
        return found

    def inside(self, x: Array) -> NDArray[np.bool_]:
        """Whether points ``x`` [SI], (..., inputs), lie where it was fitted."""
        far = np.abs((x - self.middle) / self.reach).max(axis=-1)
        return np.asarray(far <= 1.0 + 1e-9)


def to_square(size: Array) -> Array:
    """The number that a size [m] is held as: its square, below 1 mm a straight line [-]."""
    mm = size / MM
    found: Array = np.where(mm >= 1.0, mm**2, 2.0 * mm - 1.0)
    return found


def from_square(number: Array) -> Array:
    """The size [m] that is held as a ``number`` [-]; negative where nothing grew."""
    over = np.sqrt(np.maximum(number, 1.0))
    found: Array = MM * np.where(number >= 1.0, over, 0.5 * (number + 1.0))
    return found


@cache
def powers(inputs: int, degree: int = DEGREE) -> tuple[tuple[int, ...], ...]:
    """Return the inputs multiplied in each term, the constant first."""
    found: list[tuple[int, ...]] = []
    for order in range(degree + 1):
        found.extend(itertools.combinations_with_replacement(range(inputs), order))
    return tuple(found)


@cache
def _built(inputs: int) -> tuple[tuple[int, int], ...]:
    """Each term but the constant as an earlier term times one input."""
    every = powers(inputs)
    place = {term: i for i, term in enumerate(every)}
    return tuple((place[term[:-1]], term[-1]) for term in every[1:])


def terms(x: Array) -> Array:
    """Products of the inputs up to the third degree.

    Parameters
    ----------
    x : Array
        (..., inputs) [-].

    Returns
    -------
    Array
        (..., terms) [-].
    """
    steps = _built(x.shape[-1])
    columns = np.moveaxis(np.asarray(x, float), -1, 0)
    found = np.empty((len(steps) + 1, *x.shape[:-1]))
    found[0] = 1.0
    for i, (earlier, one) in enumerate(steps, 1):
        np.multiply(found[earlier], columns[one], out=found[i, ...])
    return np.moveaxis(found, 0, -1)


@dataclass(frozen=True, slots=True)
class Runs:
    """What some runs gave: ``values`` (runs, figures) [SI], NaN where a run says nothing.

    ``at_most``, ``at_least``: the value is only a bound from that side.
    """

    x: Array  # (runs, inputs), SI
    values: Array  # (runs, figures), SI
    at_most: NDArray[np.bool_]  # (runs, figures), -
    at_least: NDArray[np.bool_]  # (runs, figures), -


def spread_points(count: int, low: Sequence[float], high: Sequence[float], seed: int = 1) -> Array:
    """Points of a Latin hypercube.

    Parameters
    ----------
    count : int
        How many.
    low, high : sequence of float
        Ends of each input [SI].
    seed : int
        The same gives the same.

    Returns
    -------
    Array
        (count, inputs) [SI].
    """
    chance = np.random.default_rng(seed)
    first, last = np.asarray(low, float), np.asarray(high, float)
    share = np.array([chance.permutation(count) for _ in first]).T
    found: Array = first + (last - first) * (share + chance.random(share.shape)) / count
    return found


def fitted(
    inputs: tuple[str, ...],
    low: Sequence[float],
    high: Sequence[float],
    interfaces: int,
    runs: Runs,
    *,
    others: tuple[str, ...] = (),
    size_doubt: float = 0.0,
    squared: bool = False,
    degree: int = DEGREE,
    melt_spread: Callable[[Array], Array],
) -> Surrogate:
    """Fit a surrogate and find its error on runs that were left out.

    Parameters
    ----------
    inputs : tuple of str
        Names of the inputs.
    low, high : sequence of float
        Ends of each input [SI].
    interfaces : int
        How many there are.
    runs : Runs
        What the solver gave.
    others : tuple of str
        Names of the figures after size, melt and spoil.
    size_doubt : float
        What the runs themselves may be off, one standard deviation [m].
    squared : bool
        Hold sizes as squares.
    degree : int
        Of the polynomials, at most 3; a lower one takes fewer runs of a solver that is rough.
    melt_spread : callable
        From the errors of ``melt`` found to its width [-].

    Returns
    -------
    Surrogate
        With its errors.

    Raises
    ------
    BadInput
        Too few runs for the terms.
    """
    first, last = np.asarray(low, float), np.asarray(high, float)
    middle, reach = (first + last) / 2.0, (last - first) / 2.0
    every = terms((runs.x - middle) / reach)
    own = len(powers(len(inputs), degree))
    unused = every.shape[1] - own
    figures = range(runs.values.shape[1])
    each = [_figure(every[:, :own], runs, i, squared and i < interfaces) for i in figures]
    found = np.array([np.pad(one.coefficients, (0, unused)) for one in each])
    error, worst = np.array([one.error for one in each]), np.array([one.worst for one in each])
    return Surrogate(
        inputs, middle, reach, interfaces, others, found, error, worst,
        size_doubt, melt_spread(error[interfaces : 2 * interfaces]), len(runs.x), squared,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Figure:
    coefficients: Array  # (terms,), SI
    error: float  # SI
    worst: float  # SI


def _figure(every: Array, runs: Runs, i: int, as_square: bool) -> _Figure:
    """Fit one figure, find its error on the runs held out, then fit it to all."""
    y, most, least = runs.values[:, i], runs.at_most[:, i], runs.at_least[:, i]
    known, held = np.isfinite(y), np.arange(len(y)) % HELD_OUT == 0
    if (known & ~held).sum() < 1.2 * every.shape[1]:
        raise BadInput(
            "set_up",
            "too few welds round this set-up melt for it to be learned from; choose one that "
            "welds in the solver",
        )
    wanted = to_square(y) if as_square else y
    train, check = known & ~held, known & held & ~most & ~least
    trial = every[check] @ _one_sided(every[train], wanted[train], most[train], least[train])
    off = np.abs((from_square(trial) if as_square else trial) - y[check])
    return _Figure(
        _one_sided(every[known], wanted[known], most[known], least[known]),
        float(np.sqrt(np.mean(off**2))) if len(off) else 0.0,
        float(np.quantile(off, 0.99)) if len(off) else 0.0,
    )


def _one_sided(
    every: Array, y: Array, at_most: NDArray[np.bool_], at_least: NDArray[np.bool_]
) -> Array:
    """Least squares; a run that is a bound pulls only while the fit is on its wrong side."""
    solve = np.linalg.pinv(every)
    wanted = y.copy()
    found: Array = solve @ wanted
    if not (at_most.any() or at_least.any()):
        return found
    for _ in range(ROUNDS):
        said = every @ found
        wanted = np.where(at_most, np.minimum(said, y), y)
        wanted = np.where(at_least, np.maximum(said, y), wanted)
        found = solve @ wanted
    return found
