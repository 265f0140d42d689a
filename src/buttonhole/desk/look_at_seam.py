"""Write down what somebody saw on a seam that was welded, and what it says of the inside."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from buttonhole.desk.accept_arc_set_up import arc_of
from buttonhole.desk.desk import Desk
from buttonhole.desk.look_at_plug import Look, keep_look, seen_something
from buttonhole.desk.look_inside_seam import look_inside_seam
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import SeamWeldFile
from buttonhole.units import BadInput
from buttonhole.weld.arc.wire import BRONZE


@dataclass(frozen=True, slots=True)
class LookAtSeam:
    """What was seen on a seam of this joint.

    `looks` are marks [m], each with how far it may be off [m] or None; `said` are the same as texts
    with units. `answer` is what was found for just these a moment ago, if it was.
    """

    joint_id: str
    seen: str | None
    looks: Mapping[str, tuple[float, float | None]]
    said: Mapping[str, str]
    answer: Mapping[str, Any] | None = None


def seam_of(joint: JointView) -> SeamWeldFile:
    """
    The seam of a joint, as it is chosen.

    Raises
    ------
    BadInput
        When the joint is no seam, or a brazed one.
    """
    weld = arc_of(joint).weld
    if not isinstance(weld, SeamWeldFile):
        raise BadInput("joint", "is no seam")
    if weld.set_up.wire.metal in BRONZE:
        raise BadInput("joint", "is brazed, so nothing is fused inside; tear or section a coupon")
    return weld


def look_at_seam(desk: Desk, command: LookAtSeam) -> JointView:
    """
    Keep a look at a seam.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : LookAtSeam
        What was seen.

    Returns
    -------
    JointView
        The joint; the look is the last one of `arc.looks`.

    Raises
    ------
    BadInput
        When nothing was seen, a reading can't be, or the joint is no seam that is fused.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    seam = seam_of(joint)
    seen_something(command.said)
    inside = command.answer or look_inside_seam(seam, command.looks)
    return keep_look(desk, joint, Look("seam_looked_at", command.said, command.seen), inside)
