"""Make the archive of a vehicle: one file that outlives the program."""

import hashlib
from dataclasses import dataclass

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk
from buttonhole.desk.sign_head import SignedHead, sign_head
from buttonhole.record.archive import Content, pack
from buttonhole.record.canonical import parse
from buttonhole.record.chain import ChainLink
from buttonhole.record.device import Device
from buttonhole.record.held import tokens_in
from buttonhole.record.merkle import MerkleTree
from buttonhole.record.signed import ENTRY_SIGNED, HEAD_SIGNED, KEY_INTRODUCED
from buttonhole.record.signing import TreeHead
from buttonhole.record.store import EventStore


@dataclass(frozen=True, slots=True)
class MakeArchive:
    """Which vehicle, by its VIN or the id of one job; and whether names go with it."""

    vin: str = ""
    job_id: str = ""
    with_names: bool = True


@dataclass(frozen=True, slots=True)
class MadeArchive:
    """The finished file; `lacking` names files that events mention and the record has not."""

    data: bytes
    sha256: str
    events: int
    files: int
    lacking: tuple[str, ...]
    public: str


def make_archive(
    desk: Desk, store: EventStore, device: Device, command: MakeArchive
) -> MadeArchive:
    """
    Make an archive. Made again with nothing new in the record it is the same to the byte.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    store : EventStore
        The record.
    device : Device
        Whose key signs.
    command : MakeArchive
        What goes in.

    Returns
    -------
    MadeArchive
        The file.

    Raises
    ------
    NotThere
        When there is no such vehicle.
    """
    opened = _jobs(store, command)
    events = _events(store, [one[0] for one in opened])
    signed = _head_over(desk, store, device, max(place for place, _ in events))
    payloads = [parse(link.payload) for _, link in events]
    named = {*tokens_in(payloads), *tokens_in([link.actor for _, link in events])}
    files, lacking = _files(store, payloads)
    tree = MerkleTree(store.hashes()[: signed.head.size])
    content = Content(
        vin=opened[0][2],
        titles=tuple(title for _, title, _ in opened),
        events=events,
        tree=tree,
        head=signed.head,
        head_signature=signed.signature,
        names=store.names.salted(named) if command.with_names else {},
        files=files,
    )
    data = pack(content, device.key)
    digest = hashlib.sha256(data).hexdigest()
    subject = f"archive/{digest}"
    if store.last(subject) is None:
        payload = {"sha256": digest, "bytes": len(data), "events": len(events)}
        store.append([desk.draft("archive_made", [subject, "record/archives"], payload)])
    return MadeArchive(data, digest, len(events), len(files), lacking, device.key.public)


def _jobs(store: EventStore, command: MakeArchive) -> list[tuple[str, str, str]]:
    """Give id, title and VIN of the jobs of the vehicle."""
    vin = command.vin
    if not vin:
        # The VIN may have been told when the job was opened, or later.
        told = [one.payload.get("vin", "") for one in store.events(f"job/{command.job_id}")]
        vin = next((str(one) for one in reversed(told) if one), "")
    subject = f"vin/{vin}" if vin else f"job/{command.job_id}"
    about = [one.payload.get("job") for one in store.events(subject)]
    jobs = dict.fromkeys(str(one) for one in about if one)
    opened = [
        (str(one.payload["job"]), str(one.payload["title"]), vin)
        for job in jobs
        for one in store.events(f"job/{job}")
        if one.type == "job_opened"
    ]
    if not opened:
        raise NotThere("vehicle", vin or command.job_id)
    return opened


def _events(store: EventStore, jobs: list[str]) -> list[tuple[int, ChainLink]]:
    found = dict(store.links_about(f"job/{job}" for job in jobs))
    # Whose key signed is said in an event that is about no job.
    keys = {parse(link.payload)["public"] for link in found.values() if link.type == ENTRY_SIGNED}
    introduced = store.links_about(f"key/{key}" for key in keys)
    found |= {place: link for place, link in introduced if link.type == KEY_INTRODUCED}
    return sorted(found.items())


def _head_over(desk: Desk, store: EventStore, device: Device, place: int) -> SignedHead:
    """Give the last head of this device if it covers the place; else sign a new one."""
    for event in reversed(store.events_of_type(HEAD_SIGNED)):
        one = event.payload
        if not event.origin and one["public"] == device.key.public:
            if one["size"] < place:
                break
            head = TreeHead(one["size"], one["root"], one["moment"])
            return SignedHead(head, one["public"], one["signature"])
    return sign_head(desk, store, device)


def _files(
    store: EventStore, payloads: list[object]
) -> tuple[dict[str, tuple[str, bytes]], tuple[str, ...]]:
    files: dict[str, tuple[str, bytes]] = {}
    lacking = []
    for digest in sorted(hashes_in(payloads)):
        kept = store.files.find(digest)
        if kept is None:
            lacking.append(digest)
        else:
            files[digest] = (kept.media, kept.content)
    return files, tuple(lacking)


FILE_KEYS = ("sha256", "photo", "page_image_hash")
"""Under these keys, and in lists under `photos` and `files`, an event names a file."""


def hashes_in(value: object) -> set[str]:
    """
    Collect the files that events name.

    Parameters
    ----------
    value : object
        Payloads.

    Returns
    -------
    set of str
        Their hashes.
    """
    found: set[str] = set()
    if isinstance(value, dict):
        for key, one in value.items():
            if key in FILE_KEYS and isinstance(one, str) and len(one) == 64:
                found.add(one)
            elif key in ("photos", "files") and isinstance(one, list):
                found |= {each for each in one if isinstance(each, str) and len(each) == 64}
                found |= hashes_in(one)
            else:
                found |= hashes_in(one)
    elif isinstance(value, list):
        for one in value:
            found |= hashes_in(one)
    return found
