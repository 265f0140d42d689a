"""Where a joint is on the vehicle: a place on a drawing of the body, tapped or nudged."""

from dataclasses import dataclass
from datetime import datetime

from buttonhole.desk.desk import Desk
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.saving import append
from buttonhole.desk.view import JobView
from buttonhole.paper.figure.body import BodyMark, BodyView
from buttonhole.record.event import moment
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class PlaceJoint:
    """A joint and its place: from where it is seen, and shares of the drawing [-]."""

    joint_id: str
    view: BodyView
    across: float
    down: float


@dataclass(frozen=True, slots=True)
class PlaceView:
    """The place of a joint, who placed it and when."""

    joint_id: str
    name: str
    number: int  # of the joint in its job, from 1
    view: BodyView
    across: float
    down: float
    by: str
    at: datetime


def place_joint(desk: Desk, command: PlaceJoint) -> tuple[PlaceView, ...]:
    """
    Place a joint on the drawing; placed again it moves.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PlaceJoint
        Which joint, where.

    Returns
    -------
    tuple of PlaceView
        All places of the job.

    Raises
    ------
    BadInput
        When the place is beside the drawing.
    """
    joint = read_joint(desk, command.joint_id)
    for key, value in (("across", command.across), ("down", command.down)):
        if not 0.0 <= value <= 1.0:  # also catches NaN
            raise BadInput(key, f"is {value:g}; give a share of the drawing, 0 to 1")
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "view": command.view.value,
        "across": round(command.across, 4),
        "down": round(command.down, 4),
    }
    append(desk, [desk.draft("joint_placed", [f"job/{joint.job_id}"], payload)], {})
    return places(desk, read_job(desk, joint.job_id))


def places(desk: Desk, job: JobView) -> tuple[PlaceView, ...]:
    """
    Say where the joints of a job are.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    job : JobView
        The job.

    Returns
    -------
    tuple of PlaceView
        In the order of the joints; those that nobody placed are left out.
    """
    last = {}
    withdrawn = {one.event_id for one in job.history if one.withdrawn}
    for one in desk.store.events(f"job/{job.id}"):
        if one.type == "joint_placed" and one.id not in withdrawn:
            last[one.payload["joint"]] = one
    found = []
    for number, joint in enumerate(job.joints, start=1):
        event = last.get(joint.id)
        if event is not None:
            payload = event.payload
            place = BodyView(payload["view"]), payload["across"], payload["down"]
            at = moment(event.at)
            found.append(PlaceView(joint.id, joint.name, number, *place, event.actor, at))
    return tuple(found)


def marks_of(found: tuple[PlaceView, ...], view: BodyView, chosen: str) -> tuple[BodyMark, ...]:
    """
    Say which marks one drawing of the body shows.

    Parameters
    ----------
    found : tuple of PlaceView
        All places of a job.
    view : BodyView
        From where the body is seen.
    chosen : str
        The joint that is being placed.

    Returns
    -------
    tuple of BodyMark
        Those that are seen from there.
    """
    return tuple(
        BodyMark(one.number, one.name, one.across, one.down, one.joint_id == chosen)
        for one in found
        if one.view is view
    )
