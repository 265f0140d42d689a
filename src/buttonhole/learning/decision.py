"""Whether a set-up may be released, from its coupons, the machine's history and the physics.

The criterion goes first: what it does not accept, no probability makes good. The numbers of the
rule are our own defaults after trials in simulated shops (docs/validation/learning), no source.
"""

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from buttonhole.coupon.difference import Level
from buttonhole.coupon.statistics import (
    Counting,
    counting_alone,
    tolerance_factor_one_sided,
)
from buttonhole.coupon.verdict import Outcome
from buttonhole.learning.case import Case, JudgedCoupon
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.foresight import surprises_in_order, with_evidence
from buttonhole.learning.model import Model
from buttonhole.learning.posterior import GOOD_SHARE, Outlook, Posterior, learn, outlook
from buttonhole.weld.estimate import Estimate

Array = NDArray[np.float64]

PREVAILS = (
    "The vehicle maker's procedure, local rules and licensed practice go before this decision."
)
FAR_OUT, OUT = 0.01, 0.10  # -, chance of a coupon so far from what was expected of it
DOUBTED = 4.0  # -, on how far sizes may be off when asking what the physics carried
WELL_KNOWN = 10  # measured coupons on a machine, from which its scatter counts as known


@dataclass(frozen=True, slots=True)
class ReleaseRule:
    """When welds are released. ``chance``, ``assurance`` [-]: that the next weld is good, and that
    nine of ten are; the two ``strict`` ones [-] for the strict class; ``give_up`` [-]: chance
    under which the set-up is to be changed; ``give_up_late`` [-]: assurance under which it is after
    ``new_shop`` coupons.
    """

    chance: float = 0.95  # -
    assurance: float = 0.95  # -
    strict_chance: float = 0.97  # -
    strict_assurance: float = 0.97  # -
    give_up: float = 0.30  # -
    give_up_late: float = 0.65  # -
    at_least: int = 2
    new_shop: int = 3
    stop_at: int = 5


class Step(StrEnum):
    """What is to be done; the value is the word in files and records."""

    RELEASE = "release"
    ANOTHER = "another_coupon"
    MOVE = "move_the_set_up"
    REFUSE = "refuse"


@dataclass(frozen=True, slots=True)
class Carried:
    """What made the chance what it is, in log-odds [-]: diameters of the series, physics, history.

    One below zero spoke against.
    """

    diameters: float  # -
    physics: float  # -
    history: float  # -

    @property
    def shares(self) -> tuple[float, float, float]:
        """Each one's share of all that spoke either way [-]."""
        parts = [abs(each) for each in (self.diameters, self.physics, self.history)]
        total = math.fsum(parts) or 1.0
        return parts[0] / total, parts[1] / total, parts[2] / total


@dataclass(frozen=True, slots=True)
class ReleaseDecision:
    """What is to be done and why.

    ``chance`` [-]: that the next weld is good, None while nothing is torn; ``assurance`` [-]: that
    nine of ten are. ``undersize`` [-]: welds of those asked for that are expected to be bad.
    ``model_votes``: False when coupons contradict the model. ``overturns`` [m]: a coupon below it
    would take the release away, NaN where none is given.
    """

    step: Step
    counting: Counting | None
    chance: Estimate | None  # -
    assurance: float  # -
    undersize: float  # -
    all_good: float  # -
    model_votes: bool
    carried: Carried | None
    overturns: float  # m
    reasons: tuple[str, ...]
    words: str
    cautions: tuple[str, ...]
    engine: str
    seed: int


def decide(
    case: Case,
    series: Sequence[JudgedCoupon],
    history: Sequence[LearningCoupon],
    *,
    seed: int,
    rule: ReleaseRule | None = None,
    engine: str = "quick",
    explain: bool = True,
) -> ReleaseDecision:
    """Decide on a set-up, never for a release of what the criterion does not accept.

    Parameters
    ----------
    case : Case
    series : sequence of JudgedCoupon
        Every coupon of this set-up in the order welded, none left out.
    history : sequence of LearningCoupon
        Every earlier coupon of the machine.
    seed, engine : int, str
        As in ``learn``; kept with the record.
    rule : ReleaseRule, optional
        When welds are released.
    explain : bool
        Also find what carried it and what would overturn it.

    Returns
    -------
    ReleaseDecision
    """
    rule, alike = rule or ReleaseRule(), [each for each in series if each.like_the_joint]
    taught = [*history, *(each.coupon for each in alike)]
    posterior = learn(case.model, taught, seed=seed, engine=engine)
    seen = outlook(posterior, case.model.setting(case.joint, case.point, case.current))
    before = learn(case.model, history, seed=seed, engine=engine)
    votes, conflict = _conflict(before, [each.coupon for each in alike])
    step, reasons = _step(case, series, history, posterior, seen, rule, votes)
    counted = [each for each in alike if each.outcome is not Outcome.INVALID]
    counting = counted_alone(counted)
    carried, overturns = None, math.nan
    if explain and counted and votes:
        carried = _carried(case, counted, posterior, seen, engine)
    if carried and step is Step.RELEASE:
        overturns = _overturns(case, posterior, seen, rule, _torn_before(history))
    return ReleaseDecision(
        step=step,
        counting=counting,
        chance=seen.chance,
        assurance=seen.assurance,
        undersize=case.welds * (1.0 - seen.chance.value),
        all_good=seen.all_good(case.welds, posterior.draws.weight),
        model_votes=votes,
        carried=carried,
        overturns=overturns,
        reasons=(*unlike_said(series), *conflict, *reasons),
        words=_words(case, counted, counting, seen, step, votes, carried, overturns, history),
        cautions=(PREVAILS,),
        engine=posterior.draws.engine,
        seed=seed,
    )


def counted_alone(counted: Sequence[JudgedCoupon]) -> Counting | None:
    """What pass and fail alone shows of the coupons that count; None of none.

    Parameters
    ----------
    counted : sequence of JudgedCoupon
        All that say something.

    Returns
    -------
    Counting or None
        With its sentence.
    """
    passed = sum(each.outcome.accepted for each in counted)
    return counting_alone(passed, len(counted)) if counted else None


def unlike_said(series: Sequence[JudgedCoupon]) -> list[str]:
    """Say of each coupon that is not the joint what is different about it.

    Parameters
    ----------
    series : sequence of JudgedCoupon
        Coupons with their differences.

    Returns
    -------
    list of str
        A sentence or two for each difference that matters.
    """
    return [
        f"Coupon {each.coupon.key} is not the joint ({one.item}: {one.on_coupon}, on the vehicle "
        f"{one.on_joint}): it does not count for it. "
        f"{one.advice or 'Weld a coupon that is the same as the joint.'}"
        for each in series
        for one in each.differences
        if one.level is Level.RED
    ]


def _conflict(before: Posterior, coupons: Sequence[LearningCoupon]) -> tuple[bool, list[str]]:
    """Whether the coupons are such as was expected of each after those before it."""
    torn = [one for one in coupons if not one.splashed and one.evidence]
    odds = dict(zip((one.key for one in torn), surprises_in_order(before, torn), strict=True))
    far = [key for key, chance in odds.items() if chance < FAR_OUT]
    out = [key for key, chance in odds.items() if chance < OUT]
    if not far and len(out) < 2:
        return True, []
    names = ", ".join(dict.fromkeys([*far, *out]))
    return False, [
        f"The model did not expect what coupon {names} showed, so it has no vote for a "
        "release: the diameters alone must carry it. Look for what is different: steel, coating, "
        "tips, supply, a reading."
    ]


def _torn_before(history: Sequence[LearningCoupon]) -> int:
    """How many earlier coupons were torn; a meter reading alone is none."""
    return sum(any(each.kind is not Kind.METER for each in one.evidence) for one in history)


def _earlier(history: Sequence[LearningCoupon]) -> str:
    count = _torn_before(history)
    return "1 earlier coupon" if count == 1 else f"{count} earlier coupons"


def _needed(case: Case, history: Sequence[LearningCoupon], rule: ReleaseRule) -> int:
    if case.recheck and _torn_before(history) >= WELL_KNOWN:
        return 1
    return rule.at_least if _torn_before(history) else max(rule.new_shop, rule.at_least)


def _limits(
    case: Case, posterior: Posterior, history_size: int, rule: ReleaseRule
) -> tuple[float, float, str]:
    """Least chance and assurance, and why where they are strict."""
    if case.of.strict:
        why = "Ultra-high-strength steel or three and more sheets: the strict rule holds."
        return rule.strict_chance, rule.strict_assurance, why
    beliefs = case.model.beliefs
    least = max(rule.assurance, beliefs.assurance)
    wide = posterior.unknown("scatter").value > beliefs.wary * beliefs.scatter
    if wide and history_size < WELL_KNOWN:
        why = "Welds of this machine seem to scatter much and it is hardly known: the strict rule."
        return rule.strict_chance, rule.strict_assurance, why
    return rule.chance, least, ""


def _step(
    case: Case,
    series: Sequence[JudgedCoupon],
    history: Sequence[LearningCoupon],
    posterior: Posterior,
    seen: Outlook,
    rule: ReleaseRule,
    votes: bool,
) -> tuple[Step, list[str]]:
    if any(each.coupon.splashed for each in series):
        return Step.REFUSE, [_spoiled(case.model.beliefs.kind)]
    if any(each.outcome is Outcome.REJECT for each in series):
        return Step.REFUSE, ["A coupon is not accepted by the criterion; no chance outweighs it."]
    counted = [each for each in series if each.like_the_joint and each.outcome.accepted]
    torn = sum(each.outcome is not Outcome.INVALID for each in series)
    enough, why = _enough(case, counted, posterior, seen, rule, (votes, _torn_before(history)))
    undecided = bool(series) and series[-1].outcome is Outcome.UNDECIDED
    needed = _needed(case, history, rule)
    if enough and len(counted) >= needed and not undecided:
        return Step.RELEASE, why
    if torn >= rule.stop_at:
        return Step.MOVE, [*why, f"{torn} coupons are torn: move the set-up instead of trying on."]
    late = torn >= rule.new_shop and seen.assurance < rule.give_up_late
    if votes and counted and (late or seen.chance.value < rule.give_up):
        return Step.MOVE, [
            *why,
            "More coupons of this set-up will hardly do: move it from the limit.",
        ]
    if undecided:
        why.append("The last coupon lies within the guard band: its reading is not sure enough.")
    if len(counted) < needed:
        why.append(f"{len(counted)} of at least {needed} coupons like the joint are accepted.")
    return Step.ANOTHER, why


def _spoiled(kind: str) -> str:
    if kind == "spot":
        return "A coupon splashed: close the gap and check the force first."
    return "A coupon burnt through: find out why first (gap, arc time, power)."


def _enough(
    case: Case,
    counted: Sequence[JudgedCoupon],
    posterior: Posterior,
    seen: Outlook,
    rule: ReleaseRule,
    known: tuple[bool, int],
) -> tuple[bool, list[str]]:
    votes, history_size = known
    chance, assurance, why = _limits(case, posterior, history_size, rule)
    said = [why] if why else []
    alone = True
    if not votes:
        # what it says in favour no longer counts, what it says against still does
        alone, words = by_tolerance(case.of.least, counted)
        said.extend(words)
    if seen.chance.value < chance:
        said.append(
            f"The next weld is expected to be good with {_percent(seen.chance.value)}; "
            f"{_percent(chance)} are asked for."
        )
    if seen.assurance < assurance:
        said.append(
            f"That nine of ten are good is {_percent(seen.assurance)} sure; {_percent(assurance)} "
            "are asked for."
        )
    return alone and seen.chance.value >= chance and seen.assurance >= assurance, said


def by_tolerance(
    limits: Sequence[float], counted: Sequence[JudgedCoupon]
) -> tuple[bool, list[str]]:
    """Ask the diameters alone: mean - k s over the limit at every interface, 90 % with 90 %.

    Parameters
    ----------
    limits : sequence of float
        Smallest diameter that is good, by interface [m].
    counted : sequence of JudgedCoupon
        Whose diameters count.

    Returns
    -------
    bool and list of str
        Whether nine of ten are large enough, and why.
    """
    for face, least in enumerate(limits):
        sizes = [
            one.value
            for each in counted
            for one in each.coupon.evidence
            if one.kind is Kind.MEASURED and one.interface == face
        ]
        if len(sizes) < 3:
            return False, ["Without the model at least three measured coupons are needed."]
        k = tolerance_factor_one_sided(len(sizes), 0.90, 0.90)
        limit = float(np.mean(sizes) - k * np.std(sizes, ddof=1))
        if limit < least:
            return False, [
                f"By the diameters alone nine of ten welds lie over {_mm(limit)} at interface "
                f"{face + 1}, {_mm(least)} are asked for."
            ]
    return True, ["By the diameters alone nine of ten welds are large enough (90 % sure)."]


def _carried(
    case: Case,
    counted: Sequence[JudgedCoupon],
    posterior: Posterior,
    seen: Outlook,
    engine: str,
) -> Carried:
    """Learn again without the history, then with a physics that is hardly believed."""
    series = [each.coupon for each in counted]
    alone = Model(case.model.beliefs, (case.of,))
    own = case.model.beliefs
    doubted = Model(
        dataclasses.replace(own, common=own.common * DOUBTED, own=own.own * DOUBTED), (case.of,)
    )
    chances = []
    for model in (alone, doubted):
        found = learn(model, series, seed=posterior.seed, engine=engine)
        setting = model.setting(case.joint, case.point, case.current)
        chances.append(_odds(outlook(found, setting).chance.value))
    return Carried(chances[1], chances[0] - chances[1], _odds(seen.chance.value) - chances[0])


def _odds(chance: float) -> float:
    kept = min(max(chance, 1e-4), 1.0 - 1e-4)
    return math.log(kept / (1.0 - kept))


def _overturns(
    case: Case, posterior: Posterior, seen: Outlook, rule: ReleaseRule, history_size: int
) -> float:
    """Diameter of one more coupon up to which it would take the release away [m]."""
    chance, assurance, _ = _limits(case, posterior, history_size, rule)
    worst = max(case.of.least)
    face = case.of.least.index(worst)
    found = worst
    for step in range(40):
        size = worst + 0.05e-3 * step
        one = Evidence(Kind.MEASURED, face, size, uncertainty=0.1e-3)
        coupon = LearningCoupon("next", case.joint, case.point, (one,), case.current)
        weight = with_evidence(posterior, coupon)
        good, sure = float(weight @ seen.good), float(weight @ (seen.good >= GOOD_SHARE))
        if good >= chance and sure >= assurance:
            break
        found = size
    return found


def _percent(share: float) -> str:
    return f"{100.0 * share:.1f} %" if share > 0.9 else f"{100.0 * share:.0f} %"


def _mm(length: float) -> str:
    return f"{length * 1e3:.2f} mm"


def _words(
    case: Case,
    counted: Sequence[JudgedCoupon],
    counting: Counting | None,
    seen: Outlook,
    step: Step,
    votes: bool,
    carried: Carried | None,
    overturns: float,
    history: Sequence[LearningCoupon],
) -> str:
    said = [_torn(case, counted), counting.text if counting else ""]
    if votes:
        good = seen.chance
        said.append(
            f"With the physics model and {_earlier(history)} of this machine "
            f"{100.0 * good.value:.0f} in 100 such welds are expected to be good (between "
            f"{100.0 * good.low:.0f} and {100.0 * good.high:.0f}); of {case.welds} welds "
            f"{case.welds * (1.0 - good.value):.1f} are expected not to be."
        )
    said.append(
        {
            Step.RELEASE: f"Released for {case.welds} welds.",
            Step.ANOTHER: "Not released yet: weld and tear another coupon.",
            Step.MOVE: "Not released: move the set-up.",
            Step.REFUSE: "Not released.",
        }[step]
    )
    if carried is not None and step is Step.RELEASE:
        diameters, physics, past = (100.0 * one for one in carried.shares)
        said.append(
            f"What carried it: diameters {diameters:.0f} %, physics {physics:.0f} %, history of "
            f"the machine {past:.0f} %."
        )
    if math.isfinite(overturns):
        said.append(f"What would overturn it: one coupon under {_mm(overturns)}.")
    return " ".join(filter(None, said))


def _torn(case: Case, counted: Sequence[JudgedCoupon]) -> str:
    if not counted:
        return "No coupon like the joint is torn yet."
    parts = []
    for face, least in enumerate(case.of.least):
        sizes = [
            f"{one.value * 1e3:.1f}"
            for each in counted
            for one in each.coupon.evidence
            if one.kind is Kind.MEASURED and one.interface == face
        ]
        where = f" at interface {face + 1}" if len(case.of.least) > 1 else ""
        where = f" of {case.of.names[face]}" if case.of.names else where
        parts.append(f"{', '.join(sizes) or 'nothing measured'} mm{where} (minimum {_mm(least)})")
    return f"Coupons torn: {len(counted)}; {'; '.join(parts)}."
