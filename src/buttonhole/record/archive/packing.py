"""Pack an archive: the same content gives the same bytes."""

import hashlib
import io
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from buttonhole.record.archive.layout import (
    CONTEXT,
    EVENTS,
    FORMAT,
    MANIFEST,
    NAMES,
    README,
    SIGNATURE,
    VERIFIER,
    file_name,
    readme,
    verifier,
)
from buttonhole.record.canonical import canonical, quoted
from buttonhole.record.chain import ChainLink
from buttonhole.record.event import moment
from buttonhole.record.merkle import MerkleTree
from buttonhole.record.signing import SigningKey, TreeHead
from buttonhole.units import BadInput

FIRST_DAY: Final = (1980, 1, 1, 0, 0, 0)  # the earliest a zip file can name
BY_UNIX: Final = 3
READABLE: Final = 0o100644 << 16


@dataclass(frozen=True, slots=True)
class Content:
    """What goes into an archive.

    `events` are (place in the record, event); `tree` is over the whole record up to `head`;
    `names` gives salt and name by token; `files` gives media type and bytes by hash.
    """

    vin: str
    titles: tuple[str, ...]
    events: Sequence[tuple[int, ChainLink]]
    tree: MerkleTree
    head: TreeHead
    head_signature: str
    names: Mapping[str, tuple[str, str]]
    files: Mapping[str, tuple[str, bytes]]


def pack(content: Content, key: SigningKey) -> bytes:
    """
    Pack an archive.

    Parameters
    ----------
    content : Content
        What goes in.
    key : SigningKey
        Of the device that signed the head; it signs the manifest too.

    Returns
    -------
    bytes
        A zip file, nothing in it compressed, so that its bytes depend on the content alone.

    Raises
    ------
    BadInput
        When an event stands behind the signed head.
    """
    if any(place > content.head.size for place, _ in content.events):
        raise BadInput("archive", "an event stands behind the signed head; sign the head first")
    parts = {
        README: readme(content.vin, list(content.titles), key.public),
        EVENTS: "".join(f"{line_of(link)}\n" for _, link in content.events).encode("utf-8"),
        NAMES: _json(
            {one: {"salt": salt, "name": name} for one, (salt, name) in content.names.items()}
        ),
        VERIFIER: verifier(),
    }
    for digest, (media, data) in sorted(content.files.items()):
        parts[file_name(digest, media)] = data
    manifest = _json(_manifest(content, key.public, parts))
    signature = {
        "context": CONTEXT,
        "public": key.public,
        "signature": key.sign(CONTEXT.encode() + manifest),
    }
    return _zipped({**parts, MANIFEST: manifest, SIGNATURE: _json(signature)})


def line_of(link: ChainLink) -> str:
    """Write an event as one line of canonical JSON, its hash included."""
    return (
        f'{{"actor":{quoted(link.actor)},"at":{quoted(link.at)},"hash":{quoted(link.hash)},'
        f'"id":{quoted(link.id)},"payload":{link.payload},"prev_hash":{quoted(link.prev_hash)},'
        f'"type":{quoted(link.type)}}}'
    )


def _manifest(content: Content, public: str, parts: Mapping[str, bytes]) -> dict[str, Any]:
    head = content.head
    return {
        "format": FORMAT,
        "vin": content.vin,
        "jobs": list(content.titles),
        "leaves": [link.hash for _, link in content.events],
        "places": [place for place, _ in content.events],
        "proofs": [
            [one.hex() for one in content.tree.inclusion(place - 1, head.size)]
            for place, _ in content.events
        ],
        "head": {
            "size": head.size,
            "root": head.root,
            "at": head.at,
            "milliseconds": int(moment(head.at).timestamp() * 1000),
            "public": public,
            "signature": content.head_signature,
        },
        "files": {
            name: {"sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data)}
            for name, data in parts.items()
        },
    }


def _json(value: object) -> bytes:
    return canonical(value).encode("utf-8")


def _zipped(parts: Mapping[str, bytes]) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_STORED) as file:
        for name in sorted(parts):
            entry = zipfile.ZipInfo(name, FIRST_DAY)
            entry.create_system, entry.external_attr = BY_UNIX, READABLE
            file.writestr(entry, parts[name])
    return whole.getvalue()
