"""A release where no model of the weld can be learned with: criterion, counting, more coupons.

Without a model nothing says what the next weld will be. So more is asked of the coupons: none
rejected, as many accepted as in a new shop, and where diameters are measured these alone must
carry it (nine of ten over the limit, 90 % sure); where none is and the joint is of the strict
class, as many accepted as are ever torn. The numbers are those of the usual rule, our own defaults.

Sources: common-practice.
"""

import math
from collections.abc import Sequence

from buttonhole.coupon.verdict import Outcome
from buttonhole.learning.case import JudgedCoupon
from buttonhole.learning.decision import (
    PREVAILS,
    ReleaseDecision,
    ReleaseRule,
    Step,
    by_tolerance,
    counted_alone,
)

ENGINE = "counting"


def decide_plainly(
    least: Sequence[float],
    series: Sequence[JudgedCoupon],
    why: str,
    *,
    welds: int | None = 1,
    strict: bool = False,
    rule: ReleaseRule | None = None,
) -> ReleaseDecision:
    """Decide on a set-up by criterion and counting.

    Parameters
    ----------
    least : sequence of float
        Smallest diameter that is good, by interface [m]; empty where none is measured.
    series : sequence of JudgedCoupon
        Every coupon of this set-up in the order welded, none left out.
    why : str
        Why no model has a say, as a sentence.
    welds : int, optional
        How many are asked for.
    strict : bool
        Of the strict class: where nothing is measured, as many coupons as are ever torn.
    rule : ReleaseRule, optional
        For its numbers of coupons.

    Returns
    -------
    ReleaseDecision
        Without a chance; its ``engine`` is ``counting``.
    """
    rule = rule or ReleaseRule()
    alike = [each for each in series if each.like_the_joint]
    counted = [each for each in alike if each.outcome is not Outcome.INVALID]
    step, reasons = _step(least, counted, rule, strict=strict)
    counting = counted_alone(counted)
    how_many = f" for {welds} welds" if welds else ""
    said = {
        Step.RELEASE: f"Released{how_many} by criterion and counting.",
        Step.ANOTHER: "Not released yet: weld and tear another coupon.",
        Step.MOVE: "Not released: move the set-up.",
        Step.REFUSE: "Not released.",
    }[step]
    told = (why, counting.text if counting else "No coupon like the joint is torn yet.", said)
    words = " ".join(told)
    nan = math.nan
    return ReleaseDecision(
        step, counting, None, nan, nan, nan, False, None, nan, tuple(reasons), words, (PREVAILS,),
        ENGINE, 0,
    )  # fmt: skip


def _step(
    least: Sequence[float], counted: Sequence[JudgedCoupon], rule: ReleaseRule, *, strict: bool
) -> tuple[Step, list[str]]:
    if any(each.coupon.splashed for each in counted):
        return Step.REFUSE, ["A coupon splashed or was spoiled: find out why first."]
    if any(each.outcome is Outcome.REJECT for each in counted):
        return Step.REFUSE, ["A coupon is not accepted by the criterion; no count outweighs it."]
    accepted = [each for each in counted if each.outcome.accepted]
    needed = rule.stop_at if strict and not least else rule.new_shop
    enough, why = len(accepted) >= needed, []
    if not enough:
        why = [f"{len(accepted)} of at least {needed} coupons like the joint are accepted."]
    elif least:
        enough, why = by_tolerance(least, accepted)
    if counted and counted[-1].outcome is Outcome.UNDECIDED:
        enough = False
        why.append("The last coupon lies within the guard band: its reading is not sure enough.")
    if enough:
        return Step.RELEASE, why
    if len(counted) >= rule.stop_at:
        said = f"{len(counted)} coupons are torn: move the set-up instead of trying on."
        return Step.MOVE, [*why, said]
    return Step.ANOTHER, why
