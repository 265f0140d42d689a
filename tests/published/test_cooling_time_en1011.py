"""Cooling times of EN 1011-2 as worked by hand. Role: verification.

Tolerance: the printed digit, half a unit of the last place and the rounding of the table.
"""

import pytest

from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.arc.cooling_time import Shape, long_seam_cooling

ROWS = table("cooling_times_en1011").rows()


@pytest.mark.parametrize(
    "row", ROWS, ids=lambda r: f"{r['heat_input [kJ/mm]']}-{r['thickness [mm]']}"
)
def test_worked_rows_to_the_printed_digit(row: dict[str, float]) -> None:
    found = long_seam_cooling(
        row["heat_input [kJ/mm]"] * 1e6, row["thickness [mm]"] * 1e-3, row["start [degC]"]
    )
    assert round(found.thin, 2) == pytest.approx(row["t85_thin [s]"], abs=0.0051)
    assert round(found.thick, 2) == pytest.approx(row["t85_thick [s]"], abs=0.0051)
    assert found.transition_thickness * 1e3 == pytest.approx(row["transition [mm]"], abs=0.0051)
    assert found.governing == max(found.thin, found.thick)


@pytest.mark.parametrize(
    ("heat", "mm", "start", "seconds", "digit"),
    [(0.1728, 1.2, 20, 23.6, 0.05), (0.1728, 2.4, 20, 5.9, 0.05), (1.0, 20, 20, 5.29, 0.005),
     (1.5, 20, 100, 9.96, 0.005)],
)  # fmt: skip
def test_single_worked_values(
    heat: float, mm: float, start: float, seconds: float, digit: float
) -> None:
    found = long_seam_cooling(heat * 1e6, mm * 1e-3, start)
    assert abs(found.governing - seconds) <= digit


def test_the_form_of_the_weld_enters_as_a_factor() -> None:
    bead = long_seam_cooling(172.8e3, 1.2e-3)
    butt = long_seam_cooling(172.8e3, 1.2e-3, shape=Shape.BUTT)
    assert butt.thin == pytest.approx(0.9 * bead.thin)
    assert round(butt.thin, 1) == 21.2


@pytest.mark.parametrize("start", [500.0, 800.0, float("nan")])
def test_a_start_at_which_the_formulas_mean_nothing_is_refused(start: float) -> None:
    with pytest.raises(BadInput, match="start"):
        long_seam_cooling(1e5, 1e-3, start)
