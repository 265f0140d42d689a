"""Published check: factors of one-sided limits for a normal distribution.

quantity: k of mean - k s
role: verification
source: NIST/SEMATECH e-Handbook 7.2.6.3 (1.8740 for n = 43 and 4.4111 for n = 6,
    both 0.90/0.99); tables worked out independently of the program
tolerance: half of the last digit printed
"""

import pytest

from buttonhole.coupon.statistics import (
    prediction_factor,
    tolerance_factor_known_scatter,
    tolerance_factor_one_sided,
)
from buttonhole.sources import table
from buttonhole.units import BadInput


@pytest.mark.parametrize(("n", "k"), [(43, 1.8740), (6, 4.4111)])
def test_nist(n: int, k: float) -> None:
    assert tolerance_factor_one_sided(n, 0.90, 0.99) == pytest.approx(k, abs=5e-5)


@pytest.mark.parametrize(
    ("n", "coverage", "confidence", "k"),
    [
        (3, 0.90, 0.95, 6.155),
        (5, 0.90, 0.95, 3.407),
        (10, 0.90, 0.95, 2.355),
        (5, 0.95, 0.95, 4.203),
        (10, 0.95, 0.95, 2.911),
    ],
)
def test_the_classic_table(n: int, coverage: float, confidence: float, k: float) -> None:
    assert tolerance_factor_one_sided(n, coverage, confidence) == pytest.approx(k, abs=6e-4)


def test_whole_table() -> None:
    rows = table("tolerance_factor_one_sided").rows()
    assert len(rows) == 272
    for row in rows:
        found = tolerance_factor_one_sided(
            int(row["n [1]"]), row["coverage [-]"], row["confidence [-]"]
        )
        assert found == pytest.approx(row["k [-]"], abs=6e-5)


def test_whole_table_with_known_scatter() -> None:
    for row in table("tolerance_factor_sigma_known").rows():
        found = tolerance_factor_known_scatter(
            int(row["n [1]"]), row["coverage [-]"], row["confidence [-]"]
        )
        assert found == pytest.approx(row["k [-]"], abs=6e-5)


def test_the_next_weld() -> None:
    for row in table("prediction_factor_one_sided").rows():
        found = prediction_factor(int(row["n [1]"]), row["confidence [-]"])
        assert found == pytest.approx(row["k [-]"], abs=6e-5)


def test_one_coupon_knows_no_scatter() -> None:
    with pytest.raises(BadInput, match="at least 2"):
        tolerance_factor_one_sided(1, 0.9, 0.9)
    with pytest.raises(BadInput, match="coverage"):
        tolerance_factor_one_sided(3, 1.0, 0.9)
