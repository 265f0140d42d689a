"""A mark as somebody measured it, and what weighted welds say of what is hidden."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.arc.weighting import mean_and_spread, quantile
from buttonhole.weld.estimate import Estimate

Array = NDArray[np.float64]

WIDEST, FARTHEST_OFF = 0.2, 0.05  # m, of a mark, and of how far it may be off; judged, no source
HOTTEST = 3000.0  # degC


@dataclass(frozen=True, slots=True)
class Sighting:
    """One mark as measured: ``value`` [m] and its standard deviation [m]."""

    value: float
    spread: float  # m

    def __post_init__(self) -> None:
        fits = 0.0 <= self.value <= WIDEST and 0.0 < self.spread <= FARTHEST_OFF
        if not fits:  # also catches NaN
            raise BadInput(
                "reading",
                f"is {self.value * 1e3:g} +/- {self.spread * 1e3:g} mm; give 0 to 200 mm and how "
                "far it may be off, above 0 and up to 50 mm",
            )


@dataclass(frozen=True, slots=True)
class Warmth:
    """One temperature as measured: ``value`` [degC] and its standard deviation [K]."""

    value: float
    spread: float  # K

    def __post_init__(self) -> None:
        if not (0.0 <= self.value <= HOTTEST and 0.0 < self.spread <= HOTTEST / 4.0):
            raise BadInput(  # also catches NaN
                "reading",
                f"is {self.value:g} +/- {self.spread:g} degC; give 0 to {HOTTEST:g} degC and how "
                "far it may be off, above zero",
            )


def hidden_estimate(values: Array, weights: Array, off: float, top: float) -> Estimate:
    """Weighted mean with its 90 % interval.

    Parameters
    ----------
    values, weights : Array
        (n,) of each weld that could be [m], and how much it counts [-].
    off : float
        What the model itself may be off [m].
    top : float
        Largest value that can be [m].

    Returns
    -------
    Estimate
        In [m], never below 0.
    """
    mean, _ = mean_and_spread(values, weights)
    low, high = (
        min(max(quantile(values, weights, off, share), 0.0), top) for share in (0.05, 0.95)
    )
    return Estimate(min(max(mean, low), high), low, high)
