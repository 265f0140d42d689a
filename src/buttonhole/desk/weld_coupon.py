"""Weld a coupon for a joint, and say what is not the same as on the vehicle."""

from dataclasses import dataclass, field

from buttonhole.coupon.difference import ReadBack, Surroundings, differences
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import SpotSetUp

MOST_WELDS = 5000


@dataclass(frozen=True, slots=True)
class WeldCoupon:
    """A coupon as it was welded.

    What is left out is as on the joint: `stack`, `set_up`, and each empty field of `surroundings`
    except outlet and lead, which are to be said. `tip_state` is in the welder's words.
    """

    joint_id: str
    seen: str | None
    outlet: str
    lead: str
    welds_since_dress: int
    stack: StackUp | None = None
    set_up: SpotSetUp | None = None
    surroundings: Surroundings | None = None
    read_back: ReadBack = field(default_factory=ReadBack)
    tip_state: str = ""
    note: str = ""


def weld_coupon(desk: Desk, command: WeldCoupon) -> JointView:
    """
    Note a welded coupon. Its number is given before it is torn.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : WeldCoupon
        How it was welded.

    Returns
    -------
    JointView
        The joint; the coupon is the last one, with its differences.

    Raises
    ------
    BadInput
        When the joint has no set-up yet, or a value is none.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    if joint.set_up is None:
        raise BadInput("set_up", "is not accepted yet; accept one before you weld a coupon")
    if not 0 <= command.welds_since_dress <= MOST_WELDS:
        raise BadInput("welds_since_dress", f"is {command.welds_since_dress}; count them, from 0")
    stack = command.stack or joint.stack
    set_up = command.set_up or joint.set_up.set_up
    there = joint.set_up.surroundings
    here = _here(desk, command, there)
    found = differences(
        (joint.stack, joint.set_up.set_up, there), (stack, set_up, here), command.read_back
    )
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "coupon": desk.new_id(),
        "number": joint.next_coupon,
        "stack": stack,
        "set_up": set_up,
        "surroundings": here,
        "read_back": command.read_back,
        "welds_since_dress": command.welds_since_dress,
        "tip_state": text("tip_state", command.tip_state, need=False),
        "differences": found,
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
    }
    # Also when it was welded on another gun: who looks at the joint's gun is to find it.
    guns = dict.fromkeys((f"machine/{there.machine}", f"machine/{here.machine}"))
    about = about_joint(joint.job_id, joint.id, *guns)
    save(desk, [desk.draft("coupon_welded", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def _here(desk: Desk, command: WeldCoupon, there: Surroundings) -> Surroundings:
    given = command.surroundings or there
    return Surroundings(
        machine=given.machine or there.machine,
        arm_pair=given.arm_pair or there.arm_pair,
        program_version=given.program_version or there.program_version,
        outlet=text("outlet", command.outlet, need=False),
        lead=text("lead", command.lead, need=False),
        position=given.position or there.position,
        welder=given.welder or desk.actor,
    )
