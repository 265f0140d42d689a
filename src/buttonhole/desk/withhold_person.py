"""Whose names are in the record, what stands there about one, and how a name is taken out."""

import json
from dataclasses import dataclass
from typing import Any

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.people_named import PEOPLE
from buttonhole.desk.saying import say
from buttonhole.record.held import PREFIX
from buttonhole.record.store import EventStore

WITHHELD = "name_withheld"


@dataclass(frozen=True, slots=True)
class PersonEntry:
    """One entry that names the person. `open` when the name stands in the event itself."""

    event_id: str
    at: str
    type: str
    words: str
    open: bool


@dataclass(frozen=True, slots=True)
class PersonExport:
    """All that the record holds about one person: for the person, on request."""

    name: str
    tokens: tuple[str, ...]
    entries: tuple[PersonEntry, ...]
    has_key: bool

    @property
    def open_entries(self) -> int:
        """Entries that hold the name themselves: taking it out would break the chain [-]."""
        return sum(one.open for one in self.entries)


def export_person(store: EventStore, name: str) -> PersonExport:
    """
    Collect what the record holds about a person.

    Parameters
    ----------
    store : EventStore
        The record.
    name : str
        The name as it stands there.

    Returns
    -------
    PersonExport
        Every entry that names the person, in free text too.

    Raises
    ------
    NotThere
        When nothing names this person.
    """
    name = text("person", name)
    tokens = tuple(sorted(one for one, value in store.names.all().items() if value == name))
    plain = json.dumps(name, ensure_ascii=False)[1:-1]
    entries = []
    for link in store.links():
        in_it = link.actor == name or plain in link.payload
        by_token = any(one in link.payload or one == link.actor for one in tokens)
        if in_it or by_token:
            words = say(link.type, _payload(store, link.id))
            entries.append(PersonEntry(link.id, link.at, link.type, words, in_it))
    has_key = store.key_boxes.public(name) is not None
    if not entries and not tokens and not has_key:
        raise NotThere("person", name)
    return PersonExport(name, tokens, tuple(entries), has_key)


def withhold_person(desk: Desk, store: EventStore, name: str, reason: str) -> PersonExport:
    """
    Take a name out. The entries stay as they are and the chain stays whole.

    Names in free text, and in entries older than this way of keeping names, stand in the events
    themselves and stay: `open_entries` counts them. So do those in older backups and archives.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    store : EventStore
        The record.
    name : str
        The name as it stands there.
    reason : str
        Why; without the name.

    Returns
    -------
    PersonExport
        What there was.

    Raises
    ------
    NotThere
        When nothing names this person.
    """
    found = export_person(store, name)
    why = text("reason", reason, longest=LONGEST_TEXT)
    payload = {
        "tokens": [one[len(PREFIX) :] for one in found.tokens],  # not as tokens: none is shown
        "reason": why,
        "open_entries": found.open_entries,
    }
    store.append([desk.draft(WITHHELD, [PEOPLE], payload)], forget=found.tokens)
    store.key_boxes.drop(found.name)
    return found


def _payload(store: EventStore, event_id: str) -> dict[str, Any]:
    event = store.event(event_id)
    return dict(event.payload) if event else {}
