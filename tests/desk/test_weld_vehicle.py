"""Welding on the vehicle: ticks, their undoing, the end of the release, tips, fire, closing."""

from dataclasses import replace

import pytest

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.desk.close_joint import (
    CheckWelds,
    CloseJoint,
    ClosingRefused,
    check_welds,
    close_joint,
    lacking_to_close,
    welds_to_wedge,
)
from buttonhole.desk.conflict import SentTwice
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.dress_tip import DressTip, dress_tip
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.release_set_up import ReleaseSetUp, release_set_up
from buttonhole.desk.view import State
from buttonhole.desk.watch_fire import (
    EndFireWatch,
    SetFireWatch,
    end_fire_watch,
    fire_watch,
    set_fire_watch,
)
from buttonhole.desk.weld_vehicle import (
    PlanWelds,
    TickedAlready,
    TickWeld,
    UndoWeld,
    plan_welds,
    tick_weld,
    undo_weld,
    welding_now,
)
from buttonhole.units import BadInput
from tests.desk.releasing import enough

GOOD = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 5.4e-3, 5.0e-3)


@pytest.fixture
def released(desk, welded):
    joint = enough(desk, welded)
    return release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, max_welds=25))


def ticked(desk, joint, count):
    for _ in range(count):
        joint = tick_weld(desk, TickWeld(joint.id))
    return joint


def test_a_tick_has_number_person_and_time_and_counts_under_the_release(desk, released):
    joint = tick_weld(desk, TickWeld(released.id))
    joint = tick_weld(desk, TickWeld(joint.id, 7))
    assert [one.number for one in joint.welding.made] == [1, 7]
    assert joint.welding.weld(7).by == "Tomas Brindeval"
    assert joint.welding.weld(1).at < joint.welding.weld(7).at
    assert joint.welding.open(joint.required_spots)[:3] == (2, 3, 4)
    now = welding_now(desk, joint)
    assert now.holds
    assert now.welds_left == 23
    assert joint.state is State.RELEASED


def test_a_joint_is_welded_when_all_are_made_and_falls_back_when_one_is_taken_back(desk, released):
    joint = ticked(desk, released, 19)  # 1.3 times 14 old spots
    assert joint.state is State.WELDED
    joint = undo_weld(desk, UndoWeld(joint.id, 19, "Tapped by mistake."))
    assert joint.state is State.RELEASED
    trace = joint.welding.undone[0]
    assert (trace.number, trace.undone_by, trace.reason) == (
        19,
        "Tomas Brindeval",
        "Tapped by mistake.",
    )
    assert welding_now(desk, joint).welds_left == 25 - 18
    with pytest.raises(BadInput, match="no weld of this number"):
        undo_weld(desk, UndoWeld(joint.id, 19, "Again."))


def test_two_people_cannot_tick_the_same_weld_and_the_second_is_told(desk, desk_of, released):
    tick_weld(desk, TickWeld(released.id, 1))
    with pytest.raises(TickedAlready, match="1 was ticked by Tomas Brindeval") as told:
        tick_weld(desk_of("Priya Ollendur"), TickWeld(released.id, 1))
    assert told.value.free == 2
    assert len(read_joint(desk, released.id).welding.made) == 1


def test_the_same_form_ticks_once(desk, released):
    sent = replace(desk, sent="a1")
    tick_weld(sent, TickWeld(released.id, 1))
    with pytest.raises(SentTwice):
        tick_weld(sent, TickWeld(released.id, 2))
    assert len(read_joint(desk, released.id).welding.made) == 1


def test_a_tick_holds_up_nobody_who_saves_the_joint(desk, released):
    tick_weld(desk, TickWeld(released.id))
    joint = plan_welds(desk, PlanWelds(released.id, released.seen, 20))
    assert joint.welding.goal(joint.required_spots) == 20


def test_the_release_ends_with_its_number_of_welds_and_a_later_weld_is_kept_as_deviation(
    desk, released
):
    joint = plan_welds(desk, PlanWelds(released.id, released.seen, 30))
    joint = ticked(desk, joint, 25)
    assert joint.release is None
    assert joint.state is State.EXPIRED
    now = welding_now(desk, joint)
    assert not now.holds
    assert any("25 welds made" in one for one in now.ended)
    joint = tick_weld(desk, TickWeld(joint.id, note="Did not look at the tablet."))
    late = joint.welding.late
    assert [one.number for one in late] == [26]
    assert "25 welds made" in late[0].late[0]
    assert late[0].note == "Did not look at the tablet."


def test_the_release_ends_by_time_and_a_stale_tap_is_not_lost(desk, clock, released):
    tick_weld(desk, TickWeld(released.id))
    assert 3.9 * 3600 < welding_now(desk, read_joint(desk, released.id)).seconds_left < 4 * 3600
    clock.wait(hours=5)
    joint = tick_weld(desk, TickWeld(released.id, 2))
    assert [one.number for one in joint.welding.late] == [2]
    assert joint.welding.weld(1).late == ()


def test_a_weld_without_any_release_is_noted_as_one(desk, cited):
    joint = tick_weld(desk, TickWeld(cited.id))
    assert joint.welding.late[0].late == ("No set-up was released for this joint.",)


def test_tips_are_counted_over_coupon_and_vehicle_and_dressing_ends_the_release(desk, released):
    assert welding_now(desk, released).tips.welds == 7  # four before the coupons, and the coupons
    joint = ticked(desk, released, 13)
    tips = welding_now(desk, joint).tips
    assert (tips.welds, tips.left, tips.is_due, tips.is_soon) == (20, 5, False, True)
    joint = undo_weld(desk, UndoWeld(joint.id, 13, "Slip."))
    assert welding_now(desk, joint).tips.welds == 19
    joint = ticked(desk, joint, 6)
    assert welding_now(desk, joint).tips.is_due
    joint = dress_tip(desk, DressTip(joint.id, joint.seen))
    now = welding_now(desk, joint)
    assert now.tips.welds == 0
    assert not now.holds
    dressed = joint.tips_dressed[-1]
    correct_entry(desk, CorrectEntry(dressed.event_id, "Not dressed after all.", joint.seen))
    assert welding_now(desk, read_joint(desk, joint.id)).tips.welds == 25


def test_a_made_weld_is_taken_back_by_its_own_way_only(desk, released):
    joint = tick_weld(desk, TickWeld(released.id))
    with pytest.raises(BadInput, match="take back the tick"):
        correct_entry(desk, CorrectEntry(joint.welding.made[0].event_id, "Slip", joint.seen))


def test_fewer_welds_than_the_maker_asks_for_are_refused(desk, released):
    with pytest.raises(BadInput, match="asks for 19"):
        plan_welds(desk, PlanWelds(released.id, released.seen, 18))


def test_the_fire_watch_starts_with_the_last_weld_and_is_signed(desk, clock, released):
    assert fire_watch(desk, released.job_id).watch is None
    with pytest.raises(BadInput, match="nothing was welded"):
        end_fire_watch(desk, EndFireWatch(released.job_id, "nothing"))
    joint = tick_weld(desk, TickWeld(released.id))
    clock.wait(minutes=20)
    joint = tick_weld(desk, TickWeld(joint.id))
    watch = fire_watch(desk, joint.job_id)
    assert watch.watch.last_weld == joint.welding.weld(2).at
    assert 59 * 60 < watch.left <= 60 * 60
    assert watch.is_owed
    assert watch.welds_open == 17
    set_fire_watch(desk, SetFireWatch(joint.job_id, 30))
    with pytest.raises(BadInput, match="not over"):
        end_fire_watch(desk, EndFireWatch(joint.job_id, "nothing"))
    clock.wait(minutes=30)
    assert fire_watch(desk, joint.job_id).is_over
    with pytest.raises(BadInput, match="what was found"):
        end_fire_watch(desk, EndFireWatch(joint.job_id, "something"))
    end_fire_watch(desk, EndFireWatch(joint.job_id, "something", "Underseal smoked; wet cloth."))
    assert fire_watch(desk, joint.job_id).is_owed
    end_fire_watch(desk, EndFireWatch(joint.job_id, "nothing"))
    signed = fire_watch(desk, joint.job_id)
    assert not signed.is_owed
    assert len(signed.earlier) == 1
    tick_weld(desk, TickWeld(joint.id))
    assert fire_watch(desk, joint.job_id).is_owed  # a weld after it starts the time anew


@pytest.mark.parametrize("minutes", [5, 29.9, 241])
def test_a_fire_watch_nobody_should_keep_is_refused(desk, released, minutes):
    with pytest.raises(BadInput, match="30 to 240"):
        set_fire_watch(desk, SetFireWatch(released.job_id, minutes))


def test_an_early_end_stays_owed(desk, released):
    joint = tick_weld(desk, TickWeld(released.id))
    end_fire_watch(desk, EndFireWatch(joint.job_id, "nothing", "Shift ends; Priya watches on."))
    assert fire_watch(desk, joint.job_id).is_owed


def test_checked_closed_and_opened_again_by_another_weld(desk, clock, released):
    joint = ticked(desk, released, 19)
    assert [one.code for one in lacking_to_close(desk, joint)] == ["unchecked", "fire"]
    assert welds_to_wedge(joint) == (1, 5, 10, 15, 19)
    joint = check_welds(desk, CheckWelds(joint.id, joint.seen, (1, 5), (5,)))
    assert joint.state is State.WELDED
    with pytest.raises(ClosingRefused, match="Found bad: 5"):
        close_joint(desk, CloseJoint(joint.id, joint.seen, "wax"))
    joint = check_welds(desk, CheckWelds(joint.id, joint.seen, (1, 5)))
    assert joint.state is State.VERIFIED
    clock.wait(minutes=61)
    end_fire_watch(desk, EndFireWatch(joint.job_id, "nothing"))
    joint = close_joint(desk, CloseJoint(joint.id, joint.seen, "Cavity wax, batch 17"))
    assert joint.state is State.CLOSED
    joint = tick_weld(desk, TickWeld(joint.id))
    assert joint.state is State.WELDED
    assert joint.welding.closing is None


def test_late_welds_need_a_word_before_the_joint_is_closed(desk, clock, released):
    joint = ticked(desk, released, 18)
    clock.wait(hours=5)
    joint = tick_weld(desk, TickWeld(joint.id))
    assert 19 in welds_to_wedge(joint)
    joint = check_welds(desk, CheckWelds(joint.id, joint.seen, welds_to_wedge(joint)))
    clock.wait(minutes=61)
    end_fire_watch(desk, EndFireWatch(joint.job_id, "nothing"))
    assert [one.code for one in lacking_to_close(desk, joint)] == ["late"]
    told = "One minute over; the end coupon was good."
    joint = close_joint(desk, CloseJoint(joint.id, joint.seen, "primer", told))
    assert joint.welding.closing.deviations == told


def test_a_number_that_is_no_weld_is_refused_in_a_check(desk, released):
    joint = tick_weld(desk, TickWeld(released.id))
    with pytest.raises(BadInput, match="names 4"):
        check_welds(desk, CheckWelds(joint.id, joint.seen, (4,)))
