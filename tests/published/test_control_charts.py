"""Published check: charts and how soon they signal.

quantity: EWMA and CUSUM points, limits, average run lengths
role: verification
source: NIST/SEMATECH e-Handbook 6.3.2.4 (limits 52.5884 and 47.4115); Montgomery and Runger, table
    16-8; run lengths worked out independently, those of CUSUM as in the classic tables
tolerance: half of the last digit printed; run lengths 0.5 % (a chain of states)
"""

import pytest

from buttonhole.coupon.control_chart import cusum, cusum_run_length, ewma, ewma_run_length
from buttonhole.sources import table
from buttonhole.units import BadInput


def test_ewma_of_the_handbook() -> None:
    example = table("chart_ewma_example")
    x = example.column("x [-]").tolist()
    chart = ewma(x, factor=0.3, limit=3.0, target=50.0, sigma=2.0539, settled=True)
    assert chart.values == pytest.approx(example.column("z_printed [-]"), abs=5.1e-3)
    # printed 52.5884 and 47.4115, which is cut, not rounded: 50 +- 2.58845
    assert chart.upper[-1] == pytest.approx(52.5884, abs=1e-4)
    assert chart.lower[-1] == pytest.approx(47.4115, abs=1e-4)
    assert chart.signals == ()
    assert ewma([*x, 60.0], limit=3.0, target=50.0, sigma=2.0539).signals == (20,)


def test_limits_open_from_the_start() -> None:
    chart = ewma([0.0] * 40, factor=0.3, limit=3.0)
    assert chart.upper[0] == pytest.approx(0.9)
    assert chart.upper[-1] == pytest.approx(3.0 * (0.3 / 1.7) ** 0.5)


def test_cusum_of_the_textbook() -> None:
    example = table("chart_cusum_example")
    chart = cusum(example.column("x [-]").tolist(), slack=1.0, limit=10.0, target=99.0)
    assert chart.upper == pytest.approx(example.column("upper [-]"), abs=0.051)
    assert chart.lower == pytest.approx(example.column("lower [-]"), abs=0.051)
    assert chart.signals == ()


def test_run_lengths() -> None:
    for row in table("average_run_length").rows():
        shift = row["shift [-]"]
        found = {
            "cusum_two_0.5_4 [-]": cusum_run_length(0.5, 4.0, shift),
            "cusum_two_0.5_5 [-]": cusum_run_length(0.5, 5.0, shift),
            "cusum_one_0.5_4 [-]": cusum_run_length(0.5, 4.0, shift, both=False),
            "ewma_0.1_2.703 [-]": ewma_run_length(0.1, 2.703, shift),
            "ewma_0.2_2.86 [-]": ewma_run_length(0.2, 2.86, shift),
            "ewma_0.3_2.7 [-]": ewma_run_length(0.3, 2.7, shift),
            "ewma_0.4_2.6 [-]": ewma_run_length(0.4, 2.6, shift),
        }
        for name, length in found.items():
            assert length == pytest.approx(row[name], rel=5e-3), (shift, name)


def test_charts_that_can_not_be() -> None:
    with pytest.raises(BadInput, match="factor"):
        ewma([1.0], factor=0.0)
    with pytest.raises(BadInput, match="sigma"):
        ewma([1.0], sigma=0.0)
    with pytest.raises(BadInput, match="limit"):
        cusum([1.0], slack=0.5, limit=0.0)
