"""What somebody measured on a torn weld."""

import math
from dataclasses import dataclass

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.test import TestKind
from buttonhole.units import BadInput

LARGEST = 30e-3  # m; no spot weld in sheet is larger (our own limit, against slips of the unit)

# Standard uncertainty of a calliper by what is measured; assumption, no source: the trade has
# published no figure for it.
CALLIPER_BUTTON = 0.10e-3  # m, a full button
CALLIPER_FACE = 0.25e-3  # m, a partial button or a broken face
READER = 0.15e-3  # m, between readers


def usual_instrument_uncertainty(mode: FractureMode | None) -> float:
    """Return the standard uncertainty of a calliper [m] when the shop has not found its own."""
    return CALLIPER_BUTTON if mode in (FractureMode.FULL_BUTTON, None) else CALLIPER_FACE


@dataclass(frozen=True, slots=True)
class Reading:
    """One weld of one coupon at one faying interface.

    ``d_max``, ``d_min`` [m]: largest and smallest fused diameter, the corona ring left out; for a
    macro section the nugget's (both the same when only one cut was made). ``mode`` is None for a
    macro section only. The two uncertainties are standard ones (one sigma) [m]. ``force`` [N] and
    ``torque`` [N m]: the largest; ``twist_angle`` [deg] at it; ``indentation`` [m].

    Raises
    ------
    BadInput
        A value no weld can have, or diameters the wrong way round.
    """

    interface: int  # from side A, from 0
    test: TestKind
    mode: FractureMode | None
    d_max: float  # m
    d_min: float  # m
    expulsion: bool = False
    instrument_uncertainty: float = CALLIPER_BUTTON  # m
    reader_uncertainty: float = READER  # m
    force: float | None = None  # N
    force_uncertainty: float | None = None  # N
    torque: float | None = None  # N m
    twist_angle: float | None = None  # deg
    indentation: float | None = None  # m

    def __post_init__(self) -> None:
        """Refuse what no weld can be."""
        if self.interface < 0:
            raise BadInput("interface", f"is {self.interface}; count from side A, from 0")
        for name in ("d_max", "d_min"):
            value = getattr(self, name)
            if not 0.0 <= value <= LARGEST:  # also catches NaN
                raise BadInput(
                    name,
                    f"is {value * 1e3:g} mm; give the fused diameter, 0 to {LARGEST * 1e3:g} mm",
                )
        if self.d_min > self.d_max:
            raise BadInput(
                "d_min",
                f"{self.d_min * 1e3:g} mm is more than the largest diameter "
                f"{self.d_max * 1e3:g} mm; give the largest first",
            )
        if self.mode is None and self.test is not TestKind.MACRO:
            raise BadInput("mode", f"say how the weld let go: {', '.join(FractureMode)}")
        for name in ("instrument_uncertainty", "reader_uncertainty"):
            value = getattr(self, name)
            if not 0.0 <= value <= 2e-3:
                raise BadInput(
                    name, f"is {value * 1e3:g} mm; give one standard deviation, 0 to 2 mm"
                )
        self._refuse_impossible_extras()

    def _refuse_impossible_extras(self) -> None:
        for name in ("force", "force_uncertainty", "torque", "twist_angle", "indentation"):
            value = getattr(self, name)
            if value is not None and not (value >= 0.0 and math.isfinite(value)):
                raise BadInput(name, f"is {value:g}; give a value of zero or more, or none")

    @property
    def mean_diameter(self) -> float:
        """Mean of the largest and the smallest diameter [m].

        Sources
        -------
        aws-d8-1m (definition of button size, read).
        """
        return 0.5 * (self.d_max + self.d_min)

    @property
    def aspect_ratio(self) -> float:
        """Largest over smallest diameter [-]; infinite where the smallest is zero."""
        return self.d_max / self.d_min if self.d_min > 0.0 else math.inf
