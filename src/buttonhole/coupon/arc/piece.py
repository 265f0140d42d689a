"""What an arc joined, and what was set: the same for the joint on the vehicle and its coupon."""

import math
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.joint.coating import Coating
from buttonhole.joint.steel import HARDENED, Steel
from buttonhole.units import BadInput
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import BRONZE, WireMetal

STRONG = 980e6  # Pa, tensile strength from which a steel is of the strict class; our own
HOLE_PER_WIRE = 8.0  # -, least hole over wire that leaves the arc room; derived, no source


class ArcForm(StrEnum):
    """Form of the weld: it says what is measured on a coupon."""

    PLUG = "plug"
    LAP = "lap"
    BUTT_BACKED = "butt_backed"

    @property
    def words(self) -> str:
        """In plain words."""
        return {"plug": "plug", "lap": "lap seam", "butt_backed": "butt seam over a strip"}[
            self.value
        ]


@dataclass(frozen=True, slots=True)
class ArcSheet:
    """One sheet: its steel, or its aluminium alloy by EN 573; ``thickness`` [m]."""

    thickness: float
    steel: Steel | None = None
    alloy: str = ""
    coating: Coating = Coating.BARE

    def __post_init__(self) -> None:
        if (self.steel is None) == (not self.alloy):
            raise BadInput("sheet", "is of steel or of an aluminium alloy; give one of them")
        if not 0.2e-3 <= self.thickness <= 6e-3:  # also catches NaN
            raise BadInput("thickness", f"is {self.thickness * 1e3:g} mm; give 0.2 to 6 mm")

    @property
    def name(self) -> str:
        """Designation of what it is made of."""
        return self.alloy if self.steel is None else self.steel.designation

    @property
    def is_unknown(self) -> bool:
        """Nobody knows its steel or coating."""
        return self.steel is not None and (self.steel.is_unknown or self.coating is Coating.UNKNOWN)

    @property
    def is_strong(self) -> bool:
        """Of the strict class: 980 MPa and more, hot-stamped, martensitic, or not known."""
        steel = self.steel
        if steel is None:
            return False
        strong = steel.is_unknown or steel.family in HARDENED
        return strong or steel.tensile_strength >= STRONG


@dataclass(frozen=True, slots=True)
class ArcInterface:
    """Where two sheets meet in the weld; ``index`` counts from the side welded, from 0."""

    index: int
    sheet_a: ArcSheet
    sheet_b: ArcSheet
    hole: float = 0.0  # m, of the sheet above; 0 where there is none

    @property
    def thinner_thickness(self) -> float:
        """Thickness of the thinner sheet [m]."""
        return min(self.sheet_a.thickness, self.sheet_b.thickness)

    @property
    def is_strong(self) -> bool:
        """One of the two is of the strict class."""
        return self.sheet_a.is_strong or self.sheet_b.is_strong


@dataclass(frozen=True, slots=True)
class ArcPiece:
    """Sheets from the side welded, and the form in which they are joined.

    ``holes`` [m]: of a plug, one for each sheet but the last, 0 where it is not drilled. ``gap``
    [m]: between the sheets; ``root_gap`` [m]: between the edges of a butt. ``length`` [m]: of the
    seam. The last sheet of a butt is its strip. ``backing``: what is pressed on the back.

    Raises
    ------
    BadInput
        Sheets or holes that make no such weld.
    """

    form: ArcForm
    filler: WireMetal
    sheets: tuple[ArcSheet, ...]
    holes: tuple[float, ...] = ()
    gap: float = 0.0
    root_gap: float = 0.0
    length: float = 0.0
    backing: str = "none"

    def __post_init__(self) -> None:
        if not 2 <= len(self.sheets) <= 4:
            raise BadInput("sheet", f"{len(self.sheets)} given; give two to four")
        plug = self.form is ArcForm.PLUG
        if plug and len(self.holes) != len(self.sheets) - 1:
            raise BadInput("hole_diameter", "give one for each sheet but the last, 0 for none")
        for key in ("gap", "root_gap", "length"):
            value = getattr(self, key)
            if not (value >= 0.0 and math.isfinite(value)):
                raise BadInput(key, f"is {value:g}; give zero or more")

    @property
    def interfaces(self) -> tuple[ArcInterface, ...]:
        """Where a coupon is read: each face of a plug; a seam is one place."""
        if self.form is not ArcForm.PLUG:
            edge = min(self.sheets[:-1], key=lambda sheet: sheet.thickness)
            return (ArcInterface(0, edge, self.sheets[-1]),)
        pairs = zip(self.sheets, self.sheets[1:], self.holes, strict=False)
        return tuple(ArcInterface(i, a, b, hole) for i, (a, b, hole) in enumerate(pairs))

    @property
    def brazed(self) -> bool:
        """The sheets are not meant to melt."""
        return self.filler in BRONZE

    @property
    def aluminium(self) -> bool:
        """Welded with an aluminium wire."""
        return self.filler is WireMetal.ALUMINIUM

    @property
    def has_unknown(self) -> bool:
        """Some sheet's steel or coating is not known."""
        return any(sheet.is_unknown for sheet in self.sheets)

    @property
    def strict(self) -> tuple[str, ...]:
        """Why it is of the strict class, which rests on more coupons; empty: it is not."""
        found = []
        if any(sheet.is_strong for sheet in self.sheets):
            found.append("A sheet is of ultra-high strength, or not known.")
        if len(self.sheets) > 2 and self.form is ArcForm.PLUG:
            found.append(f"It joins {len(self.sheets)} sheets.")
        return tuple(found)

    @property
    def words(self) -> str:
        """In one line."""
        metal = "brazed " if self.brazed else "aluminium " if self.aluminium else ""
        sheets = " / ".join(f"{one.thickness * 1e3:g} mm {one.name}" for one in self.sheets)
        return f"{metal}{self.form.words}, {sheets}"


@dataclass(frozen=True, slots=True)
class ArcSettings:
    """What is set and how the torch is held, by the words on spool and cylinder.

    Lengths [m], speeds [m/s], ``arc_voltage`` [V], ``arc_time`` [s], angles [rad], ``gas_flow``
    [m3/s]; as in ``weld.arc.set_up``. ``path`` is how the arc goes in a hole; ``parts`` says how a
    seam is divided, empty where it is welded in one go.
    """

    wire: str
    wire_diameter: float  # m
    gas: str
    wire_feed_speed: float  # m/s
    arc_voltage: float
    contact_tube_distance: float  # m
    arc_time: float | None = None
    travel_speed: float | None = None  # m/s
    work_angle: float = 0.0  # rad
    travel_angle: float = 0.0  # rad
    aim_offset: float = 0.0  # m
    polarity: str = ""
    position: str = ""
    gas_flow: float | None = None
    path: str = ""
    parts: str = ""


def settings_of(set_up: ArcSetUp, *, path: str = "", parts: str = "") -> ArcSettings:
    """Return what a set-up sets, by the names of wire and gas.

    Parameters
    ----------
    set_up : ArcSetUp
        As the solver takes it.
    path : str
        How the arc goes in a hole.
    parts : str
        How a seam is divided.

    Returns
    -------
    ArcSettings
        Comparable over versions of the tables of wires and gases.
    """
    mix = ", ".join(f"{share:g} % {part}" for part, share in sorted(set_up.gas.parts.items()))
    return ArcSettings(
        wire=set_up.wire.designation,
        wire_diameter=set_up.wire_diameter,
        gas=f"{set_up.gas.group} ({mix})" if mix else set_up.gas.group,
        wire_feed_speed=set_up.wire_feed_speed,
        arc_voltage=set_up.arc_voltage,
        contact_tube_distance=set_up.contact_tube_distance,
        arc_time=set_up.arc_time,
        travel_speed=set_up.travel_speed,
        work_angle=set_up.work_angle,
        travel_angle=set_up.travel_angle,
        aim_offset=set_up.aim_offset,
        polarity=set_up.polarity.value,
        position=set_up.position.value,
        gas_flow=set_up.gas_flow,
        path=path,
        parts=parts,
    )
