"""What was signed in a record: heads by devices, entries by people; and whether it holds."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from buttonhole.record.chain import ChainLink, Fault, FaultKind
from buttonhole.record.merkle import MerkleTree
from buttonhole.record.signing import TreeHead, event_message, is_signed
from buttonhole.units import BadInput

KEY_INTRODUCED = "key_introduced"
"""Type of the event that says whose a public key is: `whose`, `name`, `public`."""

HEAD_SIGNED = "head_signed"
"""Type of the event with a signed tree head: `size`, `root`, `moment`, `public`, `signature`."""

ENTRY_SIGNED = "entry_signed"
"""Type of the event by which a person signs another: `entry`, `entry_hash`, `public`, ..."""

HEADS = "record/heads"
"""What signed heads are about."""


@dataclass(frozen=True, slots=True)
class Signed:
    """How much was signed. `covered`: events under the last signed head."""

    heads: int = 0
    covered: int = 0
    entries: int = 0
    keys: tuple[str, ...] = ()


@dataclass(slots=True)
class _Book:
    places: dict[str, int]
    hashes: list[str]
    tree: MerkleTree
    keys: dict[str, int]
    heads: int = 0
    covered: int = 0
    entries: int = 0


def check_signed(links: Sequence[ChainLink], tree: MerkleTree) -> tuple[Signed, Fault | None]:
    """
    Check every signature in a record whose chain is whole.

    Parameters
    ----------
    links : sequence of ChainLink
        The events.
    tree : MerkleTree
        Over their hashes.

    Returns
    -------
    signed : Signed
        What holds.
    fault : Fault or None
        The first signature that does not hold.
    """
    kinds = (KEY_INTRODUCED, HEAD_SIGNED, ENTRY_SIGNED)
    places = [place for place, link in enumerate(links, 1) if link.type in kinds]
    if not places:
        return Signed(), None
    book = _Book(
        {link.id: place for place, link in enumerate(links, 1)},
        [link.hash for link in links],
        tree,
        {},
    )
    for place in places:
        link = links[place - 1]
        try:
            words = _check(book, place, link.type, json.loads(link.payload))
        except (KeyError, TypeError, ValueError, OverflowError, BadInput):
            words = "cannot be read"
        if words:
            message = f"Event {place} ({link.type}, {link.at}): {words}."
            return _signed(book), Fault(place, link.id, FaultKind.SIGNATURE, message)
    return _signed(book), None


def _signed(book: _Book) -> Signed:
    return Signed(book.heads, book.covered, book.entries, tuple(book.keys))


def _check(book: _Book, place: int, kind: str, payload: Any) -> str:
    if kind == KEY_INTRODUCED:
        book.keys.setdefault(payload["public"], place)
        return ""
    if payload["public"] not in book.keys:
        return "it is signed by a key that was not introduced before"
    return _head(book, place, payload) if kind == HEAD_SIGNED else _entry(book, place, payload)


def _head(book: _Book, place: int, payload: Any) -> str:
    head = TreeHead(int(payload["size"]), payload["root"], payload["moment"])
    if not is_signed(payload["public"], head.message(), payload["signature"]):
        return "the signature under the head is not of its key"
    if head.size >= place:
        return f"the head covers {head.size} events, but only {place - 1} stand before it"
    if book.tree.root(head.size).hex() != head.root:
        return (
            f"the first {head.size} events are not those whose head was signed: "
            f"one after event {book.covered} was written anew"
        )
    book.heads += 1
    book.covered = max(book.covered, head.size)
    return ""


def _entry(book: _Book, place: int, payload: Any) -> str:
    signed = book.places.get(payload["entry"])
    if signed is None or signed >= place:
        return "the entry it signs does not stand before it"
    if book.hashes[signed - 1] != payload["entry_hash"]:
        return f"it signs event {signed}, but that one has another hash"
    message = event_message(payload["entry_hash"])
    if not is_signed(payload["public"], message, payload["signature"]):
        return f"the signature under event {signed} is not of its key"
    book.entries += 1
    return ""
