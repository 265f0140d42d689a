"""Decide by which way a joint is joined, and write down what was chosen and why."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.joint_file import joint_of_weld
from buttonhole.desk.method_answer import method_answer
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.rule_book import book_for
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.procedure.joining.circumstances import (
    Circumstances,
    JointToJoin,
    joint_to_join,
)
from buttonhole.procedure.joining.decide import decide
from buttonhole.procedure.joining.decision import Decision, MethodStanding, Standing
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class TellCircumstances:
    """What is around a joint."""

    joint_id: str
    seen: str | None
    circumstances: Circumstances


@dataclass(frozen=True, slots=True)
class ChooseMethod:
    """Which of the ways found is taken; `reason` in one's own words may be left out."""

    joint_id: str
    seen: str | None
    method: JoiningMethod
    reason: str = ""


def tell_circumstances(desk: Desk, command: TellCircumstances) -> JointView:
    """
    Tell what is around a joint: access, flange, adhesive, zone and the like.

    Other circumstances end a release and take a chosen way of joining away.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : TellCircumstances
        What was found.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When a sheet is called aluminium that is not there.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    described_joint(replace(joint, circumstances=command.circumstances))
    about = about_joint(joint.job_id, joint.id)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "circumstances": command.circumstances,
    }
    save(desk, [desk.draft("circumstances_told", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def described_joint(joint: JointView) -> JointToJoin:
    """
    Return the sheets of a joint with what is around them, whichever way it is welded.

    Parameters
    ----------
    joint : JointView
        The joint; where nothing was told of an arc weld, what its file says counts.

    Returns
    -------
    JointToJoin
        What the rules are asked about.

    Raises
    ------
    BadInput
        When a sheet is called aluminium that is not there.
    """
    if joint.arc is None:
        return joint_to_join(joint.stack, joint.circumstances)
    described = joint_of_weld(joint.arc.chosen)
    if not joint.circumstances.is_told:
        return described
    return replace(described, circumstances=joint.circumstances)


def joint_decision(desk: Desk, joint: JointView) -> Decision:
    """
    Decide about a joint by the rules in force today. Nothing is written.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    Decision
        Every way of joining with its reasons.
    """
    described = described_joint(joint)
    told = described.circumstances
    if told.original_count is None and joint.old_spots:
        described = replace(described, circumstances=replace(told, original_count=joint.old_spots))
    today = desk.shop_time(desk.now()).date()
    scopes = (f"joint/{joint.id}", f"job/{joint.job_id}")
    return decide(described, book_for(desk, joint), today, *scopes)


def allowed_or_marked(
    desk: Desk, joint: JointView, ways: Iterable[JoiningMethod]
) -> MethodStanding:
    """
    Look how the weld that is to be set up stands, before its set-up is accepted.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.
    ways : iterable of JoiningMethod
        The weld.

    Returns
    -------
    MethodStanding
        Its `mark` goes with the set-up.

    Raises
    ------
    BadInput
        When the maker's text is against it and no deviation is signed.
    """
    standing = joint_decision(desk, joint).best_of(tuple(ways))
    if standing.is_makers and standing.standing is Standing.REJECTED and not joint.deviates:
        raise BadInput(
            "set_up",
            f"is for a {standing.method.words}, and the maker's text is against it: "
            f"{' '.join(standing.why)} Join it as the maker says, or have a deviation signed by "
            "two people",
        )
    return standing


def choose_method(desk: Desk, command: ChooseMethod) -> JointView:
    """
    Choose a way of joining; the whole decision of the day is written down with it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : ChooseMethod
        The way.

    Returns
    -------
    JointView
        The joint; `decision.mark` says when it is not the maker's.

    Raises
    ------
    BadInput
        When no rule allows it and no deviation is signed for the joint.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    decision = joint_decision(desk, joint)
    standing = decision.standing(command.method)
    if standing.standing is not Standing.ALLOWED and not joint.deviates:
        raise BadInput("method", _why_not(standing))
    about = about_joint(joint.job_id, joint.id)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "method": command.method.value,
        "mark": standing.mark,
        "reason": text("reason", command.reason, need=False, longest=LONGEST_TEXT),
        "rule_names": [one.name for one in decision.rules],
        "found": method_answer(decision),
    }
    save(desk, [desk.draft("method_decided", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def _why_not(standing: MethodStanding) -> str:
    words = {
        Standing.ASK: "waits for the maker's word",
        Standing.TELL: "can't be decided yet",
        Standing.REJECTED: "is rejected",
    }[standing.standing]
    return (
        f"{standing.method.value} {words}: {' '.join(standing.why)} Ask the maker and file the "
        "answer, or have a deviation signed by two people"
    )
