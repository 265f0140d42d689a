"""The store: what goes in comes out, in order, for every program that opens it."""

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest

from buttonhole.record import GENESIS, Draft, verify
from buttonhole.record.store import Conflict, StoreTrouble, open_store
from buttonhole.units import BadInput

AT = "2026-01-01T00:00:00.000000Z"


def draft(name: str, *about: str, **values: object) -> Draft:
    return Draft(name, "note", AT, "Tomas Veld", {"about": list(about), **values})


@pytest.fixture
def store(place):
    with open_store(place) as opened:
        yield opened


def test_a_new_record_is_empty_and_whole(store):
    assert store.events() == ()
    assert store.head() == (0, GENESIS)
    assert store.last("joint/1") is None
    assert verify(store).whole


def test_events_come_back_as_they_went_in(store):
    written = store.append(
        [draft("a", "joint/1", d=0.1 + 0.2, n=3, t="5 kÄ\n", deep={"x": [1, None, True]})]
    )
    assert store.events() == written
    assert store.events()[0].payload["d"] == 0.1 + 0.2
    assert store.event("a") == written[0]
    assert store.event("nobody") is None
    assert store.head() == (1, written[0].hash)


def test_events_are_found_by_what_they_concern(store):
    store.append([draft("a", "joint/1"), draft("b", "joint/2"), draft("c", "joint/1", "joint/2")])
    assert [event.id for event in store.events("joint/1")] == ["a", "c"]
    assert [event.id for event in store.events("joint/2")] == ["b", "c"]
    assert [event.id for event in store.events(after="a")] == ["b", "c"]
    assert [event.id for event in store.events("joint/1", after="a")] == ["c"]
    assert [event.id for event in store.events_of_type("note")] == ["a", "b", "c"]
    assert store.last("joint/2") == "c"


def test_it_is_all_there_for_the_next_program(store, place):
    store.append([draft("a", "joint/1")])
    with open_store(place) as other:
        assert other.events() == store.events()
        other.append([draft("b", "joint/1")])
    assert store.last("joint/1") == "b"
    assert verify(store).whole


def test_the_second_of_two_writers_is_told_what_the_first_wrote(store, place):
    store.append([draft("seen", "joint/1")])
    with open_store(place) as other:
        other.append([draft("theirs", "joint/1", force=2200)], expect={"joint/1": "seen"})
    with pytest.raises(Conflict) as conflict:
        store.append([draft("mine", "joint/1", force=2600)], expect={"joint/1": "seen"})
    assert [event.id for event in conflict.value.theirs] == ["theirs"]
    assert conflict.value.theirs[0].payload["force"] == 2200
    assert store.event("mine") is None
    # Having seen it, the second may go on.
    store.append([draft("mine", "joint/1", force=2600)], expect={"joint/1": "theirs"})
    assert store.last("joint/1") == "mine"


def test_a_first_event_may_be_expected_to_be_the_first(store):
    store.append([draft("a", "joint/1")], expect={"joint/1": None})
    with pytest.raises(Conflict) as conflict:
        store.append([draft("b", "joint/1")], expect={"joint/1": None})
    assert [event.id for event in conflict.value.theirs] == ["a"]
    store.append([draft("c", "joint/2")], expect={"joint/2": None})


def test_a_seen_event_that_never_was_is_bad_input(store):
    store.append([draft("a", "joint/1")])
    with pytest.raises(BadInput, match="read it again"):
        store.append([draft("b", "joint/1")], expect={"joint/1": "made up"})


def test_of_many_writers_who_saw_the_same_exactly_one_wins(store):
    store.append([draft("seen", "joint/1")])
    start = threading.Barrier(8)

    def write(number: int) -> bool:
        start.wait()
        try:
            store.append([draft(f"w{number}", "joint/1")], expect={"joint/1": "seen"})
        except Conflict:
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(write, range(8))) == 1
    assert len(store.events("joint/1")) == 2
    assert verify(store).whole


def test_nothing_of_a_bad_batch_is_written(store):
    for bad in (
        draft("b", nan=float("nan")),
        Draft("b", "", AT, "x", {}),
        Draft("", "note", AT, "x", {}),
        Draft("b", "note", "noon", "x", {}),
        Draft("b", "note", AT, "x", {"about": [1]}),
    ):
        with pytest.raises(BadInput):
            store.append([draft("a"), bad])
    with pytest.raises(StoreTrouble, match="already"):
        store.append([draft("a"), draft("a")])
    assert store.events() == ()


def test_the_caller_cannot_change_an_event_afterwards(store):
    payload = {"about": ["joint/1"], "list": [1]}
    (event,) = store.append([Draft("a", "note", AT, "x", payload)])
    payload["list"].append(2)
    assert event.payload["list"] == [1]
    assert store.events() == (event,)


def test_the_index_can_be_built_again(store):
    store.append([draft("a", "joint/1"), draft("b", "joint/2", "joint/1")])
    before = store.index()
    store.rebuild_index()
    assert store.index() == before == {(1, "joint/1"), (2, "joint/1"), (2, "joint/2")}


def test_a_clock_set_back_is_remarked_and_breaks_nothing(store):
    store.append([Draft("a", "note", "2026-01-02T00:00:00.000000Z", "x", {})])
    store.append([Draft("b", "note", "2026-01-01T00:00:00.000000Z", "x", {})])
    report = verify(store)
    assert report.whole
    assert len(report.remarks) == 1
    assert "clock was set back" in report.remarks[0]
