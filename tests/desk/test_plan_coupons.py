"""Labels are given once, lead to one coupon, and are printed before welding."""

from dataclasses import replace

import pypdf
import pytest

from buttonhole.coupon.plan import Occasion
from buttonhole.desk.conflict import NotThere, SentTwice
from buttonhole.desk.demo.arcs import BUTT, PLUGS
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.labels import find_label, tie_label
from buttonhole.desk.plan_coupons import (
    PlanCoupons,
    issue_plan,
    planned,
    print_labels,
    read_plans,
)
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from buttonhole.units import BadInput


def test_labels_are_all_different_and_the_plan_is_kept(desk, joint):
    first = issue_plan(desk, PlanCoupons(joint.id))
    second = issue_plan(desk, PlanCoupons(joint.id, Occasion.SHIFT, spares=0))
    codes = [one.code for plan in (first, second) for one in plan.labels]
    assert len(set(codes)) == len(codes) == 5
    assert [one.id for one in read_plans(desk, joint)] == [second.id, first.id]
    assert read_plans(desk, joint)[1].plan == planned(desk, PlanCoupons(joint.id))


def test_one_form_gives_labels_once(desk, joint):
    sent = replace(desk, sent="x")
    issue_plan(sent, PlanCoupons(joint.id))
    with pytest.raises(SentTwice):
        issue_plan(sent, PlanCoupons(joint.id))


def test_a_code_drawn_a_second_time_is_not_given_again(desk, joint):
    class Stuck:
        def __init__(self):
            self.left = [0, 0, 0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9]

        def __call__(self, count):
            if count != 8:
                return desk.randomness(count)
            return self.left.pop(0).to_bytes(8, "big")

    one = replace(desk, randomness=Stuck())
    first = issue_plan(one, PlanCoupons(joint.id, Occasion.SHIFT, spares=0))
    second = issue_plan(one, PlanCoupons(joint.id, Occasion.SHIFT, spares=0))
    assert first.labels[0].code != second.labels[0].code


def test_a_label_is_put_on_one_coupon_for_ever(desk, accepted):
    plan = issue_plan(desk, PlanCoupons(accepted.id))
    code = plan.labels[0].code
    joint = weld_coupon(desk, WeldCoupon(accepted.id, accepted.seen, "W3", "L25", 0))
    first = joint.coupons[-1].id
    assert tie_label(desk, code.lower(), joint.id, first).coupon_id == first
    assert tie_label(desk, code, joint.id, first).coupon_id == first  # said again: nothing new
    joint = weld_coupon(desk, WeldCoupon(joint.id, joint.seen, "W3", "L25", 0))
    with pytest.raises(BadInput, match="another coupon already"):
        tie_label(desk, code, joint.id, joint.coupons[-1].id)
    assert find_label(desk, code).coupon_id == first


def test_a_label_of_another_joint_is_refused(desk, joint, stack):
    plan = issue_plan(desk, PlanCoupons(joint.id))
    other = describe_arc_joint(desk, DescribeArcJoint(joint.job_id, "J2", PLUGS))
    with pytest.raises(BadInput, match="printed for J1"):
        tie_label(desk, plan.labels[0].code, other.id, "x")


def test_a_label_nobody_gave_out_is_not_there(desk):
    with pytest.raises(NotThere):
        find_label(desk, "AAAAAA")


@pytest.mark.parametrize(("keys", "count"), [(PLUGS, 4), (BUTT, 3)])
def test_arc_joints_get_plans_of_their_own(desk, joint, keys, count):
    other = describe_arc_joint(desk, DescribeArcJoint(joint.job_id, "J2", keys))
    plan = issue_plan(desk, PlanCoupons(other.id))
    assert len(plan.labels) == count


def test_the_labels_are_printed_and_printed_again_the_same(desk, joint):
    plan = issue_plan(desk, PlanCoupons(joint.id))
    first = print_labels(desk, joint.id, plan.id, address="http://192.168.7.5:8047/")
    again = print_labels(desk, joint.id, plan.id, address="http://192.168.7.5:8047/")
    assert first.pdf == again.pdf
    text = text_of(first.pdf)
    for one in plan.labels:
        assert f"{one.code[:3]} {one.code[3:]}" in text
    assert "4 x 105 x 75 mm" in text
    roll = print_labels(desk, joint.id, plan.id, roll=True)
    assert pages_of(roll.pdf) == 4


def text_of(pdf):
    import io

    return "\n".join(one.extract_text() for one in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def pages_of(pdf):
    import io

    return len(pypdf.PdfReader(io.BytesIO(pdf)).pages)
