"""Drift from coupon to coupon, and the gauge, at the command line."""

import contextlib
import io
import json
from pathlib import Path

import pytest

from buttonhole import cli
from buttonhole.sources import table

WORDS = ("drift", "--start", "5.4 mm", "--least", "4.5 mm", "--welds", "40", "--end")


def run(*words: str, code: int = 0) -> str:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = cli.run(list(words))
    assert status == code, err.getvalue()
    return out.getvalue() if code == 0 else err.getvalue()


def test_story_11_through_the_command_line() -> None:
    found = json.loads(run(*WORDS, "4.8 mm", "--json"))
    assert found["accepted"]
    assert found["drifts"]
    assert found["dress_interval_welds"] < 50
    assert found["wedge_welds"] == [30, 40]
    assert "drifts" in run(*WORDS, "4.8 mm")
    assert not json.loads(run(*WORDS, "4.2 mm", "--json"))["accepted"]


def test_the_gauge_by_a_file(tmp_path: Path) -> None:
    rows = ["button,reader,mm"]
    rows += [
        f"{row['part [1]']:g},{row['reader']},{row['value [-]']}"
        for row in table("gauge_study_example").rows()
    ]
    file = tmp_path / "kept.csv"
    file.write_text("\n".join(rows) + "\n")
    found = json.loads(run("gauge", str(file), "--json"))
    assert found["gauge_mm"]["value"] == pytest.approx(0.199933, abs=1e-5)
    assert found["both_mm"]["low"] < found["both_mm"]["value"] < found["both_mm"]["high"]
    assert found["sizes_told_apart"] == 4
    assert "usable with care" in run("gauge", str(file))
    kept = ("--keep", "K2", "--by", "Tomas Veld", "--record", str(tmp_path / "record.db"))
    found = json.loads(run("gauge", str(file), *kept, "--json"))
    assert found["read"] == {"buttons": 10, "people": 3, "each": 3}
    assert found["kept"]["study"] == "10 kept buttons, 3 people, 3 readings each (kept.csv)"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a,b\n1,2\n", "button, reader, mm"),
        ("button,reader,mm\n1,A,five\n", "no number"),
        ("button,reader,mm\n1,A,5\n1,A,5.1\n1,B,5\n", "missing"),
    ],
)
def test_a_file_that_is_none(text: str, said: str, tmp_path: Path) -> None:
    file = tmp_path / "kept.csv"
    file.write_text(text)
    assert said in run("gauge", str(file), code=2)
