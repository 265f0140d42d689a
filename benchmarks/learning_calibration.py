"""Whether intervals hold what they say: draw a machine by the belief, weld, learn, look.

Simulation-based calibration: over many machines drawn by the prior belief, the 90 % intervals of
everything that is learned must hold the truth in 90 % of cases, and its rank must be even.

Sources: talts-2018 (method, from memory).
"""

import time
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from benchmarks.learning_shops import Shop, model_of, set_near, torn
from buttonhole.learning.posterior import Posterior, learn, weighted

Array = NDArray[np.float64]


@dataclass
class Coverage:
    """Of each quantity: was it inside, and its rank among the draws."""

    inside: dict[str, list[bool]] = field(default_factory=dict)
    ranks: dict[str, list[float]] = field(default_factory=dict)
    seconds: list[float] = field(default_factory=list)
    effective: list[float] = field(default_factory=list)
    handed_over: int = 0

    def add(self, name: str, truth: float, values: Array, weight: Array) -> None:
        """Take one quantity of one machine."""
        found = weighted(values, weight)
        self.inside.setdefault(name, []).append(found.low <= truth <= found.high)
        self.ranks.setdefault(name, []).append(float(weight @ (values < truth)))

    def share(self, name: str) -> float:
        """Share of the machines whose truth lay inside."""
        return float(np.mean(self.inside[name]))

    @property
    def overall(self) -> float:
        """Mean over all quantities."""
        return float(np.mean([self.share(name) for name in self.inside]))

    def evenness(self, name: str, bins: int = 10) -> float:
        """Chance of so uneven ranks if they are even (chi square)."""
        from scipy.special import chdtrc

        counts, _ = np.histogram(self.ranks[name], bins, (0.0, 1.0))
        due = len(self.ranks[name]) / bins
        return float(chdtrc(bins - 1, ((counts - due) ** 2 / due).sum()))


def study(kind: str, coupons: int, machines: int, seed: int, engine: str) -> Coverage:
    """Draw machines, weld coupons of all but the last joint, learn, compare."""
    chance, found = np.random.default_rng(seed), Coverage()
    model = model_of(kind)
    keys = list(model.joints)
    welded, untested = keys[:-1], keys[-1]
    for number in range(machines):
        guess = chance.standard_normal(model.size)
        splash = float(model.beliefs.splash_doubt * chance.standard_normal())
        shop = Shop(model, keys[0], (), 0.0, guess, splash, 1.0, 0.0)
        torn_ones = []
        for i in range(coupons):
            key = welded[i % len(welded)]
            torn_ones.append(torn(shop, chance, str(i), key, set_near(kind, key, chance)))
        begun = time.process_time()
        posterior = learn(model, torn_ones, seed=number + 1, engine=engine)
        found.seconds.append(time.process_time() - begun)
        found.effective.append(posterior.draws.effective)
        found.handed_over += posterior.handed_over
        _compare(found, posterior, guess, (welded[0], untested))
    return found


def _compare(found: Coverage, posterior: Posterior, guess: Array, joints: tuple[str, str]) -> None:
    model, z, weight = posterior.model, posterior.draws.z, posterior.draws.weight
    row = guess[None, :]
    values, true = model.unknown_values(z), model.unknown_values(row)[0]
    for i, one in enumerate(model.unknowns):
        found.add(one.name, float(true[i]), values[:, i], weight)
    found.add("scatter", float(model.scatter(row)[0]), model.scatter(z), weight)
    for words, key in zip(("size, tested joint", "size, untested joint"), joints, strict=True):
        point = (0.0,) * len(model.joints[key].surrogate.inputs)
        setting = model.setting(key, point, model.joints[key].current)
        truth = float(model.figures(row, setting).size[0, 0])
        found.add(words, truth, model.figures(z, setting).size[:, 0], weight)
