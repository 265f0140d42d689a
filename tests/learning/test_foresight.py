"""How far a coupon lies from what was expected, also one that only bounds a size."""

import dataclasses

import pytest

from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.foresight import rank_of
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
