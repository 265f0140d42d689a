"""One sheet of a stack-up."""

from dataclasses import dataclass

from buttonhole.joint.coating import Coating
from buttonhole.joint.steel import Steel
from buttonhole.units import BadInput

MIN_THICKNESS = 0.2e-3  # m; below this no published spot weld schedule exists
MAX_THICKNESS = 6.0e-3  # m; above this the contact model has never been compared with anything


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: steel, thickness [m] and coating (the same on both faces)."""

    steel: Steel
    thickness: float
    coating: Coating = Coating.BARE

    def __post_init__(self) -> None:
        if not MIN_THICKNESS <= self.thickness <= MAX_THICKNESS:  # also catches NaN
            raise BadInput(
                "thickness",
                f"is {self.thickness * 1e3:g} mm; give the measured sheet thickness, "
                f"{MIN_THICKNESS * 1e3:g} to {MAX_THICKNESS * 1e3:g} mm",
            )
