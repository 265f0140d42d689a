"""Describe a joint: what meets where, and what was there before."""

from dataclasses import dataclass

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput

MOST_SPOTS = 500


@dataclass(frozen=True, slots=True)
class DescribeJoint:
    """A new joint (`joint_id` left out), or a joint described anew (`seen` then needed).

    `stack` carries sheets, coatings and gap [m]; `old_spots` [-] were counted before removal.
    """

    job_id: str
    name: str
    stack: StackUp
    location: str = ""
    old_spots: int = 0
    note: str = ""
    joint_id: str | None = None
    seen: str | None = None


def describe_joint(desk: Desk, command: DescribeJoint) -> JointView:
    """
    Describe a joint, new or anew.

    Another stack-up ends the release and takes proposal and set-up away: they were for other
    sheets.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : DescribeJoint
        What the person gave.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When the name is missing or the count of spots is none.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    read_job(desk, command.job_id)
    joint_id = command.joint_id or desk.new_id()
    if command.joint_id is not None:
        joint = read_joint(desk, command.joint_id)
        if joint.job_id != command.job_id:
            raise BadInput("job_id", "is another job than the one this joint belongs to")
    if not 0 <= command.old_spots <= MOST_SPOTS:
        raise BadInput("old_spots", f"is {command.old_spots}; count them, 0 to {MOST_SPOTS}")
    payload = {
        "job": command.job_id,
        "joint": joint_id,
        "name": text("name", command.name),
        "location": text("location", command.location, need=False),
        "stack": command.stack,
        "old_spots": command.old_spots,
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
    }
    about = about_joint(command.job_id, joint_id)
    save(desk, [desk.draft("joint_described", about, payload)], about[1], command.seen)
    return read_joint(desk, joint_id)
