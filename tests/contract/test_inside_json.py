"""What `buttonhole inside` promises: the inside of a plug by its outside."""

import json
import subprocess
import sys
from typing import Any

import pytest


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "buttonhole", "inside", *words],
        capture_output=True,
        text=True,
        timeout=250,
        check=False,
    )


def answer(*words: str) -> dict[str, Any]:
    done = run("examples/plug.toml", "--json", *words)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


def test_ring_and_spot_narrow_the_interval() -> None:
    blind, seen = answer(), answer("--ring", "8.1 mm", "--spot", "2.5 mm, 0.4 mm")
    (one,), (other,) = blind["interfaces"], seen["interfaces"]
    widths = [each["fused_interval_mm"][1] - each["fused_interval_mm"][0] for each in (one, other)]
    assert widths[1] < 0.6 * widths[0]
    assert seen["doubt_now_mm"] < 0.6 * seen["doubt_before_mm"]
    assert blind["doubt_now_mm"] == blind["doubt_before_mm"]
    assert {each["look"] for each in seen["next_looks"]} == {
        "tint",
        "head_diameter",
        "back_peak",
    }
    assert blind["next_looks"][0]["look"] in ("back_spot", "zinc_ring", "back_peak")
    for each in (one, other):
        low, high = each["fused_interval_mm"]
        assert 0.0 <= low <= each["fused_diameter_mm"] <= high
    assert 0.0 <= seen["fusion_probability"] <= 1.0
    assert 1.0 <= seen["effective_members"] <= seen["members"]


def test_an_alarm_comes_without_figures() -> None:
    found = answer("--ring", "30 mm")
    assert found["alarms"]
    assert found["interfaces"] == []
    assert found["fusion_probability"] is None
    assert found["next_looks"] == []
    shown = run("examples/plug.toml", "--ring", "30 mm")
    assert shown.stdout.startswith("! ")
    assert "in 100" not in shown.stdout


@pytest.mark.parametrize(
    "words",
    [
        ("--ring", "8.1"),
        ("--ring", "8.1 mm, 0 mm"),
        ("--ring", "-1 mm"),
        ("--mark", "bumpy"),
        ("--time-off", "10 s"),
        ("--current", "400 A"),
    ],
)
def test_bad_readings_are_refused_on_one_line(words: tuple[str, str]) -> None:
    done = run("examples/plug.toml", "=".join(words))
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "give" in done.stderr or "check" in done.stderr or "time it again" in done.stderr


def test_a_spot_weld_has_no_inside_to_look_for() -> None:
    done = run("examples/two_sheets.toml", "--ring", "8 mm")
    assert done.returncode == 2
    assert "is no arc weld" in done.stderr
