"""Story 4: three coupons splashed, a gap of 0.8 mm is noted."""

from dataclasses import replace

import pytest

from buttonhole.desk.decide_release import decide_release, joint_case, learned
from buttonhole.desk.diagnose_coupon import diagnose_coupon
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.release_set_up import what_is_lacking
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
from tests.desk.releasing import SPLASHED, another_coupon, enough


@pytest.fixture
def splashed(desk, accepted):
    joint = accepted
    open_stack = replace(joint.stack, gap=0.8e-3)
    for _ in range(3):
        command = WeldCoupon(joint.id, joint.seen, "W3", "L25", 0, stack=open_stack)
        joint = weld_coupon(desk, command)
        judge = JudgeCoupon(joint.id, joint.seen, joint.coupons[-1].id, readings=(SPLASHED,))
        joint = judge_coupon(desk, judge)
    return joint


def test_the_first_advice_is_to_close_the_gap_or_to_press_not_less_current(desk, splashed):
    found = diagnose_coupon(desk, splashed, splashed.coupons[-1])
    assert found["coupons"] == [1, 2, 3]
    first = found["suspects"][0]
    assert first["cause"] in ("gap", "low_force")
    assert "together" in first["words"] or "force" in first["words"]
    assert "current" not in first["correction"].casefold()
    assert any("gap 0.8 mm" in one for one in first["for"])
    actions = splashed.coupons[-1].judged[0].verdict.next_action.casefold()
    assert "gap" in actions
    if "current" in actions:
        assert actions.index("gap") < actions.index("current")


def test_they_stand_against_a_release(desk, splashed):
    assert "expulsion" in {one.code for one in what_is_lacking(desk, splashed.id)}
    assert decide_release(desk, splashed, welds=40).answer["step"] == "refuse"


def test_they_do_not_teach_the_current(desk, accepted):
    """The same good coupons, with and without three that splashed."""
    joint = enough(desk, accepted)
    before = learned(joint_case(desk, joint))
    for _ in range(3):
        joint = another_coupon(desk, joint, SPLASHED)
    case = joint_case(desk, joint)
    after = learned(case)
    assert len(case.taught) == 6  # every coupon counts
    names = [one.name for one in before.model.unknowns]
    for name in (*names, "scatter"):
        assert after.unknown(name) == before.unknown(name), name
    assert after.splash.mean() > before.splash.mean()  # they teach the splash
