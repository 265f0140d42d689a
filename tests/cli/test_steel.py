"""The steel book on the command line: in letters, as JSON, and refused in one line."""

import json
from pathlib import Path
from typing import Any

import pytest

from buttonhole.cli import run


def told(words: list[str], capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert run([*words, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_a_printed_designation_is_taken_apart(capsys: pytest.CaptureFixture[str]) -> None:
    answer = told(["steel", "find", "HCT600X+Z100MB"], capsys)
    steel, coating = answer["steel"], answer["coating"]
    assert steel["designation"] == "HCT600X"
    assert steel["tensile_range_MPa"] == [600.0, None]
    assert steel["verified"] is False
    assert coating["coating"] == "GI"
    assert coating["mass_per_side_g_per_m2"] == [50.0, 50.0]
    assert coating["thickness_per_side_um"] == [7.0, 7.0]
    assert answer["surface"] == ["small spangle", "improved surface"]
    assert {one["kinship"] for one in steel["relatives"]} == {"nearest, not identical"}


def test_the_same_in_letters_fits_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["steel", "find", "HCT600X+Z100MB"]) == 0
    text = capsys.readouterr().out
    assert "Unverified" in text
    assert "Fumes" in text
    assert "vehicle maker's word" in text
    assert max(len(line) for line in text.splitlines()) <= 80


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("CR4", "VDA 239-100 CR4; SAE J2329 Grade 4; CR4 of BS 1449"),
        ("HC340LAD", "near names: "),
        ("HCT600X+Q9", "no coating name"),
    ],
)
def test_what_is_not_understood_is_refused(
    text: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["steel", "find", text]) == 2
    refused = capsys.readouterr()
    assert refused.out == ""
    assert said in refused.err
    assert len(refused.err.splitlines()) == 1


def test_the_list_can_be_cut_down(capsys: pytest.CaptureFixture[str]) -> None:
    every = told(["steel", "list"], capsys)["steels"]
    some = told(["steel", "list", "--standard", "EN 10130"], capsys)["steels"]
    assert {one["designation"] for one in some} == {
        "DC01", "DC03", "DC04", "DC05", "DC06", "DC07"
    }  # fmt: skip
    assert len(every) > 250
    assert run(["steel", "list", "--family", "plastic"]) == 2


def test_curves_come_with_band_source_and_status(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    words = ["steel", "show", "HC380LA", "--at", "500 degC", "--at", "20 degC"]
    answer = told([*words, "--svg", str(tmp_path)], capsys)
    flow = answer["curves"]["flow_stress"]
    assert flow["temperature_C"] == [20.0, 500.0]
    assert flow["low_MPa"][0] < flow["value_MPa"][0] == 430.0 < flow["high_MPa"][0]
    assert flow["status"] == "derived"
    assert flow["source_text"]
    assert "lent by HC420LA" in flow["made_by"]
    assert {one.stem for one in tmp_path.glob("*.svg")} == set(answer["curves"])
    assert run(["steel", "show", "unknown"]) == 0
    assert "holds every steel" in " ".join(capsys.readouterr().out.split())


def test_an_unknown_sheet_is_bounded_and_stays_unknown(capsys: pytest.CaptureFixture[str]) -> None:
    measured = ["--thickness", "0.7 mm", "--magnet", "sticks", "--hardness", "110"]
    answer = told(["steel", "unknown", *measured], capsys)
    assert answer["steel"] == "unknown"
    assert "strictest" in answer["rule"]
    assert "DC04" in answer["possible"]
    assert "22MnB5" not in answer["possible"]
    low, high = answer["tensile_interval_MPa"]
    assert low < 350.0 < high < 800.0
    assert any("spectrometer" in one for one in answer["would_settle"])
    assert run(["steel", "unknown", *measured]) == 0
    assert "stays unknown" in capsys.readouterr().out


def test_wrong_words_and_figures_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["steel", "unknown", "--magnet", "maybe"]) == 2
    assert "'sticks', 'weak', 'not'" in capsys.readouterr().err
    assert run(["steel", "unknown", "--hardness", "5"]) == 2
    assert run(["steel", "unknown", "--thickness", "0.7"]) == 2
    assert run(["steel", "coating", "Z10"]) == 2
    assert "more than one thing" in capsys.readouterr().err.splitlines()[-1]


def test_nothing_left_is_told_without_figures(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["--magnet", "not", "--hardness", "85", "--hardness-off", "1", "--tester", "vickers"]
    answer = told(["steel", "unknown", *words], capsys)
    assert answer["possible"] == []
    assert answer["tensile_interval_MPa"] is None
    assert run(["steel", "unknown", *words]) == 0
    assert "measure again" in " ".join(capsys.readouterr().out.split())


def test_an_aluminium_alloy_is_said_to_be_no_steel(capsys: pytest.CaptureFixture[str]) -> None:
    answer = told(["steel", "find", "EN AW-6016-T4"], capsys)
    assert answer["steel"] is None
    assert answer["aluminium"]["designation"] == "EN AW-6016"
    assert answer["aluminium"]["verified"] is False
    assert run(["steel", "find", "5754"]) == 0
    assert "No steel" in capsys.readouterr().out
