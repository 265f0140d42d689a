"""The window and the lobe on the command line: the same figures in letters, as JSON and drawn."""

import json
from pathlib import Path

import pytest

from buttonhole.cli import run

EXAMPLES = Path(__file__).parents[2] / "examples"
TWO = str(EXAMPLES / "two_sheets.toml")
SMALL_MAP = ["--steps", "5", "--from", "6 kA", "--to", "13 kA", "--time", "120 ms"]
LOBE = ["window", TWO, "--lobe", *SMALL_MAP, "--time", "200 ms"]


def test_a_window_says_how_likely_its_robust_set_up_is_good(capsys: pytest.CaptureFixture) -> None:
    assert run(["window", TWO, *SMALL_MAP, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    best = answer["robust"]
    low, high = best["good_weld_interval"]
    assert 0.0 <= low <= best["good_weld_probability"] <= high <= 1.0
    assert answer["lower_limit_kA"][0] < best["welding_current_kA"] < 13.0
    assert best["binding"] in ("expulsion", "interface 1")


def test_a_lobe_is_told_with_both_forces_and_who_prevails(
    capsys: pytest.CaptureFixture, tmp_path: Path
) -> None:
    drawn = tmp_path / "lobe.svg"
    assert run([*LOBE, "--force", "3 kN", "--svg", str(drawn), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert [one["electrode_force_kN"] for one in answer["forces"]] == [2.2, 3.0]
    assert "vehicle maker" in answer["prevails"]
    assert "as named" in answer["second_force"]
    for level in answer["forces"]:
        kinds = {one["kind"] for one in level["limits"]}
        assert kinds == {"least weld", "expulsion", "indentation"}
        rules = {one["rule"] for one in level["limits"] if one["kind"] == "least weld"}
        assert rules == {"4.5-root-t", "4-root-t", "5-root-t"}
        widths = zip(level["usable_from_kA"], level["usable_to_kA"], strict=True)
        for (low, high), width in zip(widths, level["width_kA"], strict=True):
            assert width == pytest.approx(0.0 if low is None else high - low, abs=2e-3)
    picture = drawn.read_text(encoding="utf-8")
    assert "2.20 kN" in picture
    assert "3.00 kN" in picture


def test_a_lobe_in_letters(capsys: pytest.CaptureFixture) -> None:
    assert run(LOBE) == 0
    told = capsys.readouterr().out
    assert "Electrode force 2.20 kN" in told
    assert "Electrode force 2.75 kN" in told
    assert "a quarter more than set" in told
    assert "chance of a good weld" in told
    assert max(len(line) for line in told.splitlines()) <= 80


def test_one_weld_time_is_no_lobe(capsys: pytest.CaptureFixture) -> None:
    assert run(["window", TWO, "--lobe", "--time", "120 ms"]) == 2
    assert "two weld times" in capsys.readouterr().err
