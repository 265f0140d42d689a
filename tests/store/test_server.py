"""What is particular to a record on a database server."""

import threading

import pytest

from buttonhole.record import Draft, verify
from buttonhole.record.store import StoreTrouble, open_store

AT = "2026-01-01T00:00:00.000000Z"


def write(store, first, last):
    for number in range(first, last):
        store.append([Draft(f"e{number}", "note", AT, "x", {"about": ["joint/1"], "n": number})])


def raw(database, statement):
    import psycopg

    with psycopg.connect(database, autocommit=True) as connection:
        connection.execute(statement)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE event SET actor = 'somebody else' WHERE place = 3",
        "DELETE FROM event WHERE place = 6",
        "TRUNCATE event CASCADE",
        "INSERT INTO event SELECT 9, 'new', type, at, actor, payload, hash, 'x' FROM event "
        "WHERE place = 6",
        "INSERT INTO event SELECT 7, 'new', type, at, actor, payload, 'elsewhere', 'x' FROM event "
        "WHERE place = 6",
        "INSERT INTO event SELECT 7, id || 'x', type, at, actor, payload, prev_hash, hash || 'x' "
        "FROM event WHERE place = 6",
    ],
)
def test_the_server_refuses_to_change_events(database, statement):
    import psycopg

    with open_store(database) as store:
        write(store, 1, 7)
        with pytest.raises(psycopg.Error):
            raw(database, statement)
        assert verify(store).whole
        assert len(store.events()) == 6


def test_who_goes_round_the_triggers_is_found(database):
    with open_store(database) as store:
        write(store, 1, 7)
        raw(database, "ALTER TABLE event DISABLE TRIGGER ALL")
        raw(database, "UPDATE event SET payload = replace(payload, '4', '5') WHERE place = 4")
        report = verify(store)
    assert report.fault is not None
    assert report.fault.place == 4


def test_many_writers_make_one_chain(database):
    failures = []

    def work(name):
        try:
            with open_store(database) as mine:
                for number in range(15):
                    mine.append([Draft(f"{name}-{number}", "note", AT, name, {"about": ["j/1"]})])
        except Exception as fault:  # what a thread raises is lost otherwise
            failures.append(fault)

    threads = [threading.Thread(target=work, args=(f"w{n}",)) for n in range(4)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    with open_store(database) as store:
        assert failures == []
        assert store.head()[0] == 60
        assert verify(store).whole


def test_a_reader_writes_nothing_and_needs_a_record(database):
    with pytest.raises(StoreTrouble, match="none"):
        open_store(database, read_only=True)
    with open_store(database) as store:
        write(store, 1, 3)
    with open_store(database, read_only=True) as store:
        assert verify(store).whole
        with pytest.raises(StoreTrouble, match="Nothing was written") as trouble:
            write(store, 3, 4)
    assert trouble.value.kind == "read-only"


def test_a_server_that_is_not_there_is_told_without_the_password(server):
    with pytest.raises(StoreTrouble, match="cannot be reached") as trouble:
        open_store(f"postgresql://keeper:secret@/none?host={server}-nowhere")
    assert "secret" not in trouble.value.message
    with pytest.raises(StoreTrouble):
        open_store(f"postgresql://keeper@/no_such_database?host={server}")
    with pytest.raises(StoreTrouble, match="address"):
        open_store("postgresql://keeper@here:port/none")


def test_the_migrations_make_the_tables_the_code_names(database):
    from alembic.autogenerate import compare_metadata
    from alembic.runtime.migration import MigrationContext

    from buttonhole.record.store.tables import metadata

    with open_store(database) as store, store._engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []


def test_files_names_and_keys_are_kept_there_too(database):
    import os

    from buttonhole.record.key_box import lock
    from buttonhole.record.signing import new_key

    with open_store(database) as store:
        digest = store.files.keep(b"a paper", "image/png")
        found = store.files.find(digest)
        assert found is not None
        assert found.content == b"a paper"
        store.append([Draft("a", "note", AT, "Tomas", {"about": []}, ("Tomas",))])
        assert "Tomas" not in store.links()[0].actor
        assert store.events()[0].actor == "Tomas"
        store.append([Draft("b", "note", AT, "Ines", {})], forget=tuple(store.names.all()))
        assert "withheld" in store.events()[0].actor
        key = new_key(os.urandom)
        store.key_boxes.put("Ines", lock(key, "torn-4471", os.urandom))
        assert store.key_boxes.public("Ines") == key.public
