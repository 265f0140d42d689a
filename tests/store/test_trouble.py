"""When the disk, the file or another program is in the way: one clear sentence, nothing lost."""

import os
import sqlite3
from contextlib import closing

import pytest

from buttonhole.record import Draft, verify
from buttonhole.record.store import StoreTrouble, open_store
from buttonhole.record.store.migrate import NEWEST

AT = "2026-01-01T00:00:00.000000Z"


def write(store, first, last, size=100):
    for number in range(first, last):
        payload = {"about": ["joint/1"], "text": "x" * size}
        store.append([Draft(f"e{number}", "note", AT, "Tomas Veld", payload)])


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "record.db"
    with open_store(path) as store:
        write(store, 0, 200)
    return path


def test_it_is_kept_as_the_design_asks(path):
    with open_store(path) as store, store._engine.connect() as connection:
        setting = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    assert setting["journal_mode"] == "wal"
    assert setting["synchronous"] == 2  # FULL
    assert setting["foreign_keys"] == 1
    assert setting["busy_timeout"] >= 5000


def test_junk_is_no_record(tmp_path):
    path = tmp_path / "record.db"
    path.write_bytes(os.urandom(100_000))
    with pytest.raises(StoreTrouble, match="not a record") as trouble:
        open_store(path)
    assert trouble.value.kind == "not a record"
    assert path.stat().st_size == 100_000


def test_a_torn_file_is_called_damaged(path):
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 3 + 700])
    with pytest.raises(StoreTrouble) as trouble, open_store(path) as store:
        verify(store)
    assert trouble.value.kind in {"damaged", "not a record"}
    assert "backup" in trouble.value.message
    assert str(path) in trouble.value.message


def test_pages_written_over_are_called_damaged(path):
    whole = bytearray(path.read_bytes())
    for page in range(2, len(whole) // 4096):
        whole[page * 4096 : page * 4096 + 16] = b"\xff" * 16
    path.write_bytes(bytes(whole))
    with pytest.raises(StoreTrouble) as trouble, open_store(path) as store:
        verify(store)
    assert trouble.value.kind == "damaged"


def test_a_full_disk_is_told_and_nothing_is_lost(path):
    with open_store(path) as store:
        before = store.head()
        with store._engine.connect() as connection:
            pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
            # The database refuses to grow: what it also says when the disk has no room.
            connection.exec_driver_sql(f"PRAGMA max_page_count = {pages + 4}")
        with pytest.raises(StoreTrouble, match="disk is full") as trouble:
            write(store, 1000, 1100, size=4000)
        assert trouble.value.kind == "full"
        after = store.head()
        assert after[0] >= before[0]
        assert verify(store).whole
        with store._engine.connect() as connection:
            connection.exec_driver_sql("PRAGMA max_page_count = 100000")
        # When there is room again it goes on.
        write(store, 2000, 2100, size=4000)
        assert store.head()[0] == after[0] + 100
        assert verify(store).whole


def test_a_record_opened_for_reading_cannot_be_written(path):
    with open_store(path, read_only=True) as store:
        assert verify(store).whole
        with pytest.raises(StoreTrouble, match="not written") as trouble:
            write(store, 1000, 1001)
    assert trouble.value.kind == "read-only"


def test_reading_makes_no_record_where_there_is_none(tmp_path):
    with pytest.raises(StoreTrouble, match="no record"):
        open_store(tmp_path / "record.db", read_only=True)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StoreTrouble, match="folder"):
        open_store(tmp_path / "file" / "record.db")
    (tmp_path / "record.db").mkdir()
    with pytest.raises(StoreTrouble, match="cannot be opened"):
        open_store(tmp_path / "record.db")


def test_a_newer_form_is_left_alone(path):
    with closing(sqlite3.connect(path)) as raw, raw:
        raw.execute("UPDATE alembic_version SET version_num = '9999'")
    before = path.read_bytes()
    with pytest.raises(StoreTrouble, match="newer program"):
        open_store(path)
    with pytest.raises(StoreTrouble, match="9999"):
        open_store(path, read_only=True)
    assert path.read_bytes() == before


def test_the_newest_migration_is_the_one_the_program_knows():
    from pathlib import Path

    from alembic.config import Config
    from alembic.script import ScriptDirectory

    import buttonhole.record.store

    config = Config()
    folder = Path(buttonhole.record.store.__file__).parent / "migrations"
    config.set_main_option("script_location", str(folder))
    assert ScriptDirectory.from_config(config).get_current_head() == NEWEST


def test_the_migrations_make_the_tables_the_code_names(path):
    from alembic.autogenerate import compare_metadata
    from alembic.runtime.migration import MigrationContext

    from buttonhole.record.store.tables import metadata

    with open_store(path) as store, store._engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []


def test_another_program_that_holds_the_record_is_named_as_the_reason(path, monkeypatch):
    monkeypatch.setattr("buttonhole.record.store.engine.WAIT_MS", 50)
    with closing(sqlite3.connect(path, isolation_level=None)) as raw, open_store(path) as store:
        raw.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreTrouble, match="Another program") as trouble:
            write(store, 1000, 1001)
        assert trouble.value.kind == "busy"
        raw.execute("ROLLBACK")
        write(store, 1000, 1001)
        assert verify(store).whole
