"""The window of a set-up: from the current for the least weld to the current that splashes."""

import dataclasses
import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.expulsion import BOILED, interface_expulsion
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import DEFAULT, Resolution, simulate

Array = NDArray[np.float64]

CURRENTS = 21
EXPULSION_LIMIT = 0.10  # -, probability at which the window ends
RANGE = (0.55, 1.45)  # -, of the set current
SETTING_SCATTER = 0.03  # -, of the current from weld to weld; from memory


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


def _weld(
    stack: StackUp, set_up: SpotSetUp, resolution: Resolution, condition: SpotCondition
) -> tuple[Array, float]:
    """Nugget at each interface [m] and probability of expulsion [-] of one weld."""
    until_hold_ends = dataclasses.replace(resolution, cooling=False)
    weld, safe = simulate(stack, set_up, until_hold_ends, condition=condition), 1.0
    for diameter, radius, face in zip(
        weld.nugget, weld.contact_radius, stack.interfaces, strict=True
    ):
        thickness = 0.5 * (face.sheet_a.thickness + face.sheet_b.thickness)
        safe *= 1.0 - interface_expulsion(
            float(diameter), 2.0 * float(radius), weld.sealing_force, thickness
        )
    return weld.nugget, max(1.0 - safe, BOILED if weld.boils else 0.0)


Point = tuple[int, int]
Found = tuple[Array, float]


def _all(
    one: Callable[[Point], Found],
    points: list[Point],
    workers: int | None,
    progress: Callable[[int, int], None] | None,
) -> Iterator[tuple[Point, Found]]:
    """Weld every point on threads (the kernel frees them) and yield in order."""
    # The kernel is compiled or loaded once, before the threads need it.
    yield points[0], one(points[0])
    if progress is not None:
        progress(1, len(points))
    with ThreadPoolExecutor(workers or os.cpu_count() or 1) as pool:
        futures = [pool.submit(one, point) for point in points[1:]]
        try:
            for done, (point, future) in enumerate(zip(points[1:], futures, strict=True), start=2):
                yield point, future.result()
                if progress is not None:
                    progress(done, len(points))
        except BaseException:
            for future in futures:
                future.cancel()
            raise


def _mapped(
    found: Iterator[tuple[Point, Found]], stack: StackUp, points: list[Point]
) -> tuple[Array, Array]:
    """Nuggets [m] and probabilities [-] of the welds, laid out over times and currents."""
    shape = (points[-1][0] + 1, points[-1][1] + 1)
    nugget, expulsion = np.zeros((len(stack.interfaces), *shape)), np.zeros(shape)
    for (t, c), (diameters, chance) in found:
        nugget[:, t, c], expulsion[t, c] = diameters, chance
    return nugget, expulsion


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
    resolution : Resolution
        Cells and steps of the solver.
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

    def one(point: Point) -> Found:
        scaled = _scaled(set_up, float(over[point[1]]), float(at[point[0]]))
        return _weld(stack, scaled, resolution, condition)

    points = list(np.ndindex(len(at), len(over)))
    nugget, expulsion = _mapped(_all(one, points, workers, progress), stack, points)
    least = tuple(float(d) for d in minimum_diameters)
    limits = [_limits(over, nugget[:, t], expulsion[t], least) for t in range(len(at))]
    lower, upper, robust = (np.array(column) for column in zip(*limits, strict=True))
    return WeldWindow(over, at, nugget, expulsion, least, lower, upper, robust)


def _crossing(x: Array, y: Array, level: float) -> float:
    """First x at which y rises to the level, between points on a straight line; NaN if never."""
    above = np.flatnonzero(y >= level)
    if not len(above):
        return float("nan")
    i = int(above[0])
    if i == 0:
        return float(x[0])
    share = (level - y[i - 1]) / (y[i] - y[i - 1])
    return float(x[i - 1] + share * (x[i] - x[i - 1]))


def _limits(
    currents: Array, nugget: Array, expulsion: Array, least: tuple[float, ...]
) -> tuple[float, float, float]:
    """Lower limit, upper limit and robust current [A] at one time."""
    lows = [_crossing(currents, row, d) for row, d in zip(nugget, least, strict=True)]
    low = float("nan") if np.isnan(lows).any() else max(lows)
    high = _crossing(currents, expulsion, EXPULSION_LIMIT)
    top = currents[-1] if np.isnan(high) else high
    if np.isnan(low) or low >= top:
        return low, high, float("nan")
    # As far from the splash as from the least weld, counted in the scatter of the setting.
    robust = min((low + top) / 2, top / (1.0 + 2.0 * SETTING_SCATTER))
    return low, high, max(robust, low)
