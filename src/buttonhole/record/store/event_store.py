"""The store: append, read, and tell the second of two writers what the first one wrote."""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import Any

from sqlalchemy import Connection, Engine, delete, func, insert, select

from buttonhole.record.canonical import canonical, parse
from buttonhole.record.chain import Link
from buttonhole.record.event import GENESIS, Draft, Event, moment, seal, subjects
from buttonhole.record.store.engine import connect
from buttonhole.record.store.migrate import bring_up_to_date, check_version
from buttonhole.record.store.tables import EVENT, EVENT_SUBJECT
from buttonhole.record.store.trouble import Conflict, StoreTrouble, plain_words
from buttonhole.units import BadInput

_FIELDS = (
    EVENT.c.id,
    EVENT.c.type,
    EVENT.c.at,
    EVENT.c.actor,
    EVENT.c.payload,
    EVENT.c.prev_hash,
    EVENT.c.hash,
)


def open_store(path: str | Path, *, read_only: bool = False) -> "EventStore":
    """
    Open a record, making it when it is not there yet.

    Parameters
    ----------
    path : str or Path
        The file.
    read_only : bool
        For inspection: never writes, and refuses a record that is not there.

    Returns
    -------
    EventStore
        May be shared by threads; each process opens its own.

    Raises
    ------
    StoreTrouble
        When the file cannot be opened, is damaged, or is of a newer program.
    """
    path = Path(path)
    if read_only and not path.is_file():
        raise StoreTrouble("not there", f"{path}: There is no record here.")
    if not read_only:
        _make_folder(path)
    engine = connect(path, read_only=read_only)
    try:
        with plain_words(path):
            if read_only:
                check_version(engine, path)
            else:
                bring_up_to_date(engine, path)
    except StoreTrouble:
        engine.dispose()
        raise
    return EventStore(engine, path)


class EventStore:
    """Events in the order they happened, each tied to the one before it."""

    def __init__(self, engine: Engine, path: Path) -> None:
        self._engine = engine
        self.path = path

    def __enter__(self) -> "EventStore":
        """Use the store in a `with` statement."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it at the end."""
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._engine.dispose()

    def append(
        self, drafts: Iterable[Draft], expect: Mapping[str, str | None] | None = None
    ) -> tuple[Event, ...]:
        """
        Add events to the end, all or none. When this returns, the disk has them.

        Parameters
        ----------
        drafts : iterable of Draft
            What happened.
        expect : mapping of str to str or None, optional
            For a subject, the id of the last event about it that the person saw; None when the
            person saw none.

        Returns
        -------
        tuple of Event
            The events with their hashes.

        Raises
        ------
        Conflict
            When there are later events about one of the subjects; nothing is written.
        StoreTrouble
            When the disk is full, the file may not be written, and so on.
        BadInput
            When a draft cannot be written down.
        """
        ready = [_checked(draft) for draft in drafts]
        with (
            plain_words(self.path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            for subject, seen in (expect or {}).items():
                _refuse_unseen(connection, subject, seen)
            place, before = _head(connection)
            sealed: list[Event] = []
            for draft, payload, about in ready:
                event = seal(draft, before)
                place, before = place + 1, event.hash
                _write(connection, place, event, payload, about)
                sealed.append(event)
        return tuple(sealed)

    def events(self, subject: str | None = None, *, after: str | None = None) -> tuple[Event, ...]:
        """
        Read events in their order.

        Parameters
        ----------
        subject : str, optional
            Only those about this.
        after : str, optional
            Only those after the event with this id.

        Returns
        -------
        tuple of Event
            Empty when there are none.
        """
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return _events(connection, subject, after)

    def events_of_type(self, kind: str) -> tuple[Event, ...]:
        """
        Read the events of one type, in their order.

        Parameters
        ----------
        kind : str
            The type.

        Returns
        -------
        tuple of Event
            Empty when there are none.
        """
        query = select(*_FIELDS).where(EVENT.c.type == kind).order_by(EVENT.c.place)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return tuple(_event(row) for row in connection.execute(query))

    def event(self, event_id: str) -> Event | None:
        """
        Read one event.

        Parameters
        ----------
        event_id : str
            Its name.

        Returns
        -------
        Event or None
            None when there is none of that name.
        """
        query = select(*_FIELDS).where(EVENT.c.id == event_id)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            row = connection.execute(query).first()
        return None if row is None else _event(row)

    def last(self, subject: str) -> str | None:
        """
        Name the last event about a subject: what a person who reads it now has seen.

        Parameters
        ----------
        subject : str
            For example "joint/...".

        Returns
        -------
        str or None
            None when there is no event about it.
        """
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return _last(connection, subject)

    def head(self) -> tuple[int, str]:
        """
        Give the number of events and the hash of the last one.

        Returns
        -------
        count : int
            [-]
        hash : str
            `GENESIS` when there is no event yet. Printed on a card it is a witness.
        """
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return _head(connection)

    def links(self) -> list[Link]:
        """Give the events as they lie in the file, unread, in the order they are kept."""
        query = select(*_FIELDS).order_by(EVENT.c.place)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return [Link(*row) for row in connection.execute(query)]

    def places(self) -> list[int]:
        """Give the number each event is kept under."""
        query = select(EVENT.c.place).order_by(EVENT.c.place)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return list(connection.execute(query).scalars())

    def index(self) -> set[tuple[int, str]]:
        """Give the pairs (place, subject) of the index."""
        query = select(EVENT_SUBJECT.c.place, EVENT_SUBJECT.c.subject)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return {(place, subject) for place, subject in connection.execute(query)}

    def rebuild_index(self) -> None:
        """Build the index anew from the events."""
        with (
            plain_words(self.path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            connection.execute(delete(EVENT_SUBJECT))
            for place, payload in connection.execute(
                select(EVENT.c.place, EVENT.c.payload).order_by(EVENT.c.place)
            ).all():
                _write_index(connection, place, subjects(parse(payload)))


def _make_folder(path: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise StoreTrouble(
            "cannot open", f"{path}: The folder cannot be made: {fault.strerror}."
        ) from fault


def _checked(draft: Draft) -> tuple[Draft, str, tuple[str, ...]]:
    moment(draft.at)
    for key, value in (("id", draft.id), ("type", draft.type), ("actor", draft.actor)):
        if not value:
            raise BadInput(key, "an event needs it")
    text = canonical(draft.payload)
    # What is handed back must be what a later reader gets, not the caller's own objects.
    payload = parse(text)
    if not isinstance(payload, dict):
        raise BadInput("payload", "must be a set of named values")
    clean = Draft(draft.id, draft.type, draft.at, draft.actor, payload)
    return clean, text, subjects(payload)


def _refuse_unseen(connection: Connection, subject: str, seen: str | None) -> None:
    if _last(connection, subject) == seen:
        return
    known = _events(connection, subject, None)
    ids = [event.id for event in known]
    if seen is not None and seen not in ids:
        raise BadInput("seen", f"{seen} is no event about {subject}; read it again")
    raise Conflict(subject, known[ids.index(seen) + 1 :] if seen is not None else known)


def _head(connection: Connection) -> tuple[int, str]:
    query = select(EVENT.c.place, EVENT.c.hash).order_by(EVENT.c.place.desc()).limit(1)
    row = connection.execute(query).first()
    return (0, GENESIS) if row is None else (row.place, row.hash)


def _last(connection: Connection, subject: str) -> str | None:
    newest = select(func.max(EVENT_SUBJECT.c.place)).where(EVENT_SUBJECT.c.subject == subject)
    query = select(EVENT.c.id).where(EVENT.c.place == newest.scalar_subquery())
    return connection.execute(query).scalar()


def _events(connection: Connection, subject: str | None, after: str | None) -> tuple[Event, ...]:
    query = select(*_FIELDS).order_by(EVENT.c.place)
    if subject is not None:
        query = query.join(EVENT_SUBJECT, EVENT_SUBJECT.c.place == EVENT.c.place).where(
            EVENT_SUBJECT.c.subject == subject
        )
    if after is not None:
        place = select(EVENT.c.place).where(EVENT.c.id == after).scalar_subquery()
        query = query.where(EVENT.c.place > place)
    return tuple(_event(row) for row in connection.execute(query))


def _event(row: Sequence[Any]) -> Event:
    name, kind, at, actor, payload, prev_hash, digest = row
    return Event(name, kind, at, actor, parse(payload), prev_hash, digest)


def _write(
    connection: Connection, place: int, event: Event, payload: str, about: tuple[str, ...]
) -> None:
    connection.execute(
        insert(EVENT).values(
            place=place,
            id=event.id,
            type=event.type,
            at=event.at,
            actor=event.actor,
            payload=payload,
            prev_hash=event.prev_hash,
            hash=event.hash,
        )
    )
    _write_index(connection, place, about)


def _write_index(connection: Connection, place: int, about: tuple[str, ...]) -> None:
    if about:
        rows = [{"place": place, "subject": subject} for subject in about]
        connection.execute(insert(EVENT_SUBJECT), rows)
