"""Whether a set-up of the record may be released: its coupons, its machine's past, the physics.

The criterion goes first, then the rule on how likely the next welds are good. What was decided is
kept with the release, with all that is needed to work it out again.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from buttonhole.coupon.arc.piece import ArcPiece
from buttonhole.coupon.criterion import Limits
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.verdict import required_diameter
from buttonhole.desk.desk import Desk
from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.learned_joint import is_strict
from buttonhole.desk.learned_plugs import asked_plug, learned_plugs
from buttonhole.desk.machine_past import PastCoupon, dresses_of, face_now, past_of
from buttonhole.desk.next_plug import next_plug
from buttonhole.desk.series_of import SeriesCoupon, series_of
from buttonhole.desk.view import JointView
from buttonhole.learning.case import Case, JudgedCoupon
from buttonhole.learning.coupon_signs import process_of
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon, evidence_of
from buttonhole.procedure.machine import SpotMachine
from buttonhole.units import BadInput

if TYPE_CHECKING:  # the nets of the emulator are slow to load
    from buttonhole.desk.learned_joint import LearnedMachine
    from buttonhole.learning.decision import ReleaseDecision
    from buttonhole.learning.posterior import Posterior

SEED = 1  # kept beside every decision
DIAMETERS = frozenset({Limits.DIAMETER, Limits.TORN_DIAMETER})  # they scatter as sizes do
NOT_LEARNED = (
    "No model of this kind of weld is learned from the record: the criterion and counting decide, "
    "and more coupons are asked for."
)
ENGINE = "quick"


@dataclass(frozen=True, slots=True)
class JointCase:
    """What is asked of a joint's machine, with the coupons of the series and all others.

    ``why_plain`` says why no model has a say; then ``case`` is None. ``least`` [m] by interface.
    """

    joint: JointView
    case: Case | None
    series: tuple[JudgedCoupon, ...]
    unlike: tuple[JudgedCoupon, ...]
    history: tuple[LearningCoupon, ...]
    least: tuple[float, ...]  # m
    ids: tuple[str, ...]  # of the coupons that count, for the record
    history_ids: tuple[str, ...]
    welds: int = 1
    why_plain: str = ""
    left_out: tuple[str, ...] = ()

    @property
    def taught(self) -> tuple[LearningCoupon, ...]:
        """Everything the machine is learned from."""
        return (*self.history, *(each.coupon for each in self.series))


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision with its answer as it is shown, given as JSON and kept in the record."""

    decision: "ReleaseDecision"
    answer: Mapping[str, Any]


def joint_case(desk: Desk, joint: JointView, *, welds: int = 1, recheck: bool = False) -> JointCase:
    """
    Put together what is known of a joint's set-up.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        With an accepted set-up.
    welds : int
        How many are asked for [-].
    recheck : bool
        The machine is well known and quiet: one coupon may do.

    Returns
    -------
    JointCase
        Ready to be decided on.

    Raises
    ------
    BadInput
        When no set-up is accepted.
    """
    if joint.accepted is None:
        raise BadInput("set_up", "is not accepted yet; accept one and weld a coupon with it")
    series = series_of(desk, joint)
    process = _process(joint)
    past = past_of(desk, joint.accepted.surroundings.machine, process)
    case, machine, why = None, None, NOT_LEARNED
    least = _least_of(series)
    if joint.arc is None:
        case, machine, why = _spot_case(desk, joint, past, welds, recheck=recheck)
        rule = criterion_of(joint)
        least = tuple(
            required_diameter(rule, joint.stack, face).diameter for face in joint.stack.interfaces
        )
    elif process == "plug":
        case, machine, why = _plug_case(joint, past, welds, recheck=recheck)
        least = case.of.least if case else least
    counted = [one for one in series if one.coupon.is_judged]
    alike = [_judged(one, machine) for one in counted if one.like_the_joint]
    if case is not None and any(not each.coupon.evidence for each in alike):
        case, why = None, "A coupon lies outside what the model of this weld knows."
    ids = tuple(one.coupon.id for one in counted if one.like_the_joint)
    others = _others(past, machine, ids)
    return JointCase(
        joint,
        case,
        tuple(alike),
        tuple(_judged(one, machine) for one in counted if not one.like_the_joint),
        tuple(others.values()),
        least,
        ids,
        tuple(others),
        welds,
        why,
        machine.left_out if machine else (),
    )


def _spot_case(
    desk: Desk, joint: JointView, past: Sequence[PastCoupon], welds: int, *, recheck: bool
) -> "tuple[Case | None, LearnedMachine | None, str]":
    """What is asked of a machine that can be learned; else why it can't."""
    # The nets of the emulator are slow to load, and most steps do not need them.
    from buttonhole.desk.learned_machine import learned_machine

    try:
        machine = learned_machine(past, _asked(desk, joint))
    except BadInput as bad:
        return None, None, f"No model of this weld can be learned with: {bad}."
    case = Case(machine.model, machine.joint, machine.point, machine.current, welds, recheck)
    return case, machine, ""


def _plug_case(
    joint: JointView, past: Sequence[PastCoupon], welds: int, *, recheck: bool
) -> "tuple[Case | None, LearnedMachine | None, str]":
    """What is asked of a feeder whose plugs can be learned; else why they can't."""
    try:
        weld, least = asked_plug(joint)
        machine = learned_plugs(past, weld, least)
    except BadInput as bad:
        return None, None, f"No model of this weld can be learned with: {bad}."
    case = Case(machine.model, machine.joint, machine.point, machine.current, welds, recheck)
    return case, machine, ""


def _process(joint: JointView) -> str:
    """As coupons are taught by: spot, plug, seam, braze or aluminium."""
    piece = joint.joined
    return process_of(piece) if isinstance(piece, ArcPiece) else "spot"


def _least_of(series: Sequence[SeriesCoupon]) -> tuple[float, ...]:
    """Least diameters that coupons were judged by [m]; empty where no diameter was judged."""
    judged = {
        each.interface: each.verdict
        for one in series
        for each in one.coupon.judged
        if each.verdict.quantity in DIAMETERS
    }
    faces = sorted(judged)
    whole = faces == list(range(len(series[-1].coupon.joined.interfaces))) if series else False
    return tuple(judged[face].limit for face in faces) if whole else ()


def decide_release(
    desk: Desk, joint: JointView, *, welds: int, recheck: bool = False, plan: bool = True
) -> Decided:
    """
    Decide whether the accepted set-up of a joint may be released.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.
    welds : int
        How many are asked for [-].
    recheck : bool
        The machine is well known and quiet: one coupon may do.
    plan : bool
        Also propose the next coupon where it is not released.

    Returns
    -------
    Decided
        The same record gives the same figures again.

    Raises
    ------
    BadInput
        When no set-up is accepted.
    """
    return decided_of(joint_case(desk, joint, welds=welds, recheck=recheck), desk, plan=plan)


def decided_of(found: JointCase, desk: Desk, *, plan: bool = True) -> Decided:
    """
    Decide on a case that was put together.

    Parameters
    ----------
    found : JointCase
        The case.
    desk : Desk
        Where the person works.
    plan : bool
        Also propose the next coupon where it is not released.

    Returns
    -------
    Decided
        With its answer.
    """
    from buttonhole.desk.decision_answer import decided_answer
    from buttonhole.learning.decision import Step, decide, unlike_said
    from buttonhole.learning.plain_decision import decide_plainly
    from buttonhole.learning.posterior import outlook

    if found.case is None:
        strict = _is_strict(found.joint)
        decision = decide_plainly(
            found.least, found.series, found.why_plain, welds=found.welds, strict=strict
        )
    else:
        decision = decide(found.case, found.series, found.history, seed=SEED, engine=ENGINE)
    reasons = (*decision.reasons, *unlike_said(found.unlike))
    decision = replace(decision, reasons=tuple(dict.fromkeys(reasons)))
    proposed, seen = None, None
    if found.case is not None:
        posterior = learned(found)
        asked = found.case
        seen = outlook(posterior, asked.model.setting(asked.joint, asked.point, asked.current))
        if plan and decision.step is not Step.RELEASE:
            proposed = next_coupon(desk, found, posterior, moved=decision.step is not Step.ANOTHER)
    return Decided(decision, decided_answer(found, decision, proposed, seen))


def next_coupon(
    desk: Desk, found: JointCase, posterior: "Posterior", *, moved: bool = False
) -> Mapping[str, Any] | None:
    """
    Propose the set-up of the next coupon, within what the machine can be set to.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    found : JointCase
        What is asked.
    posterior : Posterior
        What is believed of its machine.
    moved : bool
        Not the setting as it is: more coupons of that one hardly do.

    Returns
    -------
    mapping or None
        Keys with units; None where nothing near can be set, or no model has a say.
    """
    from buttonhole.desk.decision_answer import proposed_answer
    from buttonhole.learning.next_coupon import candidates, choose

    case, joint = found.case, found.joint
    if case is None:
        return None
    if joint.arc is not None:
        return next_plug(joint.arc.weld.set_up, case, posterior, moved=moved)
    if joint.set_up is None:
        return None
    limits = _limits(desk, joint)
    current = (limits.current_min, limits.current_max) if limits else None
    try:
        tried = candidates("spot", case.of, case.point, current)
    except BadInput:
        return None
    most = math.inf if limits is None else limits.force_limit(_arms(limits, joint))
    force = joint.set_up.set_up.electrode_force
    kept = [one for one in tried if force * math.exp(one.point[2] - case.point[2]) <= most + 1.0]
    if moved:
        kept = [one for one in kept if one.point != case.point]
    if not kept:
        return None
    chosen = choose(posterior, case.joint, kept)
    return proposed_answer(joint.set_up.set_up, case, chosen)


def plan_coupon(desk: Desk, joint: JointView) -> Mapping[str, Any]:
    """
    Propose the next coupon of a joint by everything its machine welded.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        With an accepted set-up.

    Returns
    -------
    mapping
        Keys with units.

    Raises
    ------
    BadInput
        When no set-up is accepted, no model of the weld can be learned with, or nothing near can
        be set.
    """
    from buttonhole.learning.decision import PREVAILS

    found = joint_case(desk, joint)
    if found.case is None:
        raise BadInput("joint", found.why_plain)
    proposed = next_coupon(desk, found, learned(found))
    if proposed is None:
        raise BadInput("set_up", "has no setting near it that the machine can be set to")
    return {**proposed, "seed": SEED, "caution": PREVAILS}


def learned(found: JointCase) -> "Posterior":
    """
    Learn the machine from everything a case holds.

    Parameters
    ----------
    found : JointCase
        With a model.

    Returns
    -------
    Posterior
        By the seed and engine of every decision.
    """
    from buttonhole.learning.posterior import learn

    assert found.case is not None  # noqa: S101 - asked by whoever calls
    return learn(found.case.model, found.taught, seed=SEED, engine=ENGINE)


def _asked(desk: Desk, joint: JointView) -> Any:
    from buttonhole.desk.describe_supply import supply_drop
    from buttonhole.desk.learned_machine import Asked

    assert joint.set_up is not None  # noqa: S101 - checked before
    there = joint.set_up.surroundings
    return Asked(
        joint.stack,
        joint.set_up.set_up,
        criterion_of(joint),
        face_now(joint.set_up.set_up, dresses_of(desk, there.machine)),
        supply_drop(desk, there) or 0.0,
    )


def _judged(one: SeriesCoupon, machine: "LearnedMachine | None") -> JudgedCoupon:
    taught = machine.coupons.get(one.coupon.id) if machine else None
    name = str(one.coupon.number)
    if taught is None:
        taught = LearningCoupon(name, "", (), ())
        if machine is None:
            taught = replace(taught, evidence=_evidence(one))  # of sizes alone
    return JudgedCoupon(replace(taught, key=name), one.outcome, one.differences)


def _evidence(one: SeriesCoupon) -> tuple[Evidence, ...]:
    """What a coupon shows where no surrogate holds it: the sizes it was judged by."""
    found: list[Evidence] = []
    for each in one.coupon.judged:
        if isinstance(each.reading, Reading):
            found += evidence_of(each.reading)
        elif each.verdict.quantity in DIAMETERS and each.verdict.mean_diameter > 0.0:
            u = 0.5 * each.verdict.expanded_uncertainty
            size = each.verdict.mean_diameter
            found.append(Evidence(Kind.MEASURED, each.interface, size, uncertainty=u))
    return tuple(found)


def _is_strict(joint: JointView) -> bool:
    if joint.arc is not None:
        piece = joint.joined
        return isinstance(piece, ArcPiece) and bool(piece.strict)
    return is_strict([sheet.steel for sheet in joint.stack.sheets], len(joint.stack.sheets))


def _others(
    past: Sequence[PastCoupon], machine: "LearnedMachine | None", ids: Sequence[str]
) -> dict[str, LearningCoupon]:
    if machine is None:
        return {}
    return {
        one.coupon.id: machine.coupons[one.coupon.id]
        for one in past
        if one.coupon.id in machine.coupons and one.coupon.id not in ids
    }


def _limits(desk: Desk, joint: JointView) -> SpotMachine | None:
    """What the machine can be set to, where the set-up was proposed for it."""
    from buttonhole.desk.written import read

    if joint.proposal is None or joint.set_up is None:
        return None
    if joint.proposal.machine != joint.set_up.surroundings.machine:
        return None
    event = desk.store.event(joint.proposal.event_id)
    return None if event is None else read(SpotMachine, event.payload["machine"])


def _arms(machine: SpotMachine, joint: JointView) -> str | None:
    assert joint.set_up is not None  # noqa: S101 - checked before
    name = joint.set_up.surroundings.arm_pair
    return name if name in {one.name for one in machine.arm_pairs} else None
