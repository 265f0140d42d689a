"""What was learned, decided, planned or diagnosed, as keys with units."""

import math
from collections.abc import Sequence
from typing import Any

from buttonhole.desk.learning_case import LearningCase
from buttonhole.learning.beliefs import Unknown
from buttonhole.learning.decision import PREVAILS, ReleaseDecision, decide
from buttonhole.learning.diagnosis import Checked, Diagnosis, Failure, diagnose
from buttonhole.learning.evidence import Kind, LearningCoupon
from buttonhole.learning.next_coupon import Candidate, candidates, choose
from buttonhole.learning.posterior import Posterior, learn, outlook
from buttonhole.weld.estimate import Estimate

SEED = 1  # kept beside every answer


def learn_answer(case: LearningCase, *, seed: int = SEED) -> dict[str, Any]:
    """Learn the machine and say what would be decided.

    Parameters
    ----------
    case : LearningCase
        What is known.
    seed : int
        Of the draws.

    Returns
    -------
    dict
        Keys with units, as for JSON.
    """
    posterior = _learned(case, seed)
    own, asked = posterior.model, case.case
    seen = outlook(posterior, own.setting(asked.joint, asked.point, asked.current))
    decision = decide(asked, case.series, _with_meters(case), seed=seed)
    unknowns = {
        one.name: {
            "unit": _unit(one),
            **interval_keys(posterior.unknown(one.name), one.per_current or 1.0),
        }
        for one in own.unknowns
    }
    return {
        "process": case.process,
        "coupons": len(case.series),
        "history": len(case.history),
        "machine": unknowns,
        "scatter_mm": interval_keys(posterior.unknown("scatter"), 1e3),
        "next_weld": {
            "size_mm": [interval_keys(one, 1e3) for one in seen.size],
            "least_mm": [1e3 * one for one in asked.of.least],
            "what": list(asked.of.names),
            "good": interval_keys(seen.chance),
            "nine_of_ten_good": seen.assurance,
            "splash": seen.splash,
            "too_small": seen.small,
        },
        "decision": decision_keys(decision),
        "engine": posterior.draws.engine,
        "effective_draws": posterior.draws.effective,
        "handed_over": posterior.handed_over,
        "seed": seed,
        "surrogate_error_mm": 1e3 * asked.of.surrogate.size_error,
        "caution": PREVAILS,
    }


def _learned(case: LearningCase, seed: int) -> Posterior:
    coupons = [*_with_meters(case), *(one.coupon for one in case.series)]
    return learn(case.case.model, coupons, seed=seed, engine="quick")


def _with_meters(case: LearningCase) -> tuple[LearningCoupon, ...]:
    if not case.meters:
        return case.history
    asked = case.case
    read = LearningCoupon("meters", asked.joint, asked.point, case.meters, asked.current)
    return (*case.history, read)


def decision_keys(found: ReleaseDecision) -> dict[str, Any]:
    """What was decided, as keys with units.

    Parameters
    ----------
    found : ReleaseDecision
        The decision.

    Returns
    -------
    dict
        As for JSON.
    """
    shares = found.carried.shares if found.carried else None
    return {
        "step": found.step.value,
        "words": found.words,
        "reasons": list(found.reasons),
        "counting_alone": found.counting.text if found.counting else "",
        "model_votes": found.model_votes,
        "expected_bad_welds": found.undersize,
        "all_good": found.all_good,
        "carried_by": dict(zip(("diameters", "physics", "history"), shares, strict=True))
        if shares
        else None,
        "overturned_under_mm": None if math.isnan(found.overturns) else 1e3 * found.overturns,
    }


def interval_keys(one: Estimate, factor: float = 1.0) -> dict[str, float]:
    """A value with its 90 % interval.

    Parameters
    ----------
    one : Estimate
        The value [SI].
    factor : float
        From SI to the unit of the key [-].

    Returns
    -------
    dict
        ``value``, ``low`` and ``high``.
    """
    return {"value": factor * one.value, "low": factor * one.low, "high": factor * one.high}


def _unit(one: Unknown) -> str:
    if one.per_current:
        return "A"
    return "m" if one.moves in ("gap", "stray") else "log of true over set"


def plan_answer(
    case: LearningCase, limits: tuple[float, float] | None = None, *, seed: int = SEED
) -> dict[str, Any]:
    """Choose the next coupon.

    Parameters
    ----------
    case : LearningCase
        What is known.
    limits : tuple of float, optional
        Of the current the machine can be set to [A].
    seed : int
        Of the draws.

    Returns
    -------
    dict
        Keys with units, as for JSON.
    """
    posterior = _learned(case, seed)
    asked = case.case
    tried = candidates(case.process, asked.of, asked.point, limits)
    found = choose(posterior, asked.joint, tried)
    return {
        "process": case.process,
        "robust": bool(found.robust),
        "words": found.words,
        "next": setting_keys(found.candidate, case.process),
        "expected_cut": found.cut,
        "splash": found.splash,
        "best": setting_keys(found.best, case.process),
        "best_good": interval_keys(found.best_outlook.chance),
        "hope": found.hope,
        "seed": seed,
        "caution": PREVAILS,
    }


def setting_keys(one: Candidate, process: str) -> dict[str, float]:
    """A setting that may be tried, by how much it changes what is set.

    Parameters
    ----------
    one : Candidate
        The setting.
    process : str
        spot, plug, seam, braze or aluminium.

    Returns
    -------
    dict
        Keys with units.
    """
    arc = ("feed", "voltage", "time" if process == "plug" else "speed")
    names = ("current", "time", "force") if process == "spot" else arc
    found = {
        f"{name}_change_percent": 100.0 * (math.exp(step) - 1.0)
        for name, step in zip(names, one.point, strict=False)
    }
    if process == "spot":
        found["welding_current_kA"] = one.current * 1e-3
    return found


def diagnose_answer(
    process: str,
    signs: Sequence[str] = (),
    checked: Sequence[str] = (),
    case: LearningCase | None = None,
    *,
    seed: int = SEED,
) -> dict[str, Any]:
    """Find what is wrong.

    Parameters
    ----------
    process : str
        spot, plug, seam, braze or aluminium.
    signs : sequence of str
        Rows of the list of signs.
    checked : sequence of str
        ``measure the tip faces: no``.
    case : LearningCase, optional
        Failed coupons and meters, with the machine's history.
    seed : int
        Of the draws.

    Returns
    -------
    dict
        Keys with units, as for JSON.
    """
    done = tuple(checked_in_words(one) for one in checked)
    rows = tuple(one.strip().upper() for one in signs)
    if case is None:
        return diagnosis_keys(process, diagnose(Failure(process, signs=rows, checked=done)))
    failed = tuple(one.coupon for one in case.series)
    rows = rows or tuple(row_shown(case.process, failed, case.case.of.least))
    before = learn(case.case.model, case.history, seed=seed, engine="quick")
    failure = Failure(process, failed, case.meters, rows, done)
    return diagnosis_keys(process, diagnose(failure, before, seed=seed))


def row_shown(process: str, coupons: Sequence[LearningCoupon], least: Sequence[float]) -> list[str]:
    """Find the row of the list of signs that torn coupons show by themselves.

    Parameters
    ----------
    process : str
        spot, plug, seam, braze or aluminium.
    coupons : sequence of LearningCoupon
        What they showed.
    least : sequence of float
        Smallest diameter that is good, by interface [m].

    Returns
    -------
    list of str
        One row, or none.
    """
    rows = ROWS[process]
    every = [one for each in coupons for one in each.evidence]
    if any(one.kind is Kind.EXPULSION for one in every):
        return [rows[0]]
    if any(one.kind is Kind.NO_BUTTON for one in every):
        return [rows[1]]
    if any(one.kind is Kind.MEASURED and one.value < least[one.interface] for one in every):
        return list(rows[2:])
    return []


# What a spoiled, a missing and a small weld show, where nobody named a row
ROWS = {
    "spot": ("S3", "S2", "S1"),
    "plug": ("P2", "P1", "P7"),
    "seam": ("M2", "M1"),
    "braze": ("B1", "B2"),
    "aluminium": ("A6", "A2"),
}


def checked_in_words(text: str) -> Checked:
    """Read what a check showed.

    Parameters
    ----------
    text : str
        ``measure the tip faces: no``.

    Returns
    -------
    Checked
        Found by ``yes``, ``true`` or ``found``.
    """
    words, _, answer = text.rpartition(":")
    return Checked(words.strip(), answer.strip().casefold() in ("yes", "true", "found"))


def diagnosis_keys(process: str, found: Diagnosis) -> dict[str, Any]:
    """Suspects with what speaks for and against them, and the check that separates them.

    Parameters
    ----------
    process : str
        spot, plug, seam, braze or aluminium.
    found : Diagnosis
        The diagnosis.

    Returns
    -------
    dict
        Keys with units.
    """
    return {
        "process": process,
        "words": found.words,
        "suspects": [
            {
                "cause": one.cause.key,
                "words": one.cause.words,
                "chance": one.chance,
                "for": list(one.speaks_for),
                "against": list(one.speaks_against),
                "correction": one.cause.correction,
                "alike": [
                    {"cause": each.key, "words": each.words, "check": each.check}
                    for each in one.alike
                ],
                "remedy": {
                    "size_before_mm": 1e3 * one.remedy.size_before,
                    "size_after_mm": 1e3 * one.remedy.size_after,
                    "bad_before": one.remedy.bad_before,
                    "bad_after": one.remedy.bad_after,
                }
                if one.remedy
                else None,
            }
            for one in found.suspects
        ],
        "check": {
            "words": found.check.words,
            "minutes": found.check.minutes,
            "separates": list(found.check.separates),
        },
        "something_else": found.something_else,
        "single": found.single,
        "caution": PREVAILS,
    }
