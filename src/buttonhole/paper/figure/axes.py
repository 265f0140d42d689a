"""Scales and tick marks shared by the plots."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Axis:
    """A straight scale: ``low`` and ``high`` in the quantity's unit lie at two drawing places."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Place a value.

        Parameters
        ----------
        value : float
            In the unit of the axis [-].

        Returns
        -------
        float
            Drawing place [-]; values outside run on beyond the ends.
        """
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def kept(self, value: float) -> float:
        """Place a value, held between the ends of the axis.

        Parameters
        ----------
        value : float
            In the unit of the axis [-].

        Returns
        -------
        float
            Drawing place [-].
        """
        return self.at(min(max(value, self.low), self.high))


def ticks(low: float, high: float, most: int) -> list[float]:
    """Choose round values along an axis.

    Parameters
    ----------
    low : float
        Lower end [-].
    high : float
        Upper end, above the lower [-].
    most : int
        How many there may be at most, two or more.

    Returns
    -------
    list of float
        Multiples of 1, 2 or 5 times a power of ten between the ends [-].
    """
    rough = (high - low) / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next((m * power for m in (1.0, 2.0, 5.0) if m * power >= rough), 10.0 * power)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [count * step for count in range(first, last + 1)]


def places(values: list[float]) -> int:
    """Say how many decimals a list of ticks needs.

    Parameters
    ----------
    values : list of float
        Evenly stepped values [-].

    Returns
    -------
    int
        Decimals, at most six.
    """
    for count in range(6):
        if all(abs(value - round(value, count)) < 1e-9 for value in values):
            return count
    return 6
