"""Release a set-up, with the moment it ends; or say everything that is missing."""

from dataclasses import dataclass
from typing import Any

from buttonhole.coupon.reading import Reading
from buttonhole.desk.decide_method import joint_decision
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.procedure.refusal import Refusal
from buttonhole.procedure.release import (
    Release,
    ReleaseRefused,
    TestedCoupon,
    release,
)
from buttonhole.procedure.validity import EndCondition, ValidityPolicy


@dataclass(frozen=True, slots=True)
class ReleaseSetUp:
    """Release the accepted set-up of a joint.

    `hours` [h] and `max_welds` [-] left out are the usual ones; `released_by` left out is the
    person at the desk.
    """

    joint_id: str
    seen: str | None
    hours: float | None = None
    max_welds: int | None = None
    released_by: str = ""


@dataclass(frozen=True, slots=True)
class EndRelease:
    """End the release of a joint: what happened, in one of the words on its card."""

    joint_id: str
    seen: str | None
    condition: EndCondition
    detail: str = ""


def release_set_up(desk: Desk, command: ReleaseSetUp) -> JointView:
    """
    Release a set-up.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : ReleaseSetUp
        Which joint, for how long, by whom.

    Returns
    -------
    JointView
        The joint; `release` is the release that holds.

    Raises
    ------
    ReleaseRefused
        With everything that stands against it; nothing is written.
    BadInput
        When hours or welds are none.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    released = _asked(desk, joint, command)
    accepted = joint.accepted
    assert accepted is not None  # noqa: S101 - refused otherwise
    assert joint.procedure is not None  # noqa: S101 - refused otherwise
    coupons = [one for one in joint.coupons if str(one.number) in released.coupons]
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "release": desk.new_id(),
        "details": released,
        "surroundings": coupons[-1].surroundings,
        "coupons": [one.id for one in coupons],
        "rests_on": [
            joint.description_id,
            joint.procedure.event_id,
            accepted.event_id,
            *(name for one in coupons for name in one.event_ids),
        ],
    }
    machine = f"machine/{released.machine}"
    about = about_joint(joint.job_id, joint.id, machine)
    save(desk, [desk.draft("set_up_released", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def what_is_lacking(desk: Desk, joint_id: str) -> tuple[Refusal, ...]:
    """
    Say what stands against a release now. Nothing is written.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint_id : str
        Which joint.

    Returns
    -------
    tuple of Refusal
        Empty when the set-up may be released.
    """
    try:
        _asked(desk, read_joint(desk, joint_id), ReleaseSetUp(joint_id, None))
    except ReleaseRefused as refused:
        return refused.refusals
    return ()


def end_release(desk: Desk, command: EndRelease) -> JointView:
    """
    End a release by hand.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : EndRelease
        Which joint, and what happened.

    Returns
    -------
    JointView
        The joint, without a release that holds.

    Raises
    ------
    ReleaseRefused
        When there is no release that holds.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    if joint.release is None:
        refusal = Refusal("no-release", "No release holds.", "There is nothing to end.")
        raise ReleaseRefused((refusal,))
    detail = text("detail", command.detail, need=False, longest=400)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "release": joint.release.id,
        "condition": command.condition,
        "reason": command.condition.words + (f" ({detail})" if detail else ""),
    }
    about = about_joint(joint.job_id, joint.id, f"machine/{joint.release.surroundings.machine}")
    save(desk, [desk.draft("release_ended", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def _asked(desk: Desk, joint: JointView, command: ReleaseSetUp) -> Release:
    accepted, set_up = joint.accepted, joint.made_with
    if accepted is None or set_up is None:
        do = "Have one proposed or give your own, accept it, and weld a coupon with it."
        raise ReleaseRefused((Refusal("no-set-up", "No set-up is accepted yet.", do),))
    machine = accepted.surroundings.machine
    order = _order(desk, joint, machine)
    return release(
        set_up,
        joint.joined,
        machine=machine,
        authority=joint.procedure.authority if joint.procedure else None,
        coupons=[
            TestedCoupon(
                key=str(one.number),
                sequence=order.get(one.event_ids[0], 0),
                stack=one.joined,
                set_up=one.made_with,
                verdicts=tuple(each.verdict for each in one.judged),
                differences=one.differences,
                expulsion=any(
                    isinstance(each, Reading) and each.expulsion for each in one.readings
                ),
            )
            for one in joint.coupons
        ],
        last_change=max(
            order[accepted.event_id],
            *(place for name, place in order.items() if name.startswith("tip ")),
            0,
        ),
        now=desk.shop_time(desk.now()),  # "read today" is the shop's today
        released_by=text("released_by", command.released_by or desk.actor),
        policy=_policy(command),
        decision=joint_decision(desk, joint),
        ways=joint.ways,
    )


def _order(desk: Desk, joint: JointView, machine: str) -> dict[str, int]:
    """Number what happened at the gun; tips dressed are marked, also those at other joints."""
    withdrawn = {one.event_id for one in joint.history if one.withdrawn}
    events = desk.store.events(f"machine/{machine}")
    return {
        f"tip {one.id}" if one.type == "tip_dressed" else one.id: place
        for place, one in enumerate(events, 1)
        if one.id not in withdrawn
    }


def _policy(command: ReleaseSetUp) -> ValidityPolicy:
    given: dict[str, Any] = {}
    if command.hours is not None:
        given["hours"] = command.hours
    if command.max_welds is not None:
        given |= dict.fromkeys(("welds_coated", "welds_bare", "welds_arc"), command.max_welds)
    return ValidityPolicy(**given)
