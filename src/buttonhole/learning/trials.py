"""Welds under a cause of failure, on draws of what is believed of the machine.

The cause has a severity nobody knows; a draw keeps its own through all that was seen, so that a
meter and the coupons speak of the same machine and the same severity. What shows beside the size
(dent, crown, ring) is compared with what the machine's earlier coupons showed.

The methods are numerical, the severities judged, no source.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.evidence import SHOWN, Evidence, Kind, LearningCoupon
from buttonhole.learning.faults import NO_EFFECT, Effect
from buttonhole.learning.model import CHISEL_WORTH, Figures, Setting, parts_between
from buttonhole.learning.next_coupon import thinned
from buttonhole.learning.posterior import Posterior

Array = NDArray[np.float64]

DRAWS = 1000
SEVERITY = (0.5, 1.5)  # -, of the usual one, evenly
TINY = 1e-6  # -, of a likelihood: nothing is impossible
PARTED = "parted"  # in ``Evidence.meter`` of a measured weld that parted between the sheets


@dataclass(frozen=True, slots=True)
class Remedy:
    """What putting a cause right would do: mean ``size`` at the narrowest interface [m] and chance
    of a bad weld [-], before and after.
    """

    size_before: float  # m
    size_after: float  # m
    bad_before: float  # -
    bad_after: float  # -


class Trials:
    """Failed ``coupons`` and ``meters`` against what each cause would make of them."""

    def __init__(
        self,
        before: Posterior,
        coupons: Sequence[LearningCoupon],
        meters: Sequence[Evidence] = (),
        seed: int = 1,
    ) -> None:
        self.belief = thinned(before, DRAWS)
        self.coupons, self.meters = tuple(coupons), tuple(meters)
        self._chance = np.random.default_rng(seed)
        low, high = SEVERITY
        even = (self._chance.permutation(DRAWS) + 0.5) / DRAWS
        self.severity: Array = low + (high - low) * even
        model = before.model
        self.settings: list[Setting] = [
            model.setting(one.joint, one.point, one.current) for one in coupons
        ]
        self._off: dict[tuple[str, str], Array] = {}
        self._kept: dict[int, Array] = {}

    def figures(self, coupon: LearningCoupon, effect: Effect, severity: Array) -> Figures:
        """What each draw welds with a cause of each severity [-], as a coupon was set."""
        model, z = self.belief.model, self.belief.draws.z
        own = model.joints[coupon.joint]
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
        others = found[:, 2 * count + 1 :].copy()
        for i, name in enumerate(own.surrogate.others):
            others[:, i] += severity * (
                effect.back if name == "back" else effect.shown.get(name, 0.0)
            )
        melts = _phi(found[:, count : 2 * count] / own.surrogate.melt_spread)
        return Figures(size, melts, found[:, 2 * count] + severity * effect.spoil, others)

    def pieces(self, effect: Effect) -> Array:
        """Log likelihood of each meter, then of each coupon, by each draw, (pieces, n) [-]."""
        key = id(effect)
        if key not in self._kept:
            read = [self._meter(one, effect) for one in self.meters]
            torn = [self._fit(one, effect) for one in self.coupons]
            self._kept[key] = np.array([*read, *torn]).reshape(-1, DRAWS)
        return self._kept[key]

    def log_likelihoods(self, effects: Sequence[Effect]) -> Array:
        """Of each meter, then of each coupon, under each effect, (pieces, effects) [-].

        They share machine and severity, so together they say less, or more, than each alone: the
        difference is dealt out evenly.
        """
        found = []
        for effect in effects:
            fits = self.pieces(effect)
            alone = np.log(np.maximum(np.exp(fits).mean(axis=1), TINY))
            top = fits.sum(axis=0)
            whole = math.log(max(float(np.exp(top).mean()), TINY ** len(fits)))
            found.append(alone + (whole - alone.sum()) / len(alone))
        return np.array(found).T

    def _fit(self, coupon: LearningCoupon, effect: Effect) -> Array:
        """Log likelihood of one coupon for each draw; sizes in millimetres."""
        found = self.figures(coupon, effect, self.severity)
        thrown = _phi(found.spoil + self.belief.splash)
        fit: Array = np.log(np.maximum(thrown if coupon.splashed else 1.0 - thrown, TINY))
        for one in coupon.evidence:
            if one.kind is Kind.METER:
                fit = fit + self._meter(one, effect, coupon)
            elif one.kind is Kind.BACK_MARK:
                fit = fit + self._back(one, coupon, found)
            elif one.kind is Kind.SHOWN and not coupon.splashed:
                fit = fit + self._shown(one, coupon, found)
            elif not coupon.splashed and one.kind is not Kind.SHOWN:
                fit = fit + self._size_fit(one, coupon, found, effect)
        return fit

    def _size_fit(
        self, one: Evidence, coupon: LearningCoupon, found: Figures, effect: Effect
    ) -> Array:
        own = self.belief.model.joints[coupon.joint]
        size, melts = found.size[:, one.interface], found.melts[:, one.interface]
        error = float(own.surrogate.error[one.interface])
        scale, thinner = own.scale(one.interface), own.thinner[one.interface]
        scatter = np.hypot(scale * self.belief.model.scatter(self.belief.draws.z), error)
        least = scale * self.belief.model.beliefs.least_button
        if one.kind is Kind.NO_BUTTON:
            torn = melts * _phi((size - least) / scatter)
            return np.log(np.maximum(1.0 - torn, TINY))
        if one.kind is Kind.INTERFACIAL:
            share = _parts(size, thinner, effect.parts)
            return np.log(np.maximum(melts * share, TINY))
        if one.kind in (Kind.AT_LEAST, Kind.CHISEL_PASSED):
            worth = CHISEL_WORTH if one.kind is Kind.CHISEL_PASSED else 1.0
            reached = np.maximum(melts * _phi((size - one.value) / scatter), TINY)
            return np.asarray(worth * np.log(reached), np.float64)
        square = (scatter**2 + one.uncertainty**2) * 1e6
        bell = np.exp(-0.5 * ((one.value - size) * 1e3) ** 2 / square) / np.sqrt(square)
        parted = float(_parts(np.array([one.value]), thinner, effect.parts)[0])
        whole = parted if one.meter == PARTED else 1.0 - parted
        return np.log(np.maximum(melts * bell * whole, TINY))

    def _back(self, one: Evidence, coupon: LearningCoupon, found: Figures) -> Array:
        own = self.belief.model.joints[coupon.joint].surrogate
        if "back" not in own.others:
            return np.zeros(len(found.spoil))
        back = found.others[:, own.others.index("back")]
        width = max(math.hypot(one.uncertainty, float(own.error[own.place("back")])), 1.0)
        share = _phi((one.upper - back) / width) - _phi((one.value - back) / width)
        return np.log(np.maximum(share, TINY))

    def _shown(self, one: Evidence, coupon: LearningCoupon, found: Figures) -> Array:
        others = self.belief.model.joints[coupon.joint].surrogate.others
        if one.meter not in others:
            return np.zeros(len(found.spoil))
        said = found.others[:, others.index(one.meter)] + self._usually_off(coupon.joint, one.meter)
        wide = math.hypot(SHOWN[one.meter].scatter, one.uncertainty)
        bell = np.exp(-0.5 * ((one.value - said) / wide) ** 2)
        return np.log(np.maximum(bell, TINY))

    def _usually_off(self, joint: str, what: str) -> Array:
        """How far each draw's prediction of what shows is off, by the earlier coupons [m]."""
        if (joint, what) not in self._off:
            own = SHOWN[what]
            precision, pulled = 1.0 / own.off**2, np.zeros(DRAWS)
            for one in self.belief.coupons:
                if one.joint != joint or one.splashed:
                    continue
                for each in one.evidence:
                    if each.kind is Kind.SHOWN and each.meter == what:
                        weight = 1.0 / (own.scatter**2 + each.uncertainty**2)
                        precision += weight
                        pulled = pulled + weight * (each.value - self._said(one, what))
            drawn = self._chance.standard_normal(DRAWS) / math.sqrt(precision)
            self._off[joint, what] = pulled / precision + drawn
        return self._off[joint, what]

    def _said(self, coupon: LearningCoupon, what: str) -> Array:
        """What each draw says shows on an earlier coupon [m]."""
        others = self.belief.model.joints[coupon.joint].surrogate.others
        found = self.figures(coupon, NO_EFFECT, np.zeros(DRAWS))
        said: Array = found.others[:, others.index(what)]
        return said

    def _meter(self, one: Evidence, effect: Effect, coupon: LearningCoupon | None = None) -> Array:
        """Log likelihood of a meter reading for each draw, in its own standard deviations [-]."""
        model, z = self.belief.model, self.belief.draws.z
        at = coupon or (self.coupons[0] if self.coupons else None)
        own = model.joints[at.joint] if at else next(iter(model.joints.values()))
        values, shown = model.unknown_values(z), np.zeros(len(z))
        for i, each in enumerate(model.unknowns):
            if each.meter == one.meter:
                shown += model.share(each, own, at.current if at else own.current) * values[:, i]
        if one.meter in effect.meters:
            shown += self.severity * effect.moves.get(one.meter, 0.0)
        bell = np.exp(-0.5 * ((one.value - shown) / one.uncertainty) ** 2)
        return np.log(np.maximum(bell, TINY))

    def remedy(self, effect: Effect) -> Remedy | None:
        """What putting it right would do, on the draws that agree with what was seen."""
        if not self.coupons or effect is NO_EFFECT:
            return None
        fits = self.pieces(effect).sum(axis=0)
        weight = np.exp(fits - fits.max())
        weight /= weight.sum()
        first, least = self.coupons[0], np.array(self.settings[0].joint.least)
        size, bad = [], []
        for severity in (self.severity, np.zeros(DRAWS)):
            found = self.figures(first, effect, severity)
            good = self._good(found, severity * effect.parts)
            face = int(np.argmin(weight @ (found.size - least)))
            size.append(float(weight @ np.maximum(found.size[:, face], 0.0)))
            bad.append(float(1.0 - weight @ good))
        return Remedy(size[0], size[1], bad[0], bad[1])

    def _good(self, found: Figures, parts: Array) -> Array:
        """Share of good welds by each draw; one that parts though it is large enough is bad."""
        scatter = self.belief.model.scatter(self.belief.draws.z)[:, None]
        scatter = self.settings[0].joint.each_scale * scatter
        least = np.array(self.settings[0].joint.least)
        large = (found.melts * _phi((found.size - least) / scatter)).prod(axis=1)
        if parts.any():
            own, size = self.settings[0].joint, np.maximum(found.size, least).T
            parted = [_parts(*each, parts) for each in zip(size, own.thinner, strict=True)]
            large = large * np.prod(1.0 - np.array(parted), axis=0)
        good: Array = large * (1.0 - _phi(found.spoil + self.belief.splash))
        return good


def _phi(x: Array) -> Array:
    from scipy.special import ndtr  # slow to load

    found: Array = ndtr(x)
    return found


def _parts(size: Array, thinner: float, odds: float | Array) -> Array:
    share = np.clip(parts_between(size, thinner), 1e-4, 1.0 - 1e-4)
    found: Array = 1.0 / (1.0 + (1.0 - share) / share * np.exp(-odds))
    return found
