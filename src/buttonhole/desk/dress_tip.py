"""Dress the tips of a gun: what was released on it needs a new coupon."""

from dataclasses import dataclass

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.units import BadInput

SMALLEST_FACE, LARGEST_FACE = 2e-3, 20e-3  # m


@dataclass(frozen=True, slots=True)
class DressTip:
    """Dressed tips. `face_before` and `face_after` [m] as measured; left out when not measured."""

    joint_id: str
    seen: str | None
    machine: str = ""
    face_before: float | None = None
    face_after: float | None = None
    welds_before: int | None = None
    note: str = ""


def dress_tip(desk: Desk, command: DressTip) -> JointView:
    """
    Note that the tips were dressed. Every release on this gun ends, of other joints too.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : DressTip
        Which gun; the joint's own when left out.

    Returns
    -------
    JointView
        The joint at which it was done.

    Raises
    ------
    BadInput
        When nobody knows the gun, or a face is none.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    own = joint.set_up.surroundings.machine if joint.set_up else ""
    machine = text("machine", command.machine or own)
    for key, face in (("face_before", command.face_before), ("face_after", command.face_after)):
        if face is not None and not SMALLEST_FACE <= face <= LARGEST_FACE:
            raise BadInput(key, f"is {face * 1e3:g} mm; measure the face, 2 to 20 mm")
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "machine": machine,
        "face_before": command.face_before,
        "face_after": command.face_after,
        "welds_before": command.welds_before,
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
    }
    about = about_joint(joint.job_id, joint.id, f"machine/{machine}")
    save(desk, [desk.draft("tip_dressed", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)
