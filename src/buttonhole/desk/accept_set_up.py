"""Accept a set-up for a joint: the proposed one or one's own."""

from dataclasses import dataclass

from buttonhole.coupon.difference import Surroundings
from buttonhole.desk.decide_method import allowed_or_marked
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.procedure.joining.method import SQUEEZE
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import SpotSetUp


@dataclass(frozen=True, slots=True)
class AcceptSetUp:
    """What is set on the gun, and on which gun; `set_up` left out is the proposed one.

    Outlet, lead and arm pair are those at the vehicle: a coupon is compared with them, and with
    what is on its faces (`coating_state`) and `between` them.
    """

    joint_id: str
    seen: str | None
    set_up: SpotSetUp | None = None
    machine: str = ""
    arm_pair: str = ""
    program_version: str = ""
    outlet: str = ""
    lead: str = ""
    position: str = ""
    welder: str = ""
    coating_state: str = ""
    between: str = ""


def accept_set_up(desk: Desk, command: AcceptSetUp) -> JointView:
    """
    Accept a set-up. A release of the joint ends: it was for the set-up before.

    Without a word of the maker for a spot here the set-up is marked so; against his word it is
    refused, unless two people signed a deviation.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : AcceptSetUp
        The set-up and its surroundings.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When there is neither a proposal nor a set-up of one's own, or no machine; when the maker's
        text forbids a spot here.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    proposal = joint.proposal
    set_up = command.set_up or (proposal.set_up if proposal else None)
    if set_up is None:
        raise BadInput("set_up", "is missing; have one proposed, or give your own values")
    standing = allowed_or_marked(desk, joint, SQUEEZE)
    surroundings = Surroundings(
        machine=text("machine", command.machine or (proposal.machine if proposal else "")),
        arm_pair=text("arm_pair", command.arm_pair, need=False),
        program_version=text("program_version", command.program_version, need=False),
        outlet=text("outlet", command.outlet, need=False),
        lead=text("lead", command.lead, need=False),
        position=text("position", command.position, need=False),
        welder=text("welder", command.welder, need=False),
        coating_state=text("coating_state", command.coating_state, need=False),
        between=text("between", command.between, need=False),
    )
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "set_up": set_up,
        "surroundings": surroundings,
        "own": proposal is None or set_up != proposal.set_up,
        "proposal": proposal.event_id if proposal else None,
        "mark": standing.mark,
        "rule_names": [one.name for one in standing.reasons],
    }
    about = about_joint(joint.job_id, joint.id, f"machine/{surroundings.machine}")
    save(desk, [desk.draft("set_up_accepted", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)
