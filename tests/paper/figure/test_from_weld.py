"""The pictures of a prediction show the prediction's own values."""

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.material import curves
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import UNKNOWN_STEEL, find_steel
from buttonhole.paper.figure import growth, section, stack, window
from buttonhole.paper.figure.from_weld import (
    ZINC_BOILS,
    drawn_growth,
    drawn_section,
    drawn_stack,
    drawn_window,
    sheet_levels,
)
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.result import Course, InterfaceWeld, SpotWeld
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.window import WeldWindow
from tests.paper import examples

SHEETS = (
    Sheet(find_steel("DC04"), 0.7e-3, Coating.GI),
    Sheet(find_steel("HCT600X"), 1.2e-3, Coating.BARE),
    Sheet(find_steel("22MnB5"), 1.6e-3, Coating.ALSI),
)
STACK = StackUp(SHEETS, gap=0.2e-3)
SET_UP = SpotSetUp(
    pulses=(Pulse(9100.0, 0.24),),
    current_type=CurrentType.MFDC,
    electrode_force=3500.0,
    cap_a=ElectrodeCap(face_diameter=6e-3),
    cap_b=ElectrodeCap(face_diameter=6e-3, radius=50e-3, body_diameter=13e-3),
    squeeze_time=0.3,
    hold_time=0.2,
)


def spot_weld() -> SpotWeld:
    nuggets = (Estimate(2.9e-3, 2.1e-3, 3.6e-3), Estimate(3.6e-3, 3.1e-3, 4.2e-3))
    one = Estimate(1.0, 0.5, 1.5)
    return SpotWeld(
        interfaces=tuple(
            InterfaceWeld(index, nugget, nugget, 0.3e-3, 0.4e-3, ring=False, after_expulsion=nugget)
            for index, nugget in enumerate(nuggets)
        ),
        expulsion_probability=Estimate(0.1, 0.0, 0.3),
        indentation=Estimate(0.07e-3, 0.05e-3, 0.1e-3),
        haz_diameter=one,
        cooling_t85=one,
        heat=one,
        peak_hardness=one,
        course=Course(
            time=np.array([0.0, 0.1, 0.24]),
            current=np.array([9100.0, 9100.0, 0.0]),
            resistance=np.array([1e-4, 1e-4, 1e-4]),
            nugget_diameter=np.array([[0.0, 0.0, 2.9e-3], [0.0, 2e-3, 3.6e-3]]),
        ),
        section=examples.bell_section(tuple(sheet.thickness for sheet in SHEETS)),
        warnings=(),
        solver_seconds=0.1,
        model_version="0",
    )


def test_the_stack_is_drawn_with_its_caps_and_gap():
    words = stack(drawn_stack(STACK, SET_UP, examples.LIMITS[:2]))
    for needed in ("1: 0.70 mm DC04 GI", "cap B: face 6.0 mm, radius 50 mm", "gap 0.20 mm", "4.38"):
        assert needed in words


def test_the_section_shows_nugget_interval_and_the_higher_limit():
    words = section(drawn_section(spot_weld(), STACK, examples.LIMITS[:2]))
    assert "1-2: nugget 2.90 mm (2.10 to 3.60), at least 4.18 mm 5√t" in words
    assert "dent, deeper side 0.07 mm" in words


def test_a_section_without_limits_is_drawn_too():
    assert "at least" not in section(drawn_section(spot_weld(), STACK))


def test_growth_shows_the_course_of_the_prediction():
    words = growth(drawn_growth(spot_weld(), examples.LIMITS[:2]))
    assert "interface 2-3 melts at 100 ms, largest 3.60 mm" in words


def weld_window(lower: float, upper: float, robust: float) -> WeldWindow:
    currents = np.linspace(6000.0, 12000.0, 7)
    nugget = np.array([[1.0e-6 * (currents - 6000.0)], [0.8e-6 * (currents - 6000.0)]])
    return WeldWindow(
        currents=currents,
        times=np.array([0.24]),
        nugget=nugget,
        expulsion=np.zeros((1, 7)),
        minimum_diameters=(3e-3, 2e-3),
        lower_limit=np.array([lower]),
        upper_limit=np.array([upper]),
        robust_current=np.array([robust]),
    )


def test_the_window_shows_its_robust_point_with_the_scatter_round_it():
    drawn = drawn_window(
        weld_window(9000.0, 11000.0, 10000.0), examples.LIMITS[:2], scatter=0.03, setting="240 ms"
    )
    assert drawn.usable == (9000.0, 11000.0)
    assert drawn.chosen_diameters == pytest.approx((4.0e-3, 3.2e-3))
    assert drawn.scatter.diameters_low == pytest.approx((3.7e-3, 2.96e-3))
    assert drawn.scatter.diameters_high == pytest.approx((4.3e-3, 3.44e-3))
    words = window(drawn)
    assert "usable 9.0 kA to 11.0 kA" in words
    assert "splash from 11.0 kA" in words
    assert "chosen 10.0 kA: 4.00 mm, 3.20 mm" in words


def test_a_window_that_does_not_splash_ends_with_the_map():
    drawn = drawn_window(weld_window(9000.0, np.nan, 10500.0))
    assert drawn.usable == (9000.0, 12000.0)
    assert drawn.expulsion_current is None


def test_no_window_is_drawn_as_none():
    drawn = drawn_window(weld_window(np.nan, 11000.0, np.nan))
    assert drawn.usable is None
    assert drawn.chosen_current is None
    assert "no usable current" in window(drawn)
    assert drawn_window(weld_window(11500.0, 11000.0, np.nan)).usable is None


def test_a_current_outside_the_map_is_not_drawn():
    assert drawn_window(weld_window(9e3, 11e3, 1e4), current=13e3).chosen_current is None


@pytest.mark.parametrize("sheet", SHEETS, ids=["DC04", "HCT600X", "22MnB5"])
def test_levels_come_from_the_steel_and_rise(sheet: Sheet):
    found, steel = sheet_levels(sheet), curves(sheet.steel)
    assert steel.solidus <= found.melted <= steel.liquidus
    assert found.ac1 == steel.ac1 < found.ac3 == steel.ac3 < found.melted


def test_zinc_goes_and_aluminium_silicon_is_not_said_to():
    assert sheet_levels(SHEETS[0]).coating_gone == ZINC_BOILS
    assert sheet_levels(SHEETS[1]).coating_gone is None
    assert sheet_levels(SHEETS[2]).coating_gone is None


def test_a_soft_ring_is_shown_where_martensite_tempers_and_where_nobody_knows():
    assert sheet_levels(SHEETS[0]).softened is None
    assert sheet_levels(SHEETS[2]).softened is not None
    assert sheet_levels(Sheet(UNKNOWN_STEEL, 1e-3)).softened is not None


def test_stainless_steel_has_no_zones_of_transformation():
    found = sheet_levels(Sheet(find_steel("304"), 1e-3))
    assert found.ac1 is None
    assert found.ac3 is None
