"""A job folded on event by event is the job folded from the first event on."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.desk import Desk
from buttonhole.desk.folded_job import folded
from buttonhole.desk.load_demo import load_demo
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.written import written
from buttonhole.record.event import Draft, Event
from buttonhole.record.store import EventStore, open_store

NOW = datetime(2026, 3, 2, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """Path of a record with the demonstration, one entry of it taken back; its job."""
    path = tmp_path_factory.mktemp("folded") / "record.db"
    with open_store(path) as store:
        job = load_demo(store, NOW)
        desk = Desk(store, lambda: NOW, "Ines Velloquar")
        joint = next(one for one in job.joints if one.coupons)
        entry = next(one for one in reversed(joint.history) if one.kind == "coupon_judged")
        correct_entry(desk, CorrectEntry(entry.event_id, "Read wrongly.", joint.seen))
    return path, job.id


def events_of(path: Path, job: str) -> tuple[Event, ...]:
    with open_store(path) as store:
        return store.events(f"job/{job}")


def test_event_by_event_is_the_same_as_all_at_once(told: tuple[Path, str]) -> None:
    events = events_of(*told)
    state = folded(events[:1])
    for number, event in enumerate(events[1:], start=2):
        before = state.view()
        state = state.with_later((event,))
        assert written(state.view()) == written(folded(events[:number]).view())
        # the earlier one was left alone
        assert written(before) == written(folded(events[: number - 1]).view())


def test_what_another_writes_is_seen_at_once(told: tuple[Path, str]) -> None:
    path, job = told
    with open_store(path) as one, open_store(path) as other:
        reader, writer = (Desk(store, lambda: NOW, "Tomas") for store in (one, other))
        joint = next(each for each in read_job(reader, job).joints if each.coupons)
        entry = next(each for each in joint.history if each.kind == "coupon_welded")
        correct_entry(writer, CorrectEntry(entry.event_id, "Another one.", joint.seen))
        found = read_joint(reader, joint.id)
        assert found.seen != joint.seen
        assert len(found.coupons) == len(joint.coupons) - 1


class Swapped:
    """A store whose record is exchanged for another one, as after a restore."""

    def __init__(self, store: EventStore) -> None:
        self.store = store

    def __getattr__(self, name: str) -> object:
        return getattr(self.store, name)


def test_a_record_put_in_its_place_is_folded_anew(told: tuple[Path, str], tmp_path: Path) -> None:
    path, job = told
    with open_store(path) as full, open_store(tmp_path / "earlier.db") as earlier:
        store = Swapped(full)
        desk = Desk(store, lambda: NOW, "Tomas")  # type: ignore[arg-type]  # it passes all on
        later = read_job(desk, job)
        for event in full.events(f"job/{job}")[:-6]:
            earlier.append([Draft(event.id, event.type, event.at, event.actor, event.payload)])
        store.store = earlier
        assert len(read_job(desk, job).history) == len(later.history) - 6
