"""Bad input ends with exit 2, exactly one line on standard error, and nothing written."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

GOOD = Path("examples/two_sheets.toml").read_text()


def run(*arguments: str, at: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "buttonhole", *arguments],
        cwd=at,
        env=os.environ | {"BUTTONHOLE_HOME": str(at / "home")},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def assert_refused(done: subprocess.CompletedProcess[str], *words: str) -> None:
    assert done.returncode == 2, done.stderr
    assert done.stdout == ""
    assert done.stderr.endswith("\n")
    assert done.stderr.count("\n") == 1, done.stderr
    for word in words:
        assert word in done.stderr


FILES = {
    "zero": (GOOD.replace("0.8 mm", "0 mm", 1), "sheet 1 thickness"),
    "negative": (GOOD.replace("0.8 mm", "-0.8 mm", 1), "sheet 1 thickness"),
    "text for a number": (GOOD.replace("0.8 mm", "thin", 1), "sheet 1 thickness"),
    "unknown key": (GOOD.replace("hold_time", "holding_time"), "hold_time"),
    "steel spelled wrong": (GOOD.replace("DC04", "DCO4", 1), "DC04"),
    "five sheets": (
        GOOD.replace("[set_up]", '[[sheet]]\nsteel="DC04"\nthickness="1 mm"\n' * 3 + "[set_up]"),
        "sheet",
    ),
    "cut off": (GOOD[: len(GOOD) // 2], "line"),
}


@pytest.mark.parametrize("case", FILES)
def test_a_wrong_file(tmp_path: Path, case: str) -> None:
    text, words = FILES[case]
    (tmp_path / "weld.toml").write_text(text)
    for verb in (["predict"], ["predict", "--json"], ["window"], ["propose"]):
        more = ["--machine", "machine.toml"] if verb == ["propose"] else []
        assert_refused(run(*verb, "weld.toml", *more, at=tmp_path), "weld.toml: ", words)
    assert [one.name for one in tmp_path.iterdir()] == ["weld.toml"]


def test_ten_megabytes_of_junk(tmp_path: Path) -> None:
    (tmp_path / "junk").write_bytes(os.urandom(1024) * 10240)
    assert_refused(run("predict", "junk", at=tmp_path), "junk: file: is 10,240 KiB long")
    assert [one.name for one in tmp_path.iterdir()] == ["junk"]


@pytest.mark.parametrize(
    "arguments",
    [
        ["predict"],
        ["predict", "weld.toml", "--colour"],
        ["forecast"],
        ["predict", "there is no such file"],
        ["predict", "."],
    ],
)
def test_a_wrong_command_line(tmp_path: Path, arguments: list[str]) -> None:
    assert_refused(run(*arguments, at=tmp_path))
    assert list(tmp_path.iterdir()) == []
