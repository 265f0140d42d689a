"""What `buttonhole predict --json` promises to other programs: keys, units, intervals, exit."""

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
ALONE = {"process", "interfaces", "solver_seconds", "warnings", "cautions", "model_version"}


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
