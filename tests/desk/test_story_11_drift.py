"""Story 11: forty coated spots, an end coupon that is 0.6 mm smaller and still over the limit."""

from dataclasses import replace

import pytest

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.desk.close_joint import lacking_to_close, welds_to_wedge
from buttonhole.desk.compare_end_coupon import CompareEndCoupon, compare_end_coupon, may_end
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.dress_tip import DressTip, dress_tip
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.release_set_up import ReleaseSetUp, release_set_up
from buttonhole.desk.watch_machine import dress_interval_of, watch_machine
from buttonhole.desk.weld_vehicle import TickWeld, tick_weld, welding_now
from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import Pulse
from tests.desk.releasing import another_coupon, enough

SPOTS = 40


def reading(size: float) -> Reading:
    return Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, size + 0.2e-3, size - 0.2e-3)


@pytest.fixture
def stack(stack):
    return replace(stack, sheets=tuple(replace(one, coating=Coating.GI) for one in stack.sheets))


@pytest.fixture
def set_up(set_up):
    """Zinc asks for more of everything."""
    return replace(set_up, pulses=(Pulse(11.0e3, 0.24),), electrode_force=3.4e3)


@pytest.fixture
def worked(desk, accepted):
    joint = enough(desk, accepted)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen, max_welds=50))
    for _ in range(SPOTS):
        joint = tick_weld(desk, TickWeld(joint.id))
    return joint


def ended(desk, joint, size, **more):
    joint = another_coupon(desk, joint, reading(size), welds=SPOTS + 3)
    assert may_end(joint, joint.coupons[-1])
    command = CompareEndCoupon(joint.id, joint.seen, joint.coupons[-1].id, **more)
    return compare_end_coupon(desk, command)


def test_it_is_accepted_with_a_warning_and_the_last_welds_are_wedged(desk, worked):
    joint = ended(desk, worked, 4.6e-3)  # the start coupons are 5.2 mm, 4.02 mm are asked for
    (found,) = joint.end_checks
    assert found.fall == pytest.approx(0.6e-3)
    assert found.accepted
    assert found.drifts
    assert "drifts" in found.words
    assert found.welds == SPOTS
    assert found.interval < 50
    assert found.look_at == (30, 40)
    assert set(range(30, 41)) <= set(welds_to_wedge(joint))
    assert not set(range(26, 30)) & set(welds_to_wedge(joint))
    assert joint.release is not None
    welds, _, words = dress_interval_of(desk, joint)
    assert welds == found.interval
    assert "end coupon" in words


def test_the_next_release_holds_no_longer_than_the_shorter_interval(desk, worked):
    joint = ended(desk, worked, 4.6e-3)
    interval = joint.end_checks[0].interval
    joint = dress_tip(desk, DressTip(joint.id, joint.seen))
    joint = enough(desk, joint)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    assert joint.release.release.max_welds == interval


def test_an_equal_end_coupon_says_so(desk, worked):
    joint = ended(desk, worked, 5.15e-3)
    (found,) = joint.end_checks
    assert (found.accepted, found.drifts, found.look_at) == (True, False, None)


def test_under_the_limit_the_release_ends_and_all_welds_are_looked_at(desk, worked):
    joint = ended(desk, worked, 3.9e-3)
    assert joint.release is None
    assert "End coupon" in joint.releases[-1].ended[0]
    assert welds_to_wedge(joint) == tuple(range(1, SPOTS + 1))


def test_what_is_no_end_coupon_is_refused(desk, worked):
    command = CompareEndCoupon(worked.id, worked.seen, worked.coupons[-1].id)
    with pytest.raises(BadInput, match="before the release"):
        compare_end_coupon(desk, command)
    joint = another_coupon(desk, worked, reading(4.6e-3), outlet="W1")
    with pytest.raises(BadInput, match="outlet"):
        compare_end_coupon(desk, CompareEndCoupon(joint.id, joint.seen))
    joint = dress_tip(desk, DressTip(joint.id, joint.seen))
    joint = another_coupon(desk, joint, reading(4.6e-3))
    joint = read_joint(desk, joint.id)
    other = describe_joint(desk, DescribeJoint(joint.job_id, "J9", joint.stack))
    with pytest.raises(BadInput, match="never released"):
        compare_end_coupon(desk, CompareEndCoupon(other.id, other.seen))


def test_the_chart_begins_anew_at_each_dress(desk, worked):
    joint = ended(desk, worked, 4.6e-3)
    watch = watch_machine(desk, "Gun A", joint)
    assert len(watch.points) == 4
    assert watch.points[-1].score < watch.points[-2].score
    joint = dress_tip(desk, DressTip(joint.id, joint.seen))
    joint = another_coupon(desk, joint)
    after = watch_machine(desk, "Gun A", joint)
    assert len(after.points) == 1
    assert after.agreeing >= watch.agreeing
    assert not after.enough  # ten coupons that agree are asked for


def test_the_tips_are_due_sooner_at_once(desk, worked):
    assert welding_now(desk, worked).tips.every == 50
    joint = ended(desk, worked, 4.6e-3)
    assert welding_now(desk, joint).tips.every == joint.end_checks[0].interval


def test_an_end_coupon_that_was_too_small_needs_a_word_before_the_joint_is_closed(desk, worked):
    joint = ended(desk, worked, 3.9e-3)
    assert "end" in [one.code for one in lacking_to_close(desk, joint)]
    assert "end" not in [one.code for one in lacking_to_close(desk, joint, "All wedged.")]
