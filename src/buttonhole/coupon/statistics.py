"""What a few torn coupons show by themselves, without any model.

Exact forms only; scipy is loaded where it is needed because loading it is slow.

Sources: clopper-pearson-1934; nist-handbook.
"""

import math
from dataclasses import dataclass

from buttonhole.units import BadInput


def _share(name: str, value: float) -> None:
    if not 0.0 < value < 1.0:  # also catches NaN
        raise BadInput(name, f"is {value:g}; give a share between 0 and 1, e.g. 0.95")


def _count(name: str, value: int, least: int) -> None:
    if value < least:
        raise BadInput(name, f"is {value}; at least {least} needed")


def success_run_lower_bound(n: int, confidence: float = 0.95) -> float:
    """Return the share of good welds that n passes out of n prove.

    Parameters
    ----------
    n : int
        Coupons, all passed.
    confidence : float
        One-sided [-].

    Returns
    -------
    float
        (1 - confidence)^(1/n) [-]. The variant with n + 1 assumes that every share was equally
        likely beforehand; it is not used.

    Raises
    ------
    BadInput
        No coupon, or a confidence outside 0 to 1.

    Examples
    --------
    >>> round(success_run_lower_bound(3), 3)
    0.368
    """
    _count("n", n, 1)
    _share("confidence", confidence)
    return float((1.0 - confidence) ** (1.0 / n))


def success_run_size(reliability: float, confidence: float = 0.95) -> int:
    """Return how many passes without a failure prove a share of good welds.

    Parameters
    ----------
    reliability : float
        Share of good welds to prove [-].
    confidence : float
        One-sided [-].

    Returns
    -------
    int
        Smallest n with reliability^n at most 1 - confidence.

    Raises
    ------
    BadInput
        A share outside 0 to 1.
    """
    _share("reliability", reliability)
    _share("confidence", confidence)
    n = math.ceil(math.log1p(-confidence) / math.log(reliability) - 1e-12)
    return max(n, 1)


def clopper_pearson(x: int, n: int, confidence: float = 0.95) -> tuple[float, float]:
    """Return the exact two-sided interval of the share behind x out of n.

    Parameters
    ----------
    x : int
        How many failed (or passed).
    n : int
        How many there were.
    confidence : float
        Two-sided [-].

    Returns
    -------
    tuple of float
        Lower and upper bound of the share [-].

    Raises
    ------
    BadInput
        No coupon, x outside 0 to n, or a confidence outside 0 to 1.

    Sources
    -------
    clopper-pearson-1934.
    """
    _share("confidence", confidence)
    half = 0.5 * (1.0 - confidence)
    return _lower(x, n, half), upper_bound(x, n, 1.0 - half)


def upper_bound(x: int, n: int, confidence: float = 0.95) -> float:
    """Return the exact one-sided upper bound of the share behind x out of n.

    Parameters
    ----------
    x : int
        How many failed.
    n : int
        How many there were.
    confidence : float
        One-sided [-].

    Returns
    -------
    float
        Upper bound of the share [-].

    Raises
    ------
    BadInput
        As ``clopper_pearson``.

    Sources
    -------
    clopper-pearson-1934.
    """
    _share("confidence", confidence)
    return 1.0 - _lower(n - x, n, 1.0 - confidence)


def _lower(x: int, n: int, tail: float) -> float:
    _count("n", n, 1)
    if not 0 <= x <= n:
        raise BadInput("x", f"is {x}; give 0 to {n}")
    if x == 0:
        return 0.0
    if x == n:
        return float(tail ** (1.0 / n))
    from scipy.special import betaincinv

    return float(betaincinv(x, n - x + 1, tail))


def tolerance_factor_one_sided(n: int, coverage: float, confidence: float) -> float:
    """Return the exact factor k of a one-sided tolerance limit, mean - k s.

    Parameters
    ----------
    n : int
        Coupons whose diameters gave mean and standard deviation.
    coverage : float
        Share of welds that shall lie over the limit [-].
    confidence : float
        That they do [-].

    Returns
    -------
    float
        k [-], by the non-central t distribution. Diameters must be normal and without splash;
        from 3 coupons k is large because the scatter is hardly known.

    Raises
    ------
    BadInput
        Fewer than two coupons, or a share outside 0 to 1.

    Sources
    -------
    nist-handbook.
    """
    _count("n", n, 2)
    _share("coverage", coverage)
    _share("confidence", confidence)
    from scipy.special import nctdtrit, ndtri

    root = math.sqrt(n)
    return float(nctdtrit(n - 1, float(ndtri(coverage)) * root, confidence)) / root


def tolerance_factor_known_scatter(n: int, coverage: float, confidence: float) -> float:
    """Return the same factor when the standard deviation is known from many earlier coupons.

    Parameters
    ----------
    n : int
        Coupons whose diameters gave the mean.
    coverage : float
        Share of welds that shall lie over the limit [-].
    confidence : float
        That they do [-].

    Returns
    -------
    float
        k [-].

    Raises
    ------
    BadInput
        No coupon, or a share outside 0 to 1.

    Sources
    -------
    derived (normal distribution).
    """
    _count("n", n, 1)
    _share("coverage", coverage)
    _share("confidence", confidence)
    from scipy.special import ndtri

    return float(ndtri(coverage)) + float(ndtri(confidence)) / math.sqrt(n)


def prediction_factor(n: int, confidence: float) -> float:
    """Return the factor for the very next weld: mean - factor s.

    Parameters
    ----------
    n : int
        Coupons whose diameters gave mean and standard deviation.
    confidence : float
        That the next one lies over it [-].

    Returns
    -------
    float
        t sqrt(1 + 1/n) [-].

    Raises
    ------
    BadInput
        Fewer than two coupons, or a confidence outside 0 to 1.

    Sources
    -------
    derived (Student's t distribution).
    """
    _count("n", n, 2)
    _share("confidence", confidence)
    from scipy.special import stdtrit

    return float(stdtrit(n - 1, confidence)) * math.sqrt(1.0 + 1.0 / n)


@dataclass(frozen=True, slots=True)
class Counting:
    """What passing and failing alone shows, without a model and without diameters.

    ``at_least_good`` [-]: share of good welds that is proven at ``confidence`` [-].
    """

    passed: int
    n: int
    at_least_good: float
    confidence: float
    passes_for_90: int
    text: str


def _percent_down(share: float) -> str:
    """Per cent, cut after one decimal so that it never claims more than was shown."""
    return f"{math.floor(share * 1000.0 + 1e-6) / 10.0:g} %"


def counting_alone(passed: int, n: int, confidence: float = 0.95) -> Counting:
    """Say what pass and fail alone shows about welds made like these.

    Parameters
    ----------
    passed : int
        Coupons that passed.
    n : int
        Coupons torn; every one of the series counts.
    confidence : float
        One-sided [-].

    Returns
    -------
    Counting
        Numbers and a sentence in plain words.

    Raises
    ------
    BadInput
        No coupon, or more passed than torn.

    Sources
    -------
    clopper-pearson-1934.

    Examples
    --------
    >>> counting_alone(3, 3).text[:47]
    '3 of 3 coupons passed. Counting alone, this sho'
    """
    _share("confidence", confidence)
    bound = _lower(passed, n, 1.0 - confidence)
    needed = success_run_size(0.90, confidence)
    coupons = "coupon" if n == 1 else "coupons"
    sure = f"{confidence * 100:g} % confidence"
    if passed == 0:
        shown = "this shows nothing good about such welds"
    else:
        shown = f"this shows that at least {_percent_down(bound)} of such welds are good ({sure})"
    text = f"{passed} of {n} {coupons} passed. Counting alone, {shown}."
    if passed == n and n < needed:
        text += (
            f" To show 90 % by counting alone takes {needed} passes out of {needed}: what carries "
            "the decision is how far the diameters lie over the limit."
        )
    return Counting(passed, n, bound, confidence, needed, text)
