"""The database refuses changes; who goes round it is found."""

import sqlite3
from contextlib import closing

import pytest

from buttonhole.record import Draft, FaultKind, verify
from buttonhole.record.store import open_store

AT = "2026-01-01T00:00:00.000000Z"
TRIGGERS = (
    "event_no_update",
    "event_no_delete",
    "event_next_place",
    "event_joins_chain",
    "event_not_twice",
)


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "record.db"
    with open_store(path) as store:
        for number in range(1, 7):
            payload = {"about": ["joint/1"], "diameter": 0.004 + number * 1e-4}
            store.append([Draft(f"e{number}", "coupon_read", AT, "Tomas Veld", payload)])
    return path


def run(path, *statements, without_triggers=False):
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        if without_triggers:
            for trigger in TRIGGERS:
                raw.execute(f"DROP TRIGGER {trigger}")
        for statement in statements:
            raw.execute(statement)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE event SET actor = 'somebody else' WHERE place = 3",
        "UPDATE event SET place = 30 WHERE place = 6",
        "DELETE FROM event WHERE place = 6",
        "DELETE FROM event",
        "INSERT INTO event SELECT place, id || 'x', type, at, actor, payload, prev_hash || 'x', "
        "hash || 'x' FROM event WHERE place = 3",
        "INSERT OR REPLACE INTO event SELECT place, id, type, at, 'other', payload, prev_hash, "
        "hash FROM event WHERE place = 6",
        "REPLACE INTO event SELECT 7, id, type, at, 'other', payload, prev_hash || 'x', "
        "hash || 'x' FROM event WHERE place = 6",
        "INSERT INTO event SELECT 7, 'new', type, at, actor, payload, 'somewhere', 'x' "
        "FROM event WHERE place = 6",
        "INSERT INTO event SELECT 9, 'new', type, at, actor, payload, hash, 'x' "
        "FROM event WHERE place = 6",
    ],
)
def test_the_database_refuses_to_change_events(path, statement):
    with pytest.raises(sqlite3.IntegrityError):
        run(path, statement)
    with open_store(path) as store:
        assert verify(store).whole
        assert len(store.events()) == 6


@pytest.mark.parametrize(
    ("statements", "place", "kind"),
    [
        (["UPDATE event SET payload = replace(payload, '44', '54') WHERE place = 4"], 4, "altered"),
        (["UPDATE event SET actor = 'Priya Marr' WHERE place = 1"], 1, "altered"),
        (["UPDATE event SET at = '2025' || substr(at, 5) WHERE place = 6"], 6, "altered"),
        (["DELETE FROM event WHERE place = 3"], 3, "missing"),
        (["DELETE FROM event WHERE place = 1"], 1, "missing"),
        (["DELETE FROM event WHERE place = 6"], 6, "cut short"),
        (
            [
                "UPDATE event SET place = 60 WHERE place = 2",
                "UPDATE event SET place = 2 WHERE place = 5",
                "UPDATE event SET place = 5 WHERE place = 60",
            ],
            2,
            "out of order",
        ),
        (["UPDATE event SET place = 8 WHERE place = 6"], 6, "index"),
        (["DELETE FROM event_subject WHERE place = 2"], 2, "index"),
        (["INSERT INTO event_subject VALUES ('joint/9', 2)"], 2, "index"),
    ],
)
def test_who_goes_round_the_triggers_is_found(path, statements, place, kind):
    run(path, *statements, without_triggers=True)
    with open_store(path) as store:
        report = verify(store)
    assert not report.whole
    assert report.fault is not None
    assert (report.fault.place, report.fault.kind) == (place, FaultKind(kind))
    assert "damaged" in report.words


def test_a_cut_end_with_a_cleaned_index_is_seen_by_a_witness(path):
    with open_store(path) as store:
        count, head = store.head()
    run(
        path,
        "DELETE FROM event_subject WHERE place > 4",
        "DELETE FROM event WHERE place > 4",
        without_triggers=True,
    )
    with open_store(path) as store:
        assert verify(store).whole
        report = verify(store, head_count=count, head_hash=head)
    assert report.fault is not None
    assert (report.fault.place, report.fault.kind) == (5, FaultKind.CUT_SHORT)
