"""Does a release still hold? Asked of the clock and of what happened at the gun."""

from collections.abc import Iterable
from datetime import datetime

from buttonhole.desk.desk import Desk
from buttonhole.desk.view import ReleaseView
from buttonhole.procedure.release import ended
from buttonhole.procedure.validity import EndCondition, Happening
from buttonhole.record.event import Event, moment


def ended_reasons(desk: Desk, release: ReleaseView, now: datetime) -> tuple[str, ...]:
    """
    Say what has ended a release by now.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    release : ReleaseView
        The release.
    now : datetime
        The moment.

    Returns
    -------
    tuple of str
        In plain words; empty while it holds.
    """
    later = desk.store.events(f"machine/{release.surroundings.machine}", after=release.event_id)
    # A clock that was set back makes no release hold longer than the record shows.
    now = max([now, *(moment(one.at) for one in later)])
    ends = release.release.end_conditions  # an arc has no tips
    # A dressing that was entered by mistake and withdrawn still ends it: nobody can know any more.
    happenings = [
        # What stands after the release in the record happened after it, whatever the clock said.
        Happening(EndCondition.TIPS_DRESSED, min(max(moment(one.at), release.at), now), one.actor)
        for one in later
        if one.type == "tip_dressed" and EndCondition.TIPS_DRESSED in ends
    ]
    made = welds_under(release.id, later)
    return tuple(one.words for one in ended(release.release, now, happenings, made))


def welds_under(release_id: str, events: Iterable[Event]) -> int:
    """
    Count the welds on the vehicle that were made under a release and not taken back.

    Parameters
    ----------
    release_id : str
        The release.
    events : iterable of Event
        What happened at its gun.

    Returns
    -------
    int
        Number of welds [-].
    """
    events = tuple(events)
    undone = {one.payload["weld"] for one in events if one.type == "vehicle_weld_undone"}
    return sum(
        one.type == "vehicle_weld_made"
        and one.payload["release"] == release_id
        and one.id not in undone
        for one in events
    )
