"""Score the release rule and its rivals in simulated shops: the same coupons for all of them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from benchmarks.learning_shops import Shop, drawn_shop, judged_by_size, set_near, torn
from buttonhole.coupon.statistics import tolerance_factor_one_sided
from buttonhole.coupon.verdict import Outcome
from buttonhole.learning.case import Case, JudgedCoupon
from buttonhole.learning.decision import (
    ReleaseDecision,
    ReleaseRule,
    Step,
    decide,
)
from buttonhole.learning.evidence import Kind, LearningCoupon
from buttonhole.learning.posterior import GOOD_SHARE

MOST = 5


@dataclass
class Score:
    """How a rule did."""

    shops: int = 0
    good_shops: int = 0
    released: int = 0
    released_good: int = 0
    coupons: int = 0
    claimed: list[float] = field(default_factory=list)
    true: list[float] = field(default_factory=list)

    def add(self, shop: Shop, released: bool, coupons: int) -> None:
        """Take one shop."""
        good = shop.good >= GOOD_SHARE
        self.shops += 1
        self.good_shops += good
        self.released += released
        self.released_good += released and good
        self.coupons += coupons

    @property
    def bad(self) -> float:
        """Share of the released that are bad."""
        return 1.0 - self.released_good / max(self.released, 1)


def passes(coupons: Sequence[JudgedCoupon], count: int, guarded: bool) -> tuple[bool, int]:
    """So many of so many pass; it stops at the first that does not."""
    for used, one in enumerate(coupons[:count], 1):
        accepted = one.outcome is Outcome.ACCEPT
        if one.outcome is Outcome.REJECT or (guarded and not accepted):
            return False, used
    return True, count


def tolerance(coupons: Sequence[JudgedCoupon], least: float, count: int) -> tuple[bool, int]:
    """Mean - k s over the limit, 90 % with 90 %, all torn ones measured."""
    sizes = [
        one.value for each in coupons[:count] for one in each.coupon.evidence
        if one.kind is Kind.MEASURED
    ]  # fmt: skip
    if len(sizes) < count:
        return False, count
    k = tolerance_factor_one_sided(count, 0.90, 0.90)
    return bool(np.mean(sizes) - k * np.std(sizes, ddof=1) >= least), count


RIVALS: dict[str, Callable[[Sequence[JudgedCoupon], float], tuple[bool, int]]] = {
    "1 of 1 passes": lambda c, _: passes(c, 1, False),
    "3 of 3 pass": lambda c, _: passes(c, 3, False),
    "5 of 5 pass": lambda c, _: passes(c, 5, False),
    "3 of 3 pass, guard band kept": lambda c, _: passes(c, 3, True),
    "tolerance limit from 3, 0.90/0.90": lambda c, least: tolerance(c, least, 3),
    "tolerance limit from 5, 0.90/0.90": lambda c, least: tolerance(c, least, 5),
}


def ours(
    shop: Shop,
    coupons: Sequence[JudgedCoupon],
    history: Sequence[LearningCoupon],
    rule: ReleaseRule,
    seed: int,
) -> tuple[ReleaseDecision | None, int, list[ReleaseDecision]]:
    """The program's rule: tear on until it decides."""
    case = Case(shop.model, shop.joint, shop.point, shop.current)
    every: list[ReleaseDecision] = []
    for used in range(1, MOST + 1):
        if coupons[used - 1].outcome is Outcome.REJECT:  # refused by the criterion, see ``decide``
            return None, used, every
        found = decide(case, coupons[:used], history, seed=seed, rule=rule, explain=False)
        every.append(found)
        if found.step is not Step.ANOTHER:
            return found, used, every
    return found, MOST, every


def study(
    kind: str, shops: int, seed: int, *, factor: float = 1.0, history: int = 0,
    rule: ReleaseRule | None = None,
) -> tuple[dict[str, Score], list[tuple[float, float]]]:  # fmt: skip
    """Score all rules on the same shops; also every chance that was said, with the true share."""
    chance = np.random.default_rng(seed)
    scores: dict[str, Score] = {name: Score() for name in (*RIVALS, "this program")}
    said: list[tuple[float, float]] = []
    for number in range(shops):
        shop = drawn_shop(kind, chance, factor, joints=1 if not history else 3)
        least = shop.model.joints[shop.joint].least
        past = [_past(kind, shop, chance, i) for i in range(history)]
        coupons = [judged_by_size(torn(shop, chance, str(i)), least) for i in range(MOST)]
        for name, rival in RIVALS.items():
            scores[name].add(shop, *rival(coupons, least[0]))
        found, used, every = ours(shop, coupons, past, rule or ReleaseRule(), number + 1)
        released = found is not None and found.step is Step.RELEASE
        scores["this program"].add(shop, released, used)
        said += [(one.chance.value, shop.good) for one in every if one.chance and one.model_votes]
    return scores, said


def _past(kind: str, shop: Shop, chance: np.random.Generator, number: int) -> LearningCoupon:
    others = [key for key in shop.model.joints if key != shop.joint]
    key = others[number % len(others)]
    return torn(shop, chance, f"h{number}", key, set_near(kind, key, chance))


def calibration_error(said: Sequence[tuple[float, float]], bins: int = 10) -> float:
    """Mean distance of what was said from what is true, over bins of what was said."""
    pairs = np.array(said)
    order = np.argsort(pairs[:, 0])
    parts = np.array_split(pairs[order], bins)
    return float(sum(len(p) * abs(p[:, 0].mean() - p[:, 1].mean()) for p in parts) / len(pairs))
