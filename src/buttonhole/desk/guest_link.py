"""A link for an inspector: one vehicle, to look at only, for some hours; each look is written down.

The record holds the hash of the link's secret, never the secret: who reads it cannot use the link.
"""

import hashlib
from dataclasses import dataclass
from datetime import datetime, timedelta

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk, text
from buttonhole.record.event import moment, stamp
from buttonhole.units import BadInput

LONGEST_HOURS = 24 * 30
SECRET_BYTES = 24


@dataclass(frozen=True, slots=True)
class GuestLink:
    """A link: its secret, the vehicle, for whom, and its end."""

    secret: str
    vin: str
    guest: str
    until: datetime


def make_guest_link(desk: Desk, vin: str, guest: str, hours: float) -> GuestLink:
    """
    Make a link.

    Parameters
    ----------
    desk : Desk
        Where the person works who answers for it.
    vin : str
        The vehicle.
    guest : str
        For whom.
    hours : float
        How long it holds [h].

    Returns
    -------
    GuestLink
        The secret is nowhere else.

    Raises
    ------
    NotThere
        When there is no such vehicle.
    BadInput
        When the hours are none.
    """
    vin = vin.upper().replace(" ", "")
    if desk.store.last(f"vin/{vin}") is None:
        raise NotThere("vehicle", vin)
    if not 0 < hours <= LONGEST_HOURS:
        raise BadInput("hours", f"are {hours:g}; give up to {LONGEST_HOURS}")
    secret = desk.randomness(SECRET_BYTES).hex()
    until = desk.now() + timedelta(hours=hours)
    payload = {"vin": vin, "person": text("guest", guest), "until": stamp(until)}
    about = [_subject(secret), "record/guests"]
    desk.store.append([desk.draft("guest_link_made", about, payload)])
    return GuestLink(secret, vin, guest, until)


def end_guest_link(desk: Desk, secret: str) -> None:
    """
    End a link before its time.

    Raises
    ------
    NotThere
        When there is none.
    """
    subject = _subject(secret)
    if desk.store.last(subject) is None:
        raise NotThere("link", "given")
    desk.store.append([desk.draft("guest_link_ended", [subject, "record/guests"], {})])


def use_guest_link(desk: Desk, secret: str) -> GuestLink:
    """
    Let a guest look, and write down that one did.

    Parameters
    ----------
    desk : Desk
        For the clock and the record.
    secret : str
        From the link.

    Returns
    -------
    GuestLink
        What may be looked at.

    Raises
    ------
    NotThere
        When there is no such link, or it has ended.
    """
    subject = _subject(secret)
    events = desk.store.events(subject)
    made = events[0] if events else None
    now = desk.now()
    # A clock that was set back opens no link again: the record shows how late it was already.
    seen = max([now, *(moment(one.at) for one in events)])
    ended = any(one.type == "guest_link_ended" for one in events)
    if made is None or ended or seen >= moment(made.payload["until"]):
        raise NotThere("link", "given, or it has ended")
    link = GuestLink(
        secret, made.payload["vin"], made.payload["person"], moment(made.payload["until"])
    )
    payload = {"vin": link.vin, "person": link.guest}
    desk.store.append([desk.draft("guest_looked", [subject, "record/guests"], payload)])
    return link


def _subject(secret: str) -> str:
    return f"guest/{hashlib.sha256(secret.encode()).hexdigest()}"
