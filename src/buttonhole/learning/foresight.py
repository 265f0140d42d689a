"""What one more coupon, or one coupon less, would make of what is believed, without new draws.

The draws are weighted anew. Where hardly any of them is left that is not to be believed; ``learn``
is asked again then.

The methods are numerical, no source.
"""

import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.model import CouponLikelihood, Figures, Setting
from buttonhole.learning.posterior import Posterior

Array = NDArray[np.float64]

LEAST_SHARE = 1e-12  # -


def without(posterior: Posterior, coupons: tuple[LearningCoupon, ...]) -> Array:
    """Weights of the draws as if some coupons had not been torn.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    coupons : tuple of LearningCoupon
        Which it learned from.

    Returns
    -------
    Array
        (n,) [-], summing to one; the heaviest are cut so that no single draw decides.
    """
    fit = CouponLikelihood(posterior.model, coupons)(posterior.draws.z)
    log = np.log(np.maximum(posterior.draws.weight, LEAST_SHARE)) - fit
    weight = np.exp(log - log.max())
    most = weight.sum() / math.sqrt(len(weight))
    weight = np.minimum(weight, most)
    found: Array = weight / weight.sum()
    return found


def with_evidence(posterior: Posterior, coupon: LearningCoupon) -> Array:
    """Weights of the draws as if one more coupon had been torn.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    coupon : LearningCoupon
        What it would show.

    Returns
    -------
    Array
        (n,) [-], summing to one.
    """
    fit = CouponLikelihood(posterior.model, (coupon,))(posterior.draws.z)
    log = np.log(np.maximum(posterior.draws.weight, LEAST_SHARE)) + fit
    weight = np.exp(log - log.max())
    found: Array = weight / weight.sum()
    return found


def rank_of(posterior: Posterior, coupon: LearningCoupon, weight: Array) -> tuple[float, ...]:
    """Where what a coupon showed lies among what was expected of it.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    coupon : LearningCoupon
        What it showed.
    weight : Array
        Of the draws (n,), the coupon left out [-].

    Returns
    -------
    tuple of float
        For each measured or missing button the chance [-] that it would have come out smaller or as
        small; of others nothing.
    """
    setting = posterior.model.setting(coupon.joint, coupon.point, coupon.current)
    found = posterior.model.figures(posterior.draws.z, setting)
    ranks = []
    for one in coupon.evidence:
        share = _below(posterior, found, setting, one)
        if share is not None:
            ranks.append(float(np.clip(weight @ share, 0.0, 1.0)))
    return tuple(ranks)


def _below(posterior: Posterior, found: Figures, setting: Setting, one: Evidence) -> Array | None:
    from scipy.special import ndtr  # slow to load

    if one.kind not in (Kind.MEASURED, Kind.NO_BUTTON):
        return None
    face = one.interface
    model = posterior.model
    error = float(setting.joint.surrogate.error[face])
    least = model.beliefs.least_button
    at = one.value if one.kind is Kind.MEASURED else least
    wide = np.sqrt(model.scatter(posterior.draws.z) ** 2 + error**2 + one.uncertainty**2)
    melts, size = found.melts[:, face], found.size[:, face]
    share: Array = 1.0 - melts * (1.0 - ndtr((at - size) / wide))
    return share
