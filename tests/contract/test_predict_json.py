"""What `buttonhole predict --json` promises to other programs: keys, units, intervals, exit."""

import itertools
import json
import math
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

FIGURES = {  # a main figure and the key of its 90 % interval
    "indentation_mm": "indentation_interval_mm",
    "haz_diameter_mm": "haz_interval_mm",
    "cooling_t85_s": "cooling_t85_interval_s",
    "heat_J": "heat_interval_J",
    "peak_hardness_HV": "peak_hardness_interval_HV",
    "expulsion_probability": "expulsion_interval",
}
AT_INTERFACE = {
    "nugget_diameter_mm": "nugget_interval_mm",
    "button_diameter_mm": "button_interval_mm",
}
MAYBE_AT_INTERFACE = {  # without a value where it does not come to pass
    "sheet_separation_mm": "sheet_separation_interval_mm",
    "melting_began_s": "melting_began_interval_s",
    "centre_melted_s": "centre_melted_interval_s",
    "solid_after_current_s": "solid_after_current_interval_s",
    "cooling_t85_s": "cooling_t85_interval_s",
    "corona_outer_diameter_mm": "corona_outer_diameter_interval_mm",
    "corona_area_mm2": "corona_area_interval_mm2",
}
MAYBE_IN_SHEET = {
    "ac1_degC": "ac1_interval_degC",
    "ac3_degC": "ac3_interval_degC",
    "austenitised_diameter_mm": "austenitised_diameter_interval_mm",
    "softened_diameter_mm": "softened_diameter_interval_mm",
    "indentation_mm": "indentation_interval_mm",
}
MAYBE_IN_CYCLE = {
    "cooling_t85_s": "cooling_t85_interval_s",
    "heating_rate_K_per_s": "heating_rate_interval_K_per_s",
}
ALONE = {
    "metallurgy",
    "strength",
    "failure",
    "process", "interfaces", "solver_seconds", "warnings", "cautions", "model_version",
    "sheets", "hold", "thermal_cycles", "condition", "condition_effects",
}  # fmt: skip


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "buttonhole", "predict", *words],
        capture_output=True,
        text=True,
        timeout=250,
        check=False,
    )


@pytest.fixture(scope="module", params=["two_sheets", "zinc_two_sheets", "sill_three_sheets"])
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
    assert 0.0 <= low <= value <= high


def test_every_main_figure_has_its_interval(answer: dict[str, Any]) -> None:
    assert set(answer) == ALONE | set(FIGURES) | set(FIGURES.values())
    for key, interval in FIGURES.items():
        assert_figure(answer, key, interval)
    assert 0.0 <= answer["expulsion_probability"] <= 1.0
    assert answer["solver_seconds"] > 0.0
    assert all(isinstance(one, str) for one in answer["warnings"])
    assert len(set(answer["warnings"])) == len(answer["warnings"])
    assert isinstance(answer["model_version"], str)


def test_every_interface_says_its_size_its_limit_and_the_rule(answer: dict[str, Any]) -> None:
    for place, one in enumerate(answer["interfaces"]):
        assert one["index"] == place
        for key, interval in AT_INTERFACE.items():
            assert_figure(one, key, interval)
        limits = {limit["rule"]: limit["diameter_mm"] for limit in one["limits"]}
        assert limits["4-root-t"] < one["minimum_diameter_mm"] < limits["5-root-t"]
        assert one["minimum_rule"] == "4.5-root-t"
        assert one["penetration_a_mm"] >= 0.0
        assert one["penetration_b_mm"] >= 0.0
        assert_figure(one, "after_expulsion_mm", "after_expulsion_interval_mm")
        assert one["after_expulsion_mm"] <= one["nugget_diameter_mm"]


def assert_figure_or_none(table: dict[str, Any], key: str, interval: str) -> None:
    if table[key] is None:
        assert table[interval] is None
    else:
        assert_figure(table, key, interval)


def test_every_interface_says_when_it_melts_how_it_cools_and_its_corona(
    answer: dict[str, Any],
) -> None:
    for one in answer["interfaces"]:
        for key, interval in MAYBE_AT_INTERFACE.items():
            assert_figure_or_none(one, key, interval)
        assert isinstance(one["began_as_ring"], bool)
        melts = one["nugget_diameter_mm"] > 0.0
        assert melts == (one["melting_began_s"] is not None)
        if melts:
            assert one["melting_began_s"] <= one["centre_melted_s"]
        inner, outer = one["corona_inner_diameter_mm"], one["corona_outer_diameter_mm"]
        assert one["nugget_diameter_mm"] <= 1.02 * inner <= 1.02 * outer
        assert outer <= one["contact_diameter_mm"]
        ring = math.pi / 4 * (outer**2 - inner**2)
        assert one["corona_area_mm2"] == pytest.approx(ring, rel=1e-3)


def test_every_sheet_says_its_zones(answer: dict[str, Any]) -> None:
    assert [one["sheet"] for one in answer["sheets"]] == list(range(1, len(answer["sheets"]) + 1))
    for one in answer["sheets"]:
        assert_figure(one, "haz_diameter_mm", "haz_diameter_interval_mm")
        for key, interval in MAYBE_IN_SHEET.items():
            assert_figure_or_none(one, key, interval)
        assert one["austenitised_diameter_mm"] <= one["haz_diameter_mm"]
        if one["softened_diameter_mm"] is not None:
            assert one["softened_diameter_mm"] >= one["haz_diameter_mm"]
        assert 700.0 < one["ac1_degC"] < one["ac3_degC"] < 1100.0
    widest = max(one["haz_diameter_mm"] for one in answer["sheets"])
    assert widest == pytest.approx(answer["haz_diameter_mm"])


def test_the_hold_and_the_thermal_cycles(answer: dict[str, Any]) -> None:
    hold = answer["hold"]
    assert hold["hold_time_s"] > 0.0
    assert_figure(hold, "temperature_at_release_degC", "temperature_at_release_interval_degC")
    assert_figure_or_none(hold, "cooling_t85_without_hold_s", "cooling_t85_without_hold_interval_s")
    assert isinstance(hold["solid_before_release"], bool)
    assert [one["interface"] for one in answer["thermal_cycles"]] == [
        one["index"] for one in answer["interfaces"]
    ]
    for one, face in zip(answer["thermal_cycles"], answer["interfaces"], strict=True):
        assert_figure(one, "peak_temperature_degC", "peak_temperature_interval_degC")
        for key, interval in MAYBE_IN_CYCLE.items():
            assert_figure_or_none(one, key, interval)
        assert one["cooling_t85_s"] == pytest.approx(face["cooling_t85_s"], rel=1e-3)
        times, temperatures = one["time_s"], one["temperature_degC"]
        assert len(times) == len(temperatures)
        assert all(b > a for a, b in itertools.pairwise(times))
        assert max(temperatures) == pytest.approx(one["peak_temperature_degC"])


def test_a_point_of_the_file_and_of_the_option(tmp_path: Path) -> None:
    weld = tmp_path / "weld.toml"
    text = Path("examples/two_sheets.toml").read_text()
    weld.write_text(text + '[[cycle]]\nradius = "2 mm"\ndepth = "0.4 mm"\n')
    drawn = tmp_path / "cycle.svg"
    done = run(str(weld), "--json", "--at", "3 mm, 0.8 mm", "--cycle", str(drawn))
    assert done.returncode == 0, done.stderr
    _centre, first, second = json.loads(done.stdout)["thermal_cycles"]
    assert (first["radius_mm"], first["depth_mm"], first["interface"]) == (2.0, 0.4, None)
    assert (second["radius_mm"], second["depth_mm"]) == pytest.approx((3.0, 0.8))
    assert "3 mm out, 0.8 mm deep" in drawn.read_text()


@pytest.mark.parametrize("at", ["2 mm", "2 mm, 9 mm", "-1 mm, 0.4 mm", "40 mm, 0.4 mm", "2, 0.4"])
def test_a_point_outside_the_weld_is_refused(at: str) -> None:
    done = run("examples/two_sheets.toml", f"--at={at}")
    assert done.returncode == 2
    assert "give" in done.stderr
    assert done.stdout == ""


def test_the_rule_of_the_file_and_of_the_option(tmp_path: Path) -> None:
    text = Path("examples/two_sheets.toml").read_text()
    named = tmp_path / "weld.toml"
    named.write_text(text + '[criterion]\nminimum_rule = "5-root-t"\n')
    (from_file,) = json.loads(run(str(named), "--json").stdout)["interfaces"]
    assert from_file["minimum_rule"] == "5-root-t"
    assert from_file["minimum_diameter_mm"] == pytest.approx(5 * math.sqrt(0.8), rel=1e-4)
    option = run(str(named), "--json", "--rule", "4-root-t")
    (from_option,) = json.loads(option.stdout)["interfaces"]
    assert from_option["minimum_rule"] == "4-root-t"


def test_an_unknown_steel_is_predicted_and_asks_for_the_strictest_size(tmp_path: Path) -> None:
    weld = tmp_path / "weld.toml"
    weld.write_text(Path("examples/two_sheets.toml").read_text().replace("DC04", "unknown", 1))
    answer = json.loads(run(str(weld), "--json").stdout)
    (one,) = answer["interfaces"]
    assert one["minimum_diameter_mm"] == pytest.approx(5 * math.sqrt(0.8), rel=1e-4)
    assert any("not known" in text for text in answer["warnings"])


def test_a_ratio_over_three_to_one_is_warned_with_its_rule(tmp_path: Path) -> None:
    weld = tmp_path / "weld.toml"
    text = Path("examples/two_sheets.toml").read_text()
    weld.write_text(text.replace("0.8 mm", "0.7 mm", 1).replace("0.8 mm", "2.2 mm"))
    done = run(str(weld), "--json")
    assert done.returncode == 0
    answer = json.loads(done.stdout)
    assert any("3:1" in text for text in answer["warnings"])
    (caution,) = [one for one in answer["cautions"] if one["code"] == "thickness-ratio"]
    assert "ISO 14373" in caution["rule"]


def test_a_word_for_people_says_the_same_and_fits_the_terminal() -> None:
    for columns in ("80", "120"):
        done = subprocess.run(
            [sys.executable, "-m", "buttonhole", "predict", "examples/sill_three_sheets.toml"],
            capture_output=True,
            text=True,
            timeout=250,
            check=True,
            env=os.environ | {"COLUMNS": columns, "PYTHONIOENCODING": "utf-8"},
        )
        assert max(len(line) for line in done.stdout.splitlines()) <= int(columns)
        assert "Interface 2" in done.stdout
        assert "4.93 mm" in done.stdout


def test_a_terminal_without_block_letters_gets_plain_ones() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "buttonhole", "predict", "examples/two_sheets.toml"],
        capture_output=True,
        timeout=250,
        check=True,
        env=os.environ | {"PYTHONIOENCODING": "ascii"},
    )
    assert b"#" in done.stdout
    done.stdout.decode("ascii")


def test_a_prediction_from_a_cold_process_is_there_before_one_is_impatient(
    capsys: pytest.CaptureFixture[str],
) -> None:
    run("examples/two_sheets.toml", "--json")  # fills the cache of compiled kernels
    taken, solver = [], []
    for _ in range(3):  # other work may run beside the test: the best of three counts
        started = time.perf_counter()
        done = run("examples/two_sheets.toml", "--json")
        taken.append(time.perf_counter() - started)
        solver.append(json.loads(done.stdout)["solver_seconds"])
    with capsys.disabled():
        sys.stdout.write(
            f"\n  cold process {min(taken):.2f} s (goal 3 s), solver {min(solver):.3f} s\n"
        )
    assert min(taken) < 6.0  # twice the goal: a loaded machine is no fault of the program
