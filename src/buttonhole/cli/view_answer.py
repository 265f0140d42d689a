"""Joints, coupons and verdicts as JSON objects with units in the key names."""

from typing import Any

from buttonhole.cli.arc_coupon_text import arc_reading_answer, arc_size_answer
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.difference import ReadBack
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.verdict import Verdict
from buttonhole.desk.arc_view import ArcView
from buttonhole.desk.rules import listed_rules
from buttonhole.desk.spot_answer import limits_answer
from buttonhole.desk.view import CouponView, JointView, ReleaseView
from buttonhole.desk.weld_file import set_up_keys
from buttonhole.desk.welding_view import EndCheck
from buttonhole.desk.written import written


def verdict_answer(
    reading: Reading | ArcReading, verdict: Verdict, criterion: Criterion
) -> dict[str, Any]:
    """One judged reading; lengths in mm."""
    if isinstance(reading, ArcReading):
        sizes = {**arc_reading_answer(reading), **arc_size_answer(verdict)}
    else:
        sizes = _spot_sizes(reading, verdict)
    return {
        **sizes,
        "minimum_rule": criterion.key,
        "minimum_name": criterion.name,
        "minimum_source": criterion.source,
        "minimum_mark": criterion.mark,
        "expanded_uncertainty_mm": verdict.expanded_uncertainty * 1e3,
        "guard_band_mm": verdict.guard_band * 1e3,
        "guarded_minimum_mm": verdict.guarded_limit * 1e3,
        "margin_mm": verdict.margin * 1e3,
        "probability_over_minimum": verdict.probability_over_limit,
        "outcome": verdict.outcome.value,
        "reasons": list(verdict.reasons),
        "next_action": verdict.next_action,
        "cautions": list(verdict.cautions),
    }


def _spot_sizes(reading: Reading, verdict: Verdict) -> dict[str, Any]:
    return {
        "interface": verdict.interface + 1,
        "test": reading.test.value,
        "mode": None if reading.mode is None else reading.mode.value,
        "largest_diameter_mm": reading.d_max * 1e3,
        "smallest_diameter_mm": reading.d_min * 1e3,
        "mean_diameter_mm": verdict.mean_diameter * 1e3,
        "minimum_diameter_mm": verdict.limit * 1e3,
    }


def joint_answer(joint: JointView) -> dict[str, Any]:
    """Everything about one joint; ``seen`` goes with the next command about it."""
    procedure = joint.procedure
    return {
        "id": joint.id,
        "job": joint.job_id,
        "name": joint.name,
        "location": joint.location,
        "state": joint.state.value,
        "seen": joint.seen,
        "demo": joint.demo,
        **(_spot(joint) if joint.arc is None else _arc(joint.arc)),
        "old_spots": joint.old_spots,
        "required_spots": joint.required_spots,
        "circumstances": written(joint.circumstances),
        "method": _way(joint),
        "authority": None
        if procedure is None
        else "deviation"
        if procedure.is_deviation
        else "maker",
        "coupons": [_coupon(one) for one in joint.coupons],
        "release": None if joint.release is None else _release(joint.release),
        "releases": [_release(one) for one in joint.releases],
        "end_checks": [end_check_answer(one) for one in joint.end_checks],
        "papers": [
            {"kind": one.kind, "serves": one.serves, "sha256": one.sha256} for one in joint.papers
        ],
    }


def _way(joint: JointView) -> dict[str, Any] | None:
    if joint.decision is None:
        return None
    return {
        "method": joint.decision.method.value,
        "mark": joint.decision.mark,
        "decided_by": joint.decision.decided_by,
        "decided_at": joint.decision.at.isoformat(),
        "reason": joint.decision.reason,
        "rules": list(joint.decision.rules),
        "found": joint.decision.found,
    }


def _spot(joint: JointView) -> dict[str, Any]:
    chosen = joint.set_up or joint.proposal
    return {
        "process": "spot",
        "sheets": [
            {
                "steel": one.steel.designation,
                "thickness_mm": one.thickness * 1e3,
                "coating": one.coating.value,
            }
            for one in joint.stack.sheets
        ],
        "gap_mm": joint.stack.gap * 1e3,
        "interfaces": [
            {"index": one.index, "limits": limits_answer(joint.stack, one, listed_rules())}
            for one in joint.stack.interfaces
        ],
        "set_up": None if chosen is None else set_up_keys(chosen.set_up),
        "set_up_accepted": joint.set_up is not None,
        "set_up_mark": joint.set_up.mark if joint.set_up else "",
    }


def _arc(arc: ArcView) -> dict[str, Any]:
    """The keys of its weld file, and what was predicted and seen."""
    return {
        "process": arc.kind.value,
        "weld": dict(arc.chosen),
        "set_up_accepted": arc.set_up is not None,
        "predictions": [dict(one.answer) for one in arc.predictions],
        "looks": [
            {"seen_by": one.seen_by, "at": one.at.isoformat(), "looked": one.looked,
             "inside": one.answer}
            for one in arc.looks
        ],
    }  # fmt: skip


def _coupon(coupon: CouponView) -> dict[str, Any]:
    return {
        "number": coupon.number,
        "id": coupon.id,
        "welded_at": coupon.welded_at.isoformat(),
        "welded_by": coupon.welded_by,
        "measured_with": coupon.measured_with,
        "welds_since_dress": coupon.welds_since_dress,
        "weld": None if coupon.weld is None else dict(coupon.weld),
        "surroundings": written(coupon.surroundings),
        "read_back": _read_back(coupon.read_back),
        "differences": [
            {
                "item": one.item,
                "on_joint": one.on_joint,
                "on_coupon": one.on_coupon,
                "level": one.level.value,
                "advice": one.advice,
            }
            for one in coupon.differences
        ],
        "judged": [
            verdict_answer(one.reading, one.verdict, one.criterion) for one in coupon.judged
        ],
        "accepted": coupon.accepted,
    }


def _read_back(shown: ReadBack) -> dict[str, float | None]:
    """What the machine showed; null where it showed nothing."""
    named = (
        ("current_A", shown.current, 1.0),
        ("force_kN", shown.force, 1e-3),
        ("weld_time_ms", shown.weld_time, 1e3),
        ("arc_voltage_V", shown.voltage, 1.0),
        ("wire_feed_speed_m_per_min", shown.wire_feed_speed, 60.0),
        ("arc_time_s", shown.arc_time, 1.0),
    )
    return {key: None if value is None else value * factor for key, value, factor in named}


def end_check_answer(one: EndCheck) -> dict[str, Any]:
    """An end coupon beside the start coupon; lengths in mm."""
    return {
        "coupon": one.number,
        "start_coupon": one.start_number,
        "interface": one.interface + 1,
        "start_mm": one.start * 1e3,
        "end_mm": one.end * 1e3,
        "minimum_mm": one.limit * 1e3,
        "accepted": one.accepted,
        "drifts": one.drifts,
        "fall_mm": one.fall * 1e3,
        "welds": one.welds,
        "dress_interval_welds": one.interval,
        "wedge_welds": None if one.look_at is None else list(one.look_at),
        "words": one.words,
    }


def _release(release: ReleaseView) -> dict[str, Any]:
    return {
        "id": release.id,
        "released_at": release.at.isoformat(),
        "released_by": release.released_by,
        "valid": release.valid,
        "valid_until": release.release.valid_until.isoformat(),
        "max_welds": release.release.max_welds,
        "ends_when": list(release.release.ends_when),
        "rules": list(release.release.rules),
        "cautions": list(release.release.cautions),
        "decision": dict(release.decision) or None,
        "overruled": written(release.release.overruled),
        "ended": list(release.ended),
    }
