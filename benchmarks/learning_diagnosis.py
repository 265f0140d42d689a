"""How often the true cause is among the three that are named, and whether the chances are true.

Causes strike as often as the list says they do (its weights), plain scatter and, in one case of
twenty, something that is not on the list included; what did not fail is not looked at. In a world
``otherwise`` causes are not what is simulated: severities lie wider, each move is off by its own
factor, and the back of a plug is misread now and then.
"""

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from benchmarks.learning_shops import Shop, drawn_shop
from buttonhole.learning.diagnosis import Checked, Diagnosis, Failure, diagnose
from buttonhole.learning.evidence import SHOWN, Evidence, Kind, LearningCoupon, back_evidence
from buttonhole.learning.faults import NO_EFFECT, SCATTER_KEY, Cause, Effect, causes, effect_of
from buttonhole.learning.model import Setting
from buttonhole.learning.next_coupon import candidates, choose
from buttonhole.learning.outcomes import drawn_coupon
from buttonhole.learning.posterior import Posterior, learn

Chance = np.random.Generator
Array = NDArray[np.float64]

FAULTS = {
    "spot": ("worn_tips", "low_current", "shunt", "short_time", "high_force", "low_force", "gap",
             "high_current", "long_time"),
    "plug": ("rim_arc", "low_power", "long_stickout", "small_hole", "gap", "too_long", "quick_dab",
             "fast_wire"),
}  # fmt: skip
ELSE = {
    "spot": ("misaligned", "dirt_between", "alloyed_tip", "short_squeeze"),
    "plug": ("dirt", "push_angle", "thick_lower", "thin_lower"),
}
SOMETHING_ELSE = 0.05  # -, of the causes that strike
METER = {"spot": ("current", 0.02), "plug": ("feed", 0.03)}
FACE_READ = 0.04  # -, of the mark a tip leaves, by a calliper
PAST = 8  # coupons of the machine before it fails, with one meter reading
MISREAD, SPREAD = 0.08, 0.35  # -, in the world otherwise: backs misread; of moves and severities


@dataclass
class Rates:
    """How a diagnosis did; ``first`` and ``three`` of the ``known`` causes alone."""

    cases: int = 0
    known: int = 0
    first: int = 0
    three: int = 0
    said: list[tuple[float, bool]] = field(default_factory=list)
    by_fault: dict[str, list[bool]] = field(default_factory=dict)
    instead: dict[tuple[str, str], int] = field(default_factory=dict)

    def add(self, found: Diagnosis, true: str) -> None:
        """Take one case."""
        self.cases += 1
        self.said += [(chance, key == true) for key, chance in found.chances.items()]
        if true == SCATTER_KEY or true not in found.chances:
            return
        named = [each.key for one in found.suspects for each in (one.cause, *one.alike)]
        self.known += 1
        self.first += found.suspects[0].cause.key == true
        self.three += true in named
        self.by_fault.setdefault(true, []).append(true in named)
        if true not in named:
            for one in named:
                self.instead[true, one] = self.instead.get((true, one), 0) + 1

    def calibration(self) -> float:
        """Mean distance of what was said from what came true, weighted by chance said."""
        pairs = np.array(self.said, float)
        pairs = pairs[pairs[:, 0] > 0.02]
        bins = np.array_split(pairs[np.argsort(pairs[:, 0])], 10)
        return float(sum(len(b) * abs(b[:, 0].mean() - b[:, 1].mean()) for b in bins) / len(pairs))


@dataclass(frozen=True, slots=True)
class Struck:
    """A shop that a cause struck."""

    shop: Shop
    effect: Effect
    severity: float
    off: dict[str, float]  # how far what shows is predicted off [m]
    otherwise: bool
    bare: bool  # nothing but the torn size is read, of a plug the mark on the back too

    def weld(self, chance: Chance, key: str, point: Sequence[float]) -> LearningCoupon:
        """Weld and tear one coupon with the cause at work."""
        shop = self.shop
        current = shop.model.joints[shop.joint].current * math.exp(point[0])
        setting = broken(shop, self.effect, self.severity, point, current)
        off = None if self.bare else self.off
        seen = drawn_coupon(shop.model, shop.guess, setting, chance, splash=shop.splash, off=off)
        seen = tuple(_smaller(one, self.effect.size * self.severity) for one in seen)
        if self.otherwise:
            seen = tuple(_misread(one, chance) for one in seen)
        if shop.model.beliefs.kind == "spot" and not self.bare:
            seen = (*seen, self.read("face", FACE_READ, chance))
        return LearningCoupon(key, shop.joint, tuple(point), seen, current)

    def read(self, meter: str, u: float, chance: Chance) -> Evidence:
        """Read a meter with the cause at work."""
        shown = _shown(self.shop, meter)
        if meter in self.effect.meters:
            shown += self.severity * self.effect.moves.get(meter, 0.0)
        value = min(max(shown + u * float(chance.standard_normal()), -0.69), 0.69)
        return Evidence(Kind.METER, value=value, uncertainty=u, meter=meter)


def broken(
    shop: Shop, effect: Effect, severity: float, point: Sequence[float], current: float
) -> Setting:
    """A setting with a cause at work."""
    own = shop.model.joints[shop.joint].surrogate
    moved = list(point)
    for name, move in effect.moves.items():
        moved[own.inputs.index(name)] += severity * move
    setting = shop.model.setting(shop.joint, moved, current)
    raw = setting.coefficients.copy()
    raw[0, own.place("spoil")] += severity * effect.spoil
    for name in own.others:
        raw[0, own.place(name)] += severity * effect.adds_to(name)
    return dataclasses.replace(setting, coefficients=raw)


def _smaller(one: Evidence, size: float) -> Evidence:
    if one.kind is not Kind.MEASURED or size == 0.0:
        return one
    left = one.value + size
    return dataclasses.replace(one, value=left) if left > 2e-3 else Evidence(Kind.NO_BUTTON)


def _misread(one: Evidence, chance: Chance) -> Evidence:
    if one.kind is not Kind.BACK_MARK or chance.random() > MISREAD:
        return one
    return back_evidence(str(chance.choice(("none", "faint", "clear", "bump"))))


def _failed(one: LearningCoupon, least: float) -> bool:
    return one.splashed or any(
        each.kind is Kind.NO_BUTTON or (each.kind is Kind.MEASURED and each.value < 1.1 * least)
        for each in one.evidence
    )


def _shown(shop: Shop, meter: str) -> float:
    values = shop.model.unknown_values(shop.guess[None, :])[0]
    own = shop.model.joints[shop.joint]
    return math.fsum(
        shop.model.share(one, own, shop.current) * value
        for one, value in zip(shop.model.unknowns, values, strict=True)
        if one.meter == meter
    )


def _struck(
    kind: str, cause: Cause | None, chance: Chance, otherwise: bool, bare: bool
) -> Struck | None:
    """A shop whose welds were good until a cause struck; None where they were not."""
    effect = NO_EFFECT if cause is None else effect_of(cause)
    assert effect is not None  # noqa: S101 - only modelled causes are drawn
    severity = float(chance.uniform(0.5, 1.5))
    if otherwise:
        severity = float(np.exp(SPREAD * 1.4 * chance.standard_normal()))
        moves = {
            name: move * float(np.exp(SPREAD * chance.standard_normal()))
            for name, move in effect.moves.items()
        }
        effect = dataclasses.replace(effect, moves=moves)
    shop = drawn_shop(kind, chance)
    off = {name: one.off * float(chance.standard_normal()) for name, one in SHOWN.items()}
    return Struck(shop, effect, severity, off, otherwise, bare) if shop.good >= 0.9 else None


def _past(struck: Struck, chance: Chance) -> list[LearningCoupon]:
    whole = dataclasses.replace(struck, effect=NO_EFFECT, otherwise=False)
    point = struck.shop.point
    past = [whole.weld(chance, f"h{i}", point) for i in range(PAST)]
    read = whole.read(*METER[struck.shop.model.beliefs.kind], chance)
    return [*past, LearningCoupon("m", struck.shop.joint, point, (read,), struck.shop.current)]


def _others(
    struck: Struck, before: Posterior, first: LearningCoupon, chance: Chance, coupons: int
) -> list[LearningCoupon]:
    """The coupon that failed, and others at the settings that the program would weld next."""
    shop, found = struck.shop, [first]
    own = shop.model.joints[shop.joint]
    if not own.surrogate.inside(np.array(shop.point)):  # nothing can be chosen there
        return [first, *(struck.weld(chance, f"f{i}", shop.point) for i in range(1, coupons))]
    tried = candidates(shop.model.beliefs.kind, own, shop.point)
    for i in range(1, coupons):
        now = learn(shop.model, [*before.coupons, *found], seed=1, engine="quick")
        found.append(struck.weld(chance, f"f{i}", choose(now, shop.joint, tried).candidate.point))
    return found


def drawn_cause(kind: str, chance: Chance, pool: Sequence[str]) -> tuple[str, Cause | None]:
    """A cause as often as it strikes, something that is not in the pool, or plain scatter."""
    known = {one.key: one for one in causes(kind)}
    if chance.random() < SOMETHING_ELSE:
        key = str(chance.choice(ELSE[kind]))
        return ("", known[key]) if key not in pool else (key, known[key])
    keys = [*pool, SCATTER_KEY]
    weight = np.array([known[key].weight for key in keys])
    key = str(chance.choice(keys, p=weight / weight.sum()))
    return key, None if key == SCATTER_KEY else known[key]


def study(
    kind: str, cases: int, seed: int, coupons: int, *, check: bool = False,
    otherwise: bool = False, bare: bool = False, pool: Sequence[str] = (),
) -> Rates:  # fmt: skip
    """Draw cases and diagnose them."""
    chance, rates = np.random.default_rng(seed), Rates()
    pool = pool or FAULTS[kind]
    while rates.cases < cases:
        true, cause = drawn_cause(kind, chance, pool)
        struck = _struck(kind, cause, chance, otherwise, bare)
        if struck is None:
            continue
        past = _past(struck, chance)
        first = struck.weld(chance, "f0", struck.shop.point)
        if not _failed(first, struck.shop.model.joints[struck.shop.joint].least[0]):
            continue
        before = learn(struck.shop.model, past, seed=1, engine="quick")
        torn_ones = _others(struck, before, first, chance, coupons)
        failure = Failure(kind, tuple(torn_ones), (struck.read(*METER[kind], chance),))
        found = diagnose(failure, before, among=pool)
        if check:
            right = cause is not None and true != "" and cause.check == found.check.words
            answer = right if chance.random() < 0.9 else not right
            done = (Checked(found.check.words, answer),)
            found = diagnose(dataclasses.replace(failure, checked=done), before, among=pool)
        rates.add(found, true)
    return rates
