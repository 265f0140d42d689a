"""What the mains, the lead and the loop leave of the set current."""

import dataclasses
import math

import numpy as np
import pytest

from buttonhole.units import BadInput
from buttonhole.weld.spot import fields as f
from buttonhole.weld.spot.feeding import given
from buttonhole.weld.spot.supply import ElectricSupply, lead_drop, supply_row

GUN = ElectricSupply(no_load_voltage=9.0, diode_drop=1.1, loop_resistance=660e-6)
THIN = dataclasses.replace(GUN, lead_length=25.0, lead_area=2.5e-6)


@pytest.mark.parametrize(("area", "volts", "share"), [(6e-6, 9.0, 0.022), (2.5e-6, 21.0, 0.053)])
def test_a_lead_of_25_m_at_60_A(area: float, volts: float, share: float) -> None:
    drop = lead_drop(60.0, 25.0, area)
    assert drop == pytest.approx(volts, abs=0.5)
    assert drop / 400.0 == pytest.approx(share, abs=0.001)


def test_the_lead_carried_over_takes_the_same_share_of_either_voltage() -> None:
    current = 8e3
    line = THIN.line_current(current)
    drop = lead_drop(line, THIN.lead_length, THIN.lead_area) / THIN.nominal_voltage
    assert THIN.lead_resistance * current / THIN.no_load_voltage == pytest.approx(drop, rel=1e-12)


def test_on_one_phase_the_lead_counts_twice() -> None:
    single = dataclasses.replace(THIN, three_phase=False)
    assert single.lead_resistance == pytest.approx(2.0 * THIN.lead_resistance)
    current = 5e3
    drop = lead_drop(single.line_current(current), 25.0, 2.5e-6, three_phase=False)
    assert single.lead_resistance * current / 9.0 == pytest.approx(drop / 400.0, rel=1e-12)


def test_a_loop_of_660_microhm_gives_10_kA_and_loses_6_percent_on_a_hotter_weld() -> None:
    full = dataclasses.replace(GUN, regulated=False, reference_resistance=120e-6)
    cold = given(1e9, 120e-6, supply_row(full))
    hot = given(1e9, 170e-6, supply_row(full))
    assert cold == pytest.approx((9.0 - 1.1) / 780e-6)
    assert cold == pytest.approx(10e3, rel=0.02)
    assert 1.0 - hot / cold == pytest.approx(0.06, abs=0.003)


def test_a_regulated_gun_gives_what_is_set_up_to_what_it_can() -> None:
    row = supply_row(GUN)
    most = GUN.most_current(120e-6)
    assert given(8e3, 120e-6, row) == 8e3
    assert given(1.5 * most, 120e-6, row) == pytest.approx(most, rel=1e-12)


def test_an_unregulated_gun_gives_what_is_set_where_it_was_dialled() -> None:
    loose = dataclasses.replace(GUN, regulated=False)
    assert given(8e3, loose.reference_resistance, supply_row(loose)) == pytest.approx(8e3)
    low = dataclasses.replace(loose, mains_voltage=360.0)
    share = (8e3 * 780e-6 + 1.1) / 9.0  # of the full voltage
    assert given(8e3, 120e-6, supply_row(low)) == pytest.approx((share * 8.1 - 1.1) / 780e-6)


def test_reactance_adds_at_right_angles() -> None:
    row = supply_row(dataclasses.replace(GUN, loop_reactance=500e-6, diode_drop=0.0))
    assert given(1e9, 120e-6, row) == pytest.approx(9.0 / math.hypot(780e-6, 500e-6))


def test_without_a_supply_the_machine_gives_what_is_set() -> None:
    assert np.array_equal(supply_row(None), np.zeros(f.FEED))
    assert given(12345.0, 1.0, supply_row(None)) == 12345.0


def test_nothing_is_left_of_a_voltage_below_the_diodes() -> None:
    dead = ElectricSupply(mains_voltage=50.0, no_load_voltage=5.0)
    assert dead.most_current(100e-6) == 0.0
    assert given(8e3, 100e-6, supply_row(dead)) == 0.0


@pytest.mark.parametrize(
    ("key", "value"),
    [("mains_voltage", 20.0), ("lead_length", -1.0), ("lead_area", 0.0), ("no_load_voltage", 0.5),
     ("loop_resistance", math.nan), ("diode_drop", 5.1), ("reference_resistance", 0.0)],
)  # fmt: skip
def test_what_no_machine_has_is_refused(key: str, value: float) -> None:
    with pytest.raises(BadInput) as caught:
        ElectricSupply(**{key: value})
    assert caught.value.key == key
    assert "give" in caught.value.message


def test_diodes_that_take_all_are_refused() -> None:
    with pytest.raises(BadInput, match="no current is left"):
        ElectricSupply(no_load_voltage=2.0, diode_drop=3.0)
