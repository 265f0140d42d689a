"""How often the true cause is among the three that are named, and whether the chances are true."""

import dataclasses
import math
from dataclasses import dataclass, field

import numpy as np

from benchmarks.learning_shops import Shop, drawn_shop, torn
from buttonhole.learning.diagnosis import Checked, Failure, diagnose
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.faults import Cause, Effect, causes, effect_of
from buttonhole.learning.model import Setting
from buttonhole.learning.outcomes import drawn_coupon
from buttonhole.learning.posterior import learn

FAULTS = {
    "spot": ("worn_tips", "low_current", "shunt", "short_time", "high_force", "low_force", "gap",
             "high_current", "long_time"),
    "plug": ("rim_arc", "low_power", "long_stickout", "small_hole", "gap", "too_long", "quick_dab",
             "fast_wire"),
}  # fmt: skip
METER = {"spot": ("current", 0.02), "plug": ("feed", 0.03)}
PAST = 8  # coupons of the machine before it fails, with one meter reading


@dataclass
class Rates:
    """How a diagnosis did."""

    cases: int = 0
    first: int = 0
    three: int = 0
    said: list[tuple[float, bool]] = field(default_factory=list)
    by_fault: dict[str, list[bool]] = field(default_factory=dict)

    def add(self, chances: dict[str, float], named: list[str], true: str) -> None:
        """Take one case."""
        self.cases += 1
        self.first += named[0] == true
        self.three += true in named
        self.said += [(chance, key == true) for key, chance in chances.items()]
        self.by_fault.setdefault(true, []).append(true in named)

    def calibration(self) -> float:
        """Mean distance of what was said from what came true, weighted by chance said."""
        pairs = np.array(self.said, float)
        pairs = pairs[pairs[:, 0] > 0.02]
        bins = np.array_split(pairs[np.argsort(pairs[:, 0])], 10)
        return float(sum(len(b) * abs(b[:, 0].mean() - b[:, 1].mean()) for b in bins) / len(pairs))


def broken(shop: Shop, effect: Effect, severity: float, chance: np.random.Generator) -> Setting:
    """The shop's setting with a cause at work."""
    own = shop.model.joints[shop.joint]
    moved = list(shop.point)
    for name, move in effect.moves.items():
        moved[own.surrogate.inputs.index(name)] += severity * move
    setting = shop.model.setting(shop.joint, moved, shop.current)
    raw = setting.coefficients.copy()
    count = own.surrogate.interfaces
    raw[0, 2 * count] += severity * effect.spoil
    if own.surrogate.others:
        raw[0, 2 * count + 1] += severity * effect.back
    return dataclasses.replace(setting, coefficients=raw)


def case(
    kind: str, cause: Cause, chance: np.random.Generator, coupons: int
) -> tuple[Shop, list[LearningCoupon], tuple[LearningCoupon, ...], Evidence] | None:
    """One shop whose welds were good until a cause struck; None where nothing failed."""
    effect = effect_of(cause)
    assert effect is not None  # noqa: S101 - only modelled causes are drawn
    shop = drawn_shop(kind, chance)
    if shop.good < 0.9:
        return None
    past = [torn(shop, chance, f"h{i}") for i in range(PAST)]
    meter, u = METER[kind]
    normal = _shown(shop, meter)
    reading = Evidence(Kind.METER, value=normal + u * chance.standard_normal(), uncertainty=u,
                       meter=meter)  # fmt: skip
    past.append(LearningCoupon("m", shop.joint, shop.point, (reading,), shop.current))
    severity = float(chance.uniform(0.5, 1.5))
    setting = broken(shop, effect, severity, chance)
    torn_ones = []
    for i in range(coupons):
        seen = drawn_coupon(shop.model, shop.guess, setting, chance, splash=shop.splash)
        seen = tuple(_smaller(one, effect.size * severity) for one in seen)
        torn_ones.append(LearningCoupon(f"f{i}", shop.joint, shop.point, seen, shop.current))
    least = shop.model.joints[shop.joint].least[0]
    if not any(_failed(one, least) for one in torn_ones):
        return None
    shown = normal + (severity * effect.moves.get(meter, 0.0) if meter in effect.meters else 0.0)
    now = Evidence(Kind.METER, value=shown + u * chance.standard_normal(), uncertainty=u,
                   meter=meter)  # fmt: skip
    return shop, past, tuple(torn_ones), now


def _smaller(one: Evidence, size: float) -> Evidence:
    if one.kind is not Kind.MEASURED or size == 0.0:
        return one
    left = one.value + size
    return dataclasses.replace(one, value=left) if left > 2e-3 else Evidence(Kind.NO_BUTTON)


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


def study(kind: str, cases: int, seed: int, coupons: int, with_check: bool) -> Rates:
    """Draw cases of every fault alike and diagnose them."""
    chance, rates = np.random.default_rng(seed), Rates()
    known = {one.key: one for one in causes(kind)}
    while rates.cases < cases:
        true = str(chance.choice(FAULTS[kind]))
        drawn = case(kind, known[true], chance, coupons)
        if drawn is None:
            continue
        shop, past, failed, meter = drawn
        before = learn(shop.model, past, seed=1, engine="quick")
        failure = Failure(kind, failed, (meter,))
        found = diagnose(failure, before, among=FAULTS[kind])
        if with_check:
            right = known[true].check == found.check.words
            answer = right if chance.random() < 0.9 else not right
            failure = dataclasses.replace(failure, checked=(Checked(found.check.words, answer),))
            found = diagnose(failure, before, among=FAULTS[kind])
        named = [one.cause.key for one in found.suspects]
        rates.add(dict(found.chances), named, true)
    return rates
