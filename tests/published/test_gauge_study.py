"""Published check: a crossed study of gauge and readers.

quantity: sums of squares, spreads, shares, number of classes
role: verification
source: data set and results of the measurement systems analysis manual as quoted in public test
    suites (ranges from memory, checked only as a warning level)
tolerance: half of the last digit printed
"""

import numpy as np
import pytest

from buttonhole.coupon.gauge_study import gauge_study, range_study, sums_of_squares
from buttonhole.sources import table
from buttonhole.units import BadInput


def readings() -> list[list[list[float]]]:
    example = table("gauge_study_example")
    value = example.column("value [-]").reshape(10, 3, 3)
    return value.tolist()


def printed() -> dict[str, float]:
    results = table("gauge_study_result")
    return dict(zip(results.text("quantity"), results.column("printed [-]"), strict=True))


def test_sums_of_squares() -> None:
    found, wanted = sums_of_squares(readings()), printed()
    assert found.parts == pytest.approx(wanted["SS_part"], abs=5.1e-5)
    assert found.readers == pytest.approx(wanted["SS_operator"], abs=5.1e-5)
    assert found.interaction == pytest.approx(wanted["SS_interaction"], abs=5.1e-5)
    assert found.repeats == pytest.approx(wanted["SS_repeatability"], abs=1e-4)
    assert found.total == pytest.approx(wanted["SS_total"], abs=5.1e-5)


def test_spreads() -> None:
    found, wanted = gauge_study(readings()), printed()
    assert not found.interacts
    assert found.interaction_probability == pytest.approx(0.974, abs=5e-4)
    assert found.gauge.value == pytest.approx(wanted["EV_anova_pooled"], abs=1.1e-6)
    assert found.readers.value == pytest.approx(wanted["AV_anova"], abs=1.1e-6)
    # printed as the root of squares that were rounded before: 1.5 in the sixth digit
    assert found.both.value == pytest.approx(wanted["GRR_anova"], abs=2e-6)
    assert found.parts.value == pytest.approx(wanted["PV_anova"], abs=1.1e-6)
    assert found.whole.value == pytest.approx(wanted["TV_anova"], abs=5.1e-4)
    assert 100.0 * found.share.value == pytest.approx(wanted["pct_study_GRR"], abs=0.051)
    assert 100.0 * found.share.value**2 == pytest.approx(wanted["pct_contribution_GRR"], abs=0.051)
    assert found.classes == 4
    assert "usable with care" in found.words
    assert "only 4" in found.words


def test_averages_and_ranges_agree_with_what_is_remembered() -> None:
    found, wanted = range_study(readings()), printed()
    assert found.gauge == pytest.approx(wanted["EV_avg_range"], rel=1e-3)
    assert found.readers == pytest.approx(wanted["AV_avg_range"], rel=1e-3)
    assert found.parts == pytest.approx(wanted["PV_avg_range"], rel=1e-3)
    assert 100.0 * found.share == pytest.approx(wanted["pctGRR_avg_range"], abs=0.01)


def test_intervals_hold_the_truth_about_nine_times_in_ten() -> None:
    chance = np.random.default_rng(5)
    held = []
    for _ in range(200):
        y = (
            chance.normal(0.0, 0.6, (10, 1, 1))
            + chance.normal(0.0, 0.12, (1, 3, 1))
            + chance.normal(0.0, 0.10, (10, 3, 2))
        )
        found = gauge_study(y.tolist())
        held.append(
            [
                found.gauge.low <= 0.10 <= found.gauge.high,
                found.both.low <= np.hypot(0.10, 0.12) <= found.both.high,
                found.parts.low <= 0.6 <= found.parts.high,
            ]
        )
    share = np.mean(held, axis=0)
    # 200 studies: plus or minus 4 points; those of few degrees of freedom are known to be wide
    assert (share > 0.83).all(), share
    assert (share < 0.99).all(), share


def test_readings_that_can_not_be() -> None:
    with pytest.raises(BadInput, match="missing"):
        gauge_study([[[1.0, 2.0], [1.0]], [[1.0, 2.0], [1.0, 2.0]]])
    with pytest.raises(BadInput, match="at least two"):
        gauge_study([[[1.0, 2.0]], [[1.0, 2.0]]])
    with pytest.raises(BadInput, match="never differ"):
        gauge_study([[[1.0, 1.0], [1.0, 1.0]], [[2.0, 2.0], [2.0, 2.0]]])
