"""Uncertainty of a measured diameter and the guard band it asks for.

Sources: jcgm-100; jcgm-106; iso-14253-1.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from buttonhole.units import BadInput


def combined(parts: Sequence[float]) -> float:
    """Return the root sum of squares of independent standard uncertainties.

    Parameters
    ----------
    parts : sequence of float
        Standard uncertainties, all in the same unit [SI].

    Returns
    -------
    float
        Combined standard uncertainty [SI].

    Sources
    -------
    jcgm-100.
    """
    return math.hypot(*parts)


def effective_degrees_of_freedom(parts: Sequence[float], degrees: Sequence[float]) -> float:
    """Return the effective degrees of freedom (Welch and Satterthwaite).

    Parameters
    ----------
    parts : sequence of float
        Standard uncertainties [SI].
    degrees : sequence of float
        Degrees of freedom of each [-]; infinite for a figure taken as exact.

    Returns
    -------
    float
        Effective degrees of freedom [-]; round down before looking up a t value.

    Raises
    ------
    BadInput
        Not as many degrees of freedom as uncertainties, or one not above zero.

    Sources
    -------
    jcgm-100.
    """
    if len(parts) != len(degrees) or not all(d > 0 for d in degrees):
        raise BadInput("degrees", "give degrees of freedom above zero for each uncertainty")
    fourth = math.fsum(u**4 / d for u, d in zip(parts, degrees, strict=True))
    return combined(parts) ** 4 / fourth if fourth > 0.0 else math.inf


def coverage_factor(confidence: float, degrees: float) -> float:
    """Return the factor from a standard to an expanded uncertainty.

    Parameters
    ----------
    confidence : float
        Two-sided [-].
    degrees : float
        Effective degrees of freedom; rounded down, as the guide has it [-].

    Returns
    -------
    float
        Student's t [-].

    Raises
    ------
    BadInput
        A confidence outside 0 to 1, or less than one degree of freedom.

    Sources
    -------
    jcgm-100.
    """
    if not 0.0 < confidence < 1.0:
        raise BadInput("confidence", f"is {confidence:g}; give a share between 0 and 1, e.g. 0.95")
    if not degrees >= 1.0:
        raise BadInput("degrees", f"is {degrees:g}; at least one degree of freedom is needed")
    from scipy.special import ndtri, stdtrit  # slow to load

    share = 0.5 * (1.0 + confidence)
    return float(ndtri(share) if math.isinf(degrees) else stdtrit(math.floor(degrees), share))


@dataclass(frozen=True, slots=True)
class GuardPolicy:
    """How much room a reading must keep to its limit: ``factor`` [-] times its uncertainty."""

    key: str
    factor: float
    reason: str


# With k = 2 the band holds about 95 % of what the weld may be, two-sided: one reading exactly at
# the guarded limit is then of a weld under the limit in 2.3 % of cases.
EXPANDED = GuardPolicy(
    "expanded",
    2.0,
    "The whole expanded uncertainty U (k = 2) is kept to the limit: at most about 2 in 100 welds "
    "read just at the guarded limit are too small.",
)
ONE_SIDED = GuardPolicy(
    "one-sided-95",
    1.645,
    "1.645 times the standard uncertainty is kept to the limit: at most about 5 in 100 welds read "
    "just at the guarded limit are too small.",
)
GUARD_POLICIES = {policy.key: policy for policy in (EXPANDED, ONE_SIDED)}


def probability_over_limit(value: float, limit: float, standard_uncertainty: float) -> float:
    """Return how likely what was measured is really at or over its limit.

    Nothing is taken as known about it before the reading (flat prior), errors are normal.

    Parameters
    ----------
    value : float
        Reading [SI].
    limit : float
        Lower limit [SI].
    standard_uncertainty : float
        Of the reading [SI].

    Returns
    -------
    float
        Probability [-].

    Sources
    -------
    jcgm-106.
    """
    if standard_uncertainty <= 0.0:
        return 1.0 if value >= limit else 0.0
    return 0.5 * math.erfc((limit - value) / (standard_uncertainty * math.sqrt(2.0)))
