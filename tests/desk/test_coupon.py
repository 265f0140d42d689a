"""Coupons: welded, compared with the joint, torn, read, judged, printed."""

from dataclasses import replace

import pytest

from buttonhole.coupon.criterion import find_criterion
from buttonhole.coupon.difference import Level, ReadBack, Surroundings
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.desk import Conflict, NotThere
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.dress_tip import DressTip, dress_tip
from buttonhole.desk.judge_coupon import JudgeCoupon, ReadCoupon, judge_coupon, read_coupon
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.print_coupon_sheet import PrintCouponSheet, print_coupon_sheet
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.verify_record import verify_record
from buttonhole.desk.view import State
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from buttonhole.units import BadInput

GOOD = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 5.4e-3, 5.0e-3)
SMALL = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 3.6e-3, 3.4e-3)


def judged_with(desk, joint, *readings):
    command = JudgeCoupon(joint.id, joint.seen, joint.coupons[-1].id, readings=readings)
    return judge_coupon(desk, command)


def test_a_coupon_needs_a_set_up(desk, cited):
    with pytest.raises(BadInput, match="accept one"):
        weld_coupon(desk, WeldCoupon(cited.id, cited.seen, "W3", "L25", 0))


def test_a_coupon_like_the_joint_has_nothing_red(welded):
    (coupon,) = welded.coupons
    assert welded.state is State.COUPON_WELDED
    assert (coupon.number, coupon.welded_by, coupon.welds_since_dress) == (1, "Tomas Brindeval", 4)
    assert not any(one.level is Level.RED for one in coupon.differences)


def test_a_coupon_at_another_outlet_is_red_and_not_accepted_however_large(desk, accepted):
    joint = weld_coupon(desk, WeldCoupon(accepted.id, accepted.seen, "W1", "L10", 4))
    red = [one.item for one in joint.coupons[0].differences if one.level is Level.RED]
    assert red == ["outlet", "lead"]
    joint = judged_with(desk, joint, GOOD)
    assert joint.coupons[0].judged[0].verdict.outcome.accepted
    assert not joint.coupons[0].accepted


def test_what_the_coupon_leaves_out_is_as_on_the_joint(desk, accepted, stack):
    joint = weld_coupon(
        desk,
        WeldCoupon(
            accepted.id,
            accepted.seen,
            "W3",
            "L25",
            0,
            stack=replace(stack, gap=0.0),
            surroundings=Surroundings(machine="", arm_pair="500", welder="Priya Sollavane"),
            read_back=ReadBack(current=8.4e3),
            tip_state="dressed",
        ),
    )
    here = joint.coupons[0].surroundings
    assert (here.machine, here.arm_pair, here.welder) == ("Gun A", "500", "Priya Sollavane")
    assert joint.coupons[0].read_back.current == 8.4e3


def test_a_torn_coupon_is_read_then_judged(desk, welded):
    coupon = welded.coupons[0]
    torn = read_coupon(desk, ReadCoupon(welded.id, welded.seen, coupon.id, (GOOD,), "calliper 3"))
    assert torn.state is State.COUPON_TORN
    assert torn.coupons[0].readings == (GOOD,)
    assert not torn.coupons[0].is_judged
    joint = judge_coupon(desk, JudgeCoupon(torn.id, torn.seen, coupon.id))
    assert joint.state is State.JUDGED
    (judged,) = joint.coupons[0].judged
    assert judged.criterion == find_criterion("4.5-root-t")
    assert judged.verdict.limit == pytest.approx(4.5e-3 * 0.8**0.5)
    assert joint.coupons[0].accepted


def test_read_and_judged_in_one_step_gives_the_same(desk, welded):
    joint = judged_with(desk, welded, SMALL)
    assert joint.coupons[0].judged[0].verdict.outcome == "reject"
    assert not joint.coupons[0].accepted
    kinds = [one.what.split(":")[0] for one in joint.history][-2:]
    assert kinds == ["Coupon 1 torn and read", "Coupon 1 judged"]


def test_read_anew_the_earlier_verdict_counts_no_more(desk, welded):
    joint = judged_with(desk, welded, SMALL)
    again = read_coupon(
        desk, ReadCoupon(joint.id, joint.seen, joint.coupons[0].id, (GOOD,), note="misread")
    )
    assert again.coupons[0].judged == ()
    assert again.state is State.COUPON_TORN
    assert sum("judged" in one.what for one in again.history) == 1


def test_the_makers_own_diameter_goes_before_the_usual_rule(desk, cited, set_up):
    command = CiteProcedure(
        cited.id,
        cited.seen,
        reference="Body repair manual, section 7.2",
        revision="2026-02",
        read_on=cited.procedure.authority.read_on,
        says="Button at least 5.5 mm.",
        minimum_diameter=5.5e-3,
    )
    joint = cite_procedure(desk, command)
    joint = accept_set_up(desk, AcceptSetUp(joint.id, joint.seen, set_up, machine="Gun A"))
    joint = weld_coupon(desk, WeldCoupon(joint.id, joint.seen, "W3", "L25", 0))
    joint = judged_with(desk, joint, GOOD)
    (judged,) = joint.coupons[0].judged
    assert judged.verdict.limit == 5.5e-3
    assert judged.criterion.source == "Body repair manual, section 7.2, revision 2026-02"
    assert judged.verdict.outcome == "reject"


def test_a_section_backs_a_weld_that_parted_between_the_sheets(desk, welded):
    parted = replace(GOOD, test=TestKind.TORSION, mode=FractureMode.INTERFACIAL)
    alone = judged_with(desk, welded, parted)
    section = Reading(0, TestKind.MACRO, None, 5.3e-3, 5.3e-3)
    backed = judged_with(desk, alone, parted, section)
    assert backed.coupons[0].readings == (parted, section)
    assert len(backed.coupons[0].judged) == 1
    assert backed.coupons[0].accepted
    assert alone.coupons[0].judged[0].verdict.outcome != "reject"


@pytest.mark.parametrize(
    "readings", [(replace(GOOD, interface=1),), (GOOD, replace(GOOD, interface=1))]
)
def test_every_interface_and_no_other_must_be_read(desk, welded, readings):
    with pytest.raises(BadInput, match="read each of 1"):
        judged_with(desk, welded, *readings)
    assert read_joint(desk, welded.id) == welded


def test_what_was_not_read_is_not_judged_nor_printed(desk, welded):
    coupon = welded.coupons[0].id
    with pytest.raises(BadInput, match="tear the coupon"):
        judge_coupon(desk, JudgeCoupon(welded.id, welded.seen, coupon))
    with pytest.raises(BadInput, match="not judged"):
        print_coupon_sheet(desk, PrintCouponSheet(welded.id, coupon))
    with pytest.raises(NotThere):
        judge_coupon(desk, JudgeCoupon(welded.id, welded.seen, "no coupon", readings=(GOOD,)))


def test_two_people_judge_the_same_coupon(desk, desk_of, welded):
    judged_with(desk_of("Joan Ferrisund"), welded, SMALL)
    with pytest.raises(Conflict) as conflict:
        judged_with(desk, welded, GOOD)
    assert conflict.value.theirs[-1].what == "Coupon 1 judged: interface 1 reject"
    assert conflict.value.mine[-1].what == "Coupon 1 judged: interface 1 accept"


def test_the_sheet_is_printed_twice_to_the_same_byte_and_holds_nobody_up(desk, welded, store):
    joint = judged_with(desk, welded, SMALL)
    first = print_coupon_sheet(desk, PrintCouponSheet(joint.id, joint.coupons[0].id))
    again = print_coupon_sheet(desk, PrintCouponSheet(joint.id, joint.coupons[0].id))
    assert first.pdf.startswith(b"%PDF")
    assert first.pdf == again.pdf
    assert [one.sha256 for one in again.joint.papers] == [first.sha256] * 2
    assert again.joint.seen == joint.seen
    assert verify_record(store).whole


def test_dressing_is_noted_with_its_faces(desk, welded):
    joint = dress_tip(desk, DressTip(welded.id, welded.seen, face_before=7.5e-3, face_after=6.0e-3))
    assert [one.what for one in joint.tips_dressed] == ["Tip dressed on Gun A"]
    with pytest.raises(BadInput, match="measure the face"):
        dress_tip(desk, DressTip(joint.id, joint.seen, face_after=6.0))


def test_a_withdrawn_reading_takes_its_coupon_back_to_welded(desk, welded):
    joint = judged_with(desk, welded, GOOD)
    for word in ("judged", "torn"):
        entry = next(one for one in joint.history if word in one.what and not one.withdrawn)
        job = correct_entry(desk, CorrectEntry(entry.event_id, "the wrong coupon", joint.seen))
        joint = job.joint(joint.id)
    assert joint.state is State.COUPON_WELDED
    assert joint.coupons[0].readings == ()
    assert read_job(desk, joint.job_id).joint(joint.id) == joint


def entry_with(joint, word):
    return next(one for one in joint.history if word in one.what and not one.withdrawn).event_id


def test_a_withdrawn_reading_takes_its_verdict_with_it(desk, welded):
    joint = judged_with(desk, welded, GOOD)
    assert joint.coupons[0].accepted
    job = correct_entry(desk, CorrectEntry(entry_with(joint, "torn"), "misread", joint.seen))
    joint = job.joint(joint.id)
    assert joint.coupons[0].judged == ()
    assert not joint.coupons[0].accepted
    assert joint.state is State.COUPON_WELDED
    again = judged_with(desk, joint, SMALL)
    assert again.coupons[0].judged[0].verdict.outcome == "reject"


def test_a_withdrawn_coupon_keeps_its_number_and_its_verdict_counts_no_more(desk, welded):
    joint = judged_with(desk, welded, GOOD)
    job = correct_entry(desk, CorrectEntry(entry_with(joint, "welded"), "no such", joint.seen))
    joint = job.joint(joint.id)
    assert joint.coupons == ()
    assert joint.state is State.SET_UP_ACCEPTED
    joint = weld_coupon(desk, WeldCoupon(joint.id, joint.seen, "W3", "L25", 0))
    assert [one.number for one in joint.coupons] == [2]


def test_a_joint_is_not_moved_to_another_job(desk, welded, stack):
    other = open_job(desk, OpenJob("Right sill", "Orvanel H5"))
    with pytest.raises(BadInput, match="another job"):
        describe_joint(
            desk, DescribeJoint(other.id, "J1", stack, joint_id=welded.id, seen=welded.seen)
        )
