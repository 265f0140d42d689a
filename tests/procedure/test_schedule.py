"""Published ranges to begin from."""

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.schedule import hold_time, schedule_for
from buttonhole.units import BadInput


def stack(*thickness: float, steel: str = "DC04", coating: Coating = Coating.BARE) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(steel), t * 1e-3, coating) for t in thickness))


def test_uncoated_by_the_thinner_sheet() -> None:
    found = schedule_for(stack(0.8, 1.5))
    assert found.face == pytest.approx(4e-3)
    assert (found.force_min, found.force_max) == pytest.approx((1700.0, 2000.0))
    assert (found.time_min, found.time_max) == pytest.approx((0.12, 0.16))
    assert (found.current_min, found.current_max) == pytest.approx((6e3, 9e3))
    assert found.extra_force == 0.0


def test_three_sheets_go_by_the_second_thinnest() -> None:
    assert schedule_for(stack(0.7, 1.2, 1.6)).thickness == pytest.approx(1.2e-3)


def test_coatings_take_their_own_rows() -> None:
    zinc = schedule_for(stack(1.0, 1.0, coating=Coating.GI))
    assert (zinc.current_min, zinc.current_max) == pytest.approx((9e3, 11e3))
    iron = schedule_for(stack(1.0, 1.0, coating=Coating.GA))
    assert iron.force_min == pytest.approx(214 * 9.80665)
    assert iron.force_max == pytest.approx(285 * 9.80665)
    assert (iron.time_min, iron.time_max) == pytest.approx((0.14, 0.20))


def test_ranges_never_fall_with_thickness() -> None:
    for coating in (Coating.BARE, Coating.GI, Coating.EG, Coating.GA):
        found = [schedule_for(stack(t, t, coating=coating)) for t in (0.5, 0.8, 1.0, 1.5, 2, 3)]
        for name in ("force_min", "force_max", "time_min", "time_max", "current_max", "face"):
            values = [getattr(each, name) for each in found]
            assert values == sorted(values), (coating, name)


def test_stronger_steel_gets_more_force() -> None:
    assert schedule_for(stack(1.0, 1.0, steel="HCT600X")).extra_force == 0.20
    assert schedule_for(stack(1.0, 1.0, steel="HC340LA")).extra_force == 0.15


def test_beyond_the_tables_there_is_nothing_to_begin_from() -> None:
    with pytest.raises(BadInput, match="Ask the vehicle maker"):
        schedule_for(stack(3.5, 3.5))


def test_hold_time_of_the_chart() -> None:
    assert hold_time(0.040 * 25.4e-3) == pytest.approx(12 / 60)
