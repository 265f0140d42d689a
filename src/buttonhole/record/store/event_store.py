"""The store: append, read, and tell the second of two writers what the first one wrote."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Any

from sqlalchemy import Connection, Engine, Select, delete, func, insert, make_url, or_, select
from sqlalchemy.exc import ArgumentError

from buttonhole.record.canonical import canonical, parse
from buttonhole.record.chain import ChainLink
from buttonhole.record.event import GENESIS, Draft, Event, moment, seal, subjects
from buttonhole.record.held import PREFIX, covered, shown
from buttonhole.record.imported import IMPORTED, unwrap
from buttonhole.record.store.beside import (
    Files,
    KeyBoxes,
    Names,
    forget_names,
    names_in,
    tokens_for,
)
from buttonhole.record.store.engine import connect, is_server
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
        The file; or the address of an empty database on a server, postgresql://...
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
    where: Path | str = _without_password(str(path)) if is_server(path) else Path(path)
    if isinstance(where, Path):
        if read_only and not where.is_file():
            raise StoreTrouble("not there", f"{where}: There is no record here.")
        if not read_only:
            _make_folder(where)
    engine = connect(path, read_only=read_only)
    try:
        with plain_words(where):
            if read_only:
                check_version(engine, where)
            else:
                bring_up_to_date(engine, where)
    except StoreTrouble:
        engine.dispose()
        raise
    return EventStore(engine, where)


class EventStore:
    """Events in the order they happened, each tied to the one before it.

    Beside them `files`, the photos and papers that events name by their hash; `names` of people,
    which events hold as tokens; and `key_boxes`, private keys under a PIN.
    """

    def __init__(self, engine: Engine, path: Path | str) -> None:
        self._engine = engine
        self.path = path
        self.files = Files(engine, path)
        self.names = Names(engine, path)
        self.key_boxes = KeyBoxes(engine, path)

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
        self,
        drafts: Iterable[Draft],
        expect: Mapping[str, str | None] | None = None,
        *,
        forget: Iterable[str] = (),
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
        forget : iterable of str, optional
            Tokens of names that are taken out for good with these events.

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
        people = {name for draft in ready for name in draft.personal}
        gone = tuple(forget)
        with (
            plain_words(self.path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            for subject, seen in (expect or {}).items():
                _refuse_unseen(connection, subject, seen)
            place, before = _head(connection)
            tokens = tokens_for(connection, people)
            sealed: list[Event] = []
            for draft in ready:
                event = seal(_without_names(draft, tokens), before)
                place, before = place + 1, event.hash
                _write(connection, place, event)
                # What is handed back is what a later reader gets: the names, not the tokens.
                sealed.append(replace(event, actor=draft.actor, payload=draft.payload))
            forget_names(connection, gone)
        if gone:
            self.names.clear_log()
        return tuple(unwrap(one.payload) if one.type == IMPORTED else one for one in sealed)

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
        wrapped = select(EVENT_SUBJECT.c.place).where(EVENT_SUBJECT.c.subject == f"type/{kind}")
        which = or_(EVENT.c.type == kind, EVENT.c.place.in_(wrapped))
        query = select(*_FIELDS).where(which).order_by(EVENT.c.place)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return _read(connection, connection.execute(query))

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
            found = _read(connection, connection.execute(query))
        return found[0] if found else None

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

    def links(self) -> list[ChainLink]:
        """Give the events as they lie in the file, unread, in the order they are kept."""
        query = select(*_FIELDS).order_by(EVENT.c.place)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return list(map(ChainLink._make, _plain_rows(connection, query)))

    def links_about(self, subjects: Iterable[str]) -> list[tuple[int, ChainLink]]:
        """Give place and event, unread, of those about any of the subjects, in their order."""
        wanted = EVENT_SUBJECT.c.subject.in_(sorted(set(subjects)))
        found = select(EVENT_SUBJECT.c.place).where(wanted)
        query = select(EVENT.c.place, *_FIELDS).where(EVENT.c.place.in_(found))
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            rows = connection.execute(query.order_by(EVENT.c.place))
            return [(place, ChainLink(*row)) for place, *row in rows]

    def known(self, ids: Iterable[str]) -> dict[str, str]:
        """Give the hashes by name of those events that are here; of a wrapped one, its own."""
        wanted = sorted(set(ids))
        found: dict[str, str] = {}
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            for start in range(0, len(wanted), 500):  # a statement takes so many names
                query = select(*_FIELDS).where(EVENT.c.id.in_(wanted[start : start + 500]))
                found |= {one.id: one.hash for one in _read(connection, connection.execute(query))}
        return found

    def kept_hash(self, event_id: str) -> str:
        """Give the hash an event has in this chain; of an imported one, that of its wrapper."""
        query = select(EVENT.c.hash).where(EVENT.c.id == event_id)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return str(connection.execute(query).scalar_one())

    def hashes(self) -> list[bytes]:
        """Give the hashes in their order: the leaves of the Merkle tree."""
        query = select(EVENT.c.hash).order_by(EVENT.c.place)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return [bytes.fromhex(one) for (one,) in _plain_rows(connection, query)]

    def places(self) -> list[int]:
        """Give the number each event is kept under."""
        query = select(EVENT.c.place).order_by(EVENT.c.place)
        span = select(func.count(EVENT.c.place), func.min(EVENT.c.place), func.max(EVENT.c.place))
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            count, first, last = connection.execute(span).one()
            if (first, last) == (1, count):  # numbers are unique: so none is missing
                return list(range(1, count + 1))
            return [place for (place,) in _plain_rows(connection, query)]

    def index(self) -> set[tuple[int, str]]:
        """Give the pairs (place, subject) of the index."""
        query = select(EVENT_SUBJECT.c.place, EVENT_SUBJECT.c.subject)
        with plain_words(self.path), self._engine.connect() as connection, connection.begin():
            return set(_plain_rows(connection, query))

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


def _plain_rows(connection: Connection, query: Select[Any]) -> list[tuple[Any, ...]]:
    """Read many rows without parameters as plain tuples: three times as quick as row objects."""
    cursor = connection.connection.cursor()
    cursor.execute(str(query.compile(dialect=connection.dialect)))
    rows = cursor.fetchall()
    cursor.close()
    return list(rows)


def _make_folder(path: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise StoreTrouble(
            "cannot open", f"{path}: The folder cannot be made: {fault.strerror}."
        ) from fault


def _without_password(address: str) -> str:
    try:
        return make_url(address).render_as_string(hide_password=True)
    except (ArgumentError, ValueError):
        raise StoreTrouble("cannot open", "The server's address cannot be read.") from None


def _without_names(draft: Draft, tokens: Mapping[str, str]) -> Draft:
    if not tokens:
        return draft
    payload = covered(draft.payload, tokens)
    return replace(draft, actor=tokens.get(draft.actor, draft.actor), payload=payload)


def _checked(draft: Draft) -> Draft:
    moment(draft.at)
    for key, value in (("id", draft.id), ("type", draft.type), ("actor", draft.actor)):
        if not value:
            raise BadInput(key, "an event needs it")
    text = canonical(draft.payload)
    # What is handed back must be what a later reader gets, not the caller's own objects.
    payload = parse(text)
    if not isinstance(payload, dict):
        raise BadInput("payload", "must be a set of named values")
    subjects(payload)
    return replace(draft, payload=payload)


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
    return _read(connection, connection.execute(query))


def _read(connection: Connection, rows: Iterable[Sequence[Any]]) -> tuple[Event, ...]:
    names: dict[str, str] | None = None
    found = []
    for name, kind, at, actor, text, prev_hash, digest in rows:
        payload = parse(text)
        if kind == IMPORTED:
            event = unwrap(payload)
        else:
            event = Event(name, kind, at, actor, payload, prev_hash, digest)
        if PREFIX in text or PREFIX in actor:
            names = names_in(connection) if names is None else names
            plain = shown(event.payload, names)
            event = replace(event, actor=shown(event.actor, names), payload=plain)
        found.append(event)
    return tuple(found)


def _write(connection: Connection, place: int, event: Event) -> None:
    connection.execute(
        insert(EVENT).values(
            place=place,
            id=event.id,
            type=event.type,
            at=event.at,
            actor=event.actor,
            payload=canonical(event.payload),
            prev_hash=event.prev_hash,
            hash=event.hash,
        )
    )
    _write_index(connection, place, event.about)


def _write_index(connection: Connection, place: int, about: tuple[str, ...]) -> None:
    if about:
        rows = [{"place": place, "subject": subject} for subject in about]
        connection.execute(insert(EVENT_SUBJECT), rows)
