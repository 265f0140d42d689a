"""Sheets of aluminium alloy for a plug weld; those of steel are a stack-up of ``joint``."""

import math
from dataclasses import dataclass

from buttonhole.joint.coating import Coating
from buttonhole.joint.stack_up import MAX_GAP
from buttonhole.units import BadInput
from buttonhole.weld.arc.metal import ThermalMetal
from buttonhole.weld.arc.nonferrous import aluminium, check_thickness


@dataclass(frozen=True, slots=True)
class AlloySheet:
    """One sheet of a listed aluminium alloy, by its designation; ``thickness`` [m]."""

    alloy: str
    thickness: float

    def __post_init__(self) -> None:
        check_thickness(self.thickness)
        aluminium(self.alloy)

    @property
    def metal(self) -> ThermalMetal:
        """What it is made of."""
        return aluminium(self.alloy)

    @property
    def coating(self) -> Coating:
        """Aluminium sheet comes without one."""
        return Coating.BARE


@dataclass(frozen=True, slots=True)
class AlloyStack:
    """Two or three sheets of aluminium from the side that is welded; ``gap`` [m], the widest."""

    sheets: tuple[AlloySheet, ...]
    gap: float = 0.0

    def __post_init__(self) -> None:
        if not 2 <= len(self.sheets) <= 3:
            raise BadInput("sheet", f"{len(self.sheets)} given; give two or three")
        if not 0.0 <= self.gap <= MAX_GAP:  # also catches NaN
            raise BadInput(
                "gap",
                f"is {self.gap * 1e3:g} mm; give 0 to {MAX_GAP * 1e3:g} mm between the sheets",
            )

    @property
    def total_thickness(self) -> float:
        """Thickness of all sheets [m], without the gap."""
        return math.fsum(sheet.thickness for sheet in self.sheets)
