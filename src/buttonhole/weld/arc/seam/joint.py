"""What is welded by a seam: two sheets in a lap, or two edges over a backing strip."""

from dataclasses import dataclass, replace
from enum import StrEnum

from buttonhole.joint.coating import ZINC
from buttonhole.joint.sheet import Sheet
from buttonhole.units import BadInput
from buttonhole.weld.arc.metal import ThermalMetal, steel_metal
from buttonhole.weld.arc.nonferrous import aluminium, check_thickness

LARGEST_GAP = 3e-3  # m; wider is no gap but another joint
CLOSED = 0.05e-3  # m; the thinnest feeler gauge of a usual set, a smaller opening is none
SHORTEST, LONGEST = 10e-3, 120e-3  # m
THINNEST, THICKEST = 0.4e-3, 6e-3  # m; the arc model was made for body sheet


class JointKind(StrEnum):
    """Form of the joint; the value is the text used in a weld file."""

    LAP = "lap"
    BUTT_BACKED = "butt_backed"


@dataclass(frozen=True, slots=True)
class SeamSheet:
    """One sheet of a seam: its metal, thickness [m] and whether it holds zinc."""

    metal: ThermalMetal
    thickness: float
    zinc: bool = False

    def __post_init__(self) -> None:
        if not THINNEST <= self.thickness <= THICKEST:  # also catches NaN
            raise BadInput(
                "thickness",
                f"is {self.thickness * 1e3:g} mm; a seam can be computed on sheet of "
                f"{THINNEST * 1e3:g} to {THICKEST * 1e3:g} mm",
            )

    @classmethod
    def of_steel(cls, sheet: Sheet) -> "SeamSheet":
        """Take a steel sheet with its coating."""
        return cls(steel_metal(sheet.steel), sheet.thickness, sheet.coating in ZINC)


@dataclass(frozen=True, slots=True)
class BackingBar:
    """Bar pressed on the back: what it takes per area [W/m2/K], and its width [m]."""

    conductance: float = 1000.0  # W/m2/K, copper clamped on; 200 for a magnet, from memory
    width: float = 20e-3  # m


@dataclass(frozen=True, slots=True)
class SeamJoint:
    """A joint of a seam and the coupon or panel round it.

    In a lap ``upper`` lies on ``lower`` and its edge is the joint; the torch stands over the bare
    part of ``lower``. In a backed butt ``upper`` and ``right`` meet (``right`` is like ``upper`` if
    not given) and ``lower`` is the backing strip, ``overlap`` its half width.
    """

    kind: JointKind
    upper: SeamSheet
    lower: SeamSheet
    length: float  # m, from the first start to the last stop
    right: SeamSheet | None = None
    gap: float = 0.0  # m, between the sheets of a lap
    root_opening: float = 0.0  # m, between the edges of a butt
    bar: BackingBar | None = None
    width: float = 40e-3  # m, of metal on each side of the joint
    overlap: float = 25e-3  # m
    overhang: float = 15e-3  # m, of metal before the start and behind the stop

    def __post_init__(self) -> None:
        limits = (
            ("length", self.length, SHORTEST, LONGEST, "weld 10 to 120 mm in one go"),
            ("gap", self.gap, 0.0, LARGEST_GAP, "close the joint before it is welded"),
            ("root_gap", self.root_opening, 0.0, LARGEST_GAP, "close the joint or add metal"),
            ("width", self.width, 8e-3, 0.3, "give the metal on each side of the joint"),
            ("overlap", self.overlap, 5e-3, 0.1, "give the overlap of the sheets"),
            ("overhang", self.overhang, 0.0, 0.1, "give the metal beyond the seam's ends"),
        )
        for key, value, low, high, advice in limits:
            if not low <= value <= high:  # also catches NaN
                raise BadInput(
                    key,
                    f"is {value * 1e3:g} mm; {advice}: {low * 1e3:g} to {high * 1e3:g} mm can be "
                    "computed",
                )
        if self.kind is JointKind.BUTT_BACKED and self.gap > 0.0:
            raise BadInput("gap", "a backed butt has a root_gap between its edges, no gap")
        if self.kind is JointKind.LAP and self.root_opening > 0.0:
            raise BadInput("root_gap", "a lap has a gap between its sheets, no root_gap")

    def fitted(self) -> "SeamJoint":
        """Return the joint with an opening that no feeler gauge finds taken as closed.

        A cell as thin as such an opening would only make the steps of time short.
        """
        return replace(
            self,
            gap=self.gap if self.gap >= CLOSED else 0.0,
            root_opening=self.root_opening if self.root_opening >= CLOSED else 0.0,
        )

    @property
    def sheets(self) -> tuple[SeamSheet, ...]:
        """Sheets in the order of the codes of their cells."""
        if self.kind is JointKind.LAP:
            return (self.lower, self.upper)
        return (self.lower, self.upper, self.right or self.upper)


def aluminium_sheet(designation: str, thickness: float) -> SeamSheet:
    """Return a sheet of a listed aluminium alloy.

    Parameters
    ----------
    designation : str
        By EN 573, with or without "EN AW-".
    thickness : float
        Of the sheet [m].

    Returns
    -------
    SeamSheet
        Without zinc.

    Raises
    ------
    BadInput
        The alloy is not listed, or the sheet is not 1 to 3 mm thick.
    """
    check_thickness(thickness)
    return SeamSheet(aluminium(designation), thickness)
