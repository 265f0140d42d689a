"""The desk: the record, the clock and the person who acts."""

import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Any, Protocol

from buttonhole.desk.people_named import names_of_people
from buttonhole.desk.written import written
from buttonhole.record.event import ABOUT, Draft, Event, stamp
from buttonhole.record.identity import Randomness, new_id
from buttonhole.units import BadInput

LONGEST_NAME = 120
LONGEST_TEXT = 4000
SENT = "sent"

Progress = Callable[[int, int], None]
"""Told how many parts of a long calculation are done, and of how many; may raise to stop it."""


class Files(Protocol):
    """Where photos and papers are kept."""

    def keep(self, content: bytes, media: str) -> str:
        """Keep a file and give its SHA-256."""
        ...


class Store(Protocol):
    """What the desk needs of a store; `record.store.EventStore` is one."""

    @property
    def files(self) -> Files:
        """Photos and papers, each under its hash."""
        ...

    def append(
        self, drafts: Iterable[Draft], expect: Mapping[str, str | None] | None = None
    ) -> tuple[Event, ...]:
        """Add events, all or none."""
        ...

    def events(self, subject: str | None = None, *, after: str | None = None) -> tuple[Event, ...]:
        """Read events in their order."""
        ...

    def events_of_type(self, kind: str) -> tuple[Event, ...]:
        """Read the events of one type."""
        ...

    def event(self, event_id: str) -> Event | None:
        """Read one event."""
        ...

    def last(self, subject: str) -> str | None:
        """Name the last event about a subject."""
        ...

    def head(self) -> tuple[int, str]:
        """Give the number of events and the hash of the last one."""
        ...


@dataclass(frozen=True, slots=True)
class Desk:
    """Where one person works. The clock and the chance come from outside, so a test can set both.

    `clock` gives the moment with its time zone; `zone` is the shop's, and none is the computer's.
    `sent` names one filled-in form, where there is one: what it says is written down only once.
    """

    store: Store
    clock: Callable[[], datetime]
    actor: str
    randomness: Randomness = os.urandom
    zone: tzinfo | None = None
    sent: str = ""

    def __post_init__(self) -> None:
        if not self.actor.strip():
            raise BadInput("actor", "is empty; say who you are")

    def now(self) -> datetime:
        """Give the moment."""
        return self.clock()

    def shop_time(self, moment: datetime) -> datetime:
        """Turn a moment into the shop's time."""
        return moment.astimezone(self.zone)

    def new_id(self) -> str:
        """Make a name for something new; later names sort later."""
        return new_id(self.now(), self.randomness)

    def draft(self, kind: str, about: Iterable[str], payload: Mapping[str, Any]) -> Draft:
        """
        Write down what happened, not yet in the record.

        Parameters
        ----------
        kind : str
            Type of the event.
        about : iterable of str
            What it concerns.
        payload : mapping
            What happened, in domain values.

        Returns
        -------
        Draft
            For `store.append`.
        """
        values = {key: written(value) for key, value in payload.items()}
        values[ABOUT] = [*about, *([f"{SENT}/{self.sent}"] if self.sent else ())]
        people = names_of_people(values, self.actor)
        return Draft(self.new_id(), kind, stamp(self.now()), self.actor, values, people)


def text(key: str, value: str, *, need: bool = True, longest: int = LONGEST_NAME) -> str:
    """
    Check a text somebody typed.

    Parameters
    ----------
    key : str
        What it is, for the message.
    value : str
        As typed.
    need : bool
        Whether it may not be empty.
    longest : int
        How many letters there may be [-].

    Returns
    -------
    str
        Without blanks around it.

    Raises
    ------
    BadInput
        When it is empty but needed, too long, or holds control characters.
    """
    cleaned = value.strip()
    if need and not cleaned:
        raise BadInput(key, "is empty; it is needed")
    if len(cleaned) > longest:
        raise BadInput(key, f"has {len(cleaned)} letters; at most {longest} are kept")
    if any(ord(letter) < 32 and letter not in "\n\t" for letter in cleaned):
        raise BadInput(key, "holds a control character; type it again")
    return cleaned
