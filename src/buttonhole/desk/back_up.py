"""Back up the record, bring a backup back, and prove that it works."""

import tempfile
from dataclasses import dataclass
from pathlib import Path

from buttonhole.desk.desk import Desk
from buttonhole.record.store import EventStore, StoreTrouble, copy_files, copy_record, open_store
from buttonhole.record.verify import Report, verify
from buttonhole.units import BadInput

BACKUPS = "record/backups"


@dataclass(frozen=True, slots=True)
class BackedUp:
    """A copy: where, how large in bytes, and what a check of it found."""

    target: Path
    size: int
    report: Report


@dataclass(frozen=True, slots=True)
class Drilled:
    """What a drill found: the record as it was, the one brought back, and what differs."""

    report: Report
    files: int
    differs: tuple[str, ...]

    @property
    def good(self) -> bool:
        """Whether the backup would do."""
        return self.report.whole and not self.differs


def back_up(store: EventStore, target: Path) -> BackedUp:
    """
    Copy the record to a file while it is in use, and check the copy.

    Parameters
    ----------
    store : EventStore
        The record.
    target : Path
        A file that is not there yet.

    Returns
    -------
    BackedUp
        With the check of the copy.

    Raises
    ------
    StoreTrouble
        When the copy cannot be written; no half copy is left.
    BadInput
        When the record is on a server, which has its own way.
    """
    source = _file_of(store)
    # The events first: every photo they name was on the disk before them.
    size = copy_record(source, target)
    copy_files(source, target)
    return BackedUp(target, size, _checked(target))


def restore(source: Path, target: Path) -> BackedUp:
    """
    Bring a backup back to where no record is, and check it.

    Parameters
    ----------
    source : Path
        The backup.
    target : Path
        Where the record is to be; nothing is replaced.

    Returns
    -------
    BackedUp
        With the check of what was brought back.

    Raises
    ------
    StoreTrouble
        When there is no backup, or something stands in its place.
    """
    for ending in ("-wal", "-shm"):
        beside = target.with_name(target.name + ending)
        if beside.exists():
            raise StoreTrouble(
                "in the way", f"{beside}: This belongs to another record; move it away first."
            )
    size = copy_record(source, target)
    copy_files(source, target)
    return BackedUp(target, size, _checked(target))


def drill(desk: Desk, store: EventStore) -> Drilled:
    """
    Prove that a backup would do: make one, bring it back in a fresh place, check and compare.

    Parameters
    ----------
    desk : Desk
        Where the person works; that the drill was done stands in the record.
    store : EventStore
        The record.

    Returns
    -------
    Drilled
        What was found.

    Raises
    ------
    StoreTrouble
        When there is no room for two copies.
    """
    source = _file_of(store)
    with tempfile.TemporaryDirectory(prefix="drill-", dir=source.parent) as name:
        copy, fresh = Path(name) / "backup.db", Path(name) / "fresh" / "record.db"
        count, head = store.head()
        back_up(store, copy)
        fresh.parent.mkdir()
        report = restore(copy, fresh).report
        with open_store(fresh) as again:
            differs = _differs(store, again, count, head)
            files = len(again.files.listed())
    found = Drilled(report, files, differs)
    payload = {"events": report.events, "head": report.head, "good": found.good, "files": files}
    store.append([desk.draft("backup_drilled", [BACKUPS], payload)])
    return found


def _file_of(store: EventStore) -> Path:
    if not isinstance(store.path, Path):
        raise BadInput("record", "is on a server; back it up by the server's own means (pg_dump)")
    return store.path


def _checked(path: Path) -> Report:
    with open_store(path) as opened:
        return verify(opened)


def _differs(store: EventStore, again: EventStore, count: int, head: str) -> tuple[str, ...]:
    found = []
    kept = again.links()
    if len(kept) < count or (count and kept[count - 1].hash != head):
        found.append(f"the copy does not hold the {count} events there were when it was begun")
    if kept != store.links()[: len(kept)]:
        found.append("the events differ")
    if not set(again.names.all().items()) >= set(store.names.all().items()):
        found.append("names of people are lacking")
    if not set(again.files.listed()) <= set(store.files.listed()):
        found.append("files differ")
    if again.files.altered():
        found.append("a file does not have its hash")
    return tuple(found)
