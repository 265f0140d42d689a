"""Arc joints from the accepted set-up to a release and its end, by the same steps as spots."""

from dataclasses import replace
from datetime import timedelta

import pytest

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.imperfection import Seen
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.criterion import Limits, find_criterion
from buttonhole.coupon.difference import Level, ReadBack, Surroundings
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.judge_coupon import (
    JudgeCoupon,
    ReadCoupon,
    criterion_of,
    judge_coupon,
    read_coupon,
)
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.release_set_up import (
    EndRelease,
    ReleaseSetUp,
    end_release,
    release_set_up,
    what_is_lacking,
)
from buttonhole.desk.verify_record import verify_record
from buttonhole.desk.view import State
from buttonhole.procedure.release import ReleaseRefused
from buttonhole.procedure.validity import ARC_ENDS, EndCondition
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug.marks import BackMark
from tests.desk import arc_steps as steps

GOOD = {
    "plug": ArcReading(
        0,
        TestKind.PEEL,
        ArcFracture.HOLE_PULLED,
        6.6e-3,
        6.2e-3,
        head_max=10.5e-3,
        head_min=10.1e-3,
        back=BackMark.CLEAR,
    ),
    "lap": ArcReading(
        0,
        TestKind.PEEL,
        ArcFracture.SHEET_TORN,
        tested_length=40e-3,
        leg=1.8e-3,
        back=BackMark.FAINT,
    ),
    "butt": ArcReading(
        0,
        TestKind.BEND,
        ArcFracture.UNBROKEN,
        tested_length=40e-3,
        bend_angle=120.0,
        back=BackMark.CLEAR,
    ),
    "braze": ArcReading(
        0, TestKind.PEEL, ArcFracture.SHEET_TORN, tested_length=40e-3, back=BackMark.FAINT
    ),
    "aluminium": ArcReading(
        0,
        TestKind.BEND,
        ArcFracture.UNBROKEN,
        tested_length=40e-3,
        leg=2.9e-3,
        bend_angle=120.0,
        back=BackMark.NONE,
    ),
}


def judged(desk, joint, *readings, **more):
    command = JudgeCoupon(joint.id, joint.seen, joint.coupons[-1].id, readings=readings, **more)
    return judge_coupon(desk, command)


def more_coupons(desk, joint, reading, count):
    for _ in range(count):
        joint = judged(desk, steps.welded(desk, joint), reading)
    return joint


@pytest.mark.parametrize("kind", steps.KINDS)
def test_each_kind_goes_from_set_up_to_release_and_its_end(desk, clock, store, kind):
    joint = steps.welded(desk, steps.accepted(desk, steps.KINDS[kind]))
    assert joint.state is State.COUPON_WELDED
    assert joint.coupons[-1].weld == joint.arc.chosen
    assert {one.level for one in joint.coupons[-1].differences} == {Level.GREEN}
    joint = judged(desk, joint, GOOD[kind], instrument="Calliper 3")
    (one,) = joint.coupons[-1].judged
    assert one.verdict.outcome.accepted, one.verdict.reasons
    assert one.criterion.source
    assert one.criterion.mark == "not the maker's"
    assert joint.coupons[-1].accepted
    assert [one.code for one in what_is_lacking(desk, joint.id)] == ["not-sure"]
    learned = kind == "plug"  # by a surer rule than counting
    torn = 5 if learned else 3
    joint = more_coupons(desk, joint, GOOD[kind], torn - 1)
    assert what_is_lacking(desk, joint.id) == ()
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    held = joint.release.release
    assert joint.release.decision["engine"] == ("quick" if learned else "counting")
    assert ("No model of this kind of weld" in held.decided) is not learned
    assert joint.state is State.RELEASED
    assert held.max_welds is None
    assert held.end_conditions == ARC_ENDS
    assert EndCondition.TIPS_DRESSED not in held.end_conditions
    assert held.counting[0].startswith(f"{torn} of {torn} coupons passed")
    assert read_joint(desk, joint.id) == joint
    clock.wait(hours=5)
    assert read_joint(desk, joint.id).state is State.EXPIRED
    clock.now -= timedelta(hours=5)
    command = EndRelease(joint.id, joint.seen, EndCondition.WIRE_CHANGED, "spool 12")
    joint = end_release(desk, command)
    assert joint.release is None
    assert "spool 12" in joint.releases[-1].ended[0]
    assert verify_record(store).whole


def test_what_a_coupon_is_welded_with_is_compared(desk):
    joint = steps.accepted(desk, steps.PLUG, welder="Tomas Brindeval", torch="T1")
    weld = steps.changed(steps.PLUG, contact_tube_distance="20 mm")
    weld["sheet"][0]["hole_diameter"] = "8.4 mm"
    joint = steps.welded(
        desk,
        joint,
        outlet="W1",
        weld=weld,
        surroundings=Surroundings("", torch="T2", coating_state="bare"),
        read_back=ReadBack(current=60.0, voltage=16.2, wire_feed_speed=6.4 / 60.0),
    )
    found = {one.item: one for one in joint.coupons[-1].differences}
    for red in ("outlet", "contact tube to work", "torch"):
        assert found[red].level is Level.RED, red
        assert found[red].advice
    for amber in ("hole in sheet 1", "coating state", "current shown"):
        assert found[amber].level is Level.AMBER, amber
    assert found["voltage shown"].level is Level.RED
    assert found["lead"].level is found["wire feed shown"].level is Level.GREEN
    joint = judged(desk, joint, GOOD["plug"])
    assert joint.coupons[-1].judged[0].verdict.outcome.accepted
    assert not joint.coupons[-1].accepted  # it is another weld
    codes = {one.code for one in what_is_lacking(desk, joint.id)}
    assert "other-set-up" in codes


def test_a_supply_of_its_own_asks_for_a_new_coupon(desk):
    joint = steps.welded(desk, steps.accepted(desk, steps.PLUG), outlet="W1")
    joint = judged(desk, joint, GOOD["plug"])
    with pytest.raises(ReleaseRefused) as refused:
        release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    assert any("outlet W1, on the vehicle W3" in one for one in refused.value.reasons)


@pytest.mark.parametrize("kind", steps.KINDS)
def test_without_a_look_at_the_back_nothing_is_saved(desk, store, kind):
    joint = steps.welded(desk, steps.accepted(desk, steps.KINDS[kind]))
    before = store.events()
    with pytest.raises(BadInput, match="Look at the back"):
        judged(desk, joint, replace(GOOD[kind], back=None))
    assert store.events() == before


@pytest.mark.parametrize(
    ("reading", "key"),
    [
        (Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 6e-3, 6e-3), "readings"),
        (replace(GOOD["plug"], interface=1), "interface"),
        (replace(GOOD["lap"]), "fracture"),
        (replace(GOOD["plug"], imperfections=(Seen("melted_edge"),)), "imperfection"),
        (replace(GOOD["plug"], penetrations=(1e-3, 1e-3)), "penetrations"),
    ],
)
def test_readings_that_are_of_another_weld_are_refused(desk, store, reading, key):
    joint = steps.welded(desk, steps.accepted(desk, steps.PLUG))
    before = store.events()
    with pytest.raises(BadInput) as bad:
        judged(desk, joint, reading)
    assert bad.value.key == key
    assert store.events() == before


def test_a_criterion_for_spots_is_refused(desk):
    joint = steps.welded(desk, steps.accepted(desk, steps.PLUG))
    with pytest.raises(BadInput, match="is for spots"):
        judged(desk, joint, GOOD["plug"], criterion=find_criterion("4.5-root-t"))


def test_a_spot_step_is_refused_on_an_arc_joint(desk):
    joint = steps.accepted(desk, steps.PLUG)
    with pytest.raises(BadInput, match="is of a spot"):
        steps.welded(desk, joint, welds_since_dress=4)
    joint = steps.welded(desk, joint)
    with pytest.raises(BadInput, match="for spot welds"):
        _ = joint.coupons[-1].stack


def test_no_coupon_before_the_set_up_is_accepted(desk):
    with pytest.raises(BadInput, match="is not accepted yet"):
        steps.welded(desk, steps.described(desk, steps.PLUG))


def test_a_coupon_that_failed_stands_against_a_release(desk):
    joint = steps.welded(desk, steps.accepted(desk, steps.PLUG))
    small = replace(GOOD["plug"], d_max=3.6e-3, d_min=3.4e-3, back=BackMark.NONE)
    joint = judged(desk, joint, small)
    assert joint.coupons[-1].judged[0].verdict.outcome is Outcome.REJECT
    joint = judged(desk, steps.welded(desk, joint), GOOD["plug"])
    assert any("not accepted" in one.reason for one in what_is_lacking(desk, joint.id))
    assert joint.counting(joint.coupons[-1]).startswith("1 of 2")


def test_a_new_set_up_ends_the_release_and_begins_a_new_series(desk):
    joint = more_coupons(desk, steps.accepted(desk, steps.PLUG), GOOD["plug"], 5)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    from buttonhole.desk.accept_arc_set_up import AcceptArcSetUp, accept_arc_set_up

    other = steps.changed(steps.PLUG, wire_feed_speed="6.8 m/min")["set_up"]
    command = AcceptArcSetUp(joint.id, joint.seen, other, "Feeder C", "3.1", "W3", "L25")
    joint = accept_arc_set_up(desk, command)
    assert joint.release is None
    assert {one.code for one in what_is_lacking(desk, joint.id)} == {"interface"}


def test_the_strict_class_rests_on_two_coupons(desk):
    keys = {**steps.PLUG, "sheet": [steps.PLUG["sheet"][0], {**steps.PLUG["sheet"][1]}]}
    keys["sheet"][1]["steel"] = "HCT980X"
    joint = judged(desk, steps.welded(desk, steps.accepted(desk, keys)), GOOD["plug"])
    assert any("Strict class" in one for one in joint.coupons[-1].judged[0].verdict.cautions)
    lacking = what_is_lacking(desk, joint.id)
    assert any("1 of 2 accepted" in one.reason for one in lacking), lacking
    joint = judged(desk, steps.welded(desk, joint), GOOD["plug"])
    (unsure,) = what_is_lacking(desk, joint.id)
    assert unsure.code == "not-sure"  # two are enough for the criterion, not for the rule
    joint = more_coupons(desk, joint, GOOD["plug"], 3)
    assert what_is_lacking(desk, joint.id) == ()


def test_read_first_and_judged_later_and_a_reading_taken_back(desk):
    joint = steps.welded(desk, steps.accepted(desk, steps.LAP))
    coupon = joint.coupons[-1]
    joint = read_coupon(desk, ReadCoupon(joint.id, joint.seen, coupon.id, (GOOD["lap"],)))
    assert joint.state is State.COUPON_TORN
    assert "sheet torn, leg 1.80 mm" in joint.history[-1].what
    joint = judge_coupon(desk, JudgeCoupon(joint.id, joint.seen, coupon.id))
    assert joint.coupons[-1].accepted
    reading = next(one for one in joint.history if one.kind == "coupon_read")
    correct_entry(desk, CorrectEntry(reading.event_id, "wrong coupon", joint.seen))
    assert not read_joint(desk, joint.id).coupons[-1].is_judged


@pytest.mark.parametrize(
    ("kind", "limited"),
    [
        ("plug", Limits.TORN_DIAMETER),
        ("lap", Limits.LEG),
        ("aluminium", Limits.LEG),
        ("braze", Limits.WETTED_WIDTH),
        ("butt", None),
    ],
)
def test_the_least_size_of_the_makers_page_goes_before(desk, kind, limited):
    found = criterion_of(steps.described(desk, steps.KINDS[kind], least=2.2e-3))
    if limited is None:
        assert found.key == "fused-whole-length"
        return
    assert (found.key, found.quantity, found.fixed_diameter) == ("maker", limited, 2.2e-3)
    assert found.mark == ""
