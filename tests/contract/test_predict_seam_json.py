"""What `buttonhole predict --json` of a seam promises: keys, units, intervals, exit status."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.contract.test_predict_json import assert_figure, run

FIGURES = {
    "welding_current_A": "welding_current_interval_A",
    "arc_power_W": "arc_power_interval_W",
    "droplet_power_W": "droplet_power_interval_W",
    "deposition_g_per_s": "deposition_interval_g_per_s",
    "arc_energy_J_per_mm": "arc_energy_interval_J_per_mm",
    "heat_input_J_per_mm": "heat_input_interval_J_per_mm",
    "back_peak_C": "back_peak_interval_C",
    "back_melted_width_mm": "back_melted_width_interval_mm",
    "leg_lower_mm": "leg_lower_interval_mm",
    "leg_upper_mm": "leg_upper_interval_mm",
    "throat_mm": "throat_interval_mm",
    "cooling_t85_s": "cooling_t85_interval_s",
    "peak_hardness_HV": "peak_hardness_interval_HV",
}
IN_SHEET = {
    "penetration_mm": "penetration_interval_mm",
    "fused_width_mm": "fused_width_interval_mm",
    "haz_width_mm": "haz_width_interval_mm",
    "haz_band_mm": "haz_band_interval_mm",
    "wetted_width_mm": "wetted_width_interval_mm",
}
ALONE = {
    "metallurgy",
    "process", "process_number", "joint", "brazed", "length_mm", "travel_speed_mm_per_s",
    "arc_voltage_V", "conventional_load_voltage_V", "arc_state", "heat_computed_J_per_mm",
    "fusion_probability", "burn_through_probability", "back_mark", "back_sag_mm", "crown_mm",
    "cold_lap_mm", "cold_start_mm", "long_seam_t85_s", "sheets", "strength", "along",
    "solver_seconds", "warnings", "cautions", "model_version",
}  # fmt: skip


@pytest.fixture(scope="module")
def answer() -> dict[str, Any]:
    done = run("examples/seam_lap.toml", "--json")
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


def test_every_main_figure_has_its_interval(answer: dict[str, Any]) -> None:
    assert set(answer) == ALONE | set(FIGURES) | set(FIGURES.values())
    for key, interval in FIGURES.items():
        assert_figure(answer, key, interval)
    assert [one["name"] for one in answer["sheets"]] == ["lower", "upper"]
    for one in answer["sheets"]:
        for key, interval in IN_SHEET.items():
            assert_figure(one, key, interval)
        assert 0.0 <= one["fused_probability"] <= 1.0
    assert answer["fusion_probability"] <= min(one["fused_probability"] for one in answer["sheets"])
    assert answer["process_number"] == "135"
    lengths = {len(answer["along"][key]) for key in ("x_mm", "cooling_t85_s", "back_peak_C")}
    assert lengths == {len(answer["along"]["penetration_mm"][0])}


def test_arc_energy_and_heat_input_are_told_apart(answer: dict[str, Any]) -> None:
    energy = answer["arc_power_W"] / answer["travel_speed_mm_per_s"]
    assert answer["arc_energy_J_per_mm"] == pytest.approx(energy, rel=1e-4)
    assert answer["heat_input_J_per_mm"] == pytest.approx(0.8 * energy, rel=1e-4)


def test_the_long_seam_of_the_standard_stands_beside_and_is_longer(answer: dict[str, Any]) -> None:
    assert answer["long_seam_t85_s"] > answer["cooling_t85_s"]


def test_what_it_holds_is_the_least_of_its_links(answer: dict[str, Any]) -> None:
    (held,) = answer["strength"]
    least = min(held["links"], key=lambda link: link["load_N_per_mm"])
    assert held["load_N_per_mm"] == least["load_N_per_mm"]
    assert held["weakest"] == least["link"]
    assert held["load_N_per_mm"] <= 270.0 * 1.0  # 1.0 mm of DC04 tears by then, N/mm


def test_a_braze_has_wetting_in_place_of_fusion() -> None:
    done = run("examples/braze_lap.toml", "--json")
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["process_number"] == "973"
    assert found["brazed"] is True
    assert found["fusion_probability"] is None
    assert {"lower_brazed_face", "upper_brazed_face"} <= {
        one["link"] for one in found["strength"][0]["links"]
    }


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({'"M21"': '"I1"'}, "set_up gas"),
        (
            {'steel = "DC04"\nthickness = "1.0 mm"': 'alloy = "6082"\nthickness = "1.0 mm"'},
            "mixes steel",
        ),
        ({'steel = "DC04"': 'alloy = "6082"'}, "ISO 18273"),
        ({'"8 mm/s"  ': '"8"'}, "travel_speed"),
    ],
)
def test_bad_input_ends_with_two_and_one_line(
    tmp_path: Path, changes: dict[str, str], says: str
) -> None:
    text = Path("examples/seam_lap.toml").read_text()
    for before, after in changes.items():
        assert before in text
        text = text.replace(before, after)
    weld = tmp_path / "weld.toml"
    weld.write_text(text)
    done = run(str(weld), "--json")
    assert done.returncode == 2
    assert done.stdout == ""
    assert says in done.stderr
    assert done.stderr.count("\n") == 1


def test_words_for_people() -> None:
    done = run("examples/braze_lap.toml")
    assert done.returncode == 0
    for words in ("wetted", "heat input", "reference only", "Fire:", "procedure"):
        assert words in done.stdout
    assert all(len(line) <= 100 for line in done.stdout.splitlines())
