"""A set-up that is to be released and the coupons that are torn for it."""

from collections.abc import Sequence
from dataclasses import dataclass

from buttonhole.coupon.difference import Difference, Level
from buttonhole.coupon.verdict import Outcome, Verdict
from buttonhole.learning.evidence import LearningCoupon
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class JudgedCoupon:
    """A coupon of the series with its verdict and how it differs from the joint.

    ``outcome``: the worst of its interfaces.
    """

    coupon: LearningCoupon
    outcome: Outcome
    differences: tuple[Difference, ...] = ()

    @property
    def like_the_joint(self) -> bool:
        """Nothing that matters is different."""
        return not any(each.level is Level.RED for each in self.differences)


_WORST = (
    Outcome.REJECT,
    Outcome.INVALID,
    Outcome.UNDECIDED,
    Outcome.ACCEPT_NOTE,
    Outcome.ACCEPT,
)


def judged(
    coupon: LearningCoupon, verdicts: Sequence[Verdict], differences: Sequence[Difference] = ()
) -> JudgedCoupon:
    """Put a coupon and the verdicts on its interfaces together.

    Parameters
    ----------
    coupon : LearningCoupon
        As it teaches the machine.
    verdicts : sequence of Verdict
        One for each interface.
    differences : sequence of Difference
        Between it and the joint.

    Returns
    -------
    JudgedCoupon
        A splashed one is not accepted, whatever its diameter.

    Raises
    ------
    BadInput
        No verdict.
    """
    if not verdicts:
        raise BadInput("verdicts", "are missing; judge the coupon first")
    outcomes = [each.outcome for each in verdicts]
    worst = min(outcomes, key=_WORST.index)
    return JudgedCoupon(coupon, Outcome.REJECT if coupon.splashed else worst, tuple(differences))


@dataclass(frozen=True, slots=True)
class Case:
    """What is asked: a setting of a joint on a machine, and how many welds of it."""

    model: Model
    joint: str
    point: tuple[float, ...]  # SI
    current: float = 0.0  # A
    welds: int = 1
    recheck: bool = False  # a quiet chart and enough earlier coupons that agree

    @property
    def of(self) -> LearnedJoint:
        """The joint itself."""
        return self.model.joints[self.joint]
