"""Simulated shops: machines that are drawn by lot, welding joints through the solver's surrogates.

What a machine is, how far the model is off on each joint and how its welds scatter is drawn from
wide bells; the coupons follow. The truth is known then, so that a rule can be scored.
"""

import dataclasses
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.coupon.uncertainty import ONE_SIDED
from buttonhole.coupon.verdict import Outcome
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.learning.beliefs import PLUG, SPOT, Beliefs
from buttonhole.learning.case import JudgedCoupon
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.outcomes import drawn_coupon
from buttonhole.learning.plug_surrogate import plug_surrogate
from buttonhole.learning.posterior import good_shares, learn
from buttonhole.learning.spot_surrogate import spot_surrogate
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.plug import PlugJoint
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

Array = NDArray[np.float64]

BARE, GI, ALSI = Coating.BARE, Coating.GI, Coating.ALSI
TRUE_SCATTER = {"spot": 0.22 / 0.28, "plug": 0.31 / 0.38}  # of the belief's median
TRUE_WIDTH = 0.35  # -, of the logarithm
SPREAD = 0.10  # of the shops' settings about the proposed one, in the logarithm

_SPOT = (
    (("DC04", 1.0, BARE), ("DC04", 1.0, BARE), 7.5e3, 0.20, 2.5e3),
    (("DC04", 0.7, GI), ("DC04", 0.7, GI), 9.0e3, 0.20, 2.2e3),
    (("HCT600X", 1.2, GI), ("HCT600X", 1.2, GI), 9.5e3, 0.30, 3.5e3),
    (("DC04", 0.8, GI), ("HCT600X", 1.5, GI), 9.5e3, 0.30, 3.2e3),
    (("DC04", 1.5, BARE), ("DC04", 1.5, BARE), 9.0e3, 0.30, 3.5e3),
    (("22MnB5", 1.5, ALSI), ("DC04", 0.8, GI), 7.5e3, 0.36, 4.0e3),
)
_PLUG = (
    (("DC04", 0.8), ("DC04", 1.5), 8.0, 7.0, 18.0, 1.5),
    (("DC04", 1.0), ("DC04", 1.0), 8.0, 6.0, 17.5, 1.0),
    (("HCT600X", 1.2), ("DC04", 1.5), 8.0, 7.5, 18.5, 1.6),
)


@cache
def spot_joints() -> tuple[LearnedJoint, ...]:
    """Two-sheet joints; the last one is of the strict class."""
    cap, found = ElectrodeCap(face_diameter=6e-3, radius=50e-3), []
    for one, other, current, time, force in _SPOT:
        sheets = tuple(Sheet(find_steel(n), t * 1e-3, c) for n, t, c in (one, other))
        set_up = SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, cap, cap, 0.3, 0.2)
        fitted = spot_surrogate(StackUp(sheets), set_up)
        thinner = min(one[1], other[1])
        found.append(
            LearnedJoint(
                f"{one[0]} {one[1]} / {other[0]} {other[1]}",
                fitted,
                (4.5e-3 * math.sqrt(thinner),),
                (thinner * 1e-3,),
                "bare" if one[2] is BARE else "coated",
                current,
                strict="22MnB5" in (one[0], other[0]),
            )
        )
    return tuple(found)


@cache
def plug_joints() -> tuple[LearnedJoint, ...]:
    """Plug welds through a hole of 8 mm, of which 5/8 shall be torn."""
    found = []
    for one, other, hole, feed, voltage, time in _PLUG:
        sheets = tuple(Sheet(find_steel(n), t * 1e-3) for n, t in (one, other))
        joint = PlugJoint(StackUp(sheets), (hole * 1e-3,))
        set_up = ArcSetUp(
            find_wire("G 3Si1"), 0.8e-3, find_gas("M21"), feed / 60.0, voltage, 12e-3, arc_time=time
        )
        found.append(
            LearnedJoint(
                f"{one[0]} {one[1]} / {other[0]} {other[1]}",
                plug_surrogate(joint, set_up),
                (5.0e-3 * hole / 8.0,),
                (min(one[1], other[1]) * 1e-3,),
            )
        )
    return tuple(found)


def model_of(kind: str) -> Model:
    """Model of a machine of one kind with all joints."""
    return Model(SPOT, spot_joints()) if kind == "spot" else Model(PLUG, plug_joints())


@cache
def proposed(kind: str, key: str) -> tuple[float, ...]:
    """The point of the best chance before any coupon, along current or wire feed."""
    model = model_of(kind)
    joint = model.joints[key]
    before = learn(model, [], seed=1, engine="quick")
    best, at = -1.0, 0.0
    for step in np.linspace(-0.25, 0.3, 23):
        point = (float(step), *(0.0,) * (len(joint.surrogate.inputs) - 1))
        setting = model.setting(key, point, joint.current * math.exp(step))
        chance = float(before.draws.weight @ good_shares(before, setting))
        if chance > best:
            best, at = chance, float(step)
    return (at, *(0.0,) * (len(joint.surrogate.inputs) - 1))


@dataclass(frozen=True, slots=True)
class Shop:
    """A machine with one joint to weld and the truth about it."""

    model: Model  # of the joint to be released and those of its history
    joint: str
    point: tuple[float, ...]
    current: float
    guess: Array  # what the machine is
    splash: float
    factor: float  # true scatter over the guess's
    good: float  # true share of good welds


def drawn_shop(
    kind: str, chance: np.random.Generator, factor: float = 1.0, joints: int = 1
) -> Shop:
    """Draw a machine, a joint and a setting near the proposed one."""
    every = model_of(kind)
    picked = chance.permutation(len(every.joints))[:joints]
    keys = [list(every.joints)[i] for i in picked]
    model = Model(every.beliefs, [every.joints[key] for key in keys])
    guess = chance.standard_normal(model.size)
    beliefs = model.beliefs
    true = math.log(TRUE_SCATTER[kind]) + TRUE_WIDTH * guess[-1]
    guess[-1] = true / beliefs.scatter_width
    splash = float(beliefs.splash_doubt * chance.standard_normal())
    point = set_near(kind, keys[0], chance)
    current = model.joints[keys[0]].current * math.exp(point[0])
    good = true_share(model, guess, keys[0], point, current, splash, factor)
    return Shop(model, keys[0], point, current, guess, splash, factor, good)


def set_near(kind: str, key: str, chance: np.random.Generator) -> tuple[float, ...]:
    """A setting as a shop would have it."""
    at = list(proposed(kind, key))
    for i in range(2 if kind == "spot" else 3):
        at[i] += SPREAD * (1.0 if i == 0 else 0.5) * float(chance.standard_normal())
    return tuple(at)


def true_share(
    model: Model,
    guess: Array,
    joint: str,
    point: Sequence[float],
    current: float,
    splash: float,
    factor: float,
) -> float:
    """True share of good welds."""
    from scipy.special import ndtr

    setting = model.setting(joint, point, current)
    found = model.figures(guess[None, :], setting)
    error = setting.joint.surrogate.error[: setting.joint.surrogate.interfaces]
    scatter = float(model.scatter(guess[None, :])[0]) * factor
    wide = np.hypot(setting.joint.each_scale * scatter, error)
    large = found.melts[0] * ndtr((found.size[0] - np.array(setting.joint.least)) / wide)
    return float(large.prod() * ndtr(-(found.spoil[0] + splash)))


def torn(
    shop: Shop,
    chance: np.random.Generator,
    key: str,
    joint: str = "",
    point: Sequence[float] = (),
    off: Mapping[str, float] | None = None,
) -> LearningCoupon:
    """Weld and tear a coupon; ``off`` as in ``drawn_coupon``."""
    joint = joint or shop.joint
    at = tuple(point or shop.point)
    current = shop.model.joints[joint].current * math.exp(at[0])
    setting = shop.model.setting(joint, at, current)
    evidence = drawn_coupon(
        shop.model,
        shop.guess,
        setting,
        chance,
        scatter_factor=shop.factor,
        splash=shop.splash,
        off=off,
    )
    return LearningCoupon(key, joint, at, evidence, current)


def judged_by_size(coupon: LearningCoupon, least: Sequence[float]) -> JudgedCoupon:
    """The verdict on a coupon by its size, its guard band and whether it splashed."""
    worst = Outcome.REJECT if coupon.splashed else Outcome.ACCEPT
    for one in coupon.evidence:
        if one.kind in (Kind.EXPULSION, Kind.BACK_MARK, Kind.SHOWN):
            continue
        worst = _worse(worst, _by_size(one, least[one.interface]))
    return JudgedCoupon(coupon, worst)


def _by_size(one: Evidence, least: float) -> Outcome:
    if one.kind is not Kind.MEASURED or one.value < least:
        return Outcome.REJECT  # nothing to measure, or too small
    guarded = least + ONE_SIDED.factor * one.uncertainty
    return Outcome.ACCEPT if one.value >= guarded else Outcome.UNDECIDED


def _worse(one: Outcome, other: Outcome) -> Outcome:
    order = (Outcome.REJECT, Outcome.UNDECIDED, Outcome.ACCEPT)
    return min((one, other), key=order.index)


def doubled(beliefs: Beliefs, factor: float) -> Beliefs:
    """The same beliefs with sizes that may be further off."""
    return dataclasses.replace(beliefs, common=beliefs.common * factor, own=beliefs.own * factor)
