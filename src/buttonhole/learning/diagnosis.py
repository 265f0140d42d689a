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
    Effect,
    Sign,
    causes,
    effect_of,
    signs,
)
from buttonhole.learning.model import Figures, Setting, parts_between
from buttonhole.learning.next_coupon import thinned
from buttonhole.learning.posterior import Posterior
from buttonhole.units import BadInput

Array = NDArray[np.float64]

DRAWS = 400
TEMPER_ONE, TEMPER_MORE = 0.7, 0.5  # -, on the evidence of one coupon, of several
SOMETHING_ELSE = 0.05  # -
SEVERITY = (0.5, 1.5)  # -, of the usual one, evenly
SPEAKS = 0.4  # -, log odds from which evidence is named for or against
CHECK_RIGHT = 0.9  # -, chance that a check shows its own cause, and does not show another
TINY = 1e-6  # -, of a likelihood: nothing is impossible
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
    """What was seen: torn coupons of one setting, meter readings, signs by their rows, checks."""

    process: str
    coupons: tuple[LearningCoupon, ...] = ()
    meters: tuple[Evidence, ...] = ()
    signs: tuple[str, ...] = ()
    checked: tuple[Checked, ...] = ()


@dataclass(frozen=True, slots=True)
class Remedy:
    """What putting a cause right would do: mean ``size`` at the narrowest interface [m] and chance
    of a bad weld [-], before and after.
    """

    size_before: float  # m
    size_after: float  # m
    bad_before: float  # -
    bad_after: float  # -


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause with its chance [-], what speaks for and against it, and what its remedy would do."""

    cause: Cause
    chance: float  # -
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]
    remedy: Remedy | None

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
    trials = Trials(before, failure, seed) if before is not None else None
    table = _log_likelihoods(every, failure, seen, trials)
    total = np.sum([row for _, row in table], axis=0)
    temper = TEMPER_ONE if len(failure.coupons) <= 1 else TEMPER_MORE
    log = temper * total + np.log([one.weight for one in every])
    share = np.exp(log - log.max())
    chances = (1.0 - SOMETHING_ELSE) * share / share.sum()
    order = np.argsort(-chances, kind="stable")
    order = np.array([i for i in order if every[i].key != SCATTER_KEY or chances[i] >= 0.5])
    suspects = tuple(_suspect(every, int(i), float(chances[i]), table, trials) for i in order[:3])
    single = chances[order[0]] > 0.8 and chances[order[0]] - chances[order[1]] > 0.5
    check = _check(every, chances, {one.check for one in failure.checked})
    by_key = {one.key: float(p) for one, p in zip(every, chances, strict=True)}
    words = _words(suspects, check, bool(single))
    return Diagnosis(suspects, check, SOMETHING_ELSE, by_key, bool(single), words)


def _sign(process: str, row: str) -> Sign:
    known = signs()
    if row not in known or known[row].process != process:
        listed = ", ".join(key for key, one in known.items() if one.process == process)
        raise BadInput("signs", f"{row!r} is no sign of {process} welds; give one of {listed}")
    return known[row]


def _log_likelihoods(
    every: Sequence[Cause], failure: Failure, seen: Sequence[Sign], trials: "Trials | None"
) -> list[tuple[str, Array]]:
    """For each thing seen, in words: log likelihood under each cause."""
    table = [(one.words, np.log([one.chance(cause.key) for cause in every])) for one in seen]
    for done in failure.checked:
        if done.check not in {cause.check for cause in every}:
            raise BadInput("checked", f"{done.check!r} is no check of {failure.process} welds")
        own = np.array([cause.check == done.check for cause in every])
        shows = np.where(own == done.found, CHECK_RIGHT, 1.0 - CHECK_RIGHT)
        said = "yes" if done.found else "no"
        table.append((f"{done.check}: {said}", np.log(shows)))
    if trials is None:
        return table
    effects = [effect_of(cause) or NO_EFFECT for cause in every]
    table += [
        (_meter_words(meter), np.array([trials.meter(meter, one) for one in effects]))
        for meter in failure.meters
    ]
    if failure.coupons:
        each = np.array([trials.coupons(e)[1] for e in effects]).T  # (coupons, causes)
        whole = np.array([trials.coupons(e)[0] for e in effects])
        # coupons share the machine and the severity: together they say less than their sum
        rows = each + (whole - each.sum(axis=0)) / len(each)
        table += [(_coupon_words(one), row) for one, row in zip(failure.coupons, rows, strict=True)]
    return table


class Trials:
    """Welds under each cause, on draws of what is believed of the machine."""

    def __init__(self, before: Posterior, failure: Failure, seed: int) -> None:
        self.belief = thinned(before, DRAWS)
        chance = np.random.default_rng(seed)
        self.severity = chance.uniform(*SEVERITY, DRAWS)
        self.failure = failure
        model = before.model
        self.settings: list[Setting] = [
            model.setting(one.joint, one.point, one.current) for one in failure.coupons
        ]
        self._kept: dict[int, tuple[float, Array]] = {}

    def figures(self, number: int, effect: Effect, severity: Array) -> Figures:
        """What each draw welds with a cause of each severity [-], for one coupon."""
        model, z = self.belief.model, self.belief.draws.z
        coupon, own = self.failure.coupons[number], self.settings[number].joint
        inputs = own.surrogate.inputs
        x = np.tile(np.array(coupon.point), (len(z), 1))
        values = model.unknown_values(z)
        for i, one in enumerate(model.unknowns):
            x[:, inputs.index(one.moves)] += model.share(one, own, coupon.current) * values[:, i]
        for name, move in effect.moves.items():
            if name in inputs:
                x[:, inputs.index(name)] += severity * move
        found = own.surrogate.raw(x)
        count = own.surrogate.interfaces
        size = model.sizes(z, own, found[:, :count]) + (severity * effect.size)[:, None]
        others = found[:, 2 * count + 1 :] + (severity * effect.back)[:, None]
        melts = _phi(found[:, count : 2 * count] / own.surrogate.melt_spread)
        return Figures(size, melts, found[:, 2 * count] + severity * effect.spoil, others)

    def coupons(self, effect: Effect) -> tuple[float, Array]:
        """Log likelihood of all coupons together, and of each alone [-]."""
        key = id(effect)
        if key not in self._kept:
            fits = np.array(
                [self._fit(i, effect, self.severity) for i in range(len(self.settings))]
            )
            alone = np.log(np.maximum(np.exp(fits).mean(axis=1), TINY))
            whole = float(np.log(max(np.exp(fits.sum(axis=0)).mean(), TINY ** len(fits))))
            self._kept[key] = (whole, alone)
        return self._kept[key]

    def _fit(self, number: int, effect: Effect, severity: Array) -> Array:
        """Log likelihood of one coupon for each draw; sizes in millimetres."""
        found = self.figures(number, effect, severity)
        coupon, own = self.failure.coupons[number], self.settings[number].joint
        thrown = _phi(found.spoil + self.belief.splash)
        if coupon.splashed:
            fit = np.log(np.maximum(thrown, TINY))
            return fit + self._backs(coupon, found)
        fit = np.log(np.maximum(1.0 - thrown, TINY)) + self._backs(coupon, found)
        for one in coupon.evidence:
            if one.kind in (Kind.MEASURED, Kind.NO_BUTTON, Kind.INTERFACIAL):
                fit = fit + self._size_fit(one, found, own.thinner[one.interface], effect)
        return fit

    def _size_fit(self, one: Evidence, found: Figures, thinner: float, effect: Effect) -> Array:
        size, melts = found.size[:, one.interface], found.melts[:, one.interface]
        scatter = self.belief.model.scatter(self.belief.draws.z)
        least = self.belief.model.beliefs.least_button
        if one.kind is Kind.NO_BUTTON:
            torn = melts * _phi((size - least) / scatter)
            return np.log(np.maximum(1.0 - torn, TINY))
        if one.kind is Kind.INTERFACIAL:
            share = _parts(size, thinner, effect.parts)
            return np.log(np.maximum(melts * share, TINY))
        square = (scatter**2 + one.uncertainty**2) * 1e6
        bell = np.exp(-0.5 * ((one.value - size) * 1e3) ** 2 / square) / np.sqrt(square)
        parted = float(_parts(np.array([one.value]), thinner, effect.parts)[0])
        whole = parted if one.meter == PARTED else 1.0 - parted
        return np.log(np.maximum(melts * bell * whole, TINY))

    def _backs(self, coupon: LearningCoupon, found: Figures) -> Array:
        total = np.zeros(len(found.spoil))
        others = self.belief.model.joints[coupon.joint].surrogate.others
        for one in coupon.evidence:
            if one.kind is Kind.BACK_MARK and "back" in others:
                back = found.others[:, others.index("back")]
                width = max(one.uncertainty, 1.0)
                share = _phi((one.upper - back) / width) - _phi((one.value - back) / width)
                total += np.log(np.maximum(share, TINY))
        return total

    def meter(self, one: Evidence, effect: Effect) -> float:
        """Log likelihood of a meter reading, in its own standard deviations [-]."""
        model, z = self.belief.model, self.belief.draws.z
        own = next(iter(model.joints.values()))
        if self.settings:
            own = self.settings[0].joint
        current = self.failure.coupons[0].current if self.failure.coupons else own.current
        values, shown = model.unknown_values(z), np.zeros(len(z))
        for i, each in enumerate(model.unknowns):
            if each.meter == one.meter:
                shown += model.share(each, own, current) * values[:, i]
        if one.meter in effect.meters:
            shown += self.severity * effect.moves.get(one.meter, 0.0)
        bell = np.exp(-0.5 * ((one.value - shown) / one.uncertainty) ** 2)
        return float(np.log(max(bell.mean(), TINY)))

    def remedy(self, effect: Effect) -> Remedy | None:
        """What putting it right would do, on the draws that agree with what was seen."""
        if not self.settings or effect is NO_EFFECT:
            return None
        fits = sum(self._fit(i, effect, self.severity) for i in range(len(self.settings)))
        weight = np.exp(np.asarray(fits) - np.max(fits))
        weight /= weight.sum()
        size, bad = [], []
        for severity in (self.severity, np.zeros(DRAWS)):
            found = self.figures(0, effect, severity)
            good = self._good(found)
            margin = found.size - np.array(self.settings[0].joint.least)
            face = int(np.argmin(weight @ margin))
            size.append(float(weight @ np.maximum(found.size[:, face], 0.0)))
            bad.append(float(1.0 - weight @ good))
        return Remedy(size[0], size[1], bad[0], bad[1])

    def _good(self, found: Figures) -> Array:
        scatter = self.belief.model.scatter(self.belief.draws.z)[:, None]
        least = np.array(self.settings[0].joint.least)
        large = (found.melts * _phi((found.size - least) / scatter)).prod(axis=1)
        good: Array = large * (1.0 - _phi(found.spoil + self.belief.splash))
        return good


PARTED = "parted"  # in ``Evidence.meter`` of a measured weld that parted between the sheets


def _phi(x: Array) -> Array:
    from scipy.special import ndtr  # slow to load

    found: Array = ndtr(x)
    return found


def _parts(size: Array, thinner: float, odds: float) -> Array:
    share = np.clip(parts_between(size, thinner), 1e-4, 1.0 - 1e-4)
    found: Array = 1.0 / (1.0 + (1.0 - share) / share * math.exp(-odds))
    return found


def _suspect(
    every: Sequence[Cause],
    i: int,
    chance: float,
    table: Sequence[tuple[str, Array]],
    trials: "Trials | None",
) -> Suspect:
    cause, usual = every[i], np.array([one.weight for one in every])
    speaks_for, against = [], []
    for words, row in table:
        odds = float(row[i] - np.log(usual @ np.exp(row) / usual.sum()))
        if odds > SPEAKS:
            speaks_for.append(words)
        elif odds < -SPEAKS:
            against.append(words)
    effect = effect_of(cause)
    remedy = trials.remedy(effect) if trials is not None and effect is not None else None
    return Suspect(cause, chance, tuple(speaks_for), tuple(against), remedy)


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
