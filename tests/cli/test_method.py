"""The way of joining by command line: a file, the record, the letter, a filed rule."""

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from buttonhole import cli

WRITTEN = tomllib.loads(
    Path("tests/procedure/joining/written_joints.toml").read_text(encoding="utf-8")
)["joint"]
FILES = {one["name"]: one["file"] for one in WRITTEN}
EXAMPLE = Path("examples/two_sheets.toml").read_text(encoding="utf-8")
NARROW = FILES["narrow flange"]
FILED = ["--reference", "instruction 7", "--revision", "1", "--read-on", "2026-01-05"]


class Done(NamedTuple):
    """What a verb left."""

    returncode: int
    stdout: str
    stderr: str


Run = Callable[..., Done]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a verb in the shop's folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("BUTTONHOLE_BY", "Ines Okoro")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.delenv("BUTTONHOLE_RECORD", raising=False)

    def ran(*words: str) -> Done:
        capsys.readouterr()
        status = cli.run(list(words))
        return Done(status, *capsys.readouterr())

    return ran


@pytest.fixture
def answer(run: Run) -> Callable[..., Any]:
    """What a verb answers as JSON."""

    def answered(*words: str) -> Any:
        done = run(*words, "--json")
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)

    return answered


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    (tmp_path / "joint.toml").write_text(NARROW, encoding="utf-8")
    return tmp_path


def test_a_file_is_decided_in_words_and_as_json(
    shop: Path, run: Run, answer: Callable[..., Any]
) -> None:
    found = answer("method", "joint.toml")
    assert found["allowed"] == ["plug"]
    spot = next(one for one in found["methods"] if one["method"] == "spot")
    assert "flange-too-narrow" in [one["key"] for one in spot["reasons"]]
    told = run("method", "joint.toml").stdout
    assert "[x] spot weld" in told
    assert "not the maker's" in told.lower()
    assert "Published rules that differ" in told


def test_a_weld_file_may_say_what_is_around_its_joint(
    shop: Path, run: Run, answer: Callable[..., Any]
) -> None:
    weld = EXAMPLE
    around = '\n[circumstances]\naccess = "two_sides"\nadhesive = "none"\n'
    (shop / "weld.toml").write_text(weld + around, encoding="utf-8")
    assert answer("method", "weld.toml")["allowed"] == ["spot"]
    (shop / "weld.toml").write_text(weld + around.replace("access", "acess"), encoding="utf-8")
    done = run("method", "weld.toml")
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "did you mean access" in done.stderr


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('adhesive = "none"', 'adhesive = "maybe"', "give one of none, fresh"),
        ('flange_width = "8 mm"', "flange_width = 8", "with its unit"),
        ('zone = "structure"', "near = ['bomb']", "give one of airbag"),
        ('steel = "DC04"', 'steel = "EN AW-6016"', "sheet 1 steel"),
        ('steel = "DC04"', 'alloy = "EN AW-1"', "give one, or"),
        ('coating = "GI"', 'hardness = "hard"', "180 HV"),
        ("original_count = 12", "original_count = -2", "0 to 500"),
        ("[circumstances]", "[around]", "is no key of a joint file"),
    ],
)
def test_what_is_wrong_in_a_file_is_one_line(
    shop: Path, run: Run, answer: Callable[..., Any], old: str, new: str, says: str
) -> None:
    (shop / "joint.toml").write_text(NARROW.replace(old, new, 1), encoding="utf-8")
    done = run("method", "joint.toml")
    assert done.returncode == 2, done.stdout
    assert done.stderr.count("\n") == 1
    assert says in done.stderr
    assert "joint.toml" in done.stderr


def test_the_letter_of_a_file_is_the_same_to_the_byte(
    shop: Path, run: Run, answer: Callable[..., Any]
) -> None:
    words = ["--vehicle", "a hatch", "--on", "2026-03-02"]
    first = answer("letter", "joint.toml", "one.pdf", *words)
    second = answer("letter", "joint.toml", "two.pdf", *words)
    assert first["sha256"] == second["sha256"]
    assert (shop / "one.pdf").read_bytes().startswith(b"%PDF-")
    assert run("letter", "joint.toml", "one.pdf", *words).returncode == 2


def test_rules_alone_are_those_for_diameters_and_the_others_are_listed(
    shop: Path, run: Run, answer: Callable[..., Any]
) -> None:
    assert answer("rules")["rules"][0]["thickness_rule"]
    listed = answer("rules", "list", "--method", "braze")["rules"]
    assert all("is_makers" in one for one in listed)
    shown = answer("rules", "show", "flange-too-narrow")["rules"]
    assert shown[0]["source"] == "maker-design-sheet"
    done = run("rules", "show", "flange-to-narrow")
    assert (done.returncode, "flange-too-narrow" in done.stderr) == (2, True)


def test_a_filed_rule_takes_the_place_of_ours_and_the_old_one_stays(
    shop: Path, run: Run, answer: Callable[..., Any]
) -> None:
    assert run("job", "open", "Trial", "--vehicle", "a hatch").returncode == 0
    filed = answer(
        "rules", "file", "--method", "squeeze", "--whose", "shop", "--says", "forbids", *FILED,
        "--text", "Under 14 mm no spot in this shop.", "--applies-to", "flange_room < 4 mm",
        "--supersedes", "flange-too-narrow",
    )  # fmt: skip
    assert (filed["version"], filed["rank"]) == (2, 5)
    assert "no source" in filed["mark"]
    versions = answer("rules", "show", "flange-too-narrow")["rules"]
    assert [one["version"] for one in versions] == [2, 1]
    assert versions[1]["superseded_by"] == "flange-too-narrow@2"
    found = answer("method", "joint.toml")
    spot = next(one for one in found["methods"] if one["method"] == "spot")
    assert "Under 14 mm no spot in this shop." in spot["why"]
    before = answer("method", "joint.toml", "--on", "2025-06-01")
    spot = next(one for one in before["methods"] if one["method"] == "spot")
    assert "Under 14 mm no spot in this shop." not in spot["why"]
