"""A release: refused with every reason, granted with an end, ended by what happens."""

from dataclasses import replace
from datetime import date, timedelta, timezone

import pytest

from buttonhole.desk import Conflict
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.dress_tip import DressTip, dress_tip
from buttonhole.desk.print_card import PrintCard, print_card
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.release_set_up import (
    EndRelease,
    ReleaseSetUp,
    end_release,
    release_set_up,
    what_is_lacking,
)
from buttonhole.desk.verify_record import verify_record
from buttonhole.desk.view import State
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from buttonhole.procedure.release import ReleaseRefused
from buttonhole.procedure.validity import EndCondition
from buttonhole.units import BadInput
from tests.desk.releasing import SMALL, another_coupon, enough, judged


@pytest.fixture
def released(desk, welded):
    joint = enough(desk, welded)
    return release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, released_by="Ines Velloquar"))


def codes(desk, joint):
    return [one.code for one in what_is_lacking(desk, joint.id)]


def test_what_is_lacking_grows_shorter_on_the_way(desk, joint, set_up):
    assert codes(desk, joint) == ["no-set-up"]
    joint = accept_set_up(
        desk, AcceptSetUp(joint.id, joint.seen, set_up, "Gun A", outlet="W3", lead="L25")
    )
    assert codes(desk, joint) == ["no-authority", "interface"]
    joint = cite_procedure(
        desk, CiteProcedure(joint.id, joint.seen, "manual 7.2", "3", date(2026, 3, 1), "spot")
    )
    assert codes(desk, joint) == ["interface"]
    joint = weld_coupon(desk, WeldCoupon(joint.id, joint.seen, "W3", "L25", 0))
    assert codes(desk, joint) == ["interface"]
    joint = judged(desk, joint)
    assert codes(desk, joint) == ["not-sure"]
    assert codes(desk, enough(desk, joint, 2)) == []


def test_nothing_is_written_when_it_is_refused(desk, welded, store):
    before = store.head()
    with pytest.raises(ReleaseRefused) as refused:
        release_set_up(desk, ReleaseSetUp(welded.id, welded.seen))
    assert refused.value.reasons
    assert store.head() == before
    assert read_joint(desk, welded.id) == welded


def test_a_release_has_a_name_an_end_and_what_ends_it(released, clock):
    view = released.release
    assert released.state is State.RELEASED
    assert view.release.released_by == "Ines Velloquar"
    assert view.release.valid_until - view.release.released_at == timedelta(hours=4)
    assert view.release.max_welds == 100
    assert "another person welds" in view.release.ends_when
    assert view.surroundings.outlet == "W3"
    assert [one.id for one in released.coupons] == list(view.coupon_ids)


def test_it_ends_by_the_clock(desk, released, clock):
    clock.wait(hours=3.9)
    assert read_joint(desk, released.id).state is State.RELEASED
    clock.wait(hours=0.2)
    later = read_joint(desk, released.id)
    assert later.state is State.EXPIRED
    assert later.release is None
    assert "time is over" in later.releases[0].ended[0]
    # And it can still be asked what held at a given minute.
    then = read_joint(desk, released.id, now=released.release.at + timedelta(hours=1))
    assert then.state is State.RELEASED


def test_hours_and_welds_are_the_shops_to_set_within_reason(desk, welded):
    joint = enough(desk, welded)
    for bad in (0.0, 30.0):
        with pytest.raises(BadInput, match="24 h"):
            release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, hours=bad))
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, hours=8.0, max_welds=40))
    assert joint.release.release.max_welds == 40
    assert joint.release.release.valid_until - joint.release.release.released_at == timedelta(
        hours=8
    )


def test_dressing_the_tip_ends_it_and_a_new_coupon_is_needed(desk, released):
    joint = dress_tip(desk, DressTip(released.id, released.seen))
    assert joint.state is State.EXPIRED
    assert "tips are dressed" in joint.releases[0].ended[0]
    assert codes(desk, joint) == ["interface"]
    joint = another_coupon(desk, joint)
    assert codes(desk, joint) == ["not-sure"]  # the machine is known by three coupons: two are due
    joint = another_coupon(desk, joint)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    assert joint.state is State.RELEASED
    assert joint.release.coupon_ids == tuple(one.id for one in joint.coupons[3:])


def test_dressing_at_another_joint_ends_what_was_released_on_the_same_gun(
    desk, released, stack, set_up
):
    other = describe_joint(desk, DescribeJoint(released.job_id, "J2", stack))
    other = accept_set_up(desk, AcceptSetUp(other.id, other.seen, set_up, "Gun B"))
    dress_tip(desk, DressTip(other.id, other.seen))
    assert read_joint(desk, released.id).state is State.RELEASED
    other = read_joint(desk, other.id)
    dress_tip(desk, DressTip(other.id, other.seen, machine="Gun A"))
    joint = read_joint(desk, released.id)
    assert joint.state is State.EXPIRED
    assert codes(desk, joint) == ["interface"]


@pytest.mark.parametrize("what", ["set_up", "procedure", "stack"])
def test_a_change_ends_it(desk, released, stack, set_up, what):
    if what == "set_up":
        other = replace(set_up, electrode_force=2.4e3)
        joint = accept_set_up(
            desk, AcceptSetUp(released.id, released.seen, other, "Gun A", outlet="W3", lead="L25")
        )
    elif what == "procedure":
        joint = cite_procedure(
            desk,
            CiteProcedure(released.id, released.seen, "manual", "4", date(2026, 3, 2), "as before"),
        )
    else:
        joint = describe_joint(
            desk,
            DescribeJoint(
                released.job_id,
                "J1",
                replace(stack, gap=0.3e-3),
                joint_id=released.id,
                seen=released.seen,
            ),
        )
    assert joint.release is None
    assert "changed" in joint.releases[0].ended[0]


def test_an_anomaly_ends_it_at_once(desk, released):
    joint = end_release(
        desk, EndRelease(released.id, released.seen, EndCondition.ANOMALY, "weld 12 splashed")
    )
    assert joint.state is State.EXPIRED
    assert "weld 12 splashed" in joint.releases[0].ended[0]
    with pytest.raises(ReleaseRefused):
        end_release(desk, EndRelease(joint.id, joint.seen, EndCondition.ANOMALY))


def test_a_withdrawn_verdict_takes_the_release_with_it(desk, released):
    entry = next(one for one in released.history if "judged" in one.what)
    job = correct_entry(desk, CorrectEntry(entry.event_id, "calliper was off", released.seen))
    joint = job.joint(released.id)
    assert joint.release is None
    assert "withdrawn" in joint.releases[0].ended[0]
    assert codes(desk, joint) == ["not-torn"]


def test_a_release_that_ended_does_not_come_back_when_its_end_is_withdrawn(desk, released, stack):
    joint = describe_joint(
        desk,
        DescribeJoint(
            released.job_id,
            "J1",
            replace(stack, gap=0.4e-3),
            joint_id=released.id,
            seen=released.seen,
        ),
    )
    assert joint.release is None
    entry = [one for one in joint.history if "described" in one.what][-1]
    job = correct_entry(desk, CorrectEntry(entry.event_id, "another joint", joint.seen))
    joint = job.joint(released.id)
    assert joint.stack == stack
    assert joint.release is None
    # Everything it rested on stands again, so it may be released anew, by somebody, by name.
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    assert joint.release is not None
    assert len(joint.releases) == 2


def test_a_bad_coupon_after_a_good_one_counts(desk, welded):
    joint = another_coupon(desk, judged(desk, welded), SMALL)
    assert codes(desk, joint) == ["interface"]


def test_two_people_release_at_once_and_one_is_told(desk, desk_of, welded):
    joint = enough(desk, welded)
    release_set_up(desk_of("Ines Velloquar"), ReleaseSetUp(joint.id, joint.seen))
    with pytest.raises(Conflict) as conflict:
        release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    assert conflict.value.theirs[-1].actor == "Ines Velloquar"


def test_the_card_is_printed_twice_to_the_same_byte(desk, released, store, clock):
    first = print_card(desk, PrintCard(released.id))
    clock.wait(minutes=20)
    again = print_card(desk, PrintCard(released.id))
    assert first.pdf.startswith(b"%PDF")
    assert first.pdf == again.pdf
    assert [one.sha256 for one in again.joint.papers] == [first.sha256] * 2
    assert again.joint.seen == released.seen
    assert verify_record(store).whole
    clock.wait(hours=5)
    with pytest.raises(BadInput, match="none that holds"):
        print_card(desk, PrintCard(released.id))


def test_the_hash_on_the_card_is_a_witness_against_a_cut_record(desk, released, store):
    event = store.event(released.release.event_id)
    assert verify_record(store, head_hash=event.hash).whole
    assert not verify_record(store, head_hash="0" * 63 + "1").whole


def test_a_read_model_is_folded_anew_to_the_same(desk, released, store):
    store.rebuild_index()
    now = released.release.at + timedelta(minutes=5)
    assert read_job(desk, released.job_id, now=now) == read_job(desk, released.job_id, now=now)
    assert read_joint(desk, released.id, now=now).release == released.release


def test_a_page_read_today_counts_as_read_where_the_shop_is_a_day_ahead(desk, clock, welded):
    clock.wait(hours=6)
    ahead = replace(desk, zone=timezone(timedelta(hours=13)))
    today = ahead.shop_time(ahead.now()).date()
    assert today > desk.now().date()
    joint = enough(ahead, welded)
    command = CiteProcedure(joint.id, joint.seen, "Manual, page 3", "B", today, "Spot weld.")
    assert codes(ahead, cite_procedure(ahead, command)) == []


def test_a_page_that_forbids_the_weld_stands_against_its_release(desk, welded):
    joint = enough(desk, welded)
    read_on = desk.now().date()
    command = CiteProcedure(
        joint.id, joint.seen, "Manual, page 3", "B", read_on, "No spot welds.", permits=False
    )
    joint = cite_procedure(desk, command)
    assert joint.is_forbidden
    assert codes(desk, joint) == ["maker-forbids"]


def test_a_clock_that_is_set_back_ends_it(desk, released, clock):
    clock.wait(hours=-2)
    (ended,) = read_joint(desk, released.id).releases
    assert "the clock stands before the moment of release" in ended.ended[0]


def test_what_the_record_shows_of_the_time_counts_although_the_clock_is_set_back(
    desk, released, clock
):
    clock.wait(hours=5)
    weld_coupon(desk, WeldCoupon(released.id, released.seen, "W3", "L25", 3))
    clock.wait(hours=-4)
    (ended,) = read_joint(desk, released.id).releases
    assert "the time is over" in ended.ended[0]
