"""What stands beside the events: files by their hash, names by their token, keys under a PIN."""

import hashlib
import json
import os
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from pathlib import Path

from sqlalchemy import Connection, Engine, delete, insert, select, update

from buttonhole.record.event import moment, stamp
from buttonhole.record.files import FileShelf, folder_beside
from buttonhole.record.held import token_of
from buttonhole.record.key_box import KeyBox, WrongPin, box_of, unlock
from buttonhole.record.signing import SigningKey
from buttonhole.record.store.tables import FILE, HELD, KEY_BOX
from buttonhole.record.store.trouble import StoreTrouble, plain_words
from buttonhole.units import BadInput

TRIES_IN_A_ROW = 5
"""So many wrong PINs shut a key for a while [-]."""

SHUT_FOR = timedelta(minutes=15)

MOST_TRIES = 20
"""So many wrong PINs in a row shut it for good: a new key is needed [-]."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A file of the record: what it is, and its bytes."""

    sha256: str
    media: str
    content: bytes


class Files:
    """Papers and photos, each under the SHA-256 of its bytes.

    Papers lie in the database. Photos are many and large: beside a record in a file they lie in the
    folder of `record.files`, and are found there.
    """

    def __init__(self, engine: Engine, path: Path | str) -> None:
        self._engine = engine
        self._path = path
        self._shelf = FileShelf(folder_beside(path)) if isinstance(path, Path) else None

    def keep(self, content: bytes, media: str) -> str:
        """
        Keep a file; the same bytes are kept once.

        Parameters
        ----------
        content : bytes
            The file.
        media : str
            What it is, "application/pdf" say.

        Returns
        -------
        str
            Its SHA-256, for the event that names it.
        """
        if self._shelf is not None and media.startswith("image/"):
            try:
                return self._shelf.put(content)
            except OSError as fault:
                reason = (fault.strerror or str(fault)).lower()
                words = f"{self._shelf.folder}: The photo was not written: {reason}."
                raise StoreTrouble("disk fault", words) from fault
        digest = hashlib.sha256(content).hexdigest()
        with (
            plain_words(self._path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            known = select(FILE.c.sha256).where(FILE.c.sha256 == digest)
            if connection.execute(known).first() is None:
                values = {"sha256": digest, "media": media, "content": content}
                connection.execute(insert(FILE).values(**values))
        return digest

    def find(self, sha256: str) -> Kept | None:
        """Give a file, or None when it is not kept here, or is no longer what was kept."""
        query = select(FILE.c.sha256, FILE.c.media, FILE.c.content).where(FILE.c.sha256 == sha256)
        with plain_words(self._path), self._engine.connect() as connection, connection.begin():
            row = connection.execute(query).first()
        if row is not None:
            return Kept(row.sha256, row.media, bytes(row.content))
        if self._shelf is None:
            return None
        try:
            content = self._shelf.get(sha256)
        except BadInput:
            return None
        return Kept(sha256, _media(content), content)

    def has(self, sha256: str) -> bool:
        """Say whether a file is kept here, without reading it."""
        query = select(FILE.c.sha256).where(FILE.c.sha256 == sha256)
        with plain_words(self._path), self._engine.connect() as connection, connection.begin():
            if connection.execute(query).first() is not None:
                return True
        return self._shelf is not None and (self._shelf.folder / sha256[:2] / sha256).is_file()

    def listed(self) -> tuple[str, ...]:
        """Name all files by their hash."""
        query = select(FILE.c.sha256)
        with plain_words(self._path), self._engine.connect() as connection, connection.begin():
            found = set(connection.execute(query).scalars().all())
        if self._shelf is not None:
            found |= {one.name for one in self._shelf.folder.glob("??/" + "?" * 64)}
        return tuple(sorted(found))

    def altered(self) -> tuple[str, ...]:
        """Name the files whose bytes do not give their hash."""
        return tuple(one for one in self.listed() if not self._is_whole(one))

    def _is_whole(self, sha256: str) -> bool:
        found = self.find(sha256)
        return found is not None and hashlib.sha256(found.content).hexdigest() == sha256


def _media(content: bytes) -> str:
    """Say what a photo is by how it begins."""
    for start, media in ((b"\xff\xd8", "image/jpeg"), (b"\x89PNG", "image/png")):
        if content.startswith(start):
            return media
    return "application/octet-stream"


class Names:
    """Names of people, each under the token that events hold in its place."""

    def __init__(self, engine: Engine, path: Path | str) -> None:
        self._engine = engine
        self._path = path

    def all(self) -> dict[str, str]:
        """Give the names that are still there, by token."""
        with plain_words(self._path), self._engine.connect() as connection, connection.begin():
            return names_in(connection)

    def salted(self, tokens: Iterable[str]) -> dict[str, tuple[str, str]]:
        """Give salt and name of those tokens that still have one."""
        wanted = set(tokens)
        query = select(HELD.c.token, HELD.c.salt, HELD.c.value)
        with plain_words(self._path), self._engine.connect() as connection, connection.begin():
            return {
                token: (salt, value)
                for token, salt, value in connection.execute(query)
                if token in wanted
            }

    def take_in(self, salted: dict[str, tuple[str, str]]) -> None:
        """Keep names of another record under their tokens; one person may then have two."""
        with (
            plain_words(self._path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            known = names_in(connection)
            for token, (salt, value) in salted.items():
                if token not in known:
                    values = {"token": token, "salt": salt, "value": value}
                    connection.execute(insert(HELD).values(**values))

    def clear_log(self) -> None:
        """Empty the log beside the file: it still has names that were taken out of the file."""
        if self._engine.dialect.name == "sqlite":
            with plain_words(self._path), self._engine.connect() as connection:
                connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")


class KeyBoxes:
    """Keys under a PIN. Every try is counted on the disk before it is made."""

    def __init__(self, engine: Engine, path: Path | str) -> None:
        self._engine = engine
        self._path = path

    def put(self, person: str, box: KeyBox) -> None:
        """Keep the key of a person, in place of an earlier one."""
        values = {
            "public": box.public,
            "box": json.dumps(asdict(box)),
            "failures": 0,
            "shut_until": "",
        }
        with (
            plain_words(self._path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            connection.execute(delete(KEY_BOX).where(KEY_BOX.c.person == person))
            connection.execute(insert(KEY_BOX).values(person=person, **values))

    def drop(self, person: str) -> None:
        """Let the key of a person go; what it signed stays signed."""
        with (
            plain_words(self._path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            connection.execute(delete(KEY_BOX).where(KEY_BOX.c.person == person))

    def public(self, person: str) -> str | None:
        """Give the public key of a person; None when there is none."""
        query = select(KEY_BOX.c.public).where(KEY_BOX.c.person == person)
        with plain_words(self._path), self._engine.connect() as connection, connection.begin():
            found = connection.execute(query).scalar()
        return None if found is None else str(found)

    def open(self, person: str, pin: str, now: datetime) -> SigningKey:
        """
        Open the key of a person.

        Parameters
        ----------
        person : str
            Whose.
        pin : str
            As typed.
        now : datetime
            The moment.

        Returns
        -------
        SigningKey
            The key.

        Raises
        ------
        BadInput
            When there is no key, the PIN is wrong, or too many wrong ones were tried.
        """
        box, failures = self._count(person, now)
        try:
            key = unlock(box, pin)
        except WrongPin:
            left = TRIES_IN_A_ROW - failures % TRIES_IN_A_ROW
            if failures >= MOST_TRIES:
                words = "is wrong; the key is shut for good. Have a new one made"
            elif left == TRIES_IN_A_ROW:
                words = f"is wrong; the key is shut for {SHUT_FOR.seconds // 60} minutes"
            else:
                words = f"is wrong; {left} more tries before the key is shut"
            raise BadInput("pin", words) from None
        self._set(person, failures=0, shut_until="")
        return key

    def _count(self, person: str, now: datetime) -> tuple[KeyBox, int]:
        """Count a try as a wrong one before it is made, so that pulling the plug wins none."""
        query = select(KEY_BOX).where(KEY_BOX.c.person == person)
        with (
            plain_words(self._path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            row = connection.execute(query).first()
            if row is None:
                raise BadInput("key", f"{person} has none yet; make one with `record key`")
            if row.failures >= MOST_TRIES:
                raise BadInput("key", "is shut for good after too many wrong PINs; make a new one")
            if row.shut_until and now < moment(row.shut_until):
                raise BadInput("key", f"is shut until {row.shut_until[:16].replace('T', ' ')} UTC")
            failures = row.failures + 1
            shut = stamp(now + SHUT_FOR) if failures % TRIES_IN_A_ROW == 0 else ""
            mine = update(KEY_BOX).where(KEY_BOX.c.person == person)
            connection.execute(mine.values(failures=failures, shut_until=shut))
            return box_of(json.loads(row.box)), failures

    def _set(self, person: str, **values: object) -> None:
        with (
            plain_words(self._path),
            self._engine.connect().execution_options(write=True) as connection,
            connection.begin(),
        ):
            connection.execute(update(KEY_BOX).where(KEY_BOX.c.person == person).values(**values))


def names_in(connection: Connection) -> dict[str, str]:
    """Give the names by token, inside a transaction."""
    return {row.token: row.value for row in connection.execute(select(HELD))}


def tokens_for(connection: Connection, values: Iterable[str]) -> dict[str, str]:
    """Give tokens by name inside the writer's transaction, making those not there yet."""
    wanted = {one for one in values if one}
    if not wanted:
        return {}
    query = select(HELD.c.value, HELD.c.token).where(HELD.c.value.in_(sorted(wanted)))
    query = query.order_by(HELD.c.token.desc())  # of two tokens always the same one
    found = {row.value: row.token for row in connection.execute(query)}
    for value in sorted(wanted - found.keys()):
        salt = os.urandom(16).hex()
        found[value] = token_of(salt, value)
        connection.execute(insert(HELD).values(token=found[value], salt=salt, value=value))
    return found


def forget_names(connection: Connection, tokens: Sequence[str]) -> None:
    """Take names out, inside the writer's transaction. Older backups still have them."""
    if tokens:
        connection.execute(delete(HELD).where(HELD.c.token.in_(tokens)))
