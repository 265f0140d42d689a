"""What one more coupon would make of what is believed, without new draws.

The draws are weighted anew. Where hardly any of them is left that is not to be believed; ``learn``
is asked again then.

The methods are numerical, no source.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.model import CHISEL_WORTH, CouponLikelihood, Figures, Setting
from buttonhole.learning.posterior import Posterior

Array = NDArray[np.float64]

BOUNDED = (Kind.MEASURED, Kind.NO_BUTTON, Kind.AT_LEAST, Kind.CHISEL_PASSED)


def with_evidence(
    posterior: Posterior, coupon: LearningCoupon, weight: Array | None = None
) -> Array:
    """Weights of the draws as if one more coupon had been torn.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    coupon : LearningCoupon
        What it would show.
    weight : Array, optional
        Of the draws before (n,) [-]; else their own.

    Returns
    -------
    Array
        (n,) [-], summing to one.
    """
    before = posterior.draws.weight if weight is None else weight
    fit = CouponLikelihood(posterior.model, (coupon,))(posterior.draws.z)
    found: Array = before * np.exp(fit - fit[before > 0.0].max())
    total = found.sum()
    return found / total if total > 0.0 else before


def surprises_in_order(before: Posterior, coupons: Sequence[LearningCoupon]) -> list[float]:
    """How likely each coupon is so far from what was expected of it after those before it.

    Parameters
    ----------
    before : Posterior
        What was believed before the first of them.
    coupons : sequence of LearningCoupon
        In the order welded.

    Returns
    -------
    list of float
        As ``surprise_of``, one for each coupon [-].
    """
    weight, found = before.draws.weight, []
    for one in coupons:
        found.append(surprise_of(before, one, weight))
        weight = with_evidence(before, one, weight)
    return found


def surprise_of(posterior: Posterior, coupon: LearningCoupon, weight: Array | None = None) -> float:
    """Chance of a coupon so far from what was expected, or further, to either side.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    coupon : LearningCoupon
        What it showed; not among what was learned from.
    weight : Array, optional
        Of the draws (n,) [-]; else their own.

    Returns
    -------
    float
        Chance [-]. A bound is as odd as the nearest of what it allows. Of several pieces of
        evidence it is that of the oddest, times how many there are (at most 1): two readings of
        one coupon are not two coupons. 1 where nothing is there to be compared.
    """
    share = posterior.draws.weight if weight is None else weight
    tails = [min(rank, 1.0 - rank) for rank in rank_of(posterior, coupon, share)]
    tails += [_back_tail(posterior, coupon, one, share) for one in coupon.evidence
              if one.kind is Kind.BACK_MARK]  # fmt: skip
    return min(1.0, 2.0 * len(tails) * min(tails)) if tails else 1.0


def _back_tail(posterior: Posterior, coupon: LearningCoupon, one: Evidence, weight: Array) -> float:
    """Chance that the back comes out as hot as its mark says, or further off [-]."""
    from scipy.special import ndtr

    model = posterior.model
    setting = model.setting(coupon.joint, coupon.point, coupon.current)
    found = model.figures(posterior.draws.z, setting)
    own = setting.joint.surrogate
    back = found.others[:, own.others.index("back")]
    width = max(math.hypot(one.uncertainty, float(own.error[own.place("back")])), 1.0)
    colder = float(weight @ ndtr((one.upper - back) / width))
    hotter = float(weight @ ndtr((back - one.value) / width))
    return min(colder, hotter)


def rank_of(
    posterior: Posterior, coupon: LearningCoupon, weight: Array | None = None
) -> tuple[float, ...]:
    """Where what a coupon showed lies among what was expected of it.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    coupon : LearningCoupon
        What it showed.
    weight : Array, optional
        Of the draws (n,) [-]; else their own. The coupon must not be among what they learned from.

    Returns
    -------
    tuple of float
        For each measured button the chance [-] that it would have come out smaller or as small.
        What only bounds a size speaks on its own side: a missing button never lies over the
        middle, a reached diameter or a chisel that did not open the weld never below. Of others
        nothing.
    """
    share_of = posterior.draws.weight if weight is None else weight
    setting = posterior.model.setting(coupon.joint, coupon.point, coupon.current)
    found = posterior.model.figures(posterior.draws.z, setting)
    ranks = []
    for one in coupon.evidence:
        share = _below(posterior, found, setting, one)
        if share is not None:
            ranks.append(_on_its_side(float(np.clip(share_of @ share, 0.0, 1.0)), one.kind))
    return tuple(ranks)


def _on_its_side(rank: float, kind: Kind) -> float:
    """The rank of a bound: as far out as what it rules out was sure, else in the middle [-].

    A chisel says less than a torn coupon, as when the machine is learned.
    """
    if kind is Kind.NO_BUTTON:
        return min(rank, 0.5)
    if kind is Kind.AT_LEAST:
        return max(rank, 0.5)
    if kind is Kind.CHISEL_PASSED:
        return max(1.0 - math.pow(1.0 - rank, CHISEL_WORTH), 0.5)
    return rank


def _below(posterior: Posterior, found: Figures, setting: Setting, one: Evidence) -> Array | None:
    from scipy.special import ndtr  # slow to load

    if one.kind not in BOUNDED:
        return None
    face = one.interface
    model = posterior.model
    error = float(setting.joint.surrogate.error[face])
    scale = setting.joint.scale(face)
    least = scale * model.beliefs.least_button
    at = least if one.kind is Kind.NO_BUTTON else one.value
    wide = np.sqrt((scale * model.scatter(posterior.draws.z)) ** 2 + error**2 + one.uncertainty**2)
    melts, size = found.melts[:, face], found.size[:, face]
    share: Array = 1.0 - melts * (1.0 - ndtr((at - size) / wide))
    return share
