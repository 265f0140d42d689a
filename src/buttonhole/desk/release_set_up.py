"""Release a set-up, with the moment it ends; or say everything that is missing."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from buttonhole.coupon.reading import Reading
from buttonhole.desk.decide_method import joint_decision
from buttonhole.desk.decide_release import Decided, decide_release
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.series_of import last_change, order_at, series_of
from buttonhole.desk.view import JointView
from buttonhole.desk.watch_machine import dress_interval_of, watch_machine
from buttonhole.joint.coating import Coating
from buttonhole.procedure.authority import Deviation
from buttonhole.procedure.refusal import Refusal
from buttonhole.procedure.release import (
    Release,
    ReleaseRefused,
    TestedCoupon,
    release,
)
from buttonhole.procedure.validity import SHIFT, EndCondition, ValidityPolicy

UNSURE = frozenset({"not-sure", "move-set-up", "not-by-rule"})  # two people may sign against these


@dataclass(frozen=True, slots=True)
class ReleaseSetUp:
    """Release the accepted set-up of a joint.

    `hours` [h] and `max_welds` [-] left out are the usual ones, the welds no more than the gun's
    own dress interval; `released_by` left out is the person at the desk. `overruled`: two people
    who release although the rule on how likely its welds are good does not; the criterion and the
    maker's procedure it does not touch.
    """

    joint_id: str
    seen: str | None
    hours: float | None = None
    max_welds: int | None = None
    released_by: str = ""
    overruled: Deviation | None = None


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
    released, decided = _asked(desk, joint, command)
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
        "decision": decided.answer if decided else None,
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


@dataclass(frozen=True, slots=True)
class Standing:
    """How a release stands now: what is against it, and what was decided where coupons count."""

    lacking: tuple[Refusal, ...]
    decided: Decided | None

    @property
    def only_unsure(self) -> bool:
        """Only the rule on how likely the welds are good is against it: two people may sign."""
        return bool(self.lacking) and all(one.code in UNSURE for one in self.lacking)


def decide_now(desk: Desk, joint: JointView, welds: int) -> Decided:
    """
    Decide on a joint's set-up for a release now.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        With an accepted set-up.
    welds : int
        How many are asked for [-].

    Returns
    -------
    Decided
        One coupon does where the machine is known and quiet and the set-up was released before.
    """
    return decide_release(desk, joint, welds=welds, recheck=is_recheck(desk, joint))


def standing(
    desk: Desk,
    joint_id: str,
    *,
    max_welds: int | None = None,
    decider: Callable[[Desk, JointView, int], Decided] = decide_now,
) -> Standing:
    """
    Say how a release of a joint stands now. Nothing is written.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint_id : str
        Which joint.
    max_welds : int, optional
        How many welds are asked for [-]; the usual number.
    decider : callable
        Decides; pages give one that keeps what it found.

    Returns
    -------
    Standing
        Nothing is lacking when the set-up may be released.
    """
    joint = read_joint(desk, joint_id)
    command = ReleaseSetUp(joint_id, None, max_welds=max_welds)
    try:
        decided = _decided(desk, joint, command, decider)
        _release(desk, joint, command, decided)
    except ReleaseRefused as refused:
        return Standing(refused.refusals, decided if joint.accepted else None)
    return Standing((), decided)


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
    return standing(desk, joint_id).lacking


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


def _asked(desk: Desk, joint: JointView, command: ReleaseSetUp) -> tuple[Release, Decided | None]:
    decided = _decided(desk, joint, command, decide_now)
    return _release(desk, joint, command, decided), decided


def _decided(
    desk: Desk,
    joint: JointView,
    command: ReleaseSetUp,
    decider: Callable[[Desk, JointView, int], Decided],
) -> Decided | None:
    """What coupons, machine and physics say; None while there is no coupon to say it of."""
    if joint.accepted is None or not any(one.is_judged for one in joint.coupons):
        return None
    welds = _welds(joint, _policy(desk, joint, command)) or 1
    return decider(desk, joint, welds)


def is_recheck(desk: Desk, joint: JointView) -> bool:
    """
    Tell whether one coupon does: a set-up that was released before, on a machine known and quiet.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    bool
        As the daily re-check asks for.
    """
    if joint.set_up is None or not any(
        one.release.set_up == joint.set_up.set_up for one in joint.releases
    ):
        return False
    return watch_machine(desk, joint.set_up.surroundings.machine).enough


def _welds(joint: JointView, policy: ValidityPolicy) -> int | None:
    if joint.arc is not None:
        return policy.welds_arc
    coated = any(one.coating is not Coating.BARE for one in joint.stack.sheets)
    return policy.welds_coated if coated else policy.welds_bare


def _release(
    desk: Desk, joint: JointView, command: ReleaseSetUp, decided: Decided | None
) -> Release:
    accepted, set_up = joint.accepted, joint.made_with
    if accepted is None or set_up is None:
        do = "Have one proposed or give your own, accept it, and weld a coupon with it."
        raise ReleaseRefused((Refusal("no-set-up", "No set-up is accepted yet.", do),))
    machine = accepted.surroundings.machine
    order = order_at(desk, joint, machine)
    _checked_this_shift(desk, joint)
    now_unlike = {one.coupon.id: one.differences for one in series_of(desk, joint)}
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
                differences=now_unlike.get(one.id, one.differences),
                expulsion=any(
                    isinstance(each, Reading) and each.expulsion for each in one.readings
                ),
            )
            for one in joint.coupons
        ],
        last_change=last_change(joint, order),
        now=desk.shop_time(desk.now()),  # "read today" is the shop's today
        released_by=text("released_by", command.released_by or desk.actor),
        policy=_policy(desk, joint, command),
        decision=joint_decision(desk, joint),
        ways=joint.ways,
        decided=decided.decision if decided else None,
        overruled=command.overruled,
    )


def _checked_this_shift(desk: Desk, joint: JointView) -> None:
    """Refuse a release anew whose coupons are all of an earlier shift.

    Raises
    ------
    ReleaseRefused
        One coupon of today is asked for.
    """
    due = recheck_due(desk, joint)
    if due:
        do = "Weld and tear one coupon, then release again."
        raise ReleaseRefused((Refusal("re-check", due, do),))


def recheck_due(desk: Desk, joint: JointView) -> str:
    """
    Say whether a set-up that was released before must be checked anew in this shift.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    str
        Why; empty where a coupon of this shift was torn, or none was released before.
    """
    set_up = joint.made_with
    if not any(one.release.set_up == set_up for one in joint.releases):
        return ""
    torn = [one.coupon for one in series_of(desk, joint) if one.like_the_joint]
    if not torn or desk.now() - torn[-1].welded_at <= SHIFT:
        return ""
    hours = (desk.now() - torn[-1].welded_at).total_seconds() / 3600.0
    return f"The last coupon of this set-up was welded {hours:.0f} h ago: it is another shift."


def _policy(desk: Desk, joint: JointView, command: ReleaseSetUp) -> ValidityPolicy:
    given: dict[str, Any] = {}
    if command.hours is not None:
        given["hours"] = command.hours
    welds = command.max_welds
    if welds is None:
        usual, learned = _welds(joint, ValidityPolicy()), dress_interval_of(desk, joint)
        if usual is not None and learned is not None:
            welds = min(usual, learned[0])
    if welds is not None:
        given |= dict.fromkeys(("welds_coated", "welds_bare", "welds_arc"), welds)
    return ValidityPolicy(**given)
