"""How far each coupon of a machine lay from what was expected of it, in the order welded.

Each is compared with what all before it had taught. The draws are weighted anew from coupon to
coupon; where hardly any of them is left, the machine is learned again from all before.

The methods are numerical, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from buttonhole.learning.evidence import LearningCoupon
from buttonhole.learning.foresight import rank_of, with_evidence
from buttonhole.learning.model import Model
from buttonhole.learning.posterior import learn

LEFT = 300.0  # -, effective draws under which the machine is learned again
MOST = 60  # of the latest coupons are compared one by one; numerical
OUT = 0.90  # -, band of what was expected; a coupon in it agrees
TINY = 1e-4  # -


@dataclass(frozen=True, slots=True)
class Residual:
    """A coupon beside what was expected of it: ``score`` in standard deviations [-], the smallest
    of its interfaces; ``agrees``: each lay within what was expected of nine in ten.
    """

    coupon: LearningCoupon
    score: float  # -
    agrees: bool


def residuals(
    model: Model, coupons: Sequence[LearningCoupon], *, seed: int, engine: str = "quick"
) -> tuple[Residual, ...]:
    """Compare each coupon with what those before it had taught.

    Parameters
    ----------
    model : Model
        Of the machine.
    coupons : sequence of LearningCoupon
        In the order welded.
    seed : int
        As in ``learn``.
    engine : str
        As in ``learn``.

    Returns
    -------
    tuple of Residual
        Of the latest that showed a size or that there is none; splashed ones are left out.
    """
    found = []
    first = max(0, len(coupons) - MOST)
    belief = learn(model, coupons[:first], seed=seed, engine=engine)
    weight = belief.draws.weight
    for number, one in enumerate(coupons[first:], start=first):
        if one.splashed or not one.evidence:
            continue
        if 1.0 / float((weight**2).sum()) < LEFT:
            belief = learn(model, coupons[:number], seed=seed, engine=engine)
            weight = belief.draws.weight
        ranks = rank_of(belief, one, weight)
        if ranks:
            least = min(max(min(ranks), TINY), 1.0 - TINY)
            aside = max(2.0 * abs(rank - 0.5) for rank in ranks)
            found.append(Residual(one, NormalDist().inv_cdf(least), aside <= OUT))
        weight = with_evidence(belief, one, weight)
    return tuple(found)
