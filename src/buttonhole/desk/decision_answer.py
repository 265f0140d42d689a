"""A decision on a joint and the next coupon, as keys with units."""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from buttonhole.desk.learning_answer import decision_keys, interval_keys, setting_keys
from buttonhole.desk.predict_weld import data_digest
from buttonhole.learning.case import Case
from buttonhole.learning.decision import ReleaseDecision
from buttonhole.learning.next_coupon import SPLASHES, NextCoupon
from buttonhole.learning.posterior import Outlook
from buttonhole.weld.arc.plug import MODEL_VERSION as PLUG_VERSION
from buttonhole.weld.spot.set_up import SpotSetUp

if TYPE_CHECKING:
    from buttonhole.desk.decide_release import JointCase

LEARNING_VERSION = "1"  # of how coupons are learned from; raised when the same input says else
WORTH_SAYING = 0.001  # -, of a cut in the chance of a bad weld
CURRENT_STEP, TIME_STEP, FORCE_STEP = 50.0, 5e-3, 50.0  # A, s, N: what a gun can be set to


def decided_answer(
    found: "JointCase",
    decision: ReleaseDecision,
    proposed: Mapping[str, Any] | None,
    seen: Outlook | None,
) -> dict[str, Any]:
    """Say what was decided on a joint.

    Parameters
    ----------
    found : JointCase
        What was decided on.
    decision : ReleaseDecision
        The decision.
    proposed : mapping or None
        The next coupon.
    seen : Outlook or None
        What the next weld will be.

    Returns
    -------
    dict
        Keys with units, with everything that is needed to work it out again.
    """
    chance = decision.chance
    case = found.case
    return {
        **decision_keys(decision),
        "releases": decision.step.value == "release",
        "good": None if chance is None else interval_keys(chance),
        "nine_of_ten_good": _number(decision.assurance),
        "next_weld": _next_weld(seen),
        "process": case.model.beliefs.kind if case else "",
        "strict_class": bool(case and case.of.strict),
        "welds": case.welds if case else None,
        "least_mm": [1e3 * one for one in found.least],
        "coupons": list(found.ids),
        "history": list(found.history_ids),
        "coupons_counted": len(found.series),
        "history_counted": len(found.history),
        "left_out": list(found.left_out),
        "withdrawn": [
            f"{one.what}: {one.withdrawn}"
            for one in found.joint.history
            if one.withdrawn and one.kind.startswith("coupon")
        ],
        "without_model": found.why_plain if case is None else "",
        "next": None if proposed is None else dict(proposed),
        "caution": decision.cautions[0],
        "engine": decision.engine,
        "seed": decision.seed,
        "learning_version": LEARNING_VERSION,
        "model_version": model_version(case.model.beliefs.kind if case else "spot"),
        "data_digest": data_digest(),
    }


def _next_weld(seen: Outlook | None) -> dict[str, Any] | None:
    if seen is None:
        return None
    sizes = [interval_keys(one, 1e3) for one in seen.size]
    return {"size_mm": sizes, "splash": seen.splash, "too_small": seen.small}


def model_version(process: str = "spot") -> str:
    """The version of the solver that the surrogates of a process stand for."""
    if process == "plug":
        return PLUG_VERSION
    from buttonhole.weld.spot import MODEL_VERSION

    return MODEL_VERSION


def proposed_answer(set_up: SpotSetUp, case: Case, chosen: NextCoupon) -> dict[str, Any]:
    """Say what the next coupon should be welded with.

    Parameters
    ----------
    set_up : SpotSetUp
        As it is set now.
    case : Case
        What was asked.
    chosen : NextCoupon
        What was chosen.

    Returns
    -------
    dict
        Keys with units; what is set is rounded to what a gun can be set to.
    """
    moved = tuple(one - now for one, now in zip(chosen.candidate.point, case.point, strict=True))
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    set_to = (
        _step(main.current * math.exp(moved[0]), CURRENT_STEP),
        _step(main.time * math.exp(moved[1]), TIME_STEP),
        _step(set_up.electrode_force * math.exp(moved[2]), FORCE_STEP),
    )
    as_set = all(abs(one) < 0.005 for one in moved[:3])
    change = setting_keys(replace(chosen.candidate, point=moved), "spot")
    change["welding_current_kA"] = 1e-3 * set_to[0]
    current, seconds, force = set_to
    said = f"{current * 1e-3:.2f} kA, {seconds * 1e3:.0f} ms, {force * 1e-3:.2f} kN"
    return {
        **next_keys(chosen, said, change, as_set=as_set),
        "welding_current_kA": 1e-3 * set_to[0],
        "weld_time_ms": 1e3 * set_to[1],
        "electrode_force_kN": 1e-3 * set_to[2],
    }


def next_keys(
    chosen: NextCoupon, set_to: str, change: Mapping[str, float], *, as_set: bool
) -> dict[str, Any]:
    """Say of the next coupon what is alike for all processes.

    Parameters
    ----------
    chosen : NextCoupon
        What was chosen.
    set_to : str
        What is set, in words.
    change : mapping
        Against what is set now.
    as_set : bool
        Nothing is changed.

    Returns
    -------
    dict
        Keys with units.
    """
    return {
        "robust": bool(chosen.robust),
        "words": _words(chosen, set_to, as_set=as_set),
        "as_set": as_set,
        "change": dict(change),
        "expected_cut": chosen.cut,
        "best_good": interval_keys(chosen.best_outlook.chance),
        "hope": chosen.hope,
        "splash": chosen.splash,
    }


def _words(chosen: NextCoupon, set_to: str, *, as_set: bool) -> str:
    if not chosen.robust:
        return chosen.words
    how = "as it is set" if as_set else "with another setting"
    said = [
        f"Weld the next coupon {how}: {set_to}.",
    ]
    if chosen.cut >= WORTH_SAYING:
        said.append(
            f"It is expected to lower the chance of a bad weld by {100.0 * chosen.cut:.1f} points."
        )
    said.append(
        f"At the best setting known now {100.0 * chosen.best_now:.0f} in 100 welds are expected to "
        "be good."
    )
    if chosen.splash > SPLASHES:
        said.append(
            f"It may splash ({100.0 * chosen.splash:.0f} %), and every setting near it too: close "
            "the gap and check force and tips first."
        )
    return " ".join(said)


def _step(value: float, step: float) -> float:
    return round(value / step) * step


def _number(value: float) -> float | None:
    return value if math.isfinite(value) else None
