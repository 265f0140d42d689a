"""The window of a set-up: from the current for the least weld to the current that splashes."""

import dataclasses
import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.chance import Curves, Scatter, chances, least_of_best
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.expulsion import interface_expulsion, splash
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import DEFAULT, Resolution, simulate

Array = NDArray[np.float64]

CURRENTS = 21
EXPULSION_LIMIT = 0.10  # -, probability at which the window ends
RANGE = (0.55, 1.45)  # -, of the set current
ROBUST_PLACES = 46  # -, our own choice: currents among which the robust one is looked for


@dataclass(frozen=True, slots=True)
class WeldWindow:
    """Nugget against current, and against time where more than one is asked for."""

    currents: Array  # (currents,), A rms of the main pulse
    times: Array  # (times,), s of the main pulse
    nugget: Array  # (interfaces, times, currents), m
    expulsion: Array  # (times, currents), probability [-]
    minimum_diameters: tuple[float, ...]  # m, for each interface
    lower_limit: Array  # (times,), A, NaN where no current is enough
    upper_limit: Array  # (times,), A, NaN where none of the currents splashes
    robust_current: Array  # (times,), A, NaN where there is no window
    thrown: Array | None = None  # (interfaces, times, currents), probability at each interface [-]
    sunk: Array | None = None  # (2, times, currents), m, caps A and B into their sheets


@dataclass(frozen=True, slots=True)
class Welded:
    """What the map keeps of one weld."""

    nugget: Array  # (interfaces,), m
    thrown: Array  # (interfaces,), probability of expulsion there [-]
    expulsion: float  # -, probability that anything is thrown out
    sunk: Array  # (2,), m


def _scaled(set_up: SpotSetUp, current: float, time: float) -> SpotSetUp:
    """The set-up with its main (longest) pulse at another current and time, the others in step."""
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    share, stretch = current / main.current, time / main.time
    pulses = tuple(
        dataclasses.replace(
            pulse,
            current=pulse.current * share,
            time=pulse.time * stretch if pulse is main else pulse.time,
            up_slope=pulse.up_slope * stretch if pulse is main else pulse.up_slope,
            down_slope=pulse.down_slope * stretch if pulse is main else pulse.down_slope,
        )
        for pulse in set_up.pulses
    )
    return dataclasses.replace(set_up, pulses=pulses)


def weld_once(
    stack: StackUp,
    set_up: SpotSetUp,
    resolution: Resolution,
    constants: ContactConstants = CONTACT,
    condition: SpotCondition = NORMAL,
) -> Welded:
    """One weld as the map keeps it, solved until the hold ends.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        What is set.
    resolution : Resolution
        Cells and steps of the solver.
    constants : ContactConstants
        The contact model's numbers.
    condition : SpotCondition
        What the weld is made in.

    Returns
    -------
    Welded
        Nuggets [m], probabilities [-], indentation [m].

    Raises
    ------
    BadInput
        When the set-up can't be computed.
    """
    until_hold_ends = dataclasses.replace(resolution, cooling=False)
    weld = simulate(stack, set_up, until_hold_ends, constants, condition=condition)
    thrown = np.array([interface_expulsion(float(load)) for load in weld.load])
    return Welded(weld.nugget, thrown, splash(weld, stack), weld.sunk)


Point = tuple[int, int]


def each_weld(
    one: Callable[[int], Welded],
    count: int,
    workers: int | None,
    progress: Callable[[int, int], None] | None,
) -> Iterator[Welded]:
    """Weld ``count`` times on threads (the kernel frees them) and yield in order.

    Parameters
    ----------
    one : callable
        Welds the numbered one.
    count : int
        How many.
    workers : int, optional
        Threads; else one for each core.
    progress : callable, optional
        Called with (done, of) after each weld; an exception it raises stops the work.

    Yields
    ------
    Welded
        In the order of the numbers.
    """
    # The kernel is compiled or loaded once, before the threads need it.
    yield one(0)
    if progress is not None:
        progress(1, count)
    with ThreadPoolExecutor(workers or os.cpu_count() or 1) as pool:
        futures = [pool.submit(one, number) for number in range(1, count)]
        try:
            for done, future in enumerate(futures, start=2):
                yield future.result()
                if progress is not None:
                    progress(done, count)
        except BaseException:
            for future in futures:
                future.cancel()
            raise


def window(
    stack: StackUp,
    set_up: SpotSetUp,
    minimum_diameters: Sequence[float],
    *,
    currents: Sequence[float] | None = None,
    times: Sequence[float] | None = None,
    progress: Callable[[int, int], None] | None = None,
    workers: int | None = None,
    resolution: Resolution = DEFAULT,
    condition: SpotCondition = NORMAL,
    constants: ContactConstants = CONTACT,
) -> WeldWindow:
    """Map the weld over current and time.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        All that is not varied.
    minimum_diameters : sequence of float
        Least nugget diameter at each faying interface [m].
    currents : sequence of float, optional
        Rms currents of the longest pulse [A], rising; else 21 around the set one.
    times : sequence of float, optional
        Durations of the longest pulse [s]; else the set one.
    progress : callable, optional
        Called with (done, of) after each weld; an exception it raises stops the work.
    workers : int, optional
        Threads; else one for each core.
    resolution, constants : Resolution, ContactConstants
        Cells and steps of the solver; the contact model's numbers.
    condition : SpotCondition
        What the welds are made in.

    Returns
    -------
    WeldWindow
        Limits in [A].

    Raises
    ------
    BadInput
        When a set-up on the map can't be computed.
    """
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    around = main.current * np.linspace(*RANGE, CURRENTS)
    over = np.asarray(around if currents is None else currents, float)
    at = np.asarray(times if times is not None else [main.time], float)
    points: list[Point] = list(np.ndindex(len(at), len(over)))

    def one(number: int) -> Welded:
        t, c = points[number]
        scaled = _scaled(set_up, float(over[c]), float(at[t]))
        return weld_once(stack, scaled, resolution, constants, condition)

    welds = list(each_weld(one, len(points), workers, progress))
    return _window(over, at, welds, tuple(float(d) for d in minimum_diameters))


def _window(
    over: Array, at: Array, welds: Sequence[Welded], least: tuple[float, ...]
) -> WeldWindow:
    """Lay welds out over times and currents, and find the limits at each time."""
    shape = (len(at), len(over))
    nugget = np.array([weld.nugget for weld in welds]).T.reshape(-1, *shape)
    thrown = np.array([weld.thrown for weld in welds]).T.reshape(-1, *shape)
    sunk = np.array([weld.sunk for weld in welds]).T.reshape(-1, *shape)
    expulsion = np.array([weld.expulsion for weld in welds]).reshape(shape)
    limits = [_limits(over, nugget[:, t], expulsion[t], least) for t in range(len(at))]
    lower, upper, robust = (np.array(column) for column in zip(*limits, strict=True))
    return WeldWindow(over, at, nugget, expulsion, least, lower, upper, robust, thrown, sunk)


def crossing(x: Array, y: Array, level: float) -> float:
    """First place at which a curve rises to a level.

    Parameters
    ----------
    x : Array
        Rising places (points,) [SI].
    y : Array
        Values there (points,) [SI].
    level : float
        The level [SI].

    Returns
    -------
    float
        On the straight line between points, the first place if it begins there; NaN if never [SI].
    """
    above = np.flatnonzero(y >= level)
    if not len(above):
        return float("nan")
    i = int(above[0])
    if i == 0:
        return float(x[0])
    share = (level - y[i - 1]) / (y[i] - y[i - 1])
    return float(x[i - 1] + share * (x[i] - x[i - 1]))


def ends_of(
    currents: Array, nugget: Array, expulsion: Array, least: tuple[float, ...]
) -> tuple[float, float]:
    """Ends of a window at one time.

    Parameters
    ----------
    currents : Array
        Rising (currents,) [A].
    nugget : Array
        Diameters (interfaces, currents) [m].
    expulsion : Array
        Probability (currents,) [-].
    least : tuple of float
        Least diameter at each interface [m].

    Returns
    -------
    tuple of float
        Lower limit and upper limit [A]; NaN where there is none.
    """
    lows = [crossing(currents, row, d) for row, d in zip(nugget, least, strict=True)]
    low = float("nan") if np.isnan(lows).any() else max(lows)
    return low, crossing(currents, expulsion, EXPULSION_LIMIT)


def _limits(
    currents: Array, nugget: Array, expulsion: Array, least: tuple[float, ...]
) -> tuple[float, float, float]:
    """Lower limit, upper limit and robust current [A] at one time."""
    low, high = ends_of(currents, nugget, expulsion, least)
    top = currents[-1] if np.isnan(high) else high
    if np.isnan(low) or low >= top:
        return low, high, float("nan")
    places = np.linspace(currents[0], currents[-1], ROBUST_PLACES)
    inside = places[(places >= low) & (places <= top)]
    if not len(inside):
        return low, high, 0.5 * (low + float(top))
    found = chances(inside, Curves(currents, nugget, expulsion), least, Scatter())
    return low, high, float(inside[least_of_best(found.good)])
