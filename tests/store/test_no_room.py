"""No room, no right to write, an older form: a clear sentence, nothing lost, and it goes on."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from buttonhole.record import Draft, verify
from buttonhole.record.store import StoreTrouble, copy_record, open_store

AT = "2026-01-01T00:00:00.000000Z"
FILLING = Path(__file__).with_name("filling.py")


def write(store, first, last):
    for number in range(first, last):
        store.append([Draft(f"e{number}", "note", AT, "x", {"text": "x" * 500})])


def test_a_file_that_may_grow_no_more_loses_nothing_and_goes_on(tmp_path):
    path = tmp_path / "record.db"
    done = subprocess.run(
        [sys.executable, str(FILLING), str(path), str(2_500_000)],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    trouble, kept = done.stdout.splitlines()
    assert trouble.startswith(("full", "disk fault"))
    assert "Nothing was written" in trouble
    assert int(kept.split()[1]) > 50
    with open_store(path) as store:
        assert store.head()[0] == int(kept.split()[1]) + 50
        assert verify(store).whole


def test_a_copy_without_room_leaves_nothing_behind(tmp_path, monkeypatch):
    path = tmp_path / "record.db"
    with open_store(path) as store:
        write(store, 0, 20)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(StoreTrouble, match="no space left") as trouble:
        copy_record(path, tmp_path / "copy.db")
    assert "No copy was made" in trouble.value.message
    monkeypatch.undo()
    assert sorted(one.name for one in tmp_path.iterdir() if "copy" in one.name) == []
    copy_record(path, tmp_path / "copy.db")
    with open_store(tmp_path / "copy.db") as again:
        assert verify(again).events == 20


def test_a_record_of_the_first_form_is_brought_up_and_stays_as_it_was(tmp_path):
    path = tmp_path / "record.db"
    with open_store(path) as store:
        write(store, 0, 5)
        before = store.links()
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("DROP INDEX event_type")
        for table in ("file", "held", "key_box"):
            raw.execute(f"DROP TABLE {table}")
        raw.execute("UPDATE alembic_version SET version_num = '0001'")
    with pytest.raises(StoreTrouble, match="record upgrade"):
        open_store(path, read_only=True)
    with open_store(path) as store:
        assert store.links() == before
        write(store, 5, 6)
        assert verify(store).whole
    with open_store(path, read_only=True) as store:
        assert store.head()[0] == 6
