"""Open an archive that came from outside: check everything before anything of it is used."""

import hashlib
import stat
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from buttonhole.record.archive import layout
from buttonhole.record.canonical import canonical, parse
from buttonhole.record.event import Event
from buttonhole.record.held import token_of
from buttonhole.record.imported import event_of
from buttonhole.record.merkle import shows_inclusion
from buttonhole.record.signing import TreeHead, is_signed
from buttonhole.units import BadInput

TEXTS = (layout.EVENTS, layout.NAMES, layout.README, layout.VERIFIER)


class Refused(Exception):
    """The archive is not what it says it is. Nothing of it was written."""


@dataclass(frozen=True, slots=True)
class Archive:
    """A checked archive. `lines` are the events as objects; `files` names them by hash."""

    path: Path
    vin: str
    jobs: tuple[str, ...]
    public: str
    head: TreeHead
    lines: tuple[Mapping[str, Any], ...]
    events: tuple[Event, ...]
    names: Mapping[str, tuple[str, str]]
    files: Mapping[str, str]

    def content(self, sha256: str) -> bytes:
        """
        Read one of the files again.

        Raises
        ------
        Refused
            When it is not what it was a moment ago.
        """
        with _opened(self.path) as file:
            data = _bytes(file, self.files[sha256], layout.LARGEST_FILE)
        if hashlib.sha256(data).hexdigest() != sha256:
            raise Refused(f"{self.files[sha256]} was changed while it was read")
        return data


def open_archive(path: Path) -> Archive:
    """
    Check an archive and read its events.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    Archive
        Every hash, path and signature in it holds. Whose its key is, the caller has to ask.

    Raises
    ------
    Refused
        With what is wrong and, where it is in an event, which one.
    """
    with _opened(path) as file:
        entries = _entries(file)
        manifest = _read_manifest(file)
        listed = manifest["files"]
        for name in sorted(set(listed) ^ (entries - {layout.MANIFEST, layout.SIGNATURE})):
            what = "is missing" if name in listed else "is not in the manifest"
            raise Refused(f"{name} {what}")
        for name in sorted(listed):
            _check_file(file, name, listed[name])
        lines = _lines(_bytes(file, layout.EVENTS, layout.LARGEST_TEXT))
        names = _names(_bytes(file, layout.NAMES, layout.LARGEST_TEXT))
        public, head = _head(manifest["head"])
        events = _events(lines, manifest, head)
        vin, jobs = str(manifest["vin"]), tuple(map(str, manifest["jobs"]))
    found = {name[len(layout.FOLDER) :].partition(".")[0]: name for name in listed}
    return Archive(
        path=path,
        vin=vin,
        jobs=jobs,
        public=public,
        head=head,
        lines=tuple(lines),
        events=events,
        names=names,
        files={one: name for one, name in found.items() if name.startswith(layout.FOLDER)},
    )


@contextmanager
def _opened(path: Path) -> Iterator[zipfile.ZipFile]:
    try:
        with zipfile.ZipFile(path) as file:
            yield file
    except (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError) as fault:
        raise Refused(f"it is no whole zip file: {fault}") from None
    except (KeyError, TypeError, ValueError, OverflowError) as fault:
        raise Refused(f"it cannot be read: {fault}") from None


def _entries(file: zipfile.ZipFile) -> set[str]:
    entries = file.infolist()
    if len(entries) > layout.MOST_ENTRIES:
        raise Refused(f"it holds {len(entries)} files; at most {layout.MOST_ENTRIES} are read")
    if sum(one.file_size for one in entries) > layout.LARGEST_ARCHIVE:
        raise Refused("it would be larger than any vehicle's file when unpacked")
    names: set[str] = set()
    for one in entries:
        shown = repr(one.filename[:80])
        known = (*TEXTS, layout.MANIFEST, layout.SIGNATURE)
        if one.filename in names:
            raise Refused(f"it holds {shown} twice")
        if one.filename not in known and not layout.FILE_NAME.fullmatch(one.filename):
            raise Refused(f"it holds {shown}, which has no place in an archive")
        kind = stat.S_IFMT(one.external_attr >> 16)
        if kind not in (0, stat.S_IFREG):
            raise Refused(f"{shown} is no plain file but a link or something else")
        if one.flag_bits & 0x1:
            raise Refused(f"{shown} is encrypted")
        if one.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise Refused(f"{shown} is packed in a way that is not read here")
        names.add(one.filename)
    for name in (*TEXTS, layout.MANIFEST, layout.SIGNATURE):
        if name not in names:
            raise Refused(f"{name} is missing")
    return names


def _bytes(file: zipfile.ZipFile, name: str, most: int) -> bytes:
    # What the directory of the zip says of sizes is not believed: reading stops at the limit.
    with file.open(name) as part:
        data = part.read(most + 1)
    if len(data) > most:
        raise Refused(f"{name} is larger than {most // 1024 // 1024} MiB when unpacked")
    return data


def _read_manifest(file: zipfile.ZipFile) -> dict[str, Any]:
    text = _bytes(file, layout.MANIFEST, layout.LARGEST_TEXT)
    seal = _object(_bytes(file, layout.SIGNATURE, 10_000), layout.SIGNATURE)
    if not is_signed(str(seal["public"]), layout.CONTEXT.encode() + text, str(seal["signature"])):
        raise Refused(f"the signature under {layout.MANIFEST} does not hold")
    manifest = _object(text, layout.MANIFEST)
    if manifest["format"] != layout.FORMAT:
        raise Refused(f"it is of the form {manifest['format']!r}; {layout.FORMAT!r} is read here")
    if manifest["head"]["public"] != seal["public"]:
        raise Refused("its manifest and the head of its record are signed by two different keys")
    if not isinstance(manifest["files"], dict):
        raise Refused("its list of files is none")
    return manifest


def _object(data: bytes, name: str) -> dict[str, Any]:
    try:
        found = parse(data.decode("utf-8"))
    except (BadInput, UnicodeDecodeError) as fault:
        raise Refused(f"{name} cannot be read: {fault}") from None
    if not isinstance(found, dict):
        raise Refused(f"{name} holds no object")
    return found


def _check_file(file: zipfile.ZipFile, name: str, due: Mapping[str, Any]) -> None:
    most = layout.LARGEST_FILE if name.startswith(layout.FOLDER) else layout.LARGEST_TEXT
    digest, count = hashlib.sha256(), 0
    with file.open(name) as part:
        while block := part.read(1 << 20):
            count += len(block)
            if count > most:
                raise Refused(f"{name} is larger than {most // 1024 // 1024} MiB when unpacked")
            digest.update(block)
    if digest.hexdigest() != due["sha256"]:
        raise Refused(f"{name} was altered: it does not have the hash the manifest gives")
    if name.startswith(layout.FOLDER) and not name.startswith(layout.FOLDER + digest.hexdigest()):
        raise Refused(f"{name} does not have the hash it is named by")


def _lines(data: bytes) -> list[Mapping[str, Any]]:
    try:
        texts = data.decode("utf-8").split("\n")
    except UnicodeDecodeError:
        raise Refused(f"{layout.EVENTS} is no UTF-8 text") from None
    if texts.pop() != "":
        raise Refused(f"{layout.EVENTS} is cut short")
    found: list[Mapping[str, Any]] = []
    for count, text in enumerate(texts, 1):
        try:
            values = parse(text)
            if not isinstance(values, dict) or canonical(values) != text:
                raise BadInput("json", "is not canonical")
        except BadInput as fault:
            raise Refused(f"event {count} cannot be read: {fault.message}") from None
        found.append(values)
    return found


def _names(data: bytes) -> dict[str, tuple[str, str]]:
    found = {}
    for token, one in _object(data, layout.NAMES).items():
        salt, name = str(one["salt"]), str(one["name"])
        if token_of(salt, name) != token:
            raise Refused(f"the name {name!r} does not belong to its code in the events")
        found[token] = (salt, name)
    return found


def _head(values: Mapping[str, Any]) -> tuple[str, TreeHead]:
    head = TreeHead(int(values["size"]), str(values["root"]), str(values["at"]))
    if not is_signed(str(values["public"]), head.message(), str(values["signature"])):
        raise Refused("the signature under the head of its record does not hold")
    return str(values["public"]), head


def _events(
    lines: list[Mapping[str, Any]], manifest: Mapping[str, Any], head: TreeHead
) -> tuple[Event, ...]:
    leaves, places, proofs = manifest["leaves"], manifest["places"], manifest["proofs"]
    if not len(lines) == len(leaves) == len(places) == len(proofs):
        raise Refused(f"it holds {len(lines)} events; {len(leaves)} are due")
    found: list[Event] = []
    root = bytes.fromhex(head.root)
    for count, (values, leaf, place, proof) in enumerate(
        zip(lines, leaves, places, proofs, strict=True), 1
    ):
        try:
            event = event_of(values)
        except BadInput as fault:
            raise Refused(f"event {count} was altered: {fault.message}") from None
        path = [bytes.fromhex(one) for one in proof]
        if event.hash != leaf:
            raise Refused(f"event {count} ({event.id}) is not the one the manifest names there")
        if not shows_inclusion(bytes.fromhex(leaf), int(place) - 1, head.size, path, root):
            raise Refused(f"event {count} ({event.id}) is not under the signed head of its record")
        if found and place <= places[count - 2]:
            raise Refused(f"event {count} ({event.id}) is out of order or there twice")
        follows = found and place == places[count - 2] + 1
        if follows and event.prev_hash != found[-1].hash:
            raise Refused(f"event {count} ({event.id}) does not follow the one before it")
        found.append(event)
    return tuple(found)
