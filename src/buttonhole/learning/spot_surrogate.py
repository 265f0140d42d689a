"""A surrogate of spot welds of one joint, fitted to the emulator of the solver.

What reaches the weld: logarithm of current, time and force, logarithm of the growth of the faces,
gap. Ranges are judged, no source: wide enough for what a machine gets wrong and for what a shop
would try next.
"""

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.learning.surrogate import Runs, Surrogate, fitted, spread_points
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Z90
from buttonhole.weld.spot.emulator import figures as f
from buttonhole.weld.spot.emulator.at_once import guessed
from buttonhole.weld.spot.emulator.inputs import views_of
from buttonhole.weld.spot.emulator.stored import about, nets
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

Array = NDArray[np.float64]

INPUTS = ("current", "time", "force", "face", "gap")
LOW = (-0.36, -0.36, -0.36, -0.12, 0.0)  # -, -, -, -, m
HIGH = (0.36, 0.36, 0.36, 0.30, 1.0e-3)  # -, -, -, -, m
RUNS = 400
COLD, HOT = -0.45, 0.33  # -, warmth beyond which it only counts as a bound
SCORE = 3.5  # -, splash beyond which it only counts as a bound
WARMTH_PER_CURRENT = 1.0  # -, warmth gained over the logarithm of the current near the onset
ONSET_DOUBT = 0.05  # -, of the current at which a nugget begins, emulator against solver


def grown(cap: ElectrodeCap, share: float) -> ElectrodeCap:
    """A cap whose face is wider.

    Parameters
    ----------
    cap : ElectrodeCap
        As dressed.
    share : float
        Logarithm of the face's diameter over the dressed one's [-].

    Returns
    -------
    ElectrodeCap
        Flatter too where it is curved, as a worn one is.
    """
    face = cap.face_diameter
    if face is not None:
        face = min(face * math.exp(share), cap.body_diameter)
    radius = None if cap.radius is None else cap.radius * math.exp(2.0 * share)
    return ElectrodeCap(face, radius, cap.body_diameter)


def spot_point(
    set_up: SpotSetUp, stack: StackUp, about_set_up: SpotSetUp, face: float = 0.0
) -> Array:
    """A set-up as inputs of a surrogate that was fitted round another one.

    Parameters
    ----------
    set_up : SpotSetUp
        What is set.
    stack : StackUp
        For its gap.
    about_set_up : SpotSetUp
        The one the surrogate was fitted round.
    face : float
        Logarithm of how far the faces have grown [-].

    Returns
    -------
    Array
        (inputs,) [SI].
    """
    one, other = (max(each.pulses, key=lambda p: p.time) for each in (set_up, about_set_up))
    return np.array(
        [
            math.log(one.current / other.current),
            math.log(one.time / other.time),
            math.log(set_up.electrode_force / about_set_up.electrode_force),
            face,
            stack.gap,
        ]
    )


def spot_surrogate(stack: StackUp, set_up: SpotSetUp, runs: int = RUNS) -> Surrogate:
    """Fit a surrogate of spot welds round a set-up.

    Parameters
    ----------
    stack : StackUp
        The sheets; its gap is where the gap begins.
    set_up : SpotSetUp
        One that welds; of several pulses the longest is looked at.
    runs : int
        How many welds it is fitted to.

    Returns
    -------
    Surrogate
        Inputs ``INPUTS``; spoiling is splashing, the other figure is the deeper ``dent`` [m].

    Raises
    ------
    BadInput
        Too few welds round the set-up melt.
    """
    x = spread_points(runs, LOW, HIGH)
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    seen = np.array([_views(stack, set_up, main.time, one) for one in x])
    each = nets().each(seen)
    numbers = each.mean(axis=0)
    found = f.figures_of(numbers, stack)
    root = f.roots(stack)
    warmth = f.BREADTH * np.sinh(numbers[:, :, f.WARMTH_AT])
    size = f.diameter(numbers[:, :, f.SIZE_AT], np.ones_like(warmth), root)
    size = np.where(warmth > 0.0, size, np.nan)
    chance = np.clip(f.expulsion_of(found, stack), 1e-9, 1.0 - 1e-9)
    dent = found.sunk.max(axis=1)
    values = np.column_stack([size, np.clip(warmth, COLD, HOT), _score(chance), dent])
    count = len(stack.interfaces)
    most, least = np.zeros_like(values, bool), np.zeros_like(values, bool)
    melt = slice(count, 2 * count)
    most[:, melt], least[:, melt] = warmth <= COLD, warmth >= HOT
    spoil = 2 * count
    most[:, spoil], least[:, spoil] = values[:, spoil] <= -SCORE, values[:, spoil] >= SCORE
    values[:, spoil] = np.clip(values[:, spoil], -SCORE, SCORE)
    return fitted(
        INPUTS, LOW, HIGH, count, Runs(x, values, most, least), others=("dent",),
        size_doubt=_doubt(each, warmth, root, count),
        melt_spread=lambda error: np.hypot(error, WARMTH_PER_CURRENT * ONSET_DOUBT),
    )  # fmt: skip


def _views(stack: StackUp, set_up: SpotSetUp, time: float, x: Array) -> Array:
    pulses = tuple(p for p in set_up.pulses if p.time == time)[:1]
    pulse = pulses[0]
    longer = math.exp(x[1])
    moved = dataclasses.replace(
        pulse,
        current=pulse.current * math.exp(x[0]),
        time=pulse.time * longer,
        up_slope=pulse.up_slope * longer,
        down_slope=pulse.down_slope * longer,
        cool_time=0.0,
    )
    welded = dataclasses.replace(
        set_up,
        pulses=(moved,),
        electrode_force=set_up.electrode_force * math.exp(x[2]),
        cap_a=grown(set_up.cap_a, x[3]),
        cap_b=grown(set_up.cap_b, x[3]),
    )
    return views_of(dataclasses.replace(stack, gap=float(x[4])), welded).numbers


def _score(chance: Array) -> Array:
    from scipy.special import ndtri  # slow to load

    found: Array = ndtri(chance)
    return found


def _doubt(each: Array, warmth: Array, root: Array, interfaces: int) -> float:
    """What the emulator may be off [m], by its own account, where a nugget is there for sure."""
    sure = np.flatnonzero((warmth > HOT / 2.0).all(axis=1))
    if not len(sure):
        raise BadInput("set_up", "hardly any weld round it melts; choose one that welds")
    widths = []
    for i in sure[:: max(1, len(sure) // 40)]:
        low, high = guessed(each[:, i], root, about())
        widths.append((high - low) / (2.0 * Z90))
    return float(np.median(np.array(widths)[:, :interfaces]))
