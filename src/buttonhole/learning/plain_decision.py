"""A release where no model of the weld can be learned with: criterion, counting, more coupons.

Without a model nothing says what the next weld will be. So more is asked of the coupons: none
rejected, and either their diameters alone carry it (nine of ten over the limit, 90 % sure), or,
where nothing is measured, as many are accepted as are ever torn. The numbers are those of the
usual rule, our own defaults.

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
    welds: int = 1,
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
    welds : int
        How many are asked for.
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
    step, reasons = _step(least, counted, rule)
    counting = counted_alone(counted)
    said = {
        Step.RELEASE: f"Released for {welds} welds by the strict default of counting.",
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
    least: Sequence[float], counted: Sequence[JudgedCoupon], rule: ReleaseRule
) -> tuple[Step, list[str]]:
    if any(each.coupon.splashed for each in counted):
        return Step.REFUSE, ["A coupon splashed or was spoiled: find out why first."]
    if any(each.outcome is Outcome.REJECT for each in counted):
        return Step.REFUSE, ["A coupon is not accepted by the criterion; no count outweighs it."]
    accepted = [each for each in counted if each.outcome.accepted]
    enough, why = False, [f"{len(accepted)} of at least {rule.new_shop} coupons are accepted."]
    if len(accepted) >= rule.new_shop:
        enough, why = by_tolerance(least, accepted) if least else (False, [])
        if not enough and len(accepted) >= rule.stop_at:
            enough = not least
        if not least and not enough:
            why = [
                f"Nothing is measured on them: {len(accepted)} of {rule.stop_at} coupons are "
                "accepted."
            ]
    undecided = bool(counted) and counted[-1].outcome is Outcome.UNDECIDED
    if undecided:
        why.append("The last coupon lies within the guard band: its reading is not sure enough.")
    if enough and not undecided:
        return Step.RELEASE, why
    if len(counted) >= rule.stop_at:
        return Step.MOVE, [
            *why,
            f"{len(counted)} coupons are torn: move the set-up instead of trying on.",
        ]
    return Step.ANOTHER, why
