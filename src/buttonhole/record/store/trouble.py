"""What can go wrong when the record is read or written, in words that say what to do."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from buttonhole.record.event import Event


class StoreTrouble(Exception):
    """The record cannot be read or written just now. Nothing half-written is left behind."""

    def __init__(self, kind: str, message: str) -> None:
        super().__init__(message)
        self.kind = kind
        self.message = message


class Conflict(Exception):
    """Somebody else was faster. Nothing was written; `theirs` are the events you had not seen."""

    def __init__(self, subject: str, theirs: tuple[Event, ...]) -> None:
        super().__init__(f"{subject} was changed in the meantime")
        self.subject = subject
        self.theirs = theirs


_WORDS = (
    ("SQLITE_FULL", "full", "The disk is full. Nothing was written; make room and try again."),
    (
        "SQLITE_READONLY",
        "read-only",
        "The record can be read but not written. Nothing was written; see who may write "
        "to the file and its folder.",
    ),
    (
        "SQLITE_BUSY",
        "busy",
        "Another program holds the record. Nothing was written; try again in a moment.",
    ),
    (
        "SQLITE_CANTOPEN",
        "cannot open",
        "The file cannot be opened. See that the folder is there and may be written to.",
    ),
    (
        "SQLITE_NOTADB",
        "not a record",
        "The file is not a record of this program, or its beginning is damaged. "
        "Leave it as it is and bring back the last backup.",
    ),
    (
        "SQLITE_CORRUPT",
        "damaged",
        "The file is damaged. Leave it as it is and bring back the last backup.",
    ),
    (
        "SQLITE_IOERR",
        "disk fault",
        "The disk did not read or write. Nothing was written; see to the disk, then try again.",
    ),
)


# The first signs of a server's SQLSTATE.
_SERVER_WORDS = (
    ("53100", "full", "The server's disk is full. Nothing was written; make room and try again."),
    ("25006", "read-only", "The record can be read but not written. Nothing was written."),
    ("55P03", "busy", "Another program holds the record. Nothing was written; try again."),
    ("42501", "read-only", "This user may not write here. Nothing was written."),
    ("53", "busy", "The server has no room for another one. Nothing was written; try again."),
    ("57", "not there", "The server is going down or coming up. Nothing was written; try again."),
    ("58", "disk fault", "The server's disk did not read or write. Nothing was written."),
    ("XX", "damaged", "The server says its data are damaged. Bring back the last backup."),
    ("08", "not there", "The server cannot be reached. Nothing was written; try again."),
    ("28", "cannot open", "The server does not let this user in. See name and password."),
    ("3D", "cannot open", "The server has no such database. Make one, empty, and try again."),
)


@contextmanager
def plain_words(path: Path | str) -> Iterator[None]:
    """
    Turn what the database says into `StoreTrouble`.

    Parameters
    ----------
    path : Path or str
        The file or server, for the message.

    Raises
    ------
    StoreTrouble
        For a full disk, a file that may not be written, a damaged file and so on.
    """
    try:
        yield
    except DBAPIError as fault:
        raise _trouble(path, fault.orig) from fault
    except sqlite3.Error as fault:
        raise _trouble(path, fault) from fault


def _trouble(path: Path | str, fault: BaseException | None) -> StoreTrouble:
    name = getattr(fault, "sqlite_errorname", "")
    for start, kind, words in _WORDS:
        if name.startswith(start):
            return StoreTrouble(kind, f"{path}: {words}")
    state = getattr(fault, "sqlstate", "")
    if state is None:  # the connection broke, or there was none
        state = "08"
    for start, kind, words in _SERVER_WORDS:
        if state.startswith(start):
            return StoreTrouble(kind, f"{path}: {words}")
    return StoreTrouble("refused", f"{path}: The database refused: {fault}.")
