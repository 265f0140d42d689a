"""End the releases of a joint: what they rest on was changed."""

from dataclasses import replace

from buttonhole.desk.view import JointView
from buttonhole.record.event import Event


def end_releases(joint: JointView, event: Event, reason: str) -> JointView:
    """
    End every release that still holds.

    Parameters
    ----------
    joint : JointView
        The joint.
    event : Event
        What ended them.
    reason : str
        Why, as a sentence.

    Returns
    -------
    JointView
        The joint with its releases ended; it is not told to be released again.
    """
    words = f"{reason} ({event.actor}, {event.at[:16].replace('T', ' ')} UTC)"
    return replace(
        joint,
        releases=tuple(
            replace(one, ended=(*one.ended, words)) if one.valid else one for one in joint.releases
        ),
    )
