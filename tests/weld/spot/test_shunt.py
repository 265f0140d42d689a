"""The way through the last weld."""

import itertools
import math

import pytest

from buttonhole.joint.material import curves
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot.shunt import (
    Shunt,
    last_weld_diameter,
    own_warming,
    path_resistance,
    sheet_resistance,
)

RHO, T, A = 1.5e-7, 1e-3, 3e-3


def test_far_away_it_is_the_logarithm() -> None:
    found = sheet_resistance(RHO, T, 0.3, A, A)
    assert found == pytest.approx(RHO / (math.pi * T) * math.log(0.3 / A), rel=1e-4)


def test_a_long_way_on_a_narrow_flange_is_a_strip() -> None:
    more = sheet_resistance(RHO, T, 0.4, A, A, 20e-3) - sheet_resistance(RHO, T, 0.3, A, A, 20e-3)
    assert more == pytest.approx(RHO * 0.1 / (20e-3 * T), rel=1e-5)


def test_a_wide_flange_is_a_wide_sheet() -> None:
    wide = sheet_resistance(RHO, T, 30e-3, A, 2e-3)
    assert sheet_resistance(RHO, T, 30e-3, A, 2e-3, 10.0) == pytest.approx(wide, rel=1e-5)
    assert sheet_resistance(RHO, T, 30e-3, A, 2e-3, 0.03) > wide


def test_unlike_sheets_are_in_series() -> None:
    last = Shunt(25e-3, 5e-3)
    thin, thick = (1.5e-7, 0.8e-3), (2.5e-7, 1.6e-3)
    both = path_resistance((thin, thick), last, A, factor=1.0)
    each = [sheet_resistance(*one, 25e-3, A, 2.5e-3, last.flange_width) for one in (thin, thick)]
    assert both == pytest.approx(math.fsum(each), rel=1e-12)
    assert path_resistance((thick, thin), last, A) == pytest.approx(2.0 * both)


def test_it_rises_with_distance_and_is_nothing_where_discs_meet() -> None:
    found = [sheet_resistance(RHO, T, s * 1e-3, A, A, 20e-3) for s in (3, 8, 12, 20, 50, 100)]
    assert found[0] > 0.0
    assert all(a <= b for a, b in itertools.pairwise(found))


def test_a_last_weld_of_which_nothing_is_known() -> None:
    assert last_weld_diameter(1e-3) == pytest.approx(5e-3)
    assert last_weld_diameter(0.64e-3) == pytest.approx(4e-3)
    sheets = ((RHO, 1e-3), (RHO, 2e-3))
    told = path_resistance(sheets, Shunt(20e-3, 5e-3), A)
    assert path_resistance(sheets, Shunt(20e-3), A) == pytest.approx(told)


def test_the_shunt_warms_its_own_way_little() -> None:
    # 10 % of 9 kA for 200 ms in 1 mm sheet: the bound that allows leaving it out
    rise = own_warming(900.0, 0.2, 1e-3, 2.5e-3, curves(find_steel("DC04")))
    assert 20.0 < rise < 60.0


@pytest.mark.parametrize(
    ("key", "values"),
    [("shunt_distance", (1e-3,)), ("shunt_distance", (math.nan,)),
     ("shunt_diameter", (20e-3, 50e-3)), ("flange_width", (20e-3, 5e-3, 1e-3))],
)  # fmt: skip
def test_what_is_no_last_weld_is_refused(key: str, values: tuple[float, ...]) -> None:
    with pytest.raises(BadInput) as caught:
        Shunt(*values)
    assert caught.value.key == key
