"""What `buttonhole predict --json` of a plug promises: keys, units, intervals, exit status."""

import json
import math
from pathlib import Path
from typing import Any

import pytest

from tests.contract.test_predict_json import run

FIGURES = {
    "welding_current_A": "welding_current_interval_A",
    "arc_power_W": "arc_power_interval_W",
    "droplet_power_W": "droplet_power_interval_W",
    "deposition_g_per_s": "deposition_interval_g_per_s",
    "arc_energy_kJ": "arc_energy_interval_kJ",
    "back_peak_C": "back_peak_interval_C",
    "back_spot_diameter_mm": "back_spot_diameter_interval_mm",
    "back_sag_mm": "back_sag_interval_mm",
    "zinc_ring_diameter_mm": "zinc_ring_diameter_interval_mm",
    "tint_diameter_mm": "tint_diameter_interval_mm",
    "head_diameter_mm": "head_diameter_interval_mm",
    "head_height_mm": "head_height_interval_mm",
    "rim_fusion_share": "rim_fusion_interval_share",
    "burnt_hole_diameter_mm": "burnt_hole_diameter_interval_mm",
    "peak_hardness_HV": "peak_hardness_interval_HV",
}
MAYBE = {
    "fill_time_s": "fill_time_interval_s",
    "cooling_t85_s": "cooling_t85_interval_s",
}
AT_INTERFACE = {
    "fused_diameter_mm": "fused_interval_mm",
    "penetration_mm": "penetration_interval_mm",
}
ALONE = {
    "metallurgy",
    "process", "process_number", "interfaces", "fusion_probability", "hole_probability",
    "back_mark", "arc_voltage_V", "conventional_load_voltage_V", "arc_state", "sheets", "strength",
    "solver_seconds", "warnings", "cautions", "model_version", "brazed", "wetting_probability",
    "melting_probability", "fill_probability",
}  # fmt: skip
EVERY = {**FIGURES, **MAYBE}


@pytest.fixture(scope="module", params=["plug", "plug_stepped_holes"])
def answer(request: pytest.FixtureRequest) -> dict[str, Any]:
    done = run(f"examples/{request.param}.toml", "--json")
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


def assert_figure(table: dict[str, Any], key: str, interval: str) -> None:
    value, (low, high) = table[key], table[interval]
    assert all(isinstance(one, int | float) and math.isfinite(one) for one in (value, low, high))
    assert 0.0 <= low <= value <= high, key


def test_every_main_figure_has_its_interval(answer: dict[str, Any]) -> None:
    assert set(answer) == ALONE | set(EVERY) | set(EVERY.values())
    for key, interval in FIGURES.items():
        assert_figure(answer, key, interval)
    for key, interval in MAYBE.items():
        if answer[key] is not None:
            assert_figure(answer, key, interval)
    assert answer["process"] == "plug"
    assert answer["process_number"] == "135"
    assert answer["back_mark"] in ("none", "faint", "clear", "bump", "drip", "hole")
    for chance in ("fusion_probability", "hole_probability"):
        assert 0.0 <= answer[chance] <= 1.0


def test_interfaces_and_sheets(answer: dict[str, Any]) -> None:
    count = len(answer["sheets"])
    assert [one["index"] for one in answer["interfaces"]] == list(range(count - 1))
    for one in answer["interfaces"]:
        for key, interval in AT_INTERFACE.items():
            assert_figure(one, key, interval)
        assert one["wanted_diameter_mm"] > 0.0
    for one in answer["sheets"]:
        assert_figure(one, "haz_diameter_mm", "haz_diameter_interval_mm")


def test_what_it_holds_is_the_least_of_its_links(answer: dict[str, Any]) -> None:
    held = answer["strength"]
    assert len(held) == 2 * len(answer["interfaces"])
    for one in held:
        least = min(one["links"], key=lambda link: link["load_N"])
        assert one["load_N"] == least["load_N"]
        assert one["weakest"] == least["link"]
        assert_figure(one, "load_N", "load_interval_N")
        assert one["why"]


def test_dangers_stand_beside_it(answer: dict[str, Any]) -> None:
    codes = [one["code"] for one in answer["cautions"]]
    assert codes[0] == "maker"
    assert {"fire", "fume", "zinc-fume", "eyes", "vehicle"} <= set(codes)
    for one in answer["cautions"]:
        assert set(one) == {"code", "text", "rule", "source"}


def test_bare_sheets_get_no_word_of_zinc_and_an_unknown_steel_no_load(tmp_path: Path) -> None:
    weld = tmp_path / "weld.toml"
    text = Path("examples/plug.toml").read_text().replace('"GI"', '"bare"')
    weld.write_text(text.replace("DC04", "unknown", 1))
    done = run(str(weld), "--json")
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["strength"] is None
    assert not any(one["code"] == "zinc-fume" for one in found["cautions"])
    assert any("not known" in text for text in found["warnings"])


def test_the_same_file_gives_the_same_figures() -> None:
    first, second = (json.loads(run("examples/plug.toml", "--json").stdout) for _ in range(2))
    for one in (first, second):
        one.pop("solver_seconds")
    assert first == second


@pytest.mark.parametrize(
    ("before", "after", "says"),
    [
        ('"M21"', '"I1"', "set_up gas"),
        ('"G 3Si1"', '"S Cu 6560"', "set_up gas"),
        ('"1.9 s"', '"1.9"', "set_up arc_time"),
    ],
)
def test_bad_input_ends_with_two_and_one_line(
    tmp_path: Path, before: str, after: str, says: str
) -> None:
    weld = tmp_path / "weld.toml"
    text = Path("examples/plug.toml").read_text()
    assert before in text
    weld.write_text(text.replace(before, after, 1))
    done = run(str(weld), "--json")
    assert done.returncode == 2
    assert done.stdout == ""
    assert says in done.stderr
    assert done.stderr.count("\n") == 1


def test_an_option_of_spot_welds_is_refused() -> None:
    done = run("examples/plug.toml", "--rule", "4-root-t")
    assert done.returncode == 2
    assert "spot welds only" in done.stderr


def test_words_for_people() -> None:
    done = run("examples/plug.toml")
    assert done.returncode == 0
    for words in ("fused", "zinc ring, back", "What it holds", "Fire:", "procedure"):
        assert words in done.stdout
    assert all(len(line) <= 100 for line in done.stdout.splitlines())
