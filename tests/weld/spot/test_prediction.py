"""What is said of a weld at the ends of the range: nothing melts, everything boils, thick plate."""

import dataclasses
import math
import time

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.metallurgy import sheet_hardness
from buttonhole.weld.spot import predict
from buttonhole.weld.spot.layout import EDGE_CELL
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import DEFAULT, simulate
from buttonhole.weld.spot.window import window


def stack(*thicknesses: float, steel: str = "DC04", coating: Coating = Coating.BARE) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(steel), t * 1e-3, coating) for t in thicknesses))


def set_up(current: float, time: float = 0.16, force: float = 2.2e3) -> SpotSetUp:
    cap = ElectrodeCap(face_diameter=6e-3)
    return SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, cap, cap, 0.3, 0.16)


TWO = stack(0.8, 0.8)


def numbers(weld: SpotWeld) -> list[float]:
    found = [weld.expulsion_probability, weld.indentation, weld.haz_diameter, weld.cooling_t85]
    found += [weld.heat, weld.peak_hardness]
    for one in weld.interfaces:
        found += [one.nugget_diameter, one.button_diameter]
    for one in found:
        assert 0.0 <= one.low <= one.value <= one.high
    return [figure for one in found for figure in (one.low, one.value, one.high)]


def test_a_weld_that_stays_cold_keeps_the_hardness_of_its_sheets() -> None:
    weld = predict(TWO, set_up(8.5e3, time=0.01))
    assert weld.haz_diameter.value == 0.0
    assert weld.peak_hardness.value == sheet_hardness(find_steel("DC04"))
    assert weld.cooling_t85.value == 0.0
    assert any("no cooling time" in text for text in weld.warnings)
    assert all(math.isfinite(one) for one in numbers(weld))


@pytest.mark.parametrize("coating", [Coating.BARE, Coating.GI])
def test_just_below_the_onset_a_weld_is_not_ruled_out(coating: Coating) -> None:
    joint = stack(0.8, 0.8, coating=coating)
    currents = [500.0 * i for i in range(9, 24)]
    melts = [simulate(joint, set_up(i)).nugget[0] > 0.0 for i in currents]
    below = currents[melts.index(True) - 1]
    (one,) = predict(joint, set_up(below)).interfaces
    assert one.nugget_diameter.value == 0.0
    assert one.nugget_diameter.high > 0.5e-3
    assert one.button_diameter.high > 0.5e-3


@pytest.mark.parametrize("current", [18e3, 25e3, 40e3])
def test_metal_that_boils_splashes_and_ends_there(current: float) -> None:
    found = simulate(TWO, set_up(current))
    assert found.boils
    assert found.peak.max() <= 2860.0
    assert abs(found.imbalance) < 1e-9  # what left as vapour is in the books
    weld = predict(TWO, set_up(current))
    assert weld.expulsion_probability.value >= 0.95
    assert weld.expulsion_probability.high == 1.0
    assert any("boiling" in text for text in weld.warnings)
    assert all(math.isfinite(one) for one in numbers(weld))
    mapped = window(TWO, set_up(current), [3.6e-3], currents=[current])
    assert mapped.expulsion[0, 0] >= 0.95


def test_a_weld_of_the_shop_does_not_boil() -> None:
    assert not simulate(TWO, set_up(9e3)).boils


def test_a_weld_that_does_not_cool_says_so() -> None:
    plates = stack(6.0, 6.0, 6.0)
    weld = predict(plates, dataclasses.replace(set_up(40e3, time=3.0, force=100.0), hold_time=0.0))
    assert weld.cooling_t85.value >= 1.0
    assert weld.cooling_t85.high > weld.cooling_t85.value
    assert all(math.isfinite(one) for one in numbers(weld))


def test_the_thickest_plates_stay_within_the_cells() -> None:
    thick = stack(6.0, 5.0, 4.0, 3.0)
    found = simulate(thick, set_up(20e3, force=10e3))
    assert found.layout.part.size < 1.1 * DEFAULT.most_cells
    thin = simulate(TWO, set_up(8.5e3))
    finest = np.diff(thin.layout.r_faces).min()
    assert finest == pytest.approx(EDGE_CELL * DEFAULT.cell, rel=0.1)


@pytest.mark.parametrize("steel", ["304", "22MnB5", "unknown"])
def test_no_weld_takes_long(steel: str) -> None:
    hard = stack(0.2, 6.0, 0.2, 6.0, steel=steel)
    cap = ElectrodeCap(face_diameter=1.5e-3)
    setting = SpotSetUp((Pulse(15e3, 3.0),), CurrentType.AC50, 100.0, cap, cap, 0.0, 3.0)
    simulate(TWO, set_up(8.5e3))  # the kernels are loaded
    started = time.process_time()
    simulate(hard, setting)
    assert time.process_time() - started < 20.0  # 3 s when nothing else runs
