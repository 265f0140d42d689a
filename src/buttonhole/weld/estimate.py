"""A figure that says how sure it is."""

from dataclasses import dataclass

Z90 = 1.645  # standard deviations either side of a 90 % interval of a bell curve; arithmetic


@dataclass(frozen=True, slots=True)
class Estimate:
    """Best ``value`` with the 5 % and 95 % quantiles ``low``, ``high`` of what is believed [SI]."""

    value: float
    low: float
    high: float
