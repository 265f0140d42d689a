"""Copy a record while it is in use, and bring a copy back."""

import contextlib
import os
import sqlite3
from contextlib import closing
from pathlib import Path

from buttonhole.record.files import FileShelf, folder_beside
from buttonhole.record.store.trouble import StoreTrouble, plain_words

PAGES_AT_ONCE = 2048
"""Between two steps writers get their turn [-]."""


def copy_record(source: Path, target: Path) -> int:
    """
    Copy a record to a file that is not there yet. It may be written to meanwhile.

    The copy appears under its name only when it is whole and on the disk.

    Parameters
    ----------
    source : Path
        The record.
    target : Path
        The copy.

    Returns
    -------
    int
        Its size in bytes [-].

    Raises
    ------
    StoreTrouble
        When there is no record, something is there already, or the disk has no room.
    """
    if not source.is_file():
        raise StoreTrouble("not there", f"{source}: There is no record here.")
    if target.exists():
        raise StoreTrouble("in the way", f"{target}: Something is there already; name another.")
    part = target.with_name(target.name + ".part")
    try:
        with contextlib.suppress(FileNotFoundError):
            part.unlink()
        with plain_words(part):
            _copy(source, part)
        size = part.stat().st_size
        # link and not rename: it fails where something came in between, and replaces nothing.
        os.link(part, target)
        _to_disk(target.parent)
    except FileExistsError:
        raise StoreTrouble("in the way", f"{target}: Something is there already.") from None
    except OSError as fault:
        reason = (fault.strerror or str(fault)).lower()
        raise StoreTrouble(
            "disk fault", f"{target}: The copy cannot be written: {reason}. No copy was made."
        ) from fault
    finally:
        for leftover in (part, part.with_name(part.name + "-journal")):
            with contextlib.suppress(OSError):
                leftover.unlink()
    return size


def copy_files(source: Path, target: Path) -> int:
    """
    Copy the photos beside a record to beside its copy; those that are there already stay.

    Parameters
    ----------
    source, target : Path
        The record and its copy.

    Returns
    -------
    int
        How many were copied [-].

    Raises
    ------
    StoreTrouble
        When the disk has no room.
    """
    shelf, count = FileShelf(folder_beside(target)), 0
    for one in sorted(folder_beside(source).glob("??/" + "?" * 64)):
        try:
            shelf.put(one.read_bytes())
        except OSError as fault:
            reason = (fault.strerror or str(fault)).lower()
            raise StoreTrouble(
                "disk fault", f"{shelf.folder}: A photo was not copied: {reason}."
            ) from fault
        count += 1
    return count


def _copy(source: Path, part: Path) -> None:
    address = f"{source.absolute().as_uri()}?mode=ro"
    with (
        closing(sqlite3.connect(address, uri=True)) as live,
        closing(sqlite3.connect(part)) as copy,
    ):
        live.execute("PRAGMA busy_timeout = 15000")
        live.backup(copy, pages=PAGES_AT_ONCE)
        found = copy.execute("PRAGMA integrity_check(1)").fetchone()[0]
        if found != "ok":
            raise StoreTrouble("damaged", f"{source}: The file is damaged: {found}.")
    opened = os.open(part, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def _to_disk(folder: Path) -> None:
    if os.name != "posix":
        return
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
