"""Published check: tear of the sheet beside an arc spot.

quantity: nominal shear of the sheet and of the weld
role: verification (the arithmetic of the formulas; the code behind them is from memory)
source: arc-spot formulas worked out independently by hand (table arc_spot_strength)
tolerance: half of the last digit printed, 0.005 kN
"""

import pytest

from buttonhole.sources import table
from buttonhole.weld.arc.load_paths import fused_area_load, sheet_tear_load

ROWS = table("arc_spot_strength").rows()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['d_visible [mm]']}-{row['t [mm]']}")
def test_the_sheet_tears_at_the_printed_load(row: dict[str, float]) -> None:
    load = sheet_tear_load(row["d_a [mm]"] * 1e-3, row["t [mm]"] * 1e-3, row["Fu [MPa]"] * 1e6)
    assert load == pytest.approx(row["sheet [kN]"] * 1e3, abs=5.1)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['d_visible [mm]']}-{row['t [mm]']}")
def test_the_weld_shears_at_the_printed_load(row: dict[str, float]) -> None:
    load = fused_area_load(row["d_e [mm]"] * 1e-3, 0.75 * 480e6)
    assert load == pytest.approx(row["weld [kN]"] * 1e3, abs=5.1)
