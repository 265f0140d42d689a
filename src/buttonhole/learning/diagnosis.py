"""Why a weld failed: causes weighed by what the surrogate makes of them and by their signs.

Each cause is laid over what is believed of the machine, with a severity nobody knows, and welded;
how well that agrees with what was measured is its weight. What physics can't make is weighed by
words that people chose. Because the causes in life are not those simulated, all is tempered and a
part is kept for something else.

The tempering and the part are our own after trials, no source.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.faults import (
    NO_EFFECT,
    SCATTER_KEY,
    Cause,
    Sign,
    causes,
    effect_of,
    signs,
)
from buttonhole.learning.posterior import Posterior
from buttonhole.learning.trials import Remedy, Trials
from buttonhole.units import BadInput

Array = NDArray[np.float64]

TEMPER = 0.8  # -, on what coupons and meters say, as causes in life are not those simulated
TEMPER_SAID = 0.8  # -, on signs and checks
SOMETHING_ELSE = 0.05  # -
SPEAKS = 0.4  # -, log odds from which evidence is named for or against
CHECK_RIGHT = 0.9  # -, chance that a check shows its own cause, and does not show another
READ_AS = {"current": "current meter", "force": "force gauge", "face": "tip faces", "gap": "gap",
           "time": "time shown", "feed": "wire feed", "distance": "stick-out",
           "voltage": "voltage"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Checked:
    """A check that was done, in the words of the cause's list, and whether it ``found`` it so."""

    check: str
    found: bool


@dataclass(frozen=True, slots=True)
class Failure:
    """What was seen: torn coupons, meter readings, signs by their rows, checks."""

    process: str
    coupons: tuple[LearningCoupon, ...] = ()
    meters: tuple[Evidence, ...] = ()
    signs: tuple[str, ...] = ()
    checked: tuple[Checked, ...] = ()


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause with its chance [-], what speaks for and against it, and what its remedy would do.

    ``alike``: causes, less likely by the signs, that no coupon and no meter tells from it; only a
    check does.
    """

    cause: Cause
    chance: float  # -
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    remedy: Remedy | None
    alike: tuple[Cause, ...] = ()

    @property
    def word(self) -> str:
        """The chance in a word."""
        if self.chance >= 0.6:
            return "likely"
        return "may well be" if self.chance >= 0.25 else "possible"


@dataclass(frozen=True, slots=True)
class Check:
    """What to look at next: it separates the causes it is ``for`` the most in the least time."""

    words: str
    minutes: float  # min
    separates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Three suspects, the cheapest check, and the chance of something else [-].

    ``chances`` [-]: of every cause. ``single``: the first is so likely that it stands alone.
    """

    suspects: tuple[Suspect, ...]
    check: Check
    something_else: float  # -
    chances: Mapping[str, float]
    single: bool
    words: str


def diagnose(
    failure: Failure,
    before: Posterior | None = None,
    *,
    seed: int = 1,
    among: Sequence[str] | None = None,
) -> Diagnosis:
    """Find what is wrong.

    Parameters
    ----------
    failure : Failure
        What was seen.
    before : Posterior, optional
        What was believed of the machine before the failed coupons; needed to weigh what was
        measured.
    seed : int
        Of the severities.
    among : sequence of str, optional
        Only these causes come into question; plain scatter always does.

    Returns
    -------
    Diagnosis
        Never a single cause unless it is far ahead.

    Raises
    ------
    BadInput
        Nothing was seen, an unknown sign, or coupons without a model.
    """
    if not (failure.coupons or failure.meters or failure.signs or failure.checked):
        raise BadInput("signs", "are missing; say what is seen, measure one coupon or a meter")
    if before is None and (failure.coupons or failure.meters):
        raise BadInput("machine", "is not known; measured coupons are weighed against a machine")
    every = tuple(
        one
        for one in causes(failure.process)
        if among is None or one.key in among or one.key == SCATTER_KEY
    )
    seen = [_sign(failure.process, row) for row in failure.signs]
    trials = Trials(before, failure.coupons, failure.meters, seed) if before is not None else None
    table, said = _log_likelihoods(every, failure, seen, trials)
    log = np.log([one.weight for one in every])
    for number, (_, row) in enumerate(table):
        log += (TEMPER_SAID if number < said else TEMPER) * row
    share = np.exp(log - log.max())
    chances = (1.0 - SOMETHING_ELSE) * share / share.sum()
    ranked = np.argsort(-chances, kind="stable")
    order = [int(i) for i in ranked if every[i].key != SCATTER_KEY or chances[i] >= 0.5]
    families = _families(every, order, trials)
    suspects = tuple(
        _suspect(every, group, float(chances[group[0]]), table, trials) for group in families[:3]
    )
    single = chances[order[0]] > 0.8 and chances[order[0]] - chances[order[1]] > 0.5
    check = _check(every, chances, {one.check for one in failure.checked})
    by_key = {one.key: float(p) for one, p in zip(every, chances, strict=True)}
    words = _words(suspects, check, bool(single))
    return Diagnosis(suspects, check, SOMETHING_ELSE, by_key, bool(single), words)


def _families(
    every: Sequence[Cause], order: Sequence[int], trials: Trials | None
) -> list[list[int]]:
    """Causes in their order, those that can't be told apart by what was measured put together."""
    found: dict[object, list[int]] = {}
    for i in order:
        effect = effect_of(every[i])
        known = trials is not None and effect is not None and effect is not NO_EFFECT
        key = effect.looks if effect is not None and known else every[i].key
        found.setdefault(key, []).append(i)
    return list(found.values())


def _sign(process: str, row: str) -> Sign:
    known = signs()
    if row not in known or known[row].process != process:
        listed = ", ".join(key for key, one in known.items() if one.process == process)
        raise BadInput("signs", f"{row!r} is no sign of {process} welds; give one of {listed}")
    return known[row]


def _log_likelihoods(
    every: Sequence[Cause], failure: Failure, seen: Sequence[Sign], trials: Trials | None
) -> tuple[list[tuple[str, Array]], int]:
    """For each thing seen, in words: log likelihood under each cause; how many are words alone."""
    table = [(one.words, np.log([one.chance(cause.key) for cause in every])) for one in seen]
    for done in failure.checked:
        if done.check not in {cause.check for cause in every}:
            raise BadInput("checked", f"{done.check!r} is no check of {failure.process} welds")
        own = np.array([cause.check == done.check for cause in every])
        shows = np.where(own == done.found, CHECK_RIGHT, 1.0 - CHECK_RIGHT)
        said = "yes" if done.found else "no"
        table.append((f"{done.check}: {said}", np.log(shows)))
    if trials is None:
        return table, len(table)
    effects = [effect_of(cause) or NO_EFFECT for cause in every]
    words = [*map(_meter_words, failure.meters), *map(_coupon_words, failure.coupons)]
    rows = trials.log_likelihoods(effects) if words else ()
    return [*table, *zip(words, rows, strict=True)], len(table)


def _suspect(
    every: Sequence[Cause],
    group: Sequence[int],
    chance: float,
    table: Sequence[tuple[str, Array]],
    trials: Trials | None,
) -> Suspect:
    i, usual = group[0], np.array([one.weight for one in every])
    cause, alike = every[i], tuple(every[k] for k in group[1:])
    speaks_for, against = [], []
    for words, row in table:
        odds = float(row[i] - np.log(usual @ np.exp(row) / usual.sum()))
        if odds > SPEAKS:
            speaks_for.append(words)
        elif odds < -SPEAKS:
            against.append(words)
    effect = effect_of(cause)
    remedy = trials.remedy(effect) if trials is not None and effect is not None else None
    return Suspect(cause, chance, tuple(speaks_for), tuple(against), remedy, alike)


def _check(every: Sequence[Cause], chances: Array, done: set[str]) -> Check:
    """The check, not done yet, that is expected to clear up the most in a minute."""
    share = np.append(chances, SOMETHING_ELSE)
    before, best, found = _entropy(share), -1.0, None
    for words in dict.fromkeys(one.check for one in every if one.check not in done):
        own = np.array([*(one.check == words for one in every), False])
        shows = np.where(own, CHECK_RIGHT, 1.0 - CHECK_RIGHT)
        after = 0.0
        for says in (shows, 1.0 - shows):
            total = float(share @ says)
            after += total * _entropy(share * says / total)
        minutes = min(one.minutes for one in every if one.check == words)
        if (before - after) / minutes > best:
            best = (before - after) / minutes
            names = tuple(one.words for one in every if one.check == words)
            found = Check(words, minutes, names)
    assert found is not None  # noqa: S101 - every cause has a check
    return found


def _entropy(share: Array) -> float:
    kept = share[share > 0.0]
    return float(-(kept * np.log(kept)).sum())


def _meter_words(one: Evidence) -> str:
    name = READ_AS.get(one.meter, one.meter)
    if one.meter == "gap":
        return f"{name} {one.value * 1e3:.1f} mm"
    return f"{name} {100.0 * (math.exp(one.value) - 1.0):+.0f} %"


def _coupon_words(coupon: LearningCoupon) -> str:
    if coupon.splashed:
        return f"coupon {coupon.key} splashed"
    said = []
    for one in coupon.evidence:
        if one.kind is Kind.MEASURED:
            said.append(f"{one.value * 1e3:.1f} mm")
        elif one.kind is Kind.SHOWN:
            said.append(f"{one.meter} {one.value * 1e3:.2g} mm")
        elif one.kind is Kind.METER:
            said.append(_meter_words(one))
        elif one.kind is Kind.BACK_MARK:
            said.append(f"back {one.value:.0f} to {one.upper:.0f} degC by its mark")
        else:
            said.append(one.kind.value.replace("_", " "))
    return f"coupon {coupon.key}: {', '.join(said)}"


def _words(suspects: Sequence[Suspect], check: Check, single: bool) -> str:
    shown = suspects[:1] if single else suspects
    parts = []
    for one in shown:
        text = f"{one.cause.words} ({one.word}, {100.0 * one.chance:.0f} %)"
        if one.remedy is not None and one.remedy.size_after > 0.0:
            text += (
                f": {one.cause.correction}; the size would go from "
                f"{one.remedy.size_before * 1e3:.1f} to {one.remedy.size_after * 1e3:.1f} mm"
            )
        else:
            text += f": {one.cause.correction}"
        parts.append(text)
    return f"{'. '.join(parts)}. Look first: {check.words} ({check.minutes:g} min)."
