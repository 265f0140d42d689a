"""Events of another record: each is wrapped, whole, into an event of this one.

The wrapper keeps the name of what it wraps, so that an event taken in twice is there once, and
lists the same subjects, so that it is found with the others. Its own hash ties it to this chain;
the hash of the event inside stays as the other record made it.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from buttonhole.record.canonical import canonical
from buttonhole.record.event import ABOUT, Draft, Event, hash_of, subjects
from buttonhole.units import BadInput

IMPORTED = "event_imported"
"""Type of the wrapper."""

FIELDS = ("actor", "at", "hash", "id", "payload", "prev_hash", "type")


def wrap(
    values: Mapping[str, Any], origin: str, at: str, actor: str, more: Iterable[str] = ()
) -> Draft:
    """
    Wrap an event of another record.

    Parameters
    ----------
    values : mapping
        The event as it stands in an archive.
    origin : str
        Which record it comes from.
    at, actor : str
        When it is taken in, and by whom.
    more : iterable of str, optional
        What else it concerns.

    Returns
    -------
    Draft
        For this record.

    Raises
    ------
    BadInput
        When it is no event, or not what was written.
    """
    event = event_of(values)
    about = [*subjects(event.payload), f"type/{event.type}", f"origin/{origin}", *more]
    payload = {ABOUT: about, "origin": origin, "event": {one: values[one] for one in FIELDS}}
    return Draft(event.id, IMPORTED, at, actor, payload, personal=(actor,))


def unwrap(payload: Mapping[str, Any]) -> Event:
    """Give the event inside a wrapper, marked with its origin."""
    inner = payload["event"]
    return Event(
        inner["id"],
        inner["type"],
        inner["at"],
        inner["actor"],
        inner["payload"],
        inner["prev_hash"],
        inner["hash"],
        payload["origin"],
    )


def event_of(values: Mapping[str, Any]) -> Event:
    """
    Read an event, and check that its contents give its hash.

    Raises
    ------
    BadInput
        When a field is missing or too many, or the hash does not fit.
    """
    if set(values) != set(FIELDS):
        raise BadInput("event", f"has {', '.join(sorted(values))}; due are {', '.join(FIELDS)}")
    texts = [values[one] for one in ("id", "type", "at", "actor", "prev_hash", "hash")]
    if not all(isinstance(one, str) and one for one in texts):
        raise BadInput("event", "has a field that is empty or no text")
    payload = values["payload"]
    if not isinstance(payload, Mapping):
        raise BadInput("event", f"{values['id']}: its payload is no set of named values")
    name, kind, at, actor, prev_hash, digest = texts
    if hash_of(name, kind, at, actor, canonical(payload), prev_hash) != digest:
        raise BadInput("event", f"{name}: its contents do not give its hash")
    return Event(name, kind, at, actor, payload, prev_hash, digest)
