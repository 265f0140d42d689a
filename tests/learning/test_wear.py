import numpy as np
import pytest

from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.posterior import learn
from buttonhole.learning.wear import (
    WearReading,
    dress_interval,
    drift,
    one_coupon_is_enough,
    residual,
    wear_chart,
    wear_rate,
)
from buttonhole.units import BadInput
from tests.learning.made import ZERO, joint, model


def worn(dress: int, welds: int, rate: float, chance: np.random.Generator) -> WearReading:
    off = float(chance.normal())
    size = 5.5e-3 - rate * welds + 0.25e-3 * off
    return WearReading(dress, welds, off - rate * welds / 0.25e-3, size)


def test_the_chart_signals_wear_and_begins_anew_at_a_dress() -> None:
    falling = [WearReading(1, 50 * i, -0.5 * i, 5e-3) for i in range(8)]
    assert wear_chart(falling).signal
    assert "dress the tips" in wear_chart(falling).words
    fresh = [*falling, WearReading(2, 25, 0.1, 5e-3)]
    assert not wear_chart(fresh).signal
    assert len(wear_chart(fresh).chart.values) == 1


def test_growing_welds_are_no_wear() -> None:
    assert not wear_chart([WearReading(1, 10 * i, 0.5 * i, 5e-3) for i in range(8)]).signal


def test_ewma_signals_before_a_bad_coupon_does() -> None:
    """0.2 mm in 100 welds, a coupon each 50: undersize welds before either alarm."""
    chance, by_chart, by_coupon = np.random.default_rng(3), [], []
    for _ in range(200):
        readings, charted, bad = [], 0, 0
        for number in range(1, 40):
            readings.append(worn(1, 50 * number, 2e-6, chance))
            if not charted and wear_chart(readings).signal:
                charted = 50 * number
            if not bad and readings[-1].diameter < 4.5e-3:
                bad = 50 * number
        by_chart.append(charted)
        by_coupon.append(bad)
    assert min(by_chart) > 0
    assert np.mean(by_chart) < 0.7 * np.mean(by_coupon)


def test_the_wear_rate_is_found_with_its_interval() -> None:
    chance, held = np.random.default_rng(1), []
    for _ in range(100):
        readings = [worn(d, n, 2e-6, chance) for d in range(4) for n in (0, 50, 100, 150)]
        found = wear_rate(readings, 0.25e-3)
        held.append(found.low <= 2e-6 <= found.high)
    assert 0.82 <= np.mean(held) <= 0.98
    with pytest.raises(BadInput, match="scatter"):
        wear_rate([], 0.0)


def test_the_interval_is_the_usual_one_until_wear_is_known() -> None:
    chance = np.random.default_rng(2)
    few = [worn(1, 50 * i, 1e-6, chance) for i in range(4)]
    first = dress_interval(few, 5.5e-3, 4.5e-3, 0.2e-3, coated=True)
    assert first.welds <= 50
    assert not first.learned
    many = [worn(d, n, 4e-6, chance) for d in range(10) for n in (0, 25, 50, 75)]
    fast = dress_interval(many, 5.5e-3, 4.5e-3, 0.2e-3, coated=False)
    slow = dress_interval(
        [worn(d, n, 1e-6, chance) for d in range(10) for n in (0, 100, 200, 300)],
        5.5e-3, 4.5e-3, 0.2e-3, coated=False,
    )  # fmt: skip
    assert fast.learned
    assert fast.welds < slow.welds
    assert fast.welds == pytest.approx(0.6e-3 / 4e-6, rel=0.35)
    tight = dress_interval(many, 4.6e-3, 4.5e-3, 0.2e-3, coated=False)
    assert "move the set-up" in tight.words


def test_story_11_drift() -> None:
    """40 coated spots since the dress, the end coupon 0.6 mm smaller but over the limit."""
    found = drift(5.4e-3, 4.8e-3, 4.5e-3, uncertainty=0.10e-3, welds=40, interval=50)
    assert found.accepted
    assert found.drifts
    assert found.interval < 50
    assert found.look_at == (30, 40)
    assert "drifts" in found.words
    assert "30 to 40" in found.words


def test_start_and_end_that_agree_and_an_end_that_fails() -> None:
    calm = drift(5.0e-3, 4.9e-3, 4.0e-3, uncertainty=0.10e-3, welds=40, interval=50)
    assert calm.accepted
    assert not calm.drifts
    assert calm.interval == 50
    failed = drift(5.0e-3, 3.9e-3, 4.0e-3, uncertainty=0.10e-3, welds=40, interval=50)
    assert not failed.accepted
    assert failed.look_at == (1, 40)
    with pytest.raises(BadInput, match="welds"):
        drift(5e-3, 5e-3, 4e-3, uncertainty=1e-4, welds=0, interval=50)


def test_residuals_are_what_the_model_did_not_expect() -> None:
    own, current = model("thin"), joint("thin").current

    def coupon(key: str, size: float) -> LearningCoupon:
        one = Evidence(Kind.MEASURED, 0, size, uncertainty=0.1e-3)
        return LearningCoupon(key, "thin", ZERO, (one,), current)

    coupons = [coupon(str(i), 5.0e-3 + 0.1e-3 * (i % 2)) for i in range(6)]
    low = coupon("low", 4.2e-3)
    found = learn(own, coupons, seed=1)
    assert residual(found, low) < -1.5
    assert abs(residual(found, coupon("next", 5.05e-3))) < 0.5
    bare = LearningCoupon("s", "thin", ZERO, (Evidence(Kind.EXPULSION),), current)
    with pytest.raises(BadInput, match="no measured"):
        residual(found, bare)


def test_a_daily_re_check_rests_on_one_coupon_only_when_all_is_quiet() -> None:
    quiet = wear_chart([WearReading(1, 10, 0.2, 5e-3)])
    assert one_coupon_is_enough(quiet, 10)
    assert not one_coupon_is_enough(quiet, 9)
    alarm = wear_chart([WearReading(1, 10 * i, -3.0, 5e-3) for i in range(4)])
    assert not one_coupon_is_enough(alarm, 30)
