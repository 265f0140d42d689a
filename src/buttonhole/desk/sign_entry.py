"""Sign an entry in person, by a key that only the person's PIN opens."""

from dataclasses import dataclass

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.sign_head import introduce_key
from buttonhole.record.event import Event
from buttonhole.record.key_box import lock
from buttonhole.record.signed import ENTRY_SIGNED
from buttonhole.record.signing import event_message, new_key
from buttonhole.record.store import EventStore
from buttonhole.units import BadInput

MEANINGS = ("written", "checked", "witnessed", "approved")
"""What a signature may say."""


@dataclass(frozen=True, slots=True)
class SignEntry:
    """Which entry, by which PIN, and what the signature says."""

    event_id: str
    pin: str
    meaning: str = "written"


def make_key(desk: Desk, store: EventStore, pin: str) -> str:
    """
    Make the signing key of the person at the desk; an earlier one signs no more.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    store : EventStore
        The record.
    pin : str
        Chosen by the person, six signs or more.

    Returns
    -------
    str
        The public key, hexadecimal.

    Raises
    ------
    BadInput
        When the PIN is too easy to guess.
    """
    key = new_key(desk.randomness)
    store.key_boxes.put(desk.actor, lock(key, pin, desk.randomness))
    introduce_key(desk, "person", desk.actor, key.public)
    return key.public


def sign_entry(desk: Desk, store: EventStore, command: SignEntry) -> Event:
    """
    Sign an entry.

    Parameters
    ----------
    desk : Desk
        Where the person works; it is this person who signs.
    store : EventStore
        The record.
    command : SignEntry
        Which entry.

    Returns
    -------
    Event
        The event that holds the signature.

    Raises
    ------
    NotThere
        When there is no such entry.
    BadInput
        When the PIN is wrong, or too many wrong ones were tried.
    """
    if command.meaning not in MEANINGS:
        raise BadInput("meaning", f"is {command.meaning!r}; one of {', '.join(MEANINGS)}")
    signed = store.event(text("entry", command.event_id))
    if signed is None:
        raise NotThere("entry", command.event_id)
    key = store.key_boxes.open(desk.actor, command.pin, desk.now())
    # Of an imported entry this is the hash it has in this chain; it covers the one inside.
    kept = store.kept_hash(signed.id)
    payload = {
        "entry": signed.id,
        "entry_hash": kept,
        "meaning": command.meaning,
        "person": desk.actor,
        "public": key.public,
        "signature": key.sign(event_message(kept)),
    }
    job = signed.payload.get("job")
    about = [f"signed/{signed.id}"]
    if job:
        about.append(f"job/{job}")
        payload["job"] = job
    return store.append([desk.draft(ENTRY_SIGNED, about, payload)])[0]
