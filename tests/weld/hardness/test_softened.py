"""Tempering along a cycle, and the softened zone it leaves."""

import numpy as np
import pytest

from buttonhole.joint.steel import UNKNOWN_STEEL, find_steel
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.softened import Softened, near, softened, tempers
from buttonhole.weld.hardness.tempering import (
    conducted_cycle,
    hardness_kept,
    scaled,
    tempering_parameter,
)
from buttonhole.weld.hardness.zone import soft_zone, strength_left

AC1 = Estimate(750.0, 735.0, 770.0)


def arc(peak: float) -> tuple[np.ndarray, np.ndarray]:
    return conducted_cycle(5.0, peak, line=False)


def found(steel: str) -> Softened:
    return softened(find_steel(steel), arc, AC1)


def test_steps_of_one_temperature_are_one_time() -> None:
    fine, coarse = np.linspace(0.0, 3.0, 301), np.linspace(0.0, 3.0, 2)
    at = tempering_parameter(coarse, np.full(2, 650.0))
    assert tempering_parameter(fine, np.full(301, 650.0)) == pytest.approx(at, rel=1e-9)


def test_only_the_hot_part_tempers_and_more_of_it_tempers_more() -> None:
    times = np.linspace(0.0, 2.0, 200)
    cold = np.full(200, 100.0)
    assert tempering_parameter(times, cold) == 0.0
    hot = np.where(times < 1.0, 650.0, 20.0)
    longer = np.where(times < 1.5, 650.0, 20.0)
    assert 0.0 < tempering_parameter(times, hot) < tempering_parameter(times, longer)


def test_order_of_two_temperatures_hardly_counts() -> None:
    times = np.linspace(0.0, 2.0, 2001)
    up = np.where(times < 1.0, 500.0, 650.0)
    assert tempering_parameter(times, up) == pytest.approx(
        tempering_parameter(times, up[::-1].copy()), rel=2e-3
    )


@pytest.mark.parametrize(
    "times", [np.array([0.0]), np.array([0.0, 0.0, 1.0]), np.array([0.0, 2.0, 1.0])]
)
def test_a_cycle_that_does_not_rise_in_time_is_refused(times: np.ndarray) -> None:
    with pytest.raises(BadInput, match="rise"):
        tempering_parameter(times, np.full(len(times), 500.0))


def test_more_tempering_keeps_less() -> None:
    kept = [hardness_kept(p).value for p in np.linspace(7e3, 20e3, 30)]
    assert kept == sorted(kept, reverse=True)
    assert kept[0] == 1.0
    for p in (9e3, 16e3, 18e3):
        one = hardness_kept(p)
        assert one.low < one.value < one.high


@pytest.mark.parametrize("line", [True, False])
@pytest.mark.parametrize("cooling", [0.8, 5.0, 20.0])
def test_the_conducted_cycle_has_its_peak_and_its_pace(cooling: float, line: bool) -> None:
    times, hot = conducted_cycle(cooling, 740.0, line=line)
    assert hot.max() == pytest.approx(740.0, abs=0.5)
    # far hotter places, which cool past 800 degC long after their own peak, take the time given
    times, hot = conducted_cycle(cooling, 2500.0, line=line)
    falling = times > times[int(hot.argmax())]
    at = [float(np.interp(-level, -hot[falling], times[falling])) for level in (800.0, 500.0)]
    assert at[1] - at[0] == pytest.approx(cooling, rel=0.08)


def test_a_scaled_cycle_keeps_its_pace() -> None:
    times, hot = arc(900.0)
    assert scaled(hot, 700.0).max() == pytest.approx(700.0)
    assert near(times, hot)(700.0)[0] is times


def test_stronger_dual_phase_steel_loses_more() -> None:
    losses = [found(one).loss.value for one in ("HCT600X", "HCT780X", "HCT980X", "DP1180")]
    assert losses == sorted(losses)
    assert losses[0] < 0.05
    assert 0.25 < found("22MnB5").loss.value < 0.45


def test_intervals_hold_their_values_and_never_exceed_the_sheet() -> None:
    for steel in ("HCT600X", "HCT780X", "HCT980X", "DP1180", "CR1220Y1500T-MS", "22MnB5"):
        one = found(steel)
        assert one.known
        assert one.softest.low < one.softest.value < one.softest.high
        assert one.softest.value <= one.base.value
        assert one.loss.low <= one.loss.value <= one.loss.high
        assert 250.0 <= one.outer_level.value <= AC1.value


def test_a_slower_weld_softens_more() -> None:
    steel = find_steel("22MnB5")
    quick, slow = (
        softened(steel, lambda peak, t=t: conducted_cycle(t, peak, line=False), AC1)
        for t in (1.0, 15.0)
    )
    assert slow.softest.value < quick.softest.value


@pytest.mark.parametrize("steel", ["HCT780C", "HCT690T"])
def test_where_the_model_has_no_data_only_the_interval_counts(steel: str) -> None:
    one = found(steel)
    assert not one.known
    assert one.remark
    assert one.softest.high >= one.base.value


def test_the_unknown_steel_may_lose_anything() -> None:
    one = softened(UNKNOWN_STEEL, arc, AC1)
    assert not one.known
    assert one.softest.low < 100.0
    assert one.softest.high > 450.0


def test_which_steels_temper() -> None:
    assert not tempers(find_steel("DC04"))
    assert not tempers(find_steel("HC340LA"))
    assert not tempers(find_steel("1.4301"))
    assert all(tempers(find_steel(one)) for one in ("HCT600X", "HCT690T", "22MnB5", "HCT780C"))
    assert tempers(UNKNOWN_STEEL)


def test_the_zone_lies_where_the_field_says() -> None:
    """Peaks fall by 100 K each 0.5 mm from 1500 degC on the axis."""

    def edge(level: float) -> float:
        return max(0.0, (1500.0 - level) / 100.0 * 0.5e-3)

    one = found("22MnB5")
    zone = soft_zone(one, AC1, edge, 0.2e-3)
    assert zone.at is not None
    assert zone.band is not None
    assert zone.at.value == pytest.approx(3.75e-3)
    assert zone.at.low < 3.55e-3
    assert zone.at.high > 3.95e-3
    expected = (AC1.value - one.outer_level.value) / 100.0 * 0.5e-3
    assert zone.band.value == pytest.approx(expected)
    assert zone.band.low < zone.band.value < zone.band.high
    assert soft_zone(one, AC1, lambda _level: 0.0, 0.2e-3).at is None


def test_strength_goes_with_hardness() -> None:
    zone = soft_zone(found("22MnB5"), AC1, lambda level: 1e-5 * (1500.0 - level), 0.0)
    left = strength_left(1300e6, zone)
    assert left == pytest.approx(1300e6 * (1.0 - zone.softened.loss.value))
    assert strength_left(600e6, None) == 600e6
