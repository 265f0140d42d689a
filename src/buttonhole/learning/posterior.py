"""What is believed of a machine after its coupons, and what welds of a setting then are.

Sources: kennedy-ohagan-2001.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.evidence import Kind, LearningCoupon
from buttonhole.learning.model import CouponLikelihood, LearnedJoint, Model, Setting
from buttonhole.learning.sampling import ENOUGH, Draws, before_any, quick, tempered
from buttonhole.weld.estimate import Estimate

Array = NDArray[np.float64]

SPLASH_GRID = np.linspace(-3.0, 3.0, 13)  # standard deviations of the splash doubt
FAR = -4.5  # -, score under which a splash is not looked at closely
GOOD_SHARE = 0.90  # -, of welds that are good on a machine that is called good


@dataclass(frozen=True, slots=True)
class Posterior:
    """Draws of what is unknown, with the model they belong to; ``splash`` (n,) [-] is each draw's
    own doubt of the splash, as standard normal score.
    """

    model: Model
    draws: Draws
    splash: Array  # (n,), -
    coupons: tuple[LearningCoupon, ...]
    seed: int
    handed_over: bool

    def unknown(self, name: str) -> Estimate:
        """Return one unknown of the machine, or ``scatter`` [SI]."""
        at = self.model.names().index(name)
        z = self.draws.z
        if name == "scatter":
            return weighted(self.model.scatter(z), self.draws.weight)
        if at < len(self.model.unknowns):
            return weighted(self.model.unknown_values(z)[:, at], self.draws.weight)
        return weighted(z[:, at], self.draws.weight)


def weighted(values: Array, weight: Array) -> Estimate:
    """Median and 90 % interval of weighted draws.

    Parameters
    ----------
    values : Array
        (n,) [SI].
    weight : Array
        (n,) summing to one [-].

    Returns
    -------
    Estimate
        In the unit of the values [SI].
    """
    order = np.argsort(values)
    total = np.cumsum(weight[order]) - 0.5 * weight[order]
    low, middle, high = np.interp((0.05, 0.5, 0.95), total, values[order])
    return Estimate(float(middle), float(low), float(high))


def learn(
    model: Model, coupons: Sequence[LearningCoupon], *, seed: int, engine: str = "tempered"
) -> Posterior:
    """Learn a machine from all its coupons.

    Parameters
    ----------
    model : Model
        Unknowns and joints.
    coupons : sequence of LearningCoupon
        All of them, none left out.
    seed : int
        The same gives the same; to be kept with the record.
    engine : str
        ``tempered`` for the reference; ``quick`` for a preview, which hands over to the reference
        when too few of its draws count.

    Returns
    -------
    Posterior
        Of machine, sizes and scatter; the splash is learned apart.

    Raises
    ------
    BadInput
        Evidence that the joint does not have.
    """
    likelihood = CouponLikelihood(model, coupons)
    handed = False
    if not likelihood.teaches:
        draws = before_any(model.size, seed)
    elif engine == "quick":
        draws = quick(likelihood, model.size, seed)
        handed = draws.effective < ENOUGH
    if likelihood.teaches and (engine != "quick" or handed):
        draws = tempered(likelihood, model.size, seed)
    splash = _splash(model, coupons, draws, seed)
    return Posterior(model, draws, splash, tuple(coupons), seed, handed)


def _splash(model: Model, coupons: Sequence[LearningCoupon], draws: Draws, seed: int) -> Array:
    """Each draw's own doubt of the splash, drawn after what splashed and what did not.

    The draws keep their weights: what splashed moves nothing but this.
    """
    doubt = model.beliefs.splash_doubt
    welded = [one for one in coupons if any(each.kind is not Kind.METER for each in one.evidence)]
    log = -0.5 * SPLASH_GRID[None, :] ** 2 + np.zeros((len(draws.z), 1))
    if welded:
        counts: dict[tuple[str, tuple[float, ...], float], list[float]] = {}
        for one in welded:
            tally = counts.setdefault((one.joint, one.point, one.current), [0.0, 0.0])
            tally[int(one.splashed)] += 1.0
        spoils = [model.setting(*key) for key in counts]
        read = np.array([one.coefficients[:, one.joint.surrogate.place("spoil")] for one in spoils])
        score = model.basis(draws.z) @ read.T
        kept, splashed = np.array(list(counts.values())).T
        for i, step in enumerate(SPLASH_GRID):
            at = score + doubt * step
            log[:, i] += _log_kept(at) @ kept
            some = splashed > 0.0
            if some.any():
                log[:, i] += _log_phi(at[:, some]) @ splashed[some]
    share = np.exp(log - log.max(axis=1, keepdims=True))
    total = np.cumsum(share, axis=1)
    lot = np.random.default_rng(seed + 1).random(len(draws.z))[:, None] * total[:, -1:]
    at_grid = np.minimum((total < lot).sum(axis=1), len(SPLASH_GRID) - 1)
    found: Array = doubt * SPLASH_GRID[at_grid]
    return found


def _log_kept(score: Array) -> Array:
    """Log chance that nothing is thrown out; of what is far from it, none [-]."""
    found = np.zeros_like(score)
    near = score > FAR
    found[near] = _log_phi(-score[near])
    return found


def _log_phi(x: Array) -> Array:
    from scipy.special import log_ndtr  # slow to load

    found: Array = log_ndtr(x)
    return found


@dataclass(frozen=True, slots=True)
class Outlook:
    """What welds of one setting will be.

    ``good`` (n,) [-]: by each draw, the share of good welds; ``chance`` [-]: that the next one is
    good, its interval that of the share; ``assurance`` [-]: that at least nine of ten are.
    ``size`` [m]: of the next weld at each interface. ``splash``, ``small`` [-]: chances.
    """

    good: Array  # (n,), -
    chance: Estimate  # -
    assurance: float  # -
    size: tuple[Estimate, ...]  # m
    splash: float  # -
    small: float  # -

    def all_good(self, welds: int, weight: Array) -> float:
        """Chance [-] that so many welds are all good, with the ``weight`` (n,) [-] of the draws."""
        return float(weight @ self.good**welds)


def good_shares(posterior: Posterior, setting: Setting, basis: Array | None = None) -> Array:
    """Share of good welds of a setting by each draw.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    setting : Setting
        Of its model.
    basis : Array, optional
        Of its draws [-].

    Returns
    -------
    Array
        (n,) [-].
    """
    large, kept = _large_and_kept(posterior, setting, basis)
    found: Array = large.prod(axis=1) * kept
    return found


def splash_chance(posterior: Posterior, setting: Setting, basis: Array | None = None) -> float:
    """Chance that a weld of a setting is spoiled: it splashes, or a plug falls through.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    setting : Setting
        Of its model.
    basis : Array, optional
        Of its draws [-].

    Returns
    -------
    float
        [-].
    """
    from scipy.special import ndtr

    found = posterior.model.figures(posterior.draws.z, setting, basis)
    return float(posterior.draws.weight @ ndtr(found.spoil + posterior.splash))


def _large_and_kept(
    posterior: Posterior, setting: Setting, basis: Array | None
) -> tuple[Array, Array]:
    from scipy.special import ndtr

    z, model = posterior.draws.z, posterior.model
    found = model.figures(z, setting, basis)
    wide = _wide(posterior, setting)
    least = np.array(setting.joint.least)
    large = found.melts * ndtr((found.size - least) / wide)
    return large, ndtr(-(found.spoil + posterior.splash))


def _wide(posterior: Posterior, setting: Setting) -> Array:
    own = setting.joint.surrogate
    error = own.error[: own.interfaces]
    scatter = posterior.model.scatter(posterior.draws.z)
    found: Array = np.sqrt((setting.joint.each_scale * scatter[:, None]) ** 2 + error[None, :] ** 2)
    return found


def outlook(posterior: Posterior, setting: Setting) -> Outlook:
    """Say what welds of a setting will be.

    Parameters
    ----------
    posterior : Posterior
        What is believed.
    setting : Setting
        Of its model.

    Returns
    -------
    Outlook
        With 90 % intervals.
    """
    weight = posterior.draws.weight
    large, kept = _large_and_kept(posterior, setting, None)
    good = large.prod(axis=1) * kept
    found = posterior.model.figures(posterior.draws.z, setting)
    chance = np.random.default_rng(posterior.seed + 2)
    drawn = found.size + _wide(posterior, setting) * chance.standard_normal(found.size.shape)
    sizes = tuple(weighted(np.maximum(column, 0.0), weight) for column in drawn.T)
    share = weighted(good, weight)
    return Outlook(
        good,
        Estimate(float(weight @ good), share.low, share.high),
        float(weight @ (good >= GOOD_SHARE)),
        sizes,
        float(1.0 - weight @ kept),
        float(1.0 - weight @ large.prod(axis=1)),
    )


def joint_of(posterior: Posterior, key: str) -> LearnedJoint:
    """Return a joint the posterior knows by its key."""
    return posterior.model.joints[key]
