"""The table [condition] of a weld file."""

import dataclasses
import math
import tomllib
from pathlib import Path

import pytest

from buttonhole.desk.condition_answer import condition_answer
from buttonhole.desk.weld_file import WeldFile, read_weld_file, weld_file_from, weld_file_text
from buttonhole.desk.weld_file.condition_keys import nearest_nominal
from buttonhole.units import BadInput
from buttonhole.weld.spot.condition import NORMAL

EXAMPLES = Path(__file__).parents[3] / "examples"
PLAIN = (EXAMPLES / "two_sheets.toml").read_text(encoding="utf-8")


def read(table: str, plain: str = PLAIN) -> WeldFile:
    return weld_file_from(tomllib.loads(f"{plain}\n[condition]\n{table}\n"))


def refusal(table: str) -> BadInput:
    with pytest.raises(BadInput) as caught:
        read(table)
    return caught.value


def test_without_the_table_nothing_changes() -> None:
    assert weld_file_from(tomllib.loads(PLAIN)).condition == NORMAL
    assert read("").condition == NORMAL
    assert "condition" not in weld_file_text(read(""))


def test_the_example_says_what_it_means() -> None:
    found = read_weld_file(EXAMPLES / "worn_shop.toml").condition
    assert math.degrees(found.tilt) == pytest.approx(1.0)
    assert found.wear[0] == pytest.approx(0.6 * 0.09e-3)  # 60 welds on zinc
    assert found.shunt is not None
    assert found.shunt.distance == pytest.approx(20e-3)
    assert found.supply is not None
    assert found.supply.nominal_voltage == 400.0
    assert found.supply.lead_area == pytest.approx(2.5e-6)
    told = condition_answer(found)
    assert told["supply"]["lead_area_mm2"] == pytest.approx(2.5)
    assert told["shunt"]["distance_mm"] == pytest.approx(20.0)


def test_written_and_read_it_is_the_same() -> None:
    weld = read_weld_file(EXAMPLES / "worn_shop.toml")
    again = weld_file_from(tomllib.loads(weld_file_text(weld)))
    assert again == weld
    assert 'tilt = "1 deg"' in weld_file_text(weld)
    assert 'cap_temperature = "60 degC"' in weld_file_text(weld)


def test_side_b_is_as_side_a_unless_it_is_said() -> None:
    both = read('wear = "0.4 mm"\ncap_temperature = "80 degC"').condition
    assert both.wear == (0.4e-3, 0.4e-3)
    assert both.cap_temperature == (80.0, 80.0)
    unlike = read('wear = "0.4 mm"\nwear_b = "0 mm"\ncap_temperature_b = "50 degC"').condition
    assert unlike.wear == (0.4e-3, 0.0)
    assert unlike.cap_temperature == (20.0, 50.0)


def test_without_water() -> None:
    assert read('cooling = "air"').condition.water_temperature is None
    assert "beside cooling" in refusal('cooling = "air"\nwater_temperature = "20 degC"').message


def test_a_transformer_of_alternating_current_has_no_diodes() -> None:
    ac = PLAIN.replace("MFDC", "AC50")
    assert read('mains_voltage = "380 V"', ac).condition.supply.diode_drop == 0.0
    assert read('mains_voltage = "380 V"').condition.supply.diode_drop == 1.1


@pytest.mark.parametrize(("found", "made_for"), [(385.0, 400.0), (221.0, 230.0), (205.0, 208.0)])
def test_the_mains_a_gun_was_made_for(found: float, made_for: float) -> None:
    assert nearest_nominal(found) == made_for
    supply = read(f'mains_voltage = "{found} V"').condition.supply
    assert supply.nominal_voltage == made_for


@pytest.mark.parametrize(
    ("table", "key", "said"),
    [
        ('tilt = "20 deg"', "condition tilt", "0 to 10 deg"),
        ("tilt = 2", "condition tilt", "with its unit"),
        ('tilts = "2 deg"', "condition tilts", "did you mean tilt"),
        ('welding_current = "8 kA"', "condition welding_current", "belongs in [set_up]"),
        ('shunt_diameter = "5 mm"', "condition shunt_diameter", "shunt_distance"),
        ('lead_area = "2.5 mm2"', "condition lead_area", "lead_length"),
        ("welds_since_dressing = 1.5", "condition welds_since_dressing", "whole number"),
        ("welds_since_dressing = -1", "condition welds_since_dressing", "whole number"),
        (
            'welds_since_dressing = 9\nwear = "0.1 mm"',
            "condition welds_since_dressing",
            "beside wear",
        ),
        ('no_load_voltage = "2 V"\ndiode_drop = "3 V"', "condition diode_drop", "no current"),
        ('cooling = "oil"', "condition cooling", "water, air"),
        ('current_control = "maybe"', "condition current_control", "regulated"),
        ('cap_temperature = "80 mm"', "condition cap_temperature", "a temperature"),
    ],
)
def test_what_is_refused(table: str, key: str, said: str) -> None:
    found = refusal(table)
    assert found.key == key
    assert said in found.message


def test_a_key_of_the_condition_above_the_tables_is_sent_there() -> None:
    with pytest.raises(BadInput, match=r"belongs in \[condition\]"):
        weld_file_from({**tomllib.loads(PLAIN), "misalignment": "1 mm"})


def test_a_weld_file_with_a_normal_condition_has_no_table() -> None:
    weld = dataclasses.replace(read(""), condition=NORMAL)
    assert "[condition]" not in weld_file_text(weld)
