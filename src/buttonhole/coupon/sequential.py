"""When counting or a mean of known scatter may stop: the tests of Wald.

They show why diameters are to be recorded and not only pass or fail: by counting alone nothing can
be accepted within five coupons, only rejected.

Sources: wald-1947.
"""

import math
from dataclasses import dataclass

from buttonhole.units import BadInput


def _risks(alpha: float, beta: float) -> None:
    for name, value in (("alpha", alpha), ("beta", beta)):
        if not 0.0 < value < 0.5:
            raise BadInput(name, f"is {value:g}; give a risk between 0 and 0.5, e.g. 0.05")


@dataclass(frozen=True, slots=True)
class CountingLines:
    """Accept when failures are at most ``slope`` n - ``accept``; reject from ``slope`` n +
    ``reject`` on; all [-].
    """

    accept: float
    reject: float
    slope: float

    @property
    def passes_to_accept(self) -> int:
        """Fewest passes without a failure that accept."""
        return math.ceil(self.accept / self.slope - 1e-12)

    @property
    def failures_to_reject(self) -> int:
        """Fewest failures without a pass that reject."""
        return math.ceil(self.reject / (1.0 - self.slope) - 1e-12)


def counting_lines(good: float, bad: float, alpha: float, beta: float) -> CountingLines:
    """Return between which lines a count of failures goes on.

    Parameters
    ----------
    good : float
        Share of failures that is good [-].
    bad : float
        Share of failures that is bad, larger [-].
    alpha : float
        Risk of rejecting a good one [-].
    beta : float
        Risk of accepting a bad one [-].

    Returns
    -------
    CountingLines
        Two parallel lines.

    Raises
    ------
    BadInput
        Shares the wrong way round, or a risk outside 0 to 0.5.

    Sources
    -------
    wald-1947.
    """
    if not 0.0 < good < bad < 1.0:
        raise BadInput("bad", f"is {bad:g}; give a share of failures over {good:g}, below 1")
    _risks(alpha, beta)
    rises, falls = math.log(bad / good), math.log((1.0 - good) / (1.0 - bad))
    total = rises + falls
    return CountingLines(
        math.log((1.0 - alpha) / beta) / total,
        math.log((1.0 - beta) / alpha) / total,
        falls / total,
    )


@dataclass(frozen=True, slots=True)
class MeanLines:
    """Accept when the sum is at least ``slope`` n + ``accept``; reject from ``slope`` n -
    ``reject`` down; all [SI]. ``readings_when_good`` [-]: how many it takes at the good mean.
    """

    slope: float
    accept: float
    reject: float
    readings_when_good: float


def mean_lines(good: float, bad: float, sigma: float, alpha: float, beta: float) -> MeanLines:
    """Return between which lines a sum of readings goes on.

    Parameters
    ----------
    good : float
        Mean that is good [SI].
    bad : float
        Mean that is bad, smaller [SI].
    sigma : float
        Standard deviation, known [SI].
    alpha : float
        Risk of rejecting a good one [-].
    beta : float
        Risk of accepting a bad one [-].

    Returns
    -------
    MeanLines
        Two parallel lines.

    Raises
    ------
    BadInput
        Means the wrong way round, no scatter, or a risk outside 0 to 0.5.

    Sources
    -------
    wald-1947.
    """
    if not good > bad:
        raise BadInput("bad", f"is {bad:g}; give a mean below {good:g}")
    if not sigma > 0.0:
        raise BadInput("sigma", f"is {sigma:g}; give a standard deviation above zero")
    _risks(alpha, beta)
    scale = sigma**2 / (good - bad)
    accept = scale * math.log((1.0 - alpha) / beta)
    reject = scale * math.log((1.0 - beta) / alpha)
    slope = 0.5 * (good + bad)
    return MeanLines(slope, accept, reject, accept / (good - slope))
