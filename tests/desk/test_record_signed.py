"""Heads signed by a device, entries signed in person, and what a check says of them."""

import json
import sqlite3
from contextlib import closing

import pytest

from buttonhole.desk.sign_entry import SignEntry, make_key, sign_entry
from buttonhole.desk.sign_head import sign_head
from buttonhole.desk.verify_record import verify_record
from buttonhole.desk.witness import check_code, code_picture, head_code
from buttonhole.record import FaultKind
from buttonhole.record.chain import ChainLink
from buttonhole.record.device import device_key_path, open_device
from buttonhole.record.event import GENESIS, hash_of
from buttonhole.record.store import open_store
from buttonhole.units import BadInput

PIN = "torn-4471"


@pytest.fixture
def device(store):
    return open_device(device_key_path(store.path), "Tablet 1")


def write_anew(path, first, change):
    """Change a payload and make every later hash fit: what only signatures and witnesses show."""
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        for (name,) in raw.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger'"
        ).fetchall():
            raw.execute(f'DROP TRIGGER "{name}"')
        query = "SELECT id, type, at, actor, payload, prev_hash, hash FROM event ORDER BY place"
        before = GENESIS
        for place, row in enumerate(raw.execute(query).fetchall(), 1):
            link = ChainLink(*row)
            payload = change(link.payload) if place == first else link.payload
            digest = hash_of(link.id, link.type, link.at, link.actor, payload, before)
            raw.execute(
                "UPDATE event SET payload = ?, prev_hash = ?, hash = ? WHERE place = ?",
                (payload, before, digest, place),
            )
            before = digest


def test_the_key_of_a_device_is_made_once_and_is_nobody_elses(store, device):
    path = device_key_path(store.path)
    assert open_device(path, "Another name") == device
    assert path.stat().st_mode & 0o077 == 0
    path.chmod(0o644)
    with pytest.raises(BadInput, match="read by others"):
        open_device(path, "Tablet 1")


def test_a_signed_head_covers_what_stood_before_it(desk, store, device, joint):
    signed = sign_head(desk, store, device)
    report = verify_record(store)
    assert report.whole
    assert (report.signed.heads, report.signed.covered) == (1, signed.head.size)
    sign_head(desk, store, device)
    assert verify_record(store).signed.heads == 2
    kinds = [one.type for one in store.events()]
    assert kinds.count("key_introduced") == 1


def test_a_record_written_anew_is_found_by_its_signed_head(desk, store, device, joint, cited):
    sign_head(desk, store, device)
    write_anew(store.path, 2, lambda text: text.replace("0.0008", "0.0009"))
    with open_store(store.path) as again:
        report = verify_record(again)
    assert report.fault is not None
    assert report.fault.kind is FaultKind.SIGNATURE
    assert "written anew" in report.fault.message


def test_a_forged_head_or_signature_is_found(desk, store, device, joint):
    sign_head(desk, store, device)
    place = store.head()[0]

    def other_root(text):
        values = json.loads(text)
        root = values["root"]
        return text.replace(root, root[::-1])

    write_anew(store.path, place, other_root)
    with open_store(store.path) as again:
        report = verify_record(again)
    assert report.fault is not None
    assert (report.fault.place, report.fault.kind) == (place, FaultKind.SIGNATURE)


def test_a_person_signs_by_pin(desk, store, joint):
    public = make_key(desk, store, PIN)
    entry = store.events()[0].id
    event = sign_entry(desk, store, SignEntry(entry, PIN, "checked"))
    assert event.payload["public"] == public
    report = verify_record(store)
    assert report.whole
    assert report.signed.entries == 1


def test_wrong_pins_are_counted_and_shut_the_key(desk, desk_of, store, clock, joint, monkeypatch):
    from buttonhole.record import key_box

    monkeypatch.setattr(key_box, "MEMORY_KIB", 8)  # the same path, quicker
    make_key(desk, store, PIN)
    entry = store.events()[0].id
    before = store.head()
    for left in (4, 3, 2, 1):
        with pytest.raises(BadInput, match=f"{left} more"):
            sign_entry(desk, store, SignEntry(entry, "wrong pin"))
    with pytest.raises(BadInput, match="shut for 15 minutes"):
        sign_entry(desk, store, SignEntry(entry, "wrong pin"))
    with pytest.raises(BadInput, match="shut until"):
        sign_entry(desk, store, SignEntry(entry, PIN))  # the right one does not help now
    assert store.head() == before
    clock.wait(minutes=16)
    sign_entry(desk, store, SignEntry(entry, PIN))
    for _ in range(4):
        for _ in range(5):
            with pytest.raises(BadInput, match="pin"):
                sign_entry(desk, store, SignEntry(entry, "wrong pin"))
        clock.wait(minutes=16)
    with pytest.raises(BadInput, match="for good"):
        sign_entry(desk, store, SignEntry(entry, PIN))
    with pytest.raises(BadInput, match="record key"):
        sign_entry(desk_of("Priya Marr"), store, SignEntry(entry, PIN))


def test_a_printed_code_is_held_against_the_record(desk, store, joint, cited):
    words = head_code(store)
    assert check_code(store, words).agrees
    from buttonhole.desk.open_job import OpenJob, open_job

    open_job(desk, OpenJob("Later", "Another vehicle"))
    assert check_code(store, words).agrees
    count = words.split()[2]
    more = words.replace(f"head {count}", "head 99")
    assert "cut off" in check_code(store, more).words
    event = store.events()[1]
    assert check_code(store, f"buttonhole release {event.id} {event.hash}").agrees
    assert not check_code(store, f"buttonhole release {event.id} {'ab' * 32}").agrees
    write_anew(store.path, 2, lambda text: text.replace("0.0008", "0.0009"))
    with open_store(store.path) as again:
        assert verify_record(again).whole  # nothing was signed: only the paper knows
        found = check_code(again, words)
    assert not found.agrees
    assert "anew" in found.words
    assert code_picture(words).startswith(b"<svg")
    with pytest.raises(BadInput, match="none of this program"):
        check_code(store, "hello")
