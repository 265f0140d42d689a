"""Does a release still hold? Asked of the clock and of what happened at the gun."""

from datetime import datetime

from buttonhole.desk.desk import Desk
from buttonhole.desk.view import ReleaseView
from buttonhole.procedure.release import ended
from buttonhole.procedure.validity import EndCondition, Happening
from buttonhole.record.event import moment


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
    # A dressing that was entered by mistake and withdrawn still ends it: nobody can know any more.
    happenings = [
        # What stands after the release in the record happened after it, whatever the clock said.
        Happening(EndCondition.TIPS_DRESSED, min(max(moment(one.at), release.at), now), one.actor)
        for one in later
        if one.type == "tip_dressed"
    ]
    return tuple(one.words for one in ended(release.release, now, happenings))
