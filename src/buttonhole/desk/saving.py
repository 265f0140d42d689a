"""Save what changes a joint, or bring both versions when somebody else was faster."""

from collections.abc import Mapping, Sequence

from buttonhole.desk.conflict import Conflict, SentTwice, Version
from buttonhole.desk.desk import SENT, Desk
from buttonhole.desk.saying import say
from buttonhole.record.event import ABOUT, Draft, Event
from buttonhole.record.store import Conflict as StoreConflict


def about_joint(job_id: str, joint_id: str, *more: str) -> tuple[str, ...]:
    """Name what an event concerns that changes a joint."""
    return (f"job/{job_id}", f"joint/{joint_id}", *more)


def save(desk: Desk, drafts: Sequence[Draft], subject: str, seen: str | None) -> tuple[Event, ...]:
    """
    Append events about a joint that the person has seen as it is.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    drafts : sequence of Draft
        What happened.
    subject : str
        The joint, as the record names it.
    seen : str or None
        The last event about it that the person saw.

    Returns
    -------
    tuple of Event
        What stands in the record now.

    Raises
    ------
    Conflict
        When somebody else changed the joint in the meantime.
    SentTwice
        When this very form was saved before.
    """
    try:
        return append(desk, drafts, {subject: seen})
    except StoreConflict as conflict:
        theirs = tuple(_version(event) for event in conflict.theirs)
        mine = tuple(_version(draft) for draft in drafts)
        raise Conflict(subject, mine, theirs, conflict.theirs[-1].id) from None


def append(
    desk: Desk, drafts: Sequence[Draft], expect: Mapping[str, str | None]
) -> tuple[Event, ...]:
    """
    Append events, but those of one filled-in form only once.

    A form is sent twice when a button is tapped twice or a browser tries again.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    drafts : sequence of Draft
        What happened.
    expect : mapping of str to str or None
        For a subject, the last event about it that the person saw.

    Returns
    -------
    tuple of Event
        What stands in the record now.

    Raises
    ------
    SentTwice
        When this very form was saved before.
    """
    form = f"{SENT}/{desk.sent}"
    first = {form: None} if desk.sent else {}
    try:
        return desk.store.append(drafts, expect={**first, **expect})
    except StoreConflict as conflict:
        if desk.sent and conflict.subject == form:
            raise SentTwice(tuple(conflict.theirs)) from None
        raise


def refuse_again(desk: Desk) -> None:
    """
    Refuse a form that was saved already, before anything is made of its answers.

    Raises
    ------
    SentTwice
        When it was.
    """
    known = desk.store.events(f"{SENT}/{desk.sent}") if desk.sent else ()
    if known:
        raise SentTwice(known)


def _version(event: Event | Draft) -> Version:
    values = {key: value for key, value in event.payload.items() if key != ABOUT}
    return Version(event.at, event.actor, say(event.type, event.payload), values)
