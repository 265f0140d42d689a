"""How far a coupon lies from what was expected, also one that only bounds a size."""

import dataclasses

import numpy as np
import pytest

from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.foresight import rank_of, surprise_of, surprises_in_order
from buttonhole.learning.outcomes import drawn_coupon
from buttonhole.learning.posterior import learn, outlook
from tests.learning.made import ZERO, joint, model


@pytest.fixture(scope="module")
def before():
    return learn(model("thin"), [], seed=1)


def rank(before, kind: Kind, size: float = float("nan"), point=ZERO) -> float:
    one = Evidence(kind, 0, size, uncertainty=0.1e-3)
    coupon = LearningCoupon("1", "thin", point, (one,), joint("thin").current)
    return rank_of(before, coupon)[0]


def middle(before) -> float:
    setting = before.model.setting("thin", ZERO, joint("thin").current)
    return outlook(before, setting).size[0].value


def test_a_bound_that_was_expected_says_nothing_against_the_model(before) -> None:
    size = middle(before)
    assert rank(before, Kind.AT_LEAST, 0.6 * size) == 0.5
    assert rank(before, Kind.CHISEL_PASSED, 0.6 * size) == 0.5
    cold = (-0.34, -0.3, 0.1, 0.0, 0.0)
    none = LearningCoupon("", "thin", cold, (Evidence(Kind.NO_BUTTON),), joint("thin").current)
    after = learn(model("thin"), [dataclasses.replace(none, key=str(i)) for i in range(6)], seed=1)
    assert rank(after, Kind.NO_BUTTON, point=cold) == 0.5


def test_a_bound_that_nobody_expected_lies_far_out(before) -> None:
    size = middle(before)
    far = rank(before, Kind.AT_LEAST, 1.6 * size)
    assert 0.99 < far <= 1.0
    assert far == pytest.approx(rank(before, Kind.MEASURED, 1.6 * size))
    chisel = rank(before, Kind.CHISEL_PASSED, 1.6 * size)
    assert 0.5 < chisel < far
    hot = (0.2, 0.2, 0.0, 0.0, 0.0)
    assert rank(before, Kind.NO_BUTTON, point=hot) < 0.05


def coupon(*evidence: Evidence, key: str = "a") -> LearningCoupon:
    return LearningCoupon(key, "thin", ZERO, evidence, joint("thin").current)


def measured(size: float) -> Evidence:
    return Evidence(Kind.MEASURED, 0, size, uncertainty=0.1e-3)


def test_false_alarms_are_no_more_often_than_said(before) -> None:
    """Sizes of machines drawn by the belief, every other one known only as a bound."""
    own, chance = model("thin"), np.random.default_rng(5)
    setting = own.setting("thin", ZERO, joint("thin").current)
    odd = []
    for number in range(600):
        seen = drawn_coupon(own, chance.standard_normal(own.size), setting, chance, splash=-9.0)
        if number % 2 and seen[0].kind is Kind.MEASURED:
            limit = float(chance.uniform(3e-3, 8e-3))
            if seen[0].value < limit:
                continue
            seen = (Evidence(Kind.AT_LEAST, 0, limit),)
        odd.append(surprise_of(before, coupon(*seen)))
    for level in (0.02, 0.05, 0.10, 0.2):
        error = (level * (1.0 - level) / len(odd)) ** 0.5
        assert np.mean(np.array(odd) < level) <= level + 2.5 * error, level
    assert np.mean(np.array(odd) < 0.5) > 0.2  # but it is no rule that never calls out


def test_two_readings_of_a_coupon_are_not_two_coupons(before) -> None:
    size = 1.3 * middle(before)
    once = surprise_of(before, coupon(measured(size)))
    twice = surprise_of(before, coupon(measured(size), Evidence(Kind.AT_LEAST, 0, 3e-3)))
    assert 0.0 < once < 0.3
    assert twice == pytest.approx(2.0 * once)
    first, second = surprises_in_order(
        before, [coupon(measured(size)), coupon(measured(size), key="b")]
    )
    assert first == pytest.approx(once)
    assert second > first  # the first has taught already
    read = Evidence(Kind.METER, value=0.1, uncertainty=0.02, meter="current")
    assert surprise_of(before, coupon(read)) == 1.0
