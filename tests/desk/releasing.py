"""Coupons that are good enough for a release of the shop of these tests."""

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.desk import Desk
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon

GOOD = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 5.4e-3, 5.0e-3)
SMALL = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 3.6e-3, 3.4e-3)
SPLASHED = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 5.4e-3, 5.0e-3, expulsion=True)
NEW_SHOP = 3  # coupons at least on a machine nobody knows


def judged(desk: Desk, joint: JointView, reading: Reading = GOOD) -> JointView:
    command = JudgeCoupon(joint.id, joint.seen, joint.coupons[-1].id, readings=(reading,))
    return judge_coupon(desk, command)


def another_coupon(
    desk: Desk, joint: JointView, reading: Reading = GOOD, *, outlet: str = "W3", lead: str = "L25",
    welds: int = 0,
) -> JointView:  # fmt: skip
    joint = weld_coupon(desk, WeldCoupon(joint.id, joint.seen, outlet, lead, welds))
    return judged(desk, joint, reading)


def enough(desk: Desk, joint: JointView, count: int = NEW_SHOP) -> JointView:
    """Tear as many good coupons as are asked for; the first may be welded already."""
    if joint.coupons and not joint.coupons[-1].is_judged:
        joint, count = judged(desk, joint), count - 1
    for _ in range(count):
        last = joint.coupons[-1].welds_since_dress if joint.coupons else None
        joint = another_coupon(desk, joint, welds=0 if last is None else last + 1)
    return joint
