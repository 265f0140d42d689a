"""Judging by options or by a coupon file, without a record."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

WELD = """\
process = "spot"
[[sheet]]
steel = "HCT600X"
thickness = "1.0 mm"
coating = "bare"
[[sheet]]
steel = "HCT600X"
thickness = "1.0 mm"
coating = "bare"
[set_up]
welding_current = "8.5 kA"
current_type = "MFDC"
electrode_force = "3 kN"
electrode_face = "6 mm"
squeeze_time = "300 ms"
weld_time = "240 ms"
hold_time = "160 ms"
"""


def run(*words: str, at: Path) -> subprocess.CompletedProcess[str]:
    (at / "weld.toml").write_text(WELD)
    return subprocess.run(
        [sys.executable, "-m", "buttonhole", "judge", "weld.toml", *words],
        cwd=at,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )


def judged(*words: str, at: Path) -> dict[str, Any]:
    done = run(*words, "--json", at=at)
    assert done.returncode == 0, done.stderr
    (one,) = json.loads(done.stdout)["judged"]
    assert isinstance(one, dict)
    return one


def test_a_peeled_button_by_one_option(tmp_path: Path) -> None:
    # worked by hand: mean 5.1, limit 4.5, U 0.36, margin 0.24 mm
    one = judged("--reading", "1, peel, full_button, 5.4 mm, 4.8 mm", at=tmp_path)
    assert one["mean_diameter_mm"] == pytest.approx(5.1)
    assert one["minimum_diameter_mm"] == pytest.approx(4.5)
    assert one["expanded_uncertainty_mm"] == pytest.approx(0.36, abs=0.005)
    assert one["guarded_minimum_mm"] == pytest.approx(4.86, abs=0.005)
    assert one["margin_mm"] == pytest.approx(0.24, abs=0.005)
    assert one["outcome"] == "accept"


def test_the_same_weld_twisted_is_never_rejected_for_its_face_alone(tmp_path: Path) -> None:
    one = judged("--reading", "1, torsion, interfacial, 5.4 mm, 4.8 mm", at=tmp_path)
    assert one["outcome"] != "reject"


def test_a_coupon_file_says_the_same(tmp_path: Path) -> None:
    (tmp_path / "coupon.toml").write_text(
        '[[reading]]\ninterface = 1\ntest = "peel"\nmode = "full_button"\n'
        'largest = "5.4 mm"\nsmallest = "4.8 mm"\n'
    )
    from_file = judged("--readings", "coupon.toml", at=tmp_path)
    from_words = judged("--reading", "1, peel, full_button, 5.4 mm, 4.8 mm", at=tmp_path)
    assert from_file == from_words


def test_another_rule_another_limit(tmp_path: Path) -> None:
    reading = ["--reading", "1, peel, full_button, 5.4 mm, 4.8 mm"]
    one = judged(*reading, "--rule", "5-root-t", at=tmp_path)
    assert one["minimum_diameter_mm"] == pytest.approx(5.0)
    assert one["outcome"] != "accept"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "--reading"),
        (["--reading", "1, peel, full_button, 5.4, 4.8 mm"], "unit"),
        (["--reading", "1, pull, full_button, 5.4 mm, 4.8 mm"], "torsion"),
        (["--reading", "1, peel, button, 5.4 mm, 4.8 mm"], "full_button"),
        (["--reading", "1, peel, full_button, 4.8 mm, 5.4 mm"], "largest"),
        (["--reading", "2, peel, full_button, 5.4 mm, 4.8 mm"], "interface"),
        (["--reading", "1, peel, -, 5.4 mm, 4.8 mm"], "mode"),
        (["--reading", "1, peel, full_button, 5.4 mm, 4.8 mm", "--rule", "6-root-t"], "5-root-t"),
        (["--readings", "nowhere.toml"], "does not exist"),
    ],
)
def test_what_can_not_be_judged(tmp_path: Path, words: list[str], told: str) -> None:
    done = run(*words, at=tmp_path)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert told in done.stderr


def test_a_verdict_says_source_and_status_of_its_rule_and_what_counting_proves(
    tmp_path: Path,
) -> None:
    answer = run("--reading", "1, peel, full_button, 5.4 mm, 4.8 mm", at=tmp_path)
    assert answer.returncode == 0, answer.stderr
    said = " ".join(answer.stdout.split())
    assert "rule 4.5 × √t (maker-body-manual, read)" in said
    assert "1 of 1 coupon passed. Counting alone, this shows that at least 5 %" in said
