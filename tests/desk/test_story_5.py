"""A plug is looked at from behind: failed, not saved before, its causes ranked, the next trial."""

import pytest

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.explain_coupon import explain_coupon
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.release_set_up import what_is_lacking
from buttonhole.learning.faults import signs
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug.marks import BackMark
from tests.desk import arc_steps as steps


def test_story_5_plug_look_behind(desk, store):
    far = steps.changed(steps.PLUG, contact_tube_distance="20 mm")
    joint = steps.welded(desk, steps.accepted(desk, far))
    coupon = joint.coupons[-1].id
    before = store.events()

    def judged(back):
        reading = ArcReading(0, TestKind.PEEL, ArcFracture.HOLE_PULLED, 3.5e-3, 3.5e-3, back=back)
        return judge_coupon(desk, JudgeCoupon(joint.id, joint.seen, coupon, readings=(reading,)))

    with pytest.raises(BadInput, match="Look at the back of the weld and take a picture"):
        judged(None)
    assert store.events() == before
    saved = judged(BackMark.NONE)
    (one,) = saved.coupons[-1].judged
    assert one.verdict.outcome is Outcome.REJECT
    assert one.verdict.limit == pytest.approx(5e-3)
    assert not saved.coupons[-1].accepted
    assert what_is_lacking(desk, saved.id)
    # The next trial: a little more power, begun in the middle, the tube near.
    for words in ("8 to 10 % more power", "middle of the lower sheet", "about 10 mm away"):
        assert words in one.verdict.next_action
    why = explain_coupon(desk, saved.id, coupon)
    assert why["signs"][0]["row"] == "P1"
    assert "P7" in {row["row"] for row in why["signs"]}
    causes = [each["cause"] for each in why["suspects"]]
    assert len(causes) == 3
    assert set(causes) <= set(signs()["P1"].chances)
    chances = [each["chance"] for each in why["suspects"]]
    assert chances == sorted(chances, reverse=True)
    assert causes[0] == "rim_arc"
    assert all(each["correction"] for each in why["suspects"])
    assert why["check"]["words"]


def test_a_coupon_that_was_not_judged_is_not_explained(desk):
    joint = steps.welded(desk, steps.accepted(desk, steps.PLUG))
    with pytest.raises(BadInput, match="was not judged yet"):
        explain_coupon(desk, joint.id, joint.coupons[-1].id)
