"""``predict --quick``: marked as quick, with its error in words, or the solver's with a reason."""

import json
from pathlib import Path

import pytest

from buttonhole.cli import DONE, run

EXAMPLE = Path(__file__).parents[2] / "examples" / "two_sheets.toml"


def test_a_quick_answer_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["predict", str(EXAMPLE), "--quick"]) == DONE
    told = capsys.readouterr().out
    assert "A quick answer" in told
    assert "nugget" in told
    assert "mm from what the solver says" in " ".join(told.split())
    assert run(["predict", str(EXAMPLE), "--quick", "--json"]) == DONE
    assert json.loads(capsys.readouterr().out)["quick"]["is_quick"] is True


def test_outside_its_ground_the_reason_comes_first(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    odd = tmp_path / "weld.toml"
    text = EXAMPLE.read_text(encoding="utf-8").splitlines()
    changed = ['weld_time = "20 ms"' if one.startswith("weld_time") else one for one in text]
    assert changed != text
    odd.write_text("\n".join(changed), encoding="utf-8")
    assert run(["predict", str(odd), "--quick"]) == DONE
    told = capsys.readouterr().out
    assert told.startswith("No quick answer: the weld time is 20 ms")
    assert "Computed in" in told


def test_a_condition_that_was_not_taught_is_left_to_the_solver(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    odd = tmp_path / "weld.toml"
    odd.write_text(EXAMPLE.read_text(encoding="utf-8") + '\n[condition]\ntilt = "3 deg"\n', "utf-8")
    assert run(["predict", str(odd), "--quick", "--json"]) == DONE
    found = json.loads(capsys.readouterr().out)
    assert found["quick"]["is_quick"] is False
    assert "tilt" in found["quick"]["why_not"]
