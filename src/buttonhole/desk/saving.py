"""Save what changes a joint, or bring both versions when somebody else was faster."""

from collections.abc import Sequence

from buttonhole.desk.conflict import Conflict, Version
from buttonhole.desk.desk import Desk
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
    """
    try:
        return desk.store.append(drafts, expect={subject: seen})
    except StoreConflict as conflict:
        theirs = tuple(_version(event) for event in conflict.theirs)
        mine = tuple(_version(draft) for draft in drafts)
        raise Conflict(subject, mine, theirs, conflict.theirs[-1].id) from None


def _version(event: Event | Draft) -> Version:
    values = {key: value for key, value in event.payload.items() if key != ABOUT}
    return Version(event.at, event.actor, say(event.type, event.payload), values)
