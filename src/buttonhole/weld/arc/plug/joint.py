"""The joint of a plug weld: sheets, holes, how large the piece is, and how the torch is led."""

import itertools
import math
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import Steel
from buttonhole.units import BadInput
from buttonhole.weld.arc.metal import ThermalMetal, steel_metal
from buttonhole.weld.arc.plug.alloy_stack import AlloyStack

# Bounds of what can be computed, not of what is good; our own.
MIN_HOLE, MAX_HOLE = 3e-3, 16e-3  # m
MIN_PIECE, MAX_PIECE = 20e-3, 200e-3  # m
MOST_SHEETS = 3


class TorchPath(StrEnum):
    """Way of the arc in the hole."""

    CENTRE = "centre"  # held in the middle
    SPIRAL = "spiral"  # begun in the middle, washed out to the rim
    RIM = "rim"  # led round along the rim


@dataclass(frozen=True, slots=True)
class PlugJoint:
    """Sheets from the side that is welded, all of steel or all of aluminium, and their holes.

    ``hole_diameters`` [m]: one for each sheet but the last, none larger than the one above it; a
    sheet that is not drilled has 0, and with the first not drilled it is an arc spot, which burns
    through. ``piece_radius`` [m]: of a disc as large as the coupon or the
    flange round the weld, square root of its area over pi; heat does not leave over its edge.
    ``back_film`` [W/m2/K]: what a bar, magnet or clamp takes off the back, 0 for air alone.
    """

    stack: StackUp | AlloyStack
    hole_diameters: tuple[float, ...]
    path: TorchPath = TorchPath.SPIRAL
    piece_radius: float = 40e-3
    back_film: float = 0.0

    def __post_init__(self) -> None:
        sheets, holes = self.stack.sheets, self.hole_diameters
        if len(sheets) > MOST_SHEETS:
            raise BadInput("sheet", f"a plug weld is computed for two or three, not {len(sheets)}")
        if len(holes) != len(sheets) - 1:
            raise BadInput(
                "hole_diameter",
                f"{len(holes)} given for {len(sheets)} sheets; give one for each sheet but the "
                "last, 0 mm where it is not drilled",
            )
        if not (holes[0] == 0.0 or MIN_HOLE <= holes[0] <= MAX_HOLE):  # also catches NaN
            raise BadInput(
                "hole_diameter",
                f"is {holes[0] * 1e3:g} mm in the first sheet; give {MIN_HOLE * 1e3:g} to "
                f"{MAX_HOLE * 1e3:g} mm, or 0 mm for an arc spot without a hole",
            )
        for above, hole in itertools.pairwise(holes):
            if not (hole == 0.0 or MIN_HOLE <= hole <= above):
                raise BadInput(
                    "hole_diameter",
                    f"is {hole * 1e3:g} mm under a hole of {above * 1e3:g} mm; step the holes, the "
                    f"largest outside, none below {MIN_HOLE * 1e3:g} mm, or give 0 mm for no hole",
                )
        if not MIN_PIECE <= self.piece_radius <= MAX_PIECE:
            raise BadInput(
                "piece_radius",
                f"is {self.piece_radius * 1e3:g} mm; give {MIN_PIECE * 1e3:g} to "
                f"{MAX_PIECE * 1e3:g} mm",
            )
        if not 0.0 <= self.back_film <= 1e4:
            raise BadInput("back_film", "give 0 to 10000 W/m2/K; 0 for air alone")

    @property
    def metals(self) -> tuple[ThermalMetal, ...]:
        """What the sheets are made of."""
        if isinstance(self.stack, AlloyStack):
            return tuple(sheet.metal for sheet in self.stack.sheets)
        return tuple(steel_metal(sheet.steel) for sheet in self.stack.sheets)

    @property
    def steels(self) -> tuple[Steel, ...]:
        """Steels of the sheets; empty for aluminium."""
        if isinstance(self.stack, AlloyStack):
            return ()
        return tuple(sheet.steel for sheet in self.stack.sheets)

    @property
    def thicknesses(self) -> tuple[float, ...]:
        """Thickness of each sheet [m]."""
        return tuple(sheet.thickness for sheet in self.stack.sheets)

    @property
    def hole_volume(self) -> float:
        """Volume of the holes [m3], gaps between the sheets left out."""
        pairs = zip(self.hole_diameters, self.thicknesses[:-1], strict=True)
        return sum(math.pi / 4.0 * hole**2 * thickness for hole, thickness in pairs)
