"""Check a whole record and say in plain words what was found."""

import json
from dataclasses import dataclass, field
from itertools import pairwise
from json.scanner import make_scanner
from typing import Protocol

from buttonhole.record.chain import ChainLink, Fault, FaultKind, first_fault
from buttonhole.record.event import GENESIS, subjects
from buttonhole.record.merkle import MerkleTree
from buttonhole.record.signed import Signed, check_signed
from buttonhole.units import BadInput


class Chain(Protocol):
    """What a store gives to a check: its events as they lie there, and its index."""

    def links(self) -> list[ChainLink]:
        """Give the events in the order they are kept."""
        ...

    def index(self) -> set[tuple[int, str]]:
        """Give the pairs (place, subject) by which the store finds events."""
        ...

    def places(self) -> list[int]:
        """Give the number each event is kept under; 1, 2, 3, ... in a whole record."""
        ...


@dataclass(frozen=True, slots=True)
class Report:
    """What a check found. `head` is the hash of the last event: print it, it is a witness.

    `root` is that of the Merkle tree over all events; `signed` counts what was signed, and is
    empty when the chain is damaged.
    """

    events: int
    head: str
    fault: Fault | None
    remarks: tuple[str, ...]
    root: str = ""
    signed: Signed = field(default_factory=Signed)

    @property
    def whole(self) -> bool:
        """True when nothing was altered, cut, doubled or moved."""
        return self.fault is None

    @property
    def words(self) -> str:
        """The result in a sentence or two."""
        if self.fault is None:
            return f"The record is whole: {self.events} events, none altered, none missing."
        return f"The record is damaged. {self.fault.message}"


def verify(store: Chain, *, head_count: int | None = None, head_hash: str | None = None) -> Report:
    """
    Check every event of a record against its hash, its place and the index.

    Parameters
    ----------
    store : Chain
        Where the record is kept.
    head_count : int, optional
        How many events a witness saw [-].
    head_hash : str, optional
        The hash of the last event the witness saw.

    Returns
    -------
    Report
        With the first fault, if there is one.
    """
    links = store.links()
    fault = first_fault(links, head_count=head_count, head_hash=head_hash)
    if fault is None:
        fault = _numbering(store.places(), links) or _index(links, store.index())
    head = links[-1].hash if links else GENESIS
    if fault is not None:
        return Report(len(links), head, fault, _remarks(links))
    tree = MerkleTree([bytes.fromhex(link.hash) for link in links])
    signed, fault = check_signed(links, tree)
    return Report(len(links), head, fault, _remarks(links), tree.root().hex(), signed)


def _numbering(places: list[int], links: list[ChainLink]) -> Fault | None:
    for expected, place in enumerate(places, 1):
        if place != expected:
            return Fault(
                expected,
                links[expected - 1].id,
                FaultKind.INDEX,
                f"Event {expected} is kept under the number {place}.",
            )
    return None


def _index(links: list[ChainLink], index: set[tuple[int, str]]) -> Fault | None:
    due: set[tuple[int, str]] = set()
    # The hash has shown that these are the bytes that were written, so nothing doubled or odd is
    # looked for again; plain reading takes a third of the time.
    scan = make_scanner(json.JSONDecoder())  # type: ignore[arg-type] # its stub asks for itself
    for place, link in enumerate(links, 1):
        try:
            payload, end = scan(link.payload, 0)
            if end != len(link.payload):
                raise ValueError("something stands behind its end")
            due.update([(place, subject) for subject in subjects(payload)])
        except (BadInput, ValueError, AttributeError, StopIteration, RecursionError) as fault:
            message = f"Event {place} ({link.type}, {link.at}) cannot be read: {fault}."
            return Fault(place, link.id, FaultKind.ALTERED, message)
    for place, subject in sorted(due ^ index):
        event_id = links[place - 1].id if place <= len(links) else None
        if event_id is None:
            return Fault(
                place,
                None,
                FaultKind.CUT_SHORT,
                f"The index knows an event {place} about {subject} that is not here: "
                "the end was cut off.",
            )
        return Fault(
            place,
            event_id,
            FaultKind.INDEX,
            f"The index is wrong about event {place} and {subject}; the events are whole. "
            "Have the index built again.",
        )
    return None


def _remarks(links: list[ChainLink]) -> tuple[str, ...]:
    # A clock set back breaks no chain, but whoever reads the times ought to know.
    return tuple(
        f"Event {place} ({later.at}) is dated before event {place - 1} ({earlier.at}): "
        "the clock was set back."
        for place, (earlier, later) in enumerate(pairwise(links), 2)
        if later.at < earlier.at
    )
