"""Story 3: one torn spot read twice, as a full button and as a twist between the sheets."""

import pytest

from buttonhole.coupon.criterion import find_criterion
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel

CALLIPER, READER = 0.1e-3, 0.15e-3  # m


def verdict(desk, set_up, test, mode):
    sheet = Sheet(find_steel("HCT600X"), 1.0e-3, Coating.GI)
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5"))
    joint = describe_joint(desk, DescribeJoint(job.id, "J1", StackUp((sheet, sheet))))
    joint = accept_set_up(desk, AcceptSetUp(joint.id, joint.seen, set_up, "Gun A"))
    joint = weld_coupon(desk, WeldCoupon(joint.id, joint.seen, "W3", "L25", 0))
    reading = Reading(
        0,
        test,
        mode,
        5.4e-3,
        4.8e-3,
        instrument_uncertainty=CALLIPER,
        reader_uncertainty=READER,
    )
    rule = find_criterion("4.5-root-t")
    command = JudgeCoupon(joint.id, joint.seen, joint.coupons[-1].id, rule, (reading,))
    (judged,) = judge_coupon(desk, command).coupons[-1].judged
    return judged.verdict


def test_a_peeled_full_button_is_accepted_with_its_margin(desk, set_up):
    found = verdict(desk, set_up, TestKind.PEEL, FractureMode.FULL_BUTTON)
    assert found.mean_diameter == pytest.approx(5.1e-3)
    assert found.limit == pytest.approx(4.5e-3)
    assert found.expanded_uncertainty == pytest.approx(0.36e-3, abs=0.005e-3)
    assert found.guarded_limit == pytest.approx(4.86e-3, abs=0.005e-3)
    assert found.margin == pytest.approx(0.24e-3, abs=0.005e-3)
    assert found.outcome is Outcome.ACCEPT


def test_twisted_between_the_sheets_the_mode_is_not_decisive(desk, set_up):
    found = verdict(desk, set_up, TestKind.TORSION, FractureMode.INTERFACIAL)
    assert found.outcome is Outcome.ACCEPT_NOTE
    assert found.margin == pytest.approx(0.24e-3, abs=0.005e-3)
    said = " ".join((*found.reasons, found.next_action, *found.cautions)).casefold()
    assert "mode" in said
    assert "section" in said
    assert "peel" in said
