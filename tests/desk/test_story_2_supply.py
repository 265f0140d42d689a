"""Story 2: the coupon at outlet 1, the car at outlet 3 over 25 m of 2.5 mm2."""

from dataclasses import replace

import pytest

from buttonhole.coupon.difference import Level, Surroundings
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.decide_release import decide_release, joint_case
from buttonhole.desk.describe_supply import DescribeSupply, describe_supply, supply_of
from buttonhole.desk.differences_now import differences_now
from buttonhole.desk.release_set_up import ReleaseSetUp, release_set_up, what_is_lacking
from buttonhole.units import BadInput
from tests.desk.releasing import another_coupon, enough

LONG_LEAD = "25 m 2.5 mm²"


@pytest.fixture
def at_the_car(desk, cited, set_up):
    command = AcceptSetUp(
        cited.id, cited.seen, set_up, "Gun A", outlet="3", lead=LONG_LEAD, position="PA"
    )
    return accept_set_up(desk, command)


def test_the_difference_is_red_and_the_drop_is_told(desk, at_the_car):
    joint = another_coupon(desk, at_the_car, outlet="1", lead="none")
    found = differences_now(desk, joint)
    red = {one.item for one in found.rows if one.level is Level.RED}
    assert red == {"outlet", "lead"}
    assert found.worst is Level.RED
    assert "new one" in found.advice
    assert found.supply.drop_joint == pytest.approx(0.05, abs=0.006)
    assert found.supply.heat == pytest.approx(0.10, abs=0.01)
    (before,), (after,) = found.supply.before, found.supply.after
    assert after.value < before.value - 0.1e-3
    assert "heat" in found.supply.words


def test_it_does_not_release_but_it_teaches(desk, at_the_car):
    joint = at_the_car
    for _ in range(3):
        joint = another_coupon(desk, joint, outlet="1", lead="none")
    assert {one.code for one in what_is_lacking(desk, joint.id)} == {"difference"}
    decided = decide_release(desk, joint, welds=100)
    assert decided.answer["coupons_counted"] == 0
    assert decided.answer["history_counted"] == 3
    assert not decided.answer["releases"]
    assert any(
        "is not the joint (outlet: 1, on the vehicle 3)" in one for one in decided.answer["reasons"]
    )
    # welded with all of its current: its point lies where the lead's loss is not
    case = joint_case(desk, joint)
    assert case.history[0].point[0] == pytest.approx(0.0)
    assert case.case.point[0] == pytest.approx(-0.055, abs=0.006)


def test_coupons_at_the_cars_supply_release_it(desk, at_the_car):
    joint = another_coupon(desk, at_the_car, outlet="1", lead="none")
    for _ in range(4):
        joint = another_coupon(desk, joint, outlet="3", lead=LONG_LEAD)
        if not what_is_lacking(desk, joint.id):
            break
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    assert joint.coupons[0].id not in joint.release.coupon_ids


def test_after_the_release_the_car_is_moved(desk, accepted):
    joint = enough(desk, accepted)
    joint = release_set_up(desk, ReleaseSetUp(joint.id, joint.seen))
    assert differences_now(desk, joint).worst is not Level.RED
    describe_supply(desk, DescribeSupply("L50", 50.0, 2.5e-6))
    moved = differences_now(desk, joint, Surroundings("", outlet="W4", lead="L50"))
    assert moved.worst is Level.RED
    assert moved.supply.drop_joint == pytest.approx(0.107, abs=0.01)
    assert moved.supply.after[0].value < moved.supply.before[0].value


def test_what_is_known_of_a_lead(desk):
    assert supply_of(desk, "L25") is None
    assert supply_of(desk, "25 m, 2,5 mm2").drop == pytest.approx(0.0535, abs=0.001)
    thick = describe_supply(desk, DescribeSupply("L25", 25.0, 6e-6))
    assert supply_of(desk, "l25") == thick
    assert thick.drop == pytest.approx(0.022, abs=0.001)  # 9 V of 400 V at 60 A
    measured = describe_supply(desk, DescribeSupply("L25", measured_drop=0.03))
    assert supply_of(desk, "L25") == measured
    assert measured.drop == 0.03
    with pytest.raises(BadInput, match="length"):
        describe_supply(desk, DescribeSupply("L9"))
    with pytest.raises(BadInput, match=r"give 0\.5 to 95 mm2"):
        describe_supply(desk, DescribeSupply("L9", 25.0, 1.5))
    assert replace(measured, current=16.0).drop == 0.03
