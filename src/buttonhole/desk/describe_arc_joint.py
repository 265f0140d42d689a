"""Describe a joint that is welded by an arc: a plug, a seam, a brazed seam, aluminium."""

from dataclasses import dataclass
from typing import Any

from buttonhole.desk.arc_view import Keys
from buttonhole.desk.describe_joint import MOST_SPOTS
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.predict_arc import refuse_metals
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class DescribeArcJoint:
    """A new joint (`joint_id` left out), or a joint described anew (`seen` then needed).

    `keys` are the tables and values of a weld file, texts with their units; its set-up is where
    one starts. `old_welds` [-] were counted before removal.
    """

    job_id: str
    name: str
    keys: Keys
    location: str = ""
    old_welds: int = 0
    note: str = ""
    joint_id: str | None = None
    seen: str | None = None


def describe_arc_joint(desk: Desk, command: DescribeArcJoint) -> JointView:
    """
    Describe a joint, new or anew.

    Other sheets or settings end the release and take proposal and set-up away.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : DescribeArcJoint
        What the person gave.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When the name is missing, or the keys make no weld; the key names table and value.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    read_job(desk, command.job_id)
    if command.joint_id is not None:
        joint = read_joint(desk, command.joint_id)
        if joint.job_id != command.job_id:
            raise BadInput("job_id", "is another job than the one this joint belongs to")
    if not 0 <= command.old_welds <= MOST_SPOTS:
        raise BadInput("old_spots", f"is {command.old_welds}; count them, 0 to {MOST_SPOTS}")
    refuse_metals(arc_weld_file_from(command.keys))
    joint_id = command.joint_id or desk.new_id()
    payload: dict[str, Any] = {
        "job": command.job_id,
        "joint": joint_id,
        "name": text("name", command.name),
        "location": text("location", command.location, need=False),
        "weld": command.keys,
        "old_spots": command.old_welds,
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
    }
    about = about_joint(command.job_id, joint_id)
    save(desk, [desk.draft("arc_joint_described", about, payload)], about[1], command.seen)
    return read_joint(desk, joint_id)
