"""Weld a coupon for a joint, and say what is not the same as on the vehicle."""

from dataclasses import dataclass, field, fields
from typing import Any

from buttonhole.coupon.comparison import compare
from buttonhole.coupon.difference import Difference, ReadBack, Surroundings
from buttonhole.desk.accept_arc_set_up import arc_of
from buttonhole.desk.arc_piece import arc_piece, arc_settings
from buttonhole.desk.arc_view import Keys
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.predict_arc import refuse_metals
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import SpotSetUp

MOST_WELDS = 5000


@dataclass(frozen=True, slots=True)
class WeldCoupon:
    """A coupon as it was welded.

    What is left out is as on the joint: `stack` and `set_up` of a spot, `weld` (the keys of its
    file) of an arc, and each empty field of `surroundings` except outlet and lead, which are to be
    said. `tip_state` is in the welder's words; it and `welds_since_dress` [-] are of spots only.
    """

    joint_id: str
    seen: str | None
    outlet: str
    lead: str
    welds_since_dress: int | None = None
    stack: StackUp | None = None
    set_up: SpotSetUp | None = None
    surroundings: Surroundings | None = None
    read_back: ReadBack = field(default_factory=ReadBack)
    tip_state: str = ""
    note: str = ""
    weld: Keys | None = None


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
    if joint.accepted is None:
        raise BadInput("set_up", "is not accepted yet; accept one before you weld a coupon")
    there = joint.accepted.surroundings
    here = _here(desk, command, there)
    made = _by_spots if joint.arc is None else _by_arc
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "coupon": desk.new_id(),
        "number": joint.next_coupon,
        "surroundings": here,
        "read_back": command.read_back,
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
        **made(joint, command, there, here),
    }
    # Also when it was welded on another gun: who looks at the joint's gun is to find it.
    guns = dict.fromkeys((f"machine/{there.machine}", f"machine/{here.machine}"))
    about = about_joint(joint.job_id, joint.id, *guns)
    save(desk, [desk.draft("coupon_welded", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def _by_spots(
    joint: JointView, command: WeldCoupon, there: Surroundings, here: Surroundings
) -> dict[str, Any]:
    if command.weld is not None:
        raise BadInput("weld", "is of an arc; this joint is spot welded")
    assert joint.set_up is not None  # noqa: S101 - asked for before
    welds = command.welds_since_dress
    if welds is None or not 0 <= welds <= MOST_WELDS:
        found = "is missing" if welds is None else f"is {welds}"
        raise BadInput("welds_since_dress", f"{found}; count them, from 0")
    stack = command.stack or joint.stack
    set_up = command.set_up or joint.set_up.set_up
    differences = compare(
        (joint.stack, joint.set_up.set_up, there), (stack, set_up, here), command.read_back
    )
    return {
        "stack": stack,
        "set_up": set_up,
        "welds_since_dress": welds,
        "tip_state": text("tip_state", command.tip_state, need=False),
        "differences": differences,
    }


def _by_arc(
    joint: JointView, command: WeldCoupon, there: Surroundings, here: Surroundings
) -> dict[str, Any]:
    for key in ("stack", "set_up", "welds_since_dress", "tip_state"):
        if getattr(command, key):
            raise BadInput(key, "is of a spot; this joint is welded by an arc")
    planned = arc_of(joint).chosen
    weld = planned if command.weld is None else command.weld
    return {"weld": weld, "differences": _arc_differences(planned, weld, there, here, command)}


def _arc_differences(
    planned: Keys, weld: Keys, there: Surroundings, here: Surroundings, command: WeldCoupon
) -> tuple[Difference, ...]:
    from buttonhole.weld.arc.machine_map import operating_point

    described = arc_weld_file_from(weld)
    refuse_metals(described)
    return compare(
        (arc_piece(planned), arc_settings(planned), there),
        (arc_piece(weld), arc_settings(weld), here),
        command.read_back,
        expected_current=operating_point(described.set_up, described.law).current,
    )


def _here(desk: Desk, command: WeldCoupon, there: Surroundings) -> Surroundings:
    given = command.surroundings or there
    said = {one.name: getattr(given, one.name) or getattr(there, one.name) for one in fields(there)}
    said |= {
        "outlet": text("outlet", command.outlet, need=False),
        "lead": text("lead", command.lead, need=False),
        "welder": given.welder or desk.actor,
    }
    return Surroundings(**said)
