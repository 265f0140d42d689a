"""Why a coupon of the record failed: three causes, the check that separates them, what it mends."""

from collections.abc import Sequence
from typing import Any

from buttonhole.desk.decide_release import ENGINE, SEED
from buttonhole.desk.desk import Desk
from buttonhole.desk.learning_answer import checked_in_words, diagnosis_keys, row_shown
from buttonhole.desk.machine_past import PastCoupon, past_of
from buttonhole.desk.view import CouponView, JointView
from buttonhole.units import BadInput


def diagnose_coupon(
    desk: Desk, joint: JointView, coupon: CouponView, checked: Sequence[str] = ()
) -> dict[str, Any] | None:
    """
    Find why a coupon is not accepted.

    Coupons of the same set-up between the same two dresses that failed too are weighed with it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        Its joint.
    coupon : CouponView
        Read and judged.
    checked : sequence of str
        What checks showed: ``measure the tip faces: no``.

    Returns
    -------
    dict or None
        Keys with units; None where it is accepted, or no model of the weld can be learned with.

    Raises
    ------
    BadInput
        When a check is none.
    """
    # The nets of the emulator are slow to load, and most steps do not need them.
    from buttonhole.desk.learned_machine import Asked, learned_machine
    from buttonhole.learning.diagnosis import Failure, diagnose
    from buttonhole.learning.posterior import learn

    if coupon.weld is not None or not coupon.is_judged or not _failed(coupon):
        return None
    done = tuple(checked_in_words(one) for one in checked)
    past = past_of(desk, coupon.surroundings.machine)
    own = next((one for one in past if one.coupon.id == coupon.id), None)
    if own is None:
        return None
    failed = [one for one in past if _together(one, own)]
    try:
        asked = Asked(coupon.stack, coupon.set_up, coupon.judged[0].criterion, own.face, own.drop)
        machine = learned_machine(past, asked)
        taught = tuple(machine.coupons[one.coupon.id] for one in failed)
    except (BadInput, KeyError):
        return None
    first = past.index(failed[0])
    earlier = [one.coupon.id for one in past[:first] if one.coupon.id in machine.coupons]
    before = learn(
        machine.model, [machine.coupons[one] for one in earlier], seed=SEED, engine=ENGINE
    )
    least = machine.model.joints[machine.joint].least
    rows = tuple(row_shown("spot", taught, least))
    found = diagnose(Failure("spot", taught, (), rows, done), before, seed=SEED)
    numbers = [one.coupon.number for one in failed]
    return {**diagnosis_keys("spot", found), "coupons": numbers, "seed": SEED}


def _failed(coupon: CouponView) -> bool:
    return not all(one.verdict.outcome.accepted for one in coupon.judged)


def _together(one: PastCoupon, own: PastCoupon) -> bool:
    """Of the same joint, set-up and tips, judged, not accepted, not later."""
    return (
        one.joint.id == own.joint.id
        and one.dress == own.dress
        and one.coupon.set_up == own.coupon.set_up
        and one.coupon.number <= own.coupon.number
        and one.coupon.is_judged
        and _failed(one.coupon)
    )
