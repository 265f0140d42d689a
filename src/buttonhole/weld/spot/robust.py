"""The current and weld time that most likely give a good weld on a machine that scatters."""

import dataclasses
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.chance import (
    REACH,
    Array,
    Chances,
    Curves,
    CurveSurroundings,
    Scatter,
    chances,
    least_of_best,
)
from buttonhole.weld.spot.prediction import COATED_SPREAD, MODEL_SPREAD
from buttonhole.weld.spot.pressing import DOME_FACE
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp
from buttonhole.weld.spot.wear import worn
from buttonhole.weld.spot.window import WeldWindow, window

TIE = 0.02  # -, weld times whose chances differ by less are alike: the shortest is taken
CANDIDATES = 3  # weld times looked at with other forces and worn faces
ENOUGH = 0.90  # -, least chance on this machine, the model being right; judged, no source
STEP = 100.0  # A, to which a current is set
SMALLEST_SPREAD = 1e-6  # -

Progress = Callable[[int, int], None]
Compute = Callable[..., WeldWindow]


@dataclass(frozen=True, slots=True)
class RobustSetUp:
    """The set-up with the greatest chance of a good weld, and how far it lies from trouble.

    ``chance`` [-]: every nugget reaches its least diameter and nothing is thrown out, with what is
    not known in its interval; ``known`` [-]: the same if model and display are right, so that only
    the machine's scatter counts. ``binding_interface``: which interface is most likely to stay too
    small; None: expulsion is likelier.
    """

    time: float  # s
    current: float  # A
    chance: Estimate  # -
    known: float  # -
    too_small: tuple[float, ...]  # -, by interface
    splash: float  # -
    low: float  # A, from which every nugget reaches its least diameter; NaN: nowhere
    high: float  # A, from which it splashes; NaN: not on the map
    spreads_to_low: float  # -, in standard deviations of the machine's current
    spreads_to_high: float  # -
    binding_interface: int | None
    times: tuple[float, ...]  # s, that were compared
    chances: tuple[float, ...]  # -, the best at each of them

    @property
    def is_robust(self) -> bool:
        """The machine's scatter alone spoils no more than one weld in ten."""
        return self.known >= ENOUGH


def _worn(cap: ElectrodeCap, growth: float) -> ElectrodeCap:
    """A cap whose face is wider by a share of it [-]."""
    face = cap.face_diameter if cap.face_diameter is not None else 2.0 * DOME_FACE
    return worn(cap, growth * face)


def scatter_for(stack: StackUp, current: float, force: float) -> Scatter:
    """Return what scatters on a machine, and what is not known of these sheets.

    Parameters
    ----------
    stack : StackUp
        The sheets; coated ones are known less well.
    current, force : float
        Standard deviations from weld to weld [-].

    Returns
    -------
    Scatter
        The others as they stand there.
    """
    coated = any(face.coated for face in stack.interfaces)
    return Scatter(current=current, force=force, model=COATED_SPREAD if coated else MODEL_SPREAD)


def neighbours(set_up: SpotSetUp, scatter: Scatter) -> tuple[SpotSetUp, SpotSetUp, SpotSetUp]:
    """Return the set-up at less and at more force, and with worn faces.

    Parameters
    ----------
    set_up : SpotSetUp
        As set.
    scatter : Scatter
        Of the machine [-].

    Returns
    -------
    tuple of SpotSetUp
        The forces lie ``REACH`` standard deviations away.
    """
    force, share = set_up.electrode_force, min(REACH * scatter.force, 0.5)
    grown = max(scatter.face, 0.0)
    return (
        dataclasses.replace(set_up, electrode_force=force * (1.0 - share)),
        dataclasses.replace(set_up, electrode_force=force * (1.0 + share)),
        dataclasses.replace(
            set_up, cap_a=_worn(set_up.cap_a, grown), cap_b=_worn(set_up.cap_b, grown)
        ),
    )


def curves_at(found: WeldWindow, t: int) -> Curves:
    """Return the welds of one of the weld times, ``t`` its number on the map."""
    return Curves(found.currents, found.nugget[:, t], found.expulsion[t])


def robust(
    stack: StackUp,
    set_up: SpotSetUp,
    found: WeldWindow,
    scatter: Scatter,
    *,
    limits: Sequence[tuple[float, float]] | None = None,
    tie: float = TIE,
    progress: Progress | None = None,
    compute: Compute = window,
) -> RobustSetUp:
    """Find the weld time and current with the greatest chance of a good weld.

    Weld times whose chances differ by less than ``tie`` count as alike, and the shortest of them is
    taken: it brings the least heat into the sheets and wears the caps least.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        Around which the map was made.
    found : WeldWindow
        The map.
    scatter : Scatter
        Of the machine, and what is not known [-].
    limits : sequence of tuple, optional
        For each weld time the currents to stay between [A]; NaN: that time is left out.
    tie : float
        Difference of chances that is none [-].
    progress : callable, optional
        Called with (done, of).
    compute : callable
        Maps the welds at other forces and with worn faces.

    Returns
    -------
    RobustSetUp
        Also where there is no window: then it says how small the best chance is.

    Raises
    ------
    BadInput
        When a neighbouring set-up can't be computed.
    """
    least = found.minimum_diameters
    places = _places(found, limits, scatter)
    tried = _promising(found, places, scatter)
    beside = _surroundings(stack, set_up, found, tried, scatter, progress, compute)
    looked = []
    for t, around in zip(tried, beside, strict=True):
        at = places[t] if len(places[t]) else found.currents
        looked.append(chances(at, curves_at(found, t), least, scatter, around))
    best = [float(one.good.max()) for one in looked]
    taken = shortest_alike(best, tie)
    times = tuple(float(found.times[t]) for t in tried)
    return _named(found, tried[taken], looked[taken], scatter, (times, tuple(best)))


def _promising(found: WeldWindow, places: Sequence[Array], scatter: Scatter) -> list[int]:
    """Numbers of the few weld times with the greatest chances, shortest first."""
    rough = [
        chances(at, curves_at(found, t), found.minimum_diameters, scatter).good.max()
        if len(at)
        else -1.0
        for t, at in enumerate(places)
    ]
    order = np.argsort(rough, kind="stable")[::-1][:CANDIDATES]
    return sorted(int(t) for t in order if rough[int(t)] >= 0.0) or [0]


def shortest_alike(best: Sequence[float], tie: float) -> int:
    """Return the first whose chance is alike the greatest.

    Parameters
    ----------
    best : sequence of float
        Chances, shortest weld time first [-].
    tie : float
        Difference that is none [-].

    Returns
    -------
    int
        Its place.
    """
    top = max(best)
    return next(i for i, chance in enumerate(best) if chance >= top - tie)


def _places(
    found: WeldWindow, limits: Sequence[tuple[float, float]] | None, scatter: Scatter
) -> list[Array]:
    """For each weld time the currents that can be set, between limits [A]."""
    places: list[Array] = []
    for t in range(len(found.times)):
        low, high = limits[t] if limits else _covered(found, scatter)
        if math.isnan(low) or math.isnan(high):
            places.append(np.zeros(0))
            continue
        first, last = math.ceil(low / STEP - 1e-9), math.floor(high / STEP + 1e-9)
        steps = [STEP * step for step in range(first, last + 1)]
        places.append(np.array(steps or [0.5 * (low + high)]))
    return places


def _covered(found: WeldWindow, scatter: Scatter) -> tuple[float, float]:
    """Ends between which the scatter stays on the map [A]."""
    first, last = float(found.currents[0]), float(found.currents[-1])
    room = 1.0 + REACH * math.hypot(scatter.current, scatter.gain)
    return first, max(last / room, first)


def _surroundings(
    stack: StackUp,
    set_up: SpotSetUp,
    found: WeldWindow,
    tried: Sequence[int],
    scatter: Scatter,
    progress: Progress | None,
    compute: Compute,
) -> list[CurveSurroundings]:
    times = [float(found.times[t]) for t in tried]
    maps = []
    for number, other in enumerate(neighbours(set_up, scatter)):
        maps.append(
            compute(
                stack, other, found.minimum_diameters,
                currents=found.currents.tolist(), times=times,
                progress=part_of(progress, number, 3),
            )
        )  # fmt: skip
    return [CurveSurroundings(*(curves_at(one, t) for one in maps)) for t in range(len(times))]


def part_of(progress: Progress | None, number: int, parts: int) -> Progress | None:
    """Return what tells a part of the work as a share of the whole, ``number`` from 0."""
    if progress is None:
        return None
    return lambda done, of: progress(number * of + done, parts * of)


def _named(
    found: WeldWindow,
    t: int,
    looked: Chances,
    scatter: Scatter,
    compared: tuple[tuple[float, ...], tuple[float, ...]],
) -> RobustSetUp:
    at = least_of_best(looked.good)
    current = float(looked.currents[at])
    small, splash = looked.small[:, at], float(looked.splash[at])
    low, high = float(found.lower_limit[t]), float(found.upper_limit[t])
    spread = max(scatter.current, SMALLEST_SPREAD) * current
    end = float(found.currents[-1]) if math.isnan(high) else high
    worst = int(np.argmax(small))
    return RobustSetUp(
        time=float(found.times[t]),
        current=current,
        chance=looked.estimate(at),
        known=float(looked.known[at]),
        too_small=tuple(float(one) for one in small),
        splash=splash,
        low=low,
        high=high,
        spreads_to_low=(current - low) / spread,
        spreads_to_high=(end - current) / spread,
        binding_interface=worst if small[worst] > splash else None,
        times=compared[0],
        chances=compared[1],
    )
