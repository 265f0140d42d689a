"""The record by command line: two people at one joint, a damaged file, a missing one."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

CITED = ["--says", "spot weld", "--read-on", "yesterday"]


def run(*words: str, at: Path, by: str = "Ines Okoro") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "buttonhole", *words],
        cwd=at,
        env=os.environ
        | {"BUTTONHOLE_RECORD": str(at / "shop.db"), "BUTTONHOLE_BY": by, "XDG_DATA_HOME": str(at)},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("opened")
    shutil.copy("examples/two_sheets.toml", folder / "weld.toml")
    assert run("job", "open", "Trial", "--vehicle", "a hatch", at=folder).returncode == 0
    assert run("joint", "add", "Trial", "J1", "weld.toml", at=folder).returncode == 0
    return folder


@pytest.fixture
def shop(opened: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(opened, tmp_path / "shop"))


def refused(done: subprocess.CompletedProcess[str]) -> str:
    assert done.returncode == 2, done.stderr
    assert done.stderr.count("\n") == 1
    return done.stderr


def test_the_second_of_two_people_is_told_and_shown_both_versions(shop: Path) -> None:
    seen = json.loads(run("joint", "show", "J1", "--json", at=shop).stdout)["seen"]
    change = ["joint", "change", "J1", "weld.toml", "--seen", seen]
    assert run(*change, "--where", "left", at=shop, by="Tomas Veld").returncode == 0
    told = refused(run(*change, "--where", "right", at=shop, by="Priya Marr"))
    assert "Tomas Veld saved this joint" in told
    assert "left / right" in told
    now = told.split("--seen ")[1].split()[0]
    assert run(*change[:-1], now, "--where", "right", at=shop).returncode == 0


def test_a_joint_goes_into_a_weld_file_and_is_not_written_over(shop: Path) -> None:
    accepted = ["set-up", "accept", "J1", "--file", "weld.toml", "--gun", "Gun A"]
    assert run(*accepted, at=shop).returncode == 0
    assert run("joint", "file", "J1", "copy.toml", at=shop).returncode == 0
    assert "already" in refused(run("joint", "file", "J1", "copy.toml", at=shop))
    first = run("joint", "show", "J1", "--json", at=shop)
    run("set-up", "accept", "J1", "--file", "copy.toml", "--gun", "Gun A", at=shop)
    second = run("joint", "show", "J1", "--json", at=shop)
    assert json.loads(first.stdout)["set_up"] == json.loads(second.stdout)["set_up"]


def test_an_altered_entry_is_found_and_named(shop: Path) -> None:
    assert run("record", "verify", at=shop).returncode == 0
    with sqlite3.connect(shop / "shop.db") as raw:
        for (name,) in raw.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'"):
            raw.execute(f'DROP TRIGGER "{name}"')
        raw.execute("UPDATE event SET actor = 'Somebody' WHERE rowid = 2")
    done = run("record", "verify", "--json", at=shop)
    assert "2" in refused(done)
    answer = json.loads(done.stdout)
    assert answer["whole"] is False
    assert answer["fault"]


def test_an_entry_taken_back_stays_readable(shop: Path) -> None:
    events = json.loads(run("record", "show", "--json", at=shop).stdout)["events"]
    taken = run("record", "correct", events[1]["id"], "--reason", "wrong car", at=shop)
    assert taken.returncode == 0, taken.stderr
    after = run("record", "show", at=shop).stdout
    assert "J1" in after
    assert "wrong car" in after


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["job", "show", "Nothing"], "Trial"),
        (["joint", "show", "J9"], "J1"),
        (["joint", "show", "Trial/J9"], "J1"),
        (["coupon", "read", "J1", "--reading", "1, peel, full_button, 5 mm, 5 mm"], "no coupon"),
        (["card", "J1", "card.pdf"], "release"),
        (["release", "J1"], "set-up"),
        (["end", "J1", "--because", "rain"], "anomaly"),
        (["job", "gate", "Trial", "sunshine"], "high_voltage"),
        (["tip", "dress", "J1", "--face-after", "6"], "unit"),
        (
            ["procedure", "cite", "J1", "--reference", "page 14", "--revision", "1", *CITED],
            "year-month-day",
        ),
    ],
)
def test_what_is_not_there_or_not_right(shop: Path, words: list[str], told: str) -> None:
    before = (shop / "shop.db").stat().st_size
    assert told in refused(run(*words, at=shop))
    events = json.loads(run("record", "verify", "--json", at=shop).stdout)["events"]
    assert events == 2
    assert before == (shop / "shop.db").stat().st_size
    assert not (shop / "card.pdf").exists()


def test_no_record_is_begun_by_looking(tmp_path: Path) -> None:
    for words in (["job", "list"], ["record", "verify"], ["joint", "show", "J1"]):
        assert "no record" in refused(run(*words, at=tmp_path))
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_no_record(tmp_path: Path) -> None:
    (tmp_path / "shop.db").write_text("not a record, only words\n" * 200)
    assert "shop.db" in refused(run("record", "verify", at=tmp_path))
