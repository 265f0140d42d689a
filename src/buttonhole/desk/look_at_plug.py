"""Write down what somebody saw on a plug that was welded, and what it says of the inside."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from buttonhole.desk.accept_arc_set_up import arc_of
from buttonhole.desk.desk import Desk
from buttonhole.desk.look_inside import Looked, look_inside_plug
from buttonhole.desk.plain_answer import plain_answer
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import PlugWeldFile
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class LookAtPlug:
    """What was seen on a plug of this joint; `said` are the marks as texts with units."""

    joint_id: str
    seen: str | None
    looked: Looked
    said: Mapping[str, str]


def plug_of(joint: JointView) -> PlugWeldFile:
    """
    The plug of a joint, as it is chosen.

    Raises
    ------
    BadInput
        When the joint is no plug weld.
    """
    weld = arc_of(joint).weld
    if not isinstance(weld, PlugWeldFile):
        raise BadInput("joint", "is no plug weld; only a plug is read from outside to inside")
    return weld


def look_at_plug(desk: Desk, command: LookAtPlug) -> JointView:
    """
    Keep a look at a plug.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : LookAtPlug
        What was seen.

    Returns
    -------
    JointView
        The joint; the look is the last one of `arc.looks`.

    Raises
    ------
    BadInput
        When nothing was seen, or a reading can't be.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    plug = plug_of(joint)
    seen_something(command.said)
    return keep_look(
        desk,
        joint,
        Look("plug_looked_at", command.said, command.seen),
        look_inside_plug(plug, command.looked),
    )


@dataclass(frozen=True, slots=True)
class Look:
    """A look that is to be kept: its kind of event, its marks as texts, and what was seen last."""

    kind: str
    said: Mapping[str, str]
    seen: str | None


def seen_something(said: Mapping[str, str]) -> None:
    """
    Refuse a look at nothing.

    Raises
    ------
    BadInput
        When no mark was given.
    """
    if not said:
        raise BadInput("looked", "is empty; give at least one mark")


def keep_look(desk: Desk, joint: JointView, look: Look, inside: Mapping[str, Any]) -> JointView:
    """
    Keep a look at a weld with what it says of the inside.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        Whose weld.
    look : Look
        What was seen.
    inside : mapping
        What it says.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    Conflict
        When somebody else changed the joint in the meantime.
    """
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "weld": arc_of(joint).chosen,
        "looked": look.said,
        "inside": plain_answer(dict(inside)),
    }
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft(look.kind, about, payload)], about[1], look.seen)
    return read_joint(desk, joint.id)
