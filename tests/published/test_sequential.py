"""Published check: sequential tests of Wald.

quantity: intercepts and slope of the lines between which counting goes on
role: verification
source: tables worked out independently of the program; the first row is the worked example of the
    NIST/SEMATECH e-Handbook, 6.2.6 (accept -0.939 + 0.0397 n, reject 1.205 + 0.0397 n)
tolerance: half of the last digit printed
"""

import pytest

from buttonhole.coupon.sequential import counting_lines, mean_lines
from buttonhole.sources import table
from buttonhole.units import BadInput


def test_counting() -> None:
    rows = table("sequential_attribute").rows()
    assert len(rows) == 6
    for row in rows:
        risks = (row[f"{name} [-]"] for name in ("good", "bad", "alpha", "beta"))
        lines = counting_lines(*risks)
        assert lines.accept == pytest.approx(row["h1 [-]"], abs=6e-5)
        assert lines.reject == pytest.approx(row["h2 [-]"], abs=6e-5)
        assert lines.slope == pytest.approx(row["slope [-]"], abs=6e-6)
        assert lines.passes_to_accept == row["passes_to_accept [1]"]
        assert lines.failures_to_reject == row["failures_to_reject [1]"]


def test_the_handbook() -> None:
    lines = counting_lines(0.01, 0.10, 0.05, 0.10)
    assert (lines.accept, lines.reject) == pytest.approx((0.939, 1.205), abs=5.1e-4)
    assert lines.slope == pytest.approx(0.0397, abs=6e-5)


def test_nothing_is_accepted_by_counting_five() -> None:
    assert all(
        counting_lines(good, bad, 0.1, 0.1).passes_to_accept > 5
        for good, bad in ((0.01, 0.1), (0.02, 0.2), (0.05, 0.3))
    )


def test_mean_of_known_scatter() -> None:
    for row in table("sequential_mean").rows():
        lines = mean_lines(
            row["good [mm]"], row["bad [mm]"], row["sigma [mm]"], row["alpha [-]"], row["beta [-]"]
        )
        assert lines.slope == pytest.approx(row["slope [mm]"])
        assert lines.accept == pytest.approx(row["accept [mm]"], abs=6e-5)
        assert lines.reject == pytest.approx(row["reject [mm]"], abs=6e-5)
        assert lines.readings_when_good == pytest.approx(row["n_at_good [-]"], abs=6e-3)


def test_risks_that_can_not_be() -> None:
    with pytest.raises(BadInput, match="bad"):
        counting_lines(0.1, 0.1, 0.05, 0.05)
    with pytest.raises(BadInput, match="alpha"):
        counting_lines(0.1, 0.2, 0.6, 0.05)
    with pytest.raises(BadInput, match="below"):
        mean_lines(4.0, 4.2, 0.2, 0.05, 0.05)
    with pytest.raises(BadInput, match="sigma"):
        mean_lines(4.6, 4.2, 0.0, 0.05, 0.05)
