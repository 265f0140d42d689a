"""Why a coupon of the record failed: three causes, the check that separates them, what it mends."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from buttonhole.coupon.difference import SAME_GAP
from buttonhole.desk.decide_release import ENGINE, SEED
from buttonhole.desk.desk import Desk
from buttonhole.desk.explain_coupon import shown_by
from buttonhole.desk.learned_plugs import NotWorkedOut, learned_plugs, only_kept
from buttonhole.desk.learning_answer import checked_in_words, diagnosis_keys, row_shown
from buttonhole.desk.machine_past import PastCoupon, past_of, welded_by
from buttonhole.desk.view import CouponView, JointView
from buttonhole.desk.weld_file import PlugWeldFile, arc_weld_file_from
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.learned_joint import LearnedMachine
    from buttonhole.learning.diagnosis import Checked


def diagnose_coupon(
    desk: Desk,
    joint: JointView,
    coupon: CouponView,
    checked: Sequence[str] = (),
    *,
    at_once: bool = False,
) -> dict[str, Any] | None:
    """
    Find why a coupon is not accepted.

    Coupons of the same set-up between the same two dresses that failed too are weighed with it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        Its joint.
    coupon : CouponView
        Read and judged.
    checked : sequence of str
        What checks showed: ``measure the tip faces: no``.
    at_once : bool
        Without waiting for a model of plugs that is not at hand.

    Returns
    -------
    dict or None
        Keys with units; None where it is accepted, or nothing is seen that speaks. Without a model
        of the weld the causes are weighed by what is seen alone.

    Raises
    ------
    BadInput
        When a check is none.
    """
    if not coupon.is_judged or not _failed(coupon):
        return None
    done = tuple(checked_in_words(one) for one in checked)
    process = welded_by(coupon)
    learned = process in ("spot", "plug")
    measured = _measured(desk, joint, coupon, done, at_once=at_once) if learned else None
    return measured or _by_signs(coupon, done)


def _by_signs(coupon: CouponView, done: "tuple[Checked, ...]") -> dict[str, Any] | None:
    """By what is seen alone, where no model of the weld can be learned with."""
    from buttonhole.learning.diagnosis import Failure, diagnose

    process, rows = shown_by(coupon)
    if not rows:
        return None
    found = diagnose(Failure(process, signs=rows[:1], checked=done), seed=SEED)
    return {**diagnosis_keys(process, found), "coupons": [coupon.number], "seed": SEED}


def _measured(
    desk: Desk,
    joint: JointView,
    coupon: CouponView,
    done: "tuple[Checked, ...]",
    *,
    at_once: bool,
) -> dict[str, Any] | None:
    """By what was measured, beside what was believed of the machine before."""
    # The nets of the emulator are slow to load, and most steps do not need them.
    from buttonhole.learning.diagnosis import Failure, diagnose
    from buttonhole.learning.posterior import learn

    process = welded_by(coupon)
    past = past_of(desk, coupon.surroundings.machine, process)
    own = next((one for one in past if one.coupon.id == coupon.id), None)
    if own is None:
        return None
    failed = [one for one in past if _together(one, own)]
    gap = joint.joined.gap
    try:
        machine = _machine_of(past, own, gap, at_once=at_once)
        taught = tuple(_as_due(machine.coupons[one.coupon.id], gap, process) for one in failed)
    except (BadInput, KeyError, NotWorkedOut):
        return None
    first = past.index(failed[0])
    earlier = [one.coupon.id for one in past[:first] if one.coupon.id in machine.coupons]
    before = learn(
        machine.model, [machine.coupons[one] for one in earlier], seed=SEED, engine=ENGINE
    )
    rows = tuple(row_shown(process, taught, machine.model.joints[machine.joint].least))
    meters = _gap_noted(joint, failed)
    found = diagnose(Failure(process, taught, meters, rows, done), before, seed=SEED)
    numbers = [one.coupon.number for one in failed]
    return {**diagnosis_keys(process, found), "coupons": numbers, "seed": SEED}


def _machine_of(
    past: Sequence[PastCoupon], own: PastCoupon, gap: float, *, at_once: bool
) -> "LearnedMachine":
    """The machine as it welded a coupon that should have had this gap [m]."""
    coupon = own.coupon
    if coupon.weld is not None:
        weld = arc_weld_file_from(coupon.weld)
        if not isinstance(weld, PlugWeldFile):
            raise BadInput("coupon", "is no plug")
        plug = weld.joint
        due = replace(weld, joint=replace(plug, stack=replace(plug.stack, gap=gap)))
        least = [one.verdict.limit for one in coupon.judged]
        return learned_plugs(past, due, least, only_kept if at_once else None)
    from buttonhole.desk.learned_machine import Asked, learned_machine

    stack = replace(coupon.stack, gap=gap)
    asked = Asked(stack, coupon.set_up, coupon.judged[0].criterion, own.face, own.drop)
    return learned_machine(past, asked)


def _as_due(coupon: LearningCoupon, gap: float, process: str) -> LearningCoupon:
    """The coupon as it should have been: a gap that was noted is a sign, not a setting."""
    from buttonhole.learning import plug_surrogate, spot_surrogate

    inputs = plug_surrogate.INPUTS if process == "plug" else spot_surrogate.INPUTS
    at = inputs.index("gap")
    return replace(coupon, point=(*coupon.point[:at], gap, *coupon.point[at + 1 :]))


def _gap_noted(joint: JointView, failed: Sequence[PastCoupon]) -> tuple[Evidence, ...]:
    """The widest gap that was noted on a coupon, where the joint stands less open."""
    widest = max(one.coupon.joined.gap for one in failed)
    if widest <= joint.joined.gap + SAME_GAP:
        return ()
    return (Evidence(Kind.METER, value=widest, uncertainty=SAME_GAP, meter="gap"),)


def _failed(coupon: CouponView) -> bool:
    return not all(one.verdict.outcome.accepted for one in coupon.judged)


def _together(one: PastCoupon, own: PastCoupon) -> bool:
    """Of the same joint, set-up and tips, judged, not accepted, not later."""
    return (
        one.joint.id == own.joint.id
        and one.dress == own.dress
        and one.coupon.made_with == own.coupon.made_with
        and one.coupon.number <= own.coupon.number
        and one.coupon.is_judged
        and _failed(one.coupon)
    )
