"""Is a chain of events whole, and if not, where is the first bad place and what does it mean?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from buttonhole.record.event import GENESIS, hash_of


class ChainLink(NamedTuple):
    """An event as it lies in the store: `payload` is the stored text, not yet read."""

    id: str
    type: str
    at: str
    actor: str
    payload: str
    prev_hash: str
    hash: str


class FaultKind(StrEnum):
    """What was done to a chain."""

    ALTERED = "altered"
    MISSING = "missing"
    DOUBLED = "doubled"
    OUT_OF_ORDER = "out of order"
    SLIPPED_IN = "slipped in"
    CUT_SHORT = "cut short"
    INDEX = "index"
    SIGNATURE = "signature"


@dataclass(frozen=True, slots=True)
class Fault:
    """The first bad place. `place` counts from 1; `event_id` is None when nothing stands there."""

    place: int
    event_id: str | None
    kind: FaultKind
    message: str


def first_fault(
    links: Sequence[ChainLink], *, head_count: int | None = None, head_hash: str | None = None
) -> Fault | None:
    """
    Find the first event that is not where, or what, it was when it was written.

    Parameters
    ----------
    links : sequence of ChainLink
        The events in the order they are kept.
    head_count : int, optional
        How many events there were when a witness (a printed card, say) last saw the record [-].
    head_hash : str, optional
        The hash of the last of them; alone, it must be found somewhere. Without a witness nobody
        can tell that the last events of a chain were cut off: what is left is whole in itself.

    Returns
    -------
    Fault or None
        None when the chain is whole.
    """
    places = {link.hash: place for place, link in enumerate(links, 1)}
    seen: dict[str, int] = {}
    before = GENESIS
    for place, link in enumerate(links, 1):
        if _hash(link) != link.hash:
            return Fault(
                place,
                link.id,
                FaultKind.ALTERED,
                f"Event {place} ({link.type}, {link.at}) is not what was written: "
                "its contents do not give its hash.",
            )
        if link.id in seen:
            return _doubled(place, link, seen[link.id])
        seen[link.id] = place
        if link.prev_hash != before:
            return _misplaced(place, link, links, places)
        before = link.hash
    return _against_witness(links, head_count, head_hash)


def _hash(link: ChainLink) -> str:
    return hash_of(link.id, link.type, link.at, link.actor, link.payload, link.prev_hash)


def _doubled(place: int, link: ChainLink, first: int) -> Fault:
    return Fault(
        place,
        link.id,
        FaultKind.DOUBLED,
        f"Event {place} ({link.type}, {link.at}) is event {first} once more.",
    )


def _misplaced(
    place: int, link: ChainLink, links: Sequence[ChainLink], places: Mapping[str, int]
) -> Fault:
    name = f"Event {place} ({link.type}, {link.at})"
    earlier = 0 if link.prev_hash == GENESIS else places.get(link.prev_hash)
    if earlier is None:
        return Fault(
            place,
            link.id,
            FaultKind.MISSING,
            f"{name} follows an event that is not here: what stood before it was cut out "
            "or replaced.",
        )
    if earlier >= place:
        return Fault(
            place,
            link.id,
            FaultKind.OUT_OF_ORDER,
            f"{name} stands before event {earlier}, which it follows: the order was changed.",
        )
    # Two events follow the same one. Which of the two the rest of the chain goes on from?
    follower = links[place] if place < len(links) else None
    if follower is not None and follower.prev_hash == link.hash:
        return Fault(
            earlier + 1,
            links[earlier].id,
            FaultKind.SLIPPED_IN,
            f"Event {earlier + 1} and event {place} both follow event {earlier}, and the chain "
            f"goes on from event {place}: what stands between was slipped in.",
        )
    return Fault(
        place,
        link.id,
        FaultKind.SLIPPED_IN,
        f"{name} follows event {earlier}, and so does event {earlier + 1}: one was slipped in.",
    )


def _against_witness(
    links: Sequence[ChainLink], head_count: int | None, head_hash: str | None
) -> Fault | None:
    if head_count is None:
        return _against_hash(links, head_hash)
    if head_count == 0:
        return None
    if len(links) < head_count:
        return Fault(
            len(links) + 1,
            None,
            FaultKind.CUT_SHORT,
            f"The witness saw {head_count} events, {len(links)} are left: the end was cut off.",
        )
    if head_hash is not None and links[head_count - 1].hash != head_hash:
        return Fault(
            head_count,
            links[head_count - 1].id,
            FaultKind.ALTERED,
            f"The witness saw another event {head_count}: the record was written anew.",
        )
    return None


def _against_hash(links: Sequence[ChainLink], head_hash: str | None) -> Fault | None:
    if head_hash is None or any(link.hash == head_hash for link in links):
        return None
    return Fault(
        len(links) + 1,
        None,
        FaultKind.CUT_SHORT,
        "The witness saw an event that is not here: the end was cut off, or the record was "
        "written anew.",
    )
