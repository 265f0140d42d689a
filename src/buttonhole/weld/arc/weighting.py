"""From what is seen to what is hidden, by giving each member of an ensemble its weight.

Each member is one weld that could be: its marks and what is hidden in it. A member whose marks lie
near the reading weighs much, one far off little; what is hidden is then read off the weighted
members. Plain numbers; what the members are does not matter here.
"""

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

BANDWIDTH = 1.06  # -, of Silverman's rule for a bell curve (silverman-1986, from memory)
ROUNDS = 60  # of bisection, numerical
ALONE = 20.0  # -, most a variance among few neighbours is raised, numerical


def log_fit(members: Array, seen: float, spread: float) -> Array:
    """How well each member fits one reading.

    Parameters
    ----------
    members : Array
        (n,) the mark of each member [SI].
    seen : float
        The reading [SI].
    spread : float
        Its standard deviation, above zero [SI].

    Returns
    -------
    Array
        (n,) logarithm of the likelihood, up to a constant [-]; -inf where the mark is not known.
    """
    off = (np.asarray(members, dtype=float) - seen) / spread
    found: Array = np.where(np.isfinite(off), -0.5 * off * off, -math.inf)
    return found


def weights_of(log_fits: Array) -> Array:
    """Turn logarithms of likelihoods into weights.

    Parameters
    ----------
    log_fits : Array
        (n,) sums over all readings [-].

    Returns
    -------
    Array
        (n,) weights [-] with sum 1; all alike where no member fits at all.
    """
    top = float(np.max(log_fits))
    if not math.isfinite(top):
        return np.full(len(log_fits), 1.0 / len(log_fits))
    raw = np.exp(log_fits - top)
    found: Array = raw / raw.sum()
    return found


def effective_size(weights: Array) -> float:
    """How many members of equal weight would say as much [-].

    Parameters
    ----------
    weights : Array
        (n,) with sum 1 [-].

    Returns
    -------
    float
        Between 1 and n [-].

    Sources
    -------
    kish-1965 (from memory)
    """
    return float(1.0 / np.sum(weights**2))


def mean_and_spread(values: Array, weights: Array) -> tuple[float, float]:
    """Weighted mean and standard deviation.

    Parameters
    ----------
    values : Array
        (n,) in any unit.
    weights : Array
        (n,) with sum 1 [-].

    Returns
    -------
    tuple of float
        Both in the unit of the values [SI].
    """
    mean = float(weights @ values)
    return mean, math.sqrt(max(float(weights @ (values - mean) ** 2), 0.0))


def quantile(values: Array, weights: Array, off: float, share: float) -> float:
    """Quantile of what the weighted members say.

    Each member stands for a small bell curve, as wide as few members make it uncertain what lies
    between them, and as the model itself may be off.

    Parameters
    ----------
    values : Array
        (n,) in any unit.
    weights : Array
        (n,) with sum 1 [-].
    off : float
        Standard deviation of what the model may be off, in the unit of the values [SI].
    share : float
        Which quantile [-], between 0 and 1.

    Returns
    -------
    float
        In the unit of the values [SI].

    Sources
    -------
    silverman-1986 (width of the bell curves, from memory)
    """
    from scipy.special import ndtr  # slow to import, and most steps do not need it

    _mean, spread = mean_and_spread(values, weights)
    width = math.hypot(BANDWIDTH * spread * effective_size(weights) ** -0.2, off)
    if width == 0.0:
        return float(values[int(np.argmax(weights))])
    low, high = float(values.min()) - 9.0 * width, float(values.max()) + 9.0 * width
    for _ in range(ROUNDS):
        middle = 0.5 * (low + high)
        if float(weights @ ndtr((middle - values) / width)) < share:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def expected_spread(hidden: Array, mark: Array, spread: float, weights: Array) -> float:
    """How uncertain what is hidden will be, on average, once one more mark is read.

    Every member in turn is taken for the weld that is there, with its weight.

    Parameters
    ----------
    hidden : Array
        (n,) in any unit.
    mark : Array
        (n,) the mark that may be read [SI].
    spread : float
        Standard deviation of that reading [SI].
    weights : Array
        (n,) after what is read already [-].

    Returns
    -------
    float
        Root of the mean variance, in the unit of ``hidden`` [SI].

    Sources
    -------
    derived (law of total variance over the members, corrected for few of them)
    """
    known = np.isfinite(mark)
    mark, hidden, weights = mark[known], hidden[known], weights[known] / weights[known].sum()
    # what is read is the truth plus an error, so a reading lies off by both: hence twice the square
    gap = (mark[None, :] - mark[:, None]) / (math.sqrt(2.0) * spread)
    pulled = weights[None, :] * np.exp(-0.5 * gap * gap)
    pulled /= pulled.sum(axis=1, keepdims=True)
    means = pulled @ hidden
    variances = pulled @ hidden**2 - means**2
    # a member always fits its own mark, which makes few neighbours look surer than they are
    variances /= np.maximum(1.0 - (pulled**2).sum(axis=1), 1.0 / ALONE)
    return math.sqrt(max(float(weights @ np.maximum(variances, 0.0)), 0.0))
