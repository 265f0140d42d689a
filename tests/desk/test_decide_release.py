"""A release decided by coupons, machine and physics; who may go against it, and who may not."""

import time

import pytest

from buttonhole.coupon.gauge import GaugeKind
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.decide_release import decide_release, plan_coupon
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.keep_gauge import KeepGauge, keep_gauge
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.release_set_up import ReleaseSetUp, release_set_up, standing, what_is_lacking
from buttonhole.desk.written import written
from buttonhole.procedure.authority import Deviation
from buttonhole.procedure.release import ReleaseRefused
from tests.desk.releasing import GOOD, SMALL, another_coupon, enough, judged

SIGNED = Deviation("The customer waits at the door.", "Ines Velloquar", "Joan Ferrisund")


def test_one_coupon_on_an_unknown_machine_is_not_enough(desk, welded):
    joint = judged(desk, welded)
    found = standing(desk, joint.id)
    assert found.only_unsure
    answer = found.decided.answer
    assert answer["step"] == "another_coupon"
    assert 0.5 < answer["good"]["low"] < answer["good"]["value"] < answer["good"]["high"] <= 1.0
    assert answer["counting_alone"].startswith("1 of 1 coupon passed")
    assert answer["next"]["robust"]
    assert answer["next"]["splash"] <= 0.1


def test_two_people_may_sign_against_the_doubt(desk, welded):
    joint = judged(desk, welded)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, overruled=SIGNED))
    held = joint.release.release
    assert held.overruled == SIGNED
    assert any("signed by Ines Velloquar and Joan Ferrisund" in one for one in held.cautions)
    assert joint.release.decision["step"] == "another_coupon"


def test_nobody_signs_against_the_criterion(desk, welded):
    joint = judged(desk, welded, SMALL)
    with pytest.raises(ReleaseRefused) as refused:
        release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, overruled=SIGNED))
    assert {one.code for one in refused.value.refusals} == {"interface"}
    assert not standing(desk, joint.id).only_unsure


def test_the_release_keeps_its_decision_and_the_record_gives_it_again(desk, accepted, store):
    joint = enough(desk, accepted)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, max_welds=40))
    kept = joint.release.decision
    assert kept["step"] == "release"
    assert kept["welds"] == 40
    assert {"engine", "seed", "model_version", "data_digest", "learning_version"} <= set(kept)
    assert kept["coupons"] == [one.id for one in joint.coupons]
    store.rebuild_index()
    again = decide_release(desk, read_joint(desk, joint.id), welds=40)
    assert written(again.answer) == kept


def test_what_the_machine_welded_before_lowers_what_is_asked_for(desk, accepted, stack, set_up):
    from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
    from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
    from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
    from buttonhole.desk.open_job import OpenJob, open_job

    enough(desk, accepted, 4)
    job = open_job(desk, OpenJob("Rear corner", "Orvanel H5"))
    other = describe_joint(desk, DescribeJoint(job.id, "J7", stack))
    other = accept_set_up(
        desk, AcceptSetUp(other.id, other.seen, set_up, "Gun A", outlet="W3", lead="L25")
    )
    today = desk.now().date()
    other = cite_procedure(
        desk, CiteProcedure(other.id, other.seen, "manual 9", "2", today, "spot")
    )
    other = enough(desk, other, 2)
    assert what_is_lacking(desk, other.id) == ()
    answer = decide_release(desk, other, welds=40).answer
    assert (answer["coupons_counted"], answer["history_counted"]) == (2, 4)


def test_a_coupon_taken_back_is_named_with_its_reason(desk, accepted):
    joint = enough(desk, accepted)
    entry = next(one for one in joint.history if one.kind == "coupon_welded")
    correct_entry(desk, CorrectEntry(entry.event_id, "Was of another car.", joint.seen))
    answer = decide_release(desk, read_joint(desk, joint.id), welds=40).answer
    assert answer["coupons_counted"] == 2
    assert any("Was of another car." in one for one in answer["withdrawn"])


def test_a_plan_stays_inside_what_splashes_little(desk, accepted):
    joint = enough(desk, accepted, 1)
    found = plan_coupon(desk, joint)
    assert found["robust"]
    assert found["splash"] <= 0.1
    assert found["expected_cut"] > 0.0


def test_the_next_day_one_coupon_of_the_shift_is_asked_for(desk, accepted, clock):
    joint = enough(desk, accepted)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    clock.wait(hours=16)
    (due,) = what_is_lacking(desk, joint.id)
    assert due.code == "re-check"
    joint = read_joint(desk, joint.id)
    joint = another_coupon(desk, joint, welds=joint.coupons[-1].welds_since_dress + 1)
    assert what_is_lacking(desk, joint.id) == ()


def test_the_shops_own_study_enters_the_uncertainty_of_readings(desk, welded):
    """Story 8 feeding story 3: the readers' spread widens the guard band."""
    usual = judged(desk, welded).coupons[-1].judged[0].verdict
    study = "10 buttons, 3 readers, 2 readings each"
    keep_gauge(desk, KeepGauge("Calliper 3", GaugeKind.CALLIPER, 0.08e-3, 0.25e-3, study))
    joint = read_joint(desk, welded.id)
    command = JudgeCoupon(
        joint.id, joint.seen, joint.coupons[-1].id, readings=(GOOD,), instrument="calliper 3"
    )
    coupon = judge_coupon(desk, command).coupons[-1]
    found = coupon.judged[0].verdict
    assert usual.expanded_uncertainty == pytest.approx(0.36e-3, abs=0.005e-3)
    assert found.expanded_uncertainty == pytest.approx(0.525e-3, abs=0.005e-3)
    assert found.guarded_limit > usual.guarded_limit
    assert study in coupon.measured_with


def test_decided_and_planned_in_time_at_thirty_coupons(desk, accepted):
    """300 ms of one core, surrogates kept; processor time, so that a busy machine says the same."""
    joint = enough(desk, accepted, 30)
    decide_release(desk, joint, welds=40)  # surrogates are worked out
    spent = []
    for _ in range(3):  # the least is the one least disturbed by what else the machine did
        start = time.process_time()
        decide_release(desk, joint, welds=40)
        spent.append(time.process_time() - start)
    assert min(spent) < 0.6  # twice what is promised: shared machines run slower
