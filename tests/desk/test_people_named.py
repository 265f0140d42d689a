"""Names stand beside the events, and can be taken out without breaking the chain."""

import pytest

from buttonhole.desk.back_up import back_up, drill, restore
from buttonhole.desk.conflict import NotThere
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.read_job import read_job
from buttonhole.desk.retention import RetentionPolicy, retention
from buttonhole.desk.withhold_person import export_person, withhold_person
from buttonhole.record import Draft, verify
from buttonhole.record.canonical import parse
from buttonhole.record.held import is_token, token_of, tokens_in
from buttonhole.record.store import StoreTrouble, open_store

NAME = "Tomas Brindeval"


def test_the_events_hold_no_name_and_every_reader_sees_it(store, desk, welded):
    links = store.links()
    assert all(NAME not in link.actor + link.payload for link in links)
    assert all(is_token(link.actor) for link in links)
    assert {one.actor for one in store.events()} == {NAME}
    assert read_job(desk, welded.job_id).joints[0].coupons[0].surroundings.welder == NAME
    ((token, (salt, value)),) = store.names.salted(store.names.all()).items()
    assert token_of(salt, value) == token
    assert tokens_in([parse(link.payload) for link in links]) == {token}


def test_what_append_gives_back_is_what_a_reader_gets(store, desk):
    draft = desk.draft("note", ["joint/1"], {"read_by": NAME, "note": f"{NAME} was here"})
    (event,) = store.append([draft])
    assert store.events() == (event,)
    assert event.payload["read_by"] == event.actor == NAME


def test_a_name_taken_out_is_gone_and_the_chain_is_whole(store, desk, desk_of, welded):
    head = store.head()
    assert read_job(desk, welded.job_id).opened_by == NAME  # now also in what is kept
    other = desk_of("Ines Velloquar")
    found = withhold_person(other, store, NAME, "on request")
    assert found.open_entries == 0
    report = verify(store, head_count=head[0], head_hash=head[1])
    assert report.whole
    job = read_job(other, welded.job_id)
    assert "withheld" in job.opened_by
    assert "withheld" in job.joints[0].coupons[0].surroundings.welder
    whole = b"".join(one.read_bytes() for one in store.path.parent.iterdir() if one.is_file())
    assert NAME.encode() not in whole
    with pytest.raises(NotThere):
        export_person(store, NAME)
    # Who works on gets another number, and the old entries stay without a name.
    open_job(desk, OpenJob("Later", "Another vehicle"))
    assert "withheld" in store.events()[0].actor
    assert store.events()[-1].actor == NAME


def test_names_in_old_entries_and_free_text_stay_and_are_counted(store, desk, desk_of):
    old = Draft("a", "note", "2026-01-01T00:00:00.000000Z", NAME, {"about": []})
    store.append([old])
    store.append([desk.draft("note", [], {"note": f"{NAME} said so"})])
    open_job(desk, OpenJob("Sill", "A hatch"))
    found = export_person(store, NAME)
    assert [one.open for one in found.entries] == [True, True, False]
    assert withhold_person(desk_of("Q"), store, NAME, "on request").open_entries == 2
    assert verify(store).whole
    assert store.events()[0].actor == NAME


def test_a_backup_is_made_brought_back_and_proved(store, desk, welded, tmp_path):
    store.files.keep(b"\xff\xd8 a photo", "image/jpeg")
    store.files.keep(b"%PDF a paper", "application/pdf")
    copied = back_up(store, tmp_path / "copy.db")
    assert copied.report.whole
    assert copied.report.events == store.head()[0]
    with pytest.raises(StoreTrouble, match="already"):
        back_up(store, tmp_path / "copy.db")
    back = restore(tmp_path / "copy.db", tmp_path / "elsewhere.db")
    assert back.report.head == store.head()[1]
    with open_store(tmp_path / "elsewhere.db") as again:
        assert again.events() == store.events()
        assert again.files.listed() == store.files.listed()
    with pytest.raises(StoreTrouble, match=r"another record|already"):
        restore(tmp_path / "copy.db", store.path)
    found = drill(desk, store)
    assert found.good
    assert found.files == 2
    assert store.events()[-1].payload["good"] is True
    assert not [one for one in store.path.parent.iterdir() if one.name.startswith("drill-")]


def test_a_backup_is_whole_while_somebody_writes(store, desk, tmp_path):
    import threading

    stop = threading.Event()

    def write():
        with open_store(store.path) as mine:
            number = 0
            while not stop.is_set():
                at = "2026-01-01T00:00:00.000000Z"
                mine.append([Draft(f"w{number}", "note", at, "x", {"text": "x" * 3000})])
                number += 1

    writer = threading.Thread(target=write)
    writer.start()
    try:
        for number in range(5):
            copied = back_up(store, tmp_path / f"copy-{number}.db")
            assert copied.report.whole
    finally:
        stop.set()
        writer.join()
    assert verify(store).whole


def test_a_damaged_backup_is_found(store, desk, welded, tmp_path):
    back_up(store, tmp_path / "copy.db")
    data = (tmp_path / "copy.db").read_bytes()
    (tmp_path / "copy.db").write_bytes(data.replace(b"Left sill", b"Lift sill"))
    assert not restore(tmp_path / "copy.db", tmp_path / "back.db").report.whole
    (tmp_path / "torn.db").write_bytes(data.replace(b"coupon_welded", b"coupon_melted", 1))
    with pytest.raises(StoreTrouble, match="damaged"):  # an index that does not fit its table
        restore(tmp_path / "torn.db", tmp_path / "torn-back.db")
    with pytest.raises(StoreTrouble, match="no record"):
        restore(tmp_path / "nothing.db", tmp_path / "more.db")


def test_retention_says_what_is_due_and_deletes_nothing(store, desk, clock):
    open_job(desk, OpenJob("Sill", "A hatch", vin="0BHDEM01000000017"))
    open_job(desk, OpenJob("Course 7", "none"))
    head = store.head()
    first, second = retention(desk)
    assert (first.kind, first.until.year, first.due) == ("training", 2036, False)
    assert (second.kind, second.until.year, second.due) == ("vehicle", 2051, False)
    clock.wait(days=10 * 366)
    assert [one.due for one in retention(desk)] == [True, False]
    assert [one.due for one in retention(desk, RetentionPolicy(5, 5))] == [True, True]
    assert store.head() == head
