"""Take in the archive of another site: the union of what both know, nothing overwritten."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from buttonhole.desk.desk import Desk
from buttonhole.desk.folding import CORRECTION
from buttonhole.desk.saying import say
from buttonhole.record.archive import Archive, Refused, open_archive
from buttonhole.record.archive.layout import ENDINGS
from buttonhole.record.event import Event, stamp
from buttonhole.record.imported import IMPORTED, event_of, wrap
from buttonhole.record.store import EventStore
from buttonhole.units import BadInput

KNOWS = "knows"
"""A release from outside is about those releases that stood before it where it was made."""


@dataclass(frozen=True, slots=True)
class ReleaseConflict:
    """Two sites released the same joint, each without the other: both stand, people decide."""

    joint: str
    ours: str
    theirs: str


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What was new, what was known already, and what does not agree."""

    vin: str
    origin: str
    new: int
    known: int
    files: int
    known_key: bool
    conflicts: tuple[ReleaseConflict, ...]


def import_archive(desk: Desk, store: EventStore, path: Path) -> TakenIn:
    """
    Take in an archive.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    store : EventStore
        The record.
    path : Path
        The archive.

    Returns
    -------
    TakenIn
        Taken in twice, the second time has nothing new.

    Raises
    ------
    BadInput
        When anything about the archive is not as it should be; nothing was written then.
    """
    try:
        archive = open_archive(path)
        return _take_in(desk, store, archive)
    except Refused as refused:
        words = f"the archive is refused, nothing was taken in: {refused}"
        raise BadInput(str(path), words) from None


def _take_in(desk: Desk, store: EventStore, archive: Archive) -> TakenIn:
    origin = archive.public[:16]
    # What they had from a third site is taken for what it is, not for what they wrapped it in.
    inner = [
        (one["payload"]["event"], one["payload"]["origin"])
        if one["type"] == IMPORTED
        else (one, origin)
        for one in archive.lines
    ]
    events = [event_of(values) for values, _ in inner]
    known = store.known(one.id for one in events)
    for one in events:
        if known.get(one.id, one.hash) != one.hash:
            raise Refused(f"its event {one.id} is in this record with other contents")
    now = stamp(desk.now())
    drafts = [
        wrap(values, whose, now, desk.actor, [f"{KNOWS}/{one}" for one in knew])
        for (values, whose), knew in zip(inner, _knowledge(events), strict=True)
        if values["id"] not in known
    ]
    known_key = store.last(f"key/{archive.public}") is not None or bool(
        store.events(f"origin/{origin}")
    )
    files = 0
    if drafts:
        for digest, name in archive.files.items():
            files += not store.files.has(digest)
            store.files.keep(archive.content(digest), _media(name))
        store.names.take_in(dict(archive.names))
        payload = {
            "vin": archive.vin,
            "public": archive.public,
            "size": archive.head.size,
            "root": archive.head.root,
            "events": len(drafts),
        }
        about = [f"origin/{origin}", "record/archives"]
        store.append([*drafts, desk.draft("archive_taken_in", about, payload)])
    jobs = sorted({str(one.payload["job"]) for one in events if "job" in one.payload})
    conflicts = tuple(
        found for job in jobs for found in release_conflicts(store, store.events(f"job/{job}"))
    )
    return TakenIn(
        archive.vin,
        origin,
        len(drafts),
        len(known),
        files,
        known_key,
        conflicts,
    )


def _knowledge(events: Sequence[Event]) -> list[list[str]]:
    """Say for each event which releases of its joint stood before it in the record it is from."""
    released: dict[str, list[str]] = {}
    found = []
    for one in events:
        before = released.setdefault(str(one.payload.get("joint")), [])
        is_release = one.type == "set_up_released"
        found.append(list(before) if is_release else [])
        if is_release:
            before.append(one.id)
    return found


def release_conflicts(store: EventStore, events: Iterable[Event]) -> tuple[ReleaseConflict, ...]:
    """
    Find joints that two sites released without knowing of each other.

    Parameters
    ----------
    store : EventStore
        The record.
    events : iterable of Event
        Of one job, in the order of this record.

    Returns
    -------
    tuple of ReleaseConflict
        One for each pair that stands.
    """
    events = tuple(events)
    gone = {one.payload["corrects"] for one in events if one.type == CORRECTION}
    standing: dict[str, list[Event]] = {}
    for one in events:
        if one.id in gone or "joint" not in one.payload:
            continue
        made = standing.setdefault(one.payload["joint"], [])
        if one.type == "set_up_released":
            # A release made here knew all that stood here; one from outside says what it knew.
            made[:] = [old for old in made if one.origin and not _knew(store, one, old)]
            made.append(one)
        elif one.type == "release_ended":
            made[:] = [old for old in made if old.payload["release"] != one.payload["release"]]
    names = {one.payload["joint"]: one.payload["name"] for one in events if "name" in one.payload}
    found = []
    for joint, made in standing.items():
        found += [
            ReleaseConflict(names.get(joint, joint), _words(made[0]), _words(other))
            for other in made[1:]
        ]
    return tuple(found)


def _knew(store: EventStore, later: Event, earlier: Event) -> bool:
    if later.origin == earlier.origin:
        return True
    return any(one.id == later.id for one in store.events(f"{KNOWS}/{earlier.id}"))


def _words(event: Event) -> str:
    site = f"site {event.origin}" if event.origin else "here"
    when = event.at[:16].replace("T", " ")
    return f"{say(event.type, event.payload)}, {site}, by {event.actor}, {when} UTC"


def _media(name: str) -> str:
    ending = name.rpartition(".")[2]
    return next((one for one, known in ENDINGS.items() if known == ending), "application/x-other")
