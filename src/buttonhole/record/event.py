"""An event: something that happened, who said so, when, and the hash that ties it to the last."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from buttonhole.record.canonical import HALF_PAIR, canonical, quoted
from buttonhole.units import BadInput

GENESIS = "0" * 64
"""What the first event of a record names as the hash before it."""

ABOUT = "about"
"""The key of a payload that lists what the event concerns: "job/...", "joint/...", ..."""


@dataclass(frozen=True, slots=True)
class Draft:
    """An event before it has its place in the chain. `at` is UTC text, see `stamp`.

    `personal` lists names of people: the record holds them beside the events (see `held`).
    """

    id: str
    type: str
    at: str
    actor: str
    payload: Mapping[str, Any]
    personal: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Event:
    """An event in its place. It never changes; what was wrong is corrected by another event.

    `origin` is empty, or names the other record that it was taken in from.
    """

    id: str
    type: str
    at: str
    actor: str
    payload: Mapping[str, Any]
    prev_hash: str
    hash: str
    origin: str = ""

    @property
    def about(self) -> tuple[str, ...]:
        """What the event concerns."""
        return subjects(self.payload)


def subjects(payload: Mapping[str, Any]) -> tuple[str, ...]:
    """
    List what a payload concerns.

    Raises
    ------
    BadInput
        When the list is no list of texts.
    """
    found = payload.get(ABOUT, ())
    if not isinstance(found, list | tuple) or not {*map(type, found)} <= {str}:
        raise BadInput(ABOUT, "must list the things the event concerns, each as text")
    return tuple(dict.fromkeys(found))


def hash_of(
    event_id: str, kind: str, at: str, actor: str, payload_text: str, prev_hash: str
) -> str:
    """
    Hash an event: SHA-256 over its canonical JSON without the hash itself.

    The payload comes as canonical text, so that a stored event is checked on the very bytes that
    were stored. The keys stand in the order RFC 8785 asks for.

    Parameters
    ----------
    event_id, kind, at, actor : str
        Its name, type, moment and who said so.
    payload_text : str
        The payload as canonical JSON.
    prev_hash : str
        Hash of the event before it.

    Returns
    -------
    str
        64 hexadecimal digits.

    Sources
    -------
    - rfc-8785: the text that is hashed.
    - fips-180-4: SHA-256.
    """
    text = (
        f'{{"actor":{quoted(actor)},"at":{quoted(at)},"id":{quoted(event_id)},'
        f'"payload":{payload_text},"prev_hash":{quoted(prev_hash)},"type":{quoted(kind)}}}'
    )
    try:
        return hashlib.sha256(text.encode("utf-8")).hexdigest()
    except UnicodeEncodeError:
        raise BadInput("json", HALF_PAIR) from None


def seal(draft: Draft, prev_hash: str) -> Event:
    """
    Give a draft its place after the event with this hash.

    Parameters
    ----------
    draft : Draft
        What happened.
    prev_hash : str
        Hash of the event before it, or `GENESIS`.

    Returns
    -------
    Event
        The event with its hash.
    """
    text = canonical(draft.payload)
    sealed = hash_of(draft.id, draft.type, draft.at, draft.actor, text, prev_hash)
    return Event(draft.id, draft.type, draft.at, draft.actor, draft.payload, prev_hash, sealed)


def stamp(moment: datetime) -> str:
    """
    Write a moment as UTC text, always to the microsecond, so that texts sort as times do.

    Raises
    ------
    BadInput
        When the moment does not say its time zone.
    """
    if moment.tzinfo is None:
        raise BadInput("at", "a moment in the record needs its time zone")
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def moment(text: str) -> datetime:
    """
    Read a moment that `stamp` wrote.

    Raises
    ------
    BadInput
        When the text is no such moment.
    """
    try:
        return datetime.strptime(text, "%Y-%m-%dT%H:%M:%S.%fZ").replace(tzinfo=UTC)
    except ValueError:
        raise BadInput(
            "at", f"{text!r} is no UTC moment like 2026-01-31T08:00:00.000000Z"
        ) from None
