"""Which set-up the next coupon should be welded with, and when no coupon helps.

A coupon is worth what it is expected to cut off the chance of a bad weld at the best setting known
afterwards. Where even a machine that was known exactly would have no setting that is good enough,
more coupons are a waste: then the window is to be widened, and that is said.

The sizes of the trial are numerical, no source.
"""

import dataclasses
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.model import LearnedJoint, Setting
from buttonhole.learning.posterior import (
    GOOD_SHARE,
    Outlook,
    Posterior,
    good_shares,
    outlook,
    splash_chance,
)
from buttonhole.learning.sampling import Draws
from buttonhole.units import BadInput

Array = NDArray[np.float64]

PARTICLES, OUTCOMES = 400, 24
WANTED = 0.95  # -, chance of a good weld at a setting that may be released
ALIKE = 0.01  # -, chances that differ by less are alike
HOPE = 0.20  # -, least chance that the machine has such a setting at all
SPLASHES = 0.10  # -, chance of splash over which a coupon is not proposed; our own

# Steps of what is set, in the logarithm; the first three inputs of a surrogate are what is set.
STEPS = {
    "spot": (
        (-0.15, -0.10, -0.05, 0.0, 0.05, 0.10, 0.15, 0.20),
        (-0.15, 0.0, 0.20),
        (-0.1, 0.0, 0.1),
    ),
    "plug": ((-0.15, -0.10, -0.05, 0.0, 0.05, 0.10, 0.15, 0.20), (0.0,), (-0.2, 0.0, 0.2)),
}
STEPS |= dict.fromkeys(("seam", "braze", "aluminium"), STEPS["plug"])
# What is set, as the first inputs of a surrogate
SET = {
    "spot": ("current", "time", "force"),
    "plug": ("wire feed", "voltage", "arc time"),
    "seam": ("wire feed", "voltage", "travel speed"),
}
SET |= dict.fromkeys(("braze", "aluminium"), SET["seam"])
WIDEN = {
    "spot": "Change force, time, caps or method (two pulses, another cap, plug or rivet).",
    "plug": "Change hole, wire, backing, gap or method.",
    "seam": "Change gap, backing, wire, stitches or method.",
    "braze": "Change gap, slot, filler, stitches or method.",
    "aluminium": "Change gap, backing, wire, preheat within the maker's limit, or method.",
}


@dataclass(frozen=True, slots=True)
class Candidate:
    """A setting that may be tried: ``point`` [SI] and ``current`` [A] as for a coupon."""

    point: tuple[float, ...]  # SI
    current: float  # A


@dataclass(frozen=True, slots=True)
class NextCoupon:
    """What to weld next. ``cut`` [-]: by how much its coupon is expected to lower the chance of a
    bad weld; ``best_now`` [-]: chance of a good weld at the best setting as it is known; ``hope``
    [-]: chance that the machine has a setting that is good enough; ``splash`` [-]: that the coupon
    splashes.
    """

    candidate: Candidate
    cut: float  # -
    best: Candidate
    best_now: float  # -
    best_outlook: Outlook
    hope: float  # -
    robust: bool
    words: str
    splash: float = 0.0  # -


def candidates(
    kind: str,
    joint: LearnedJoint,
    about: Sequence[float],
    limits: tuple[float, float] | None = None,
) -> tuple[Candidate, ...]:
    """Settings round one.

    Parameters
    ----------
    kind : str
        ``spot``, ``plug``, ``seam``, ``braze`` or ``aluminium``.
    joint : LearnedJoint
        Whose surrogate is asked; settings outside it are left out.
    about : sequence of float
        The setting now, as inputs of the surrogate [SI].
    limits : tuple of float, optional
        Of the current the machine can be set to [A].

    Returns
    -------
    tuple of Candidate
        The one now first.

    Raises
    ------
    BadInput
        Nothing can be set.
    """
    found = []
    for steps in itertools.product(*STEPS[kind]):
        point = [float(one) for one in about]
        for i, step in enumerate(steps):
            point[i] += step
        current = joint.current * math.exp(point[0])
        if limits and joint.current and not limits[0] <= current <= limits[1]:
            continue
        if joint.surrogate.inside(np.array(point)):
            found.append((sum(abs(s) for s in steps), Candidate(tuple(point), current)))
    if not found:
        raise BadInput("candidates", "nothing the machine can be set to lies near this set-up")
    return tuple(one for _, one in sorted(found, key=lambda pair: pair[0]))


def thinned(posterior: Posterior, count: int = PARTICLES) -> Posterior:
    """The same belief in fewer draws, all of one weight.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    count : int
        How many.

    Returns
    -------
    Posterior
        The draws are picked evenly, not by lot.
    """
    total = np.cumsum(posterior.draws.weight)
    at = np.searchsorted(total, (np.arange(count) + 0.5) / count * total[-1])
    at = np.minimum(at, len(total) - 1)
    weight = np.full(count, 1.0 / count)
    draws = Draws(posterior.draws.z[at], weight, posterior.draws.engine, posterior.draws.stages)
    return dataclasses.replace(posterior, draws=draws, splash=posterior.splash[at])


def choose(posterior: Posterior, joint: str, tried: Sequence[Candidate]) -> NextCoupon:
    """Choose the setting of the next coupon.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    joint : str
        Key of the joint.
    tried : sequence of Candidate
        What could be set.

    Returns
    -------
    NextCoupon
        With words; ``robust`` is False where no setting can be hoped to do. A setting that is
        likely to splash is not proposed unless all are; then the calmest is, with a word.

    Raises
    ------
    BadInput
        No candidate.
    """
    if not tried:
        raise BadInput("candidates", "are missing; give at least one setting")
    few = thinned(posterior)
    model, basis = few.model, few.model.basis(few.draws.z)
    settings = [model.setting(joint, one.point, one.current) for one in tried]
    good = np.array([good_shares(few, one, basis) for one in settings])
    now = good.mean(axis=1)
    best = _first_alike(now)
    hope = float((good.max(axis=0) >= GOOD_SHARE).mean())
    splash = np.array([splash_chance(few, one, basis) for one in settings])
    kept = np.flatnonzero(splash <= max(SPLASHES, float(splash.min())))
    # settings that no guess calls good teach little of the good ones
    asked = kept[np.argsort(-now[kept])][: max(8, len(tried) // 3)]
    worth = np.array([_worth(few, settings[i], good, basis) for i in asked]) - now[best]
    asked_worth = np.full(len(tried), -1.0)
    asked_worth[asked] = worth
    pick = _first_alike(asked_worth)
    robust = now[best] >= WANTED or hope >= HOPE
    seen = outlook(posterior, settings[best])
    kind = model.beliefs.kind
    words = _words(kind, tried, pick, best, float(now[best]), float(worth.max()), hope, robust)
    words += _splash_words(float(splash[pick]), robust)
    return NextCoupon(
        tried[pick], max(float(worth.max()), 0.0), tried[best], float(now[best]), seen, hope,
        robust, words, float(splash[pick]),
    )  # fmt: skip


def _splash_words(chance: float, robust: bool) -> str:
    if not robust or chance <= SPLASHES:
        return ""
    return (
        f" Every setting near this one is likely to splash ({100.0 * chance:.0f} % at the "
        "calmest): close the gap and check force and tips before you weld it."
    )


def _first_alike(values: Array) -> int:
    """The first, which is the smallest change, of those that are alike the best."""
    return int(np.flatnonzero(values >= values.max() - ALIKE)[0])


def _worth(few: Posterior, setting: Setting, good: Array, basis: Array) -> float:
    """Chance of a good weld at the best setting after a coupon of this one, on average.

    What the coupon shows is looked at through the narrowest interface; a splash teaches little of
    the sizes and is left out, as it is when the machine is learned.
    """
    from scipy.special import ndtri  # slow to load

    model = few.model
    found = model.figures(few.draws.z, setting, basis)
    margin = found.size.mean(axis=0) - np.array(setting.joint.least)
    face = int(np.argmin(margin))
    wide = np.hypot(setting.joint.scale(face) * model.scatter(few.draws.z), 0.1e-3)
    size, melts = found.size[:, face], found.melts[:, face]
    # outcomes: evenly spaced draws of guess and scatter together
    share = (np.arange(OUTCOMES) + 0.5) / OUTCOMES
    at = (np.arange(OUTCOMES) * len(size)) // OUTCOMES
    step = ndtri((share * 7.0) % 1.0)
    order = np.argsort(size)
    shown = size[order][at] + wide[order][at] * step
    fit = -0.5 * ((shown[:, None] - size) / wide) ** 2 - np.log(wide) + np.log(melts + 1e-9)
    weight = np.exp(fit - fit.max(axis=1, keepdims=True))
    weight /= weight.sum(axis=1, keepdims=True)
    return float((weight @ good.T).max(axis=1).mean())


def _words(
    kind: str,
    tried: Sequence[Candidate],
    pick: int,
    best: int,
    now: float,
    worth: float,
    hope: float,
    robust: bool,
) -> str:
    if not robust:
        return (
            f"No robust window: at the best setting {100.0 * now:.0f} in 100 welds are expected to "
            f"be good, and that this machine has a setting with nine of ten good ones is only "
            f"{100.0 * hope:.0f} % likely. More coupons do not help. {WIDEN[kind]}"
        )
    where = "the setting that is best now" if pick == best else "another setting"
    text = f"Weld the next coupon with {where}: {_said(kind, tried[pick])}"
    if now >= WANTED:
        return f"{text}. {100.0 * now:.0f} in 100 welds are expected to be good at the best one."
    cut = 100.0 * max(worth, 0.0)
    return f"{text}. It is expected to lower the chance of a bad weld by {cut:.1f} points."


def _said(kind: str, one: Candidate) -> str:
    moved = [
        f"{name} {100.0 * (math.exp(step) - 1.0):+.0f} %"
        for name, step in zip(SET[kind], one.point, strict=False)
        if abs(step) > 0.005
    ]
    return ", ".join(moved) or "as set"
