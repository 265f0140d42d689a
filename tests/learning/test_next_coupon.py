import dataclasses

import numpy as np
import pytest

from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.model import Model
from buttonhole.learning.next_coupon import SPLASHES, Candidate, candidates, choose, thinned
from buttonhole.learning.posterior import learn, outlook, splash_chance
from buttonhole.units import BadInput
from tests.learning.made import SPOT, ZERO, joint, model


def small(count: int) -> list[LearningCoupon]:
    own = joint("thin").current
    one = Evidence(Kind.MEASURED, 0, 3.7e-3, uncertainty=0.1e-3)
    return [LearningCoupon(str(i), "thin", ZERO, (one,), own) for i in range(count)]


def test_after_small_welds_the_next_coupon_gets_more_heat() -> None:
    found = learn(model("thin"), small(2), seed=1)
    tried = candidates("spot", joint("thin"), ZERO)
    chosen = choose(found, "thin", tried)
    assert chosen.robust
    heat = 2.0 * chosen.candidate.point[0] + chosen.candidate.point[1]
    assert heat >= 0.1 - 1e-9  # more of it is likely to splash
    assert chosen.best_now > outlook(found, found.model.setting("thin", ZERO)).chance.value
    assert "current +" in chosen.words or "time +" in chosen.words


def test_the_cut_is_what_knowing_more_is_worth() -> None:
    found = learn(model("thin"), small(1), seed=1)
    chosen = choose(found, "thin", candidates("spot", joint("thin"), ZERO))
    assert 0.0 < chosen.cut < 1.0 - chosen.best_now
    known = learn(model("thin"), small(5), seed=1)
    after = choose(known, "thin", candidates("spot", joint("thin"), ZERO))
    assert after.cut < chosen.cut


def test_no_robust_window_is_said_when_that_is_the_truth() -> None:
    """A limit that no weld reaches without splashing."""
    hard = dataclasses.replace(joint("thin"), key="hard", least=(8.5e-3,))
    own = Model(SPOT, (hard,))
    chosen = choose(learn(own, [], seed=1), "hard", candidates("spot", hard, ZERO))
    assert not chosen.robust
    assert chosen.hope < 0.2
    assert "No robust window" in chosen.words
    assert "Change force, time, caps or method" in chosen.words


def test_what_the_machine_can_not_be_set_to_is_not_tried() -> None:
    own = joint("thin")
    every = candidates("spot", own, ZERO)
    assert every[0].point == ZERO
    less = candidates("spot", own, ZERO, limits=(1e3, own.current))
    assert 0 < len(less) < len(every)
    assert all(one.current <= own.current for one in less)
    with pytest.raises(BadInput, match="candidates"):
        candidates("spot", own, ZERO, limits=(1.0, 2.0))
    with pytest.raises(BadInput, match="candidates"):
        choose(learn(model("thin"), [], seed=1), "thin", [])


def test_fewer_draws_say_the_same() -> None:
    found = learn(model("thin"), small(2), seed=1, engine="quick")
    setting = found.model.setting("thin", ZERO)
    few = thinned(found)
    assert len(few.draws.z) == 400
    assert outlook(few, setting).chance.value == pytest.approx(
        outlook(found, setting).chance.value, abs=0.02
    )
    assert np.isclose(few.draws.weight.sum(), 1.0)


def test_a_coupon_that_is_likely_to_splash_is_not_proposed() -> None:
    """The more heat, the more it splashes: with nothing known but splashes, less is tried."""
    own = joint("thin")
    hot = (0.25, 0.25, -0.1, 0.0, 0.0)
    threw = (Evidence(Kind.EXPULSION),)
    found = learn(
        model("thin"),
        [LearningCoupon(str(i), "thin", hot, threw, own.current * 1.28) for i in range(3)],
        seed=1,
    )
    tried = candidates("spot", own, hot)
    chosen = choose(found, "thin", tried)
    calmest = min(splash_chance(found, found.model.setting("thin", one.point)) for one in tried)
    assert chosen.splash <= max(SPLASHES, 1.2 * calmest)
    now = splash_chance(found, found.model.setting("thin", hot, own.current * 1.28))
    assert now > SPLASHES > chosen.splash or chosen.splash < now / 2.0


def test_where_everything_splashes_the_calmest_is_proposed_with_a_word() -> None:
    own = joint("thin")
    found = learn(model("thin"), [], seed=1)
    hot = [Candidate((0.34, 0.3, -step, 0.0, 0.0), own.current * 1.4) for step in (0.1, 0.3)]
    chosen = choose(found, "thin", hot)
    assert chosen.splash > SPLASHES
    assert chosen.candidate == hot[0]
    assert not chosen.robust or "likely to splash" in chosen.words
