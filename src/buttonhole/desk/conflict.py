"""Two people at one joint, and things that are not in the record."""

from dataclasses import dataclass
from typing import Any

from buttonhole.record.event import Event


class NotThere(LookupError):
    """The record has no such job, joint, coupon or release."""

    def __init__(self, what: str, name: str) -> None:
        super().__init__(f"There is no {what} {name!r} in this record.")
        self.what = what
        self.name = name


@dataclass(frozen=True, slots=True)
class Version:
    """One of two versions: who, when, what in a sentence, and the values as written down."""

    at: str
    actor: str
    what: str
    values: dict[str, Any]


class SentTwice(Exception):
    """A form was saved already, with the same answers; `events` are what it wrote."""

    def __init__(self, events: tuple[Event, ...]) -> None:
        super().__init__("This form was saved already. It was not written a second time.")
        self.events = events


class Conflict(Exception):
    """
    Somebody saved this joint after you read it. Nothing of yours was written.

    `mine` is what you wanted to save, `theirs` what was saved in the meantime (the last one last),
    `seen` is to be sent with the command once the person has seen both.
    """

    def __init__(
        self, subject: str, mine: tuple[Version, ...], theirs: tuple[Version, ...], seen: str | None
    ) -> None:
        who = theirs[-1].actor if theirs else "Somebody"
        super().__init__(f"{who} saved this joint while you were writing. Nothing was overwritten.")
        self.subject = subject
        self.mine = mine
        self.theirs = theirs
        self.seen = seen

    @property
    def rows(self) -> tuple[tuple[str, Any, Any], ...]:
        """Name, their value and mine, for every value of the last saved and of mine."""
        mine = self.mine[0].values if self.mine else {}
        theirs = self.theirs[-1].values if self.theirs else {}
        names = dict.fromkeys([*theirs, *mine])
        return tuple((name, theirs.get(name), mine.get(name)) for name in names)
