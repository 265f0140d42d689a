"""Published check: what counting shows.

quantity: exact binomial bounds, sample sizes without failure
role: verification
source: Clopper and Pearson, Biometrika 26 (1934) 404, by tables worked out independently of the
    program; 59 of 59 for 95/95 and 22 of 22 for 90/90 are widely printed
tolerance: half of the last digit printed
"""

import pytest

from buttonhole.coupon.statistics import (
    clopper_pearson,
    counting_alone,
    success_run_lower_bound,
    success_run_size,
    upper_bound,
)
from buttonhole.sources import table
from buttonhole.units import BadInput

INTERVALS = table("clopper_pearson").rows()
SIZES = table("zero_failure_n").rows()
BOUNDS = table("zero_failure_bound").rows()


def test_the_tables_are_there() -> None:
    assert (len(INTERVALS), len(SIZES), len(BOUNDS)) == (44, 49, 19)


@pytest.mark.parametrize("row", INTERVALS, ids=lambda row: f"{row['failures [1]']:g}")
def test_clopper_pearson(row: dict[str, float]) -> None:
    x, n = int(row["failures [1]"]), int(row["n [1]"])
    low, high = clopper_pearson(x, n)
    assert low == pytest.approx(row["two_sided_95_low [-]"], abs=6e-6)
    assert high == pytest.approx(row["two_sided_95_high [-]"], abs=6e-6)
    assert upper_bound(x, n, 0.90) == pytest.approx(row["one_sided_90_upper [-]"], abs=6e-6)
    assert upper_bound(x, n, 0.95) == pytest.approx(row["one_sided_95_upper [-]"], abs=6e-6)


@pytest.mark.parametrize("row", SIZES, ids=lambda row: f"{row['n_no_failure [1]']:g}")
def test_sizes_without_failure(row: dict[str, float]) -> None:
    found = success_run_size(row["reliability [-]"], row["confidence [-]"])
    assert found == row["n_no_failure [1]"]
    # With one failure allowed, the size is the smallest that still shows the same.
    bad = 1.0 - row["reliability [-]"]
    n = int(row["n_one_failure [1]"])
    assert upper_bound(1, n, row["confidence [-]"]) <= bad + 1e-12
    assert n == 2 or upper_bound(1, n - 1, row["confidence [-]"]) > bad


@pytest.mark.parametrize("row", BOUNDS, ids=lambda row: f"{row['n [1]']:g}")
def test_bounds_without_failure(row: dict[str, float]) -> None:
    for percent in (50, 80, 90, 95, 99):
        found = success_run_lower_bound(int(row["n [1]"]), percent / 100)
        assert found == pytest.approx(row[f"R_{percent} [-]"], abs=6e-6)


def test_the_well_known_sizes() -> None:
    assert success_run_size(0.95, 0.95) == 59
    assert success_run_size(0.90, 0.90) == 22


def test_it_is_said_in_words_and_never_rounded_up() -> None:
    assert "at least 36.8 % of such welds are good (95 % confidence)" in counting_alone(3, 3).text
    assert "at least 5 % of" in counting_alone(1, 1).text
    assert "1 of 1 coupon passed." in counting_alone(1, 1).text
    assert "nothing good" in counting_alone(0, 2).text
    assert "takes" not in counting_alone(29, 29).text
    assert counting_alone(29, 29).at_least_good > 0.90


@pytest.mark.parametrize(("x", "n"), [(0, 0), (-1, 3), (4, 3)])
def test_counts_that_can_not_be(x: int, n: int) -> None:
    with pytest.raises(BadInput):
        counting_alone(x, n)
