"""Witnesses outside the record: a printed code, or the time-stamp of an authority."""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import segno
from cryptography import x509

from buttonhole.desk.desk import Desk
from buttonhole.desk.sign_head import SignedHead
from buttonhole.record.canonical import canonical
from buttonhole.record.merkle import MerkleTree
from buttonhole.record.signed import HEADS
from buttonhole.record.signing import TreeHead
from buttonhole.record.store import EventStore
from buttonhole.record.timestamp import TimeStamp, read_response, request
from buttonhole.units import BadInput

HEAD_CODE = re.compile(r"buttonhole head (\d{1,15}) ([0-9a-f]{64}) ([0-9a-f]{64})")
ENTRY_CODE = re.compile(r"buttonhole [a-z-]+ \S+ ([0-9a-f]{64})")
STAMPED = "head_stamped"


@dataclass(frozen=True, slots=True)
class Witnessed:
    """What a printed code says of the record: whether it agrees, and in words."""

    agrees: bool
    words: str


def head_code(store: EventStore) -> str:
    """Give the words of a code for the record as it is: number of events, last hash, root."""
    count, head = store.head()
    return f"buttonhole head {count} {head} {MerkleTree(store.hashes()[:count]).root().hex()}"


def code_picture(words: str) -> bytes:
    """Draw a code as SVG, to be printed and kept outside the shop."""
    code = segno.make(words, error="m", micro=False)
    return str(code.svg_inline(scale=4, border=4)).encode("utf-8")


def check_code(store: EventStore, words: str) -> Witnessed:
    """
    Hold a printed code against the record.

    Parameters
    ----------
    store : EventStore
        The record.
    words : str
        What the code says: that of a head, or the one on a card.

    Returns
    -------
    Witnessed
        Whether what the paper saw is still there, in its place.

    Raises
    ------
    BadInput
        When it is no code of this program.
    """
    words = " ".join(words.split())
    hashes = store.hashes()
    if found := HEAD_CODE.fullmatch(words):
        count, head, root = int(found[1]), found[2], found[3]
        if count > len(hashes):
            left = f"the paper saw {count} events, {len(hashes)} are left: the end was cut off"
            return Witnessed(False, left)
        whole = MerkleTree(hashes[:count]).root().hex() == root
        if (count and hashes[count - 1].hex() != head) or not whole:
            return Witnessed(
                False, f"the first {count} events are not those the paper saw: written anew"
            )
        return Witnessed(True, f"the first {count} events are those the paper saw")
    if found := ENTRY_CODE.fullmatch(words):
        if bytes.fromhex(found[1]) in hashes:
            place = hashes.index(bytes.fromhex(found[1])) + 1
            return Witnessed(True, f"what the paper saw is event {place}, unaltered")
        return Witnessed(False, "what the paper saw is not here: altered, cut out, or another shop")
    raise BadInput("code", "is none of this program's; give the words the code holds")


def stamp_request(desk: Desk, signed: SignedHead) -> bytes:
    """Make the request that an authority stamps, over a signed head."""
    return request(_message(signed), desk.randomness(8))


def take_stamp(
    desk: Desk,
    store: EventStore,
    data: bytes,
    trusted: Sequence[x509.Certificate] = (),
) -> TimeStamp:
    """
    Take in the answer of an authority to the last signed head it fits.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    store : EventStore
        The record; the answer is kept as a file of it.
    data : bytes
        The answer.
    trusted : sequence of Certificate, optional
        Of authorities the shop trusts.

    Returns
    -------
    TimeStamp
        What it says, and what could not be checked.

    Raises
    ------
    BadInput
        When it fits no signed head, or does not hold.
    """
    refused: BadInput | None = None
    for event in reversed([one for one in store.events(HEADS) if one.type == "head_signed"]):
        one = event.payload
        head = TreeHead(one["size"], one["root"], one["moment"])
        signed = SignedHead(head, one["public"], one["signature"])
        try:
            found = read_response(data, _message(signed), trusted)
        except BadInput as fault:
            refused = refused or fault
            continue
        payload = {
            "head": event.id,
            "size": head.size,
            "stamped": found.at,
            "authority": found.authority,
            "serial": str(found.serial),
            "unchecked": list(found.unchecked),
            "sha256": store.files.keep(data, "application/timestamp-reply"),
        }
        store.append([desk.draft(STAMPED, [HEADS], payload)])
        return found
    raise refused or BadInput("time-stamp", "there is no signed head; sign one first")


def certificates(path: Path) -> list[x509.Certificate]:
    """
    Read certificates the reader trusts.

    Raises
    ------
    BadInput
        When the file holds none.
    """
    try:
        return x509.load_pem_x509_certificates(path.read_bytes())
    except ValueError:
        raise BadInput(str(path), "holds no certificate in PEM form") from None


def _message(signed: SignedHead) -> bytes:
    head = signed.head
    values = {"root": head.root, "signature": signed.signature, "size": head.size, "at": head.at}
    return hashlib.sha256(canonical(values).encode()).digest()
