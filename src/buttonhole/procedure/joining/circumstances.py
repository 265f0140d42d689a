"""What a joint is made of and what is around it, as far as it bears on the way of joining."""

from dataclasses import dataclass, field
from enum import StrEnum

from buttonhole.joint.coating import Coating
from buttonhole.joint.hints import Hints, Magnet
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import MAX_GAP, MAX_SHEETS, MIN_SHEETS, StackUp
from buttonhole.joint.steel import Steel
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.units import BadInput

UNNAMED_ALLOY = "aluminium"
LARGEST_COUNT = 500
YEARS = (1950, 2100)


class Access(StrEnum):
    """From where the joint can be reached."""

    TWO_SIDES = "two_sides"
    ONE_SIDE = "one_side"
    CLOSED_SECTION = "closed_section"


class Adhesive(StrEnum):
    """Adhesive in or at the joint."""

    NONE = "none"
    FRESH = "fresh"  # between the sheets, put on anew and inside its open time
    CURED = "cured"  # between the sheets, cured or past its open time
    NEARBY = "nearby"  # not in this joint, but where heat reaches it


class Zone(StrEnum):
    """Where on the body."""

    COSMETIC = "cosmetic"
    STRUCTURE = "structure"
    REINFORCEMENT = "reinforcement"
    PILLAR_FOOT = "pillar_foot"
    RESTRAINT_MOUNT = "restraint_mount"
    LASER_WELD = "laser_weld"  # beside a laser weld


class Original(StrEnum):
    """How the factory joined it."""

    SPOT = "spot"
    WELD_BOND = "weld_bond"
    PLUG = "plug"
    SEAM = "seam"
    LASER = "laser"
    BRAZE = "braze"
    RIVET = "rivet"
    BOND = "bond"


class RemainingFlange(StrEnum):
    """What taking the panel off left of the flange that stays."""

    SOUND = "sound"
    DRILLED = "drilled"
    THINNED = "thinned"


class Near(StrEnum):
    """What heat could reach: within 300 mm, sealer and foam within 100 mm."""

    AIRBAG = "airbag"
    FUEL = "fuel"
    HIGH_VOLTAGE = "high_voltage"
    SEALER = "sealer"
    GLASS = "glass"


@dataclass(frozen=True, slots=True)
class JoinedSheet:
    """One sheet: a steel or an aluminium alloy, thickness [m], coating, and what was measured.

    ``hardness`` [HV] and ``magnet`` are hints for a steel nobody knows: they bound what it may be
    and never name it.
    """

    thickness: float
    steel: Steel | None = None
    alloy: str = ""
    coating: Coating = Coating.BARE
    hardness: float | None = None
    magnet: Magnet | None = None

    def __post_init__(self) -> None:
        """Refuse a sheet of two metals or none, and sizes no sheet has."""
        if (self.steel is None) == (not self.alloy):
            raise BadInput("sheet", "give steel, or alloy for aluminium, and one of them only")
        if self.steel is not None:
            Sheet(self.steel, self.thickness, self.coating)  # refuses its thickness
        elif not 0.2e-3 <= self.thickness <= 6e-3:
            raise BadInput(
                "thickness", f"is {self.thickness * 1e3:g} mm; give what was measured, 0.2 to 6 mm"
            )
        Hints(hardness=self.hardness, magnet=self.magnet)  # refuses a reading no sheet gives

    @property
    def is_aluminium(self) -> bool:
        """Whether it is aluminium."""
        return bool(self.alloy)

    @property
    def name(self) -> str:
        """Its steel or alloy as printed."""
        return self.alloy or (self.steel.designation if self.steel else "")


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What is around the joint. What is left out is not known.

    ``flange_width`` [m] across the narrower flange, ``reach_needed`` [m] from the sheets' edge to
    the weld, ``arm_reach`` [m] of the longest arms at hand, ``original_count`` [-] welds the
    factory made. ``means`` are the ways of joining this shop has machine and person for; empty:
    not told.
    """

    access: Access | None = None
    flange_width: float | None = None
    reach_needed: float | None = None
    arm_reach: float | None = None
    adhesive: Adhesive | None = None
    visible: bool = False
    sectioning: bool = False
    zone: Zone | None = None
    original_joining: Original | None = None
    original_count: int | None = None
    remaining_flange: RemainingFlange | None = None
    near: tuple[Near, ...] = ()
    earlier_repair: bool = False
    model_year: int | None = None
    means: tuple[JoiningMethod, ...] = ()
    aluminium: tuple[int, ...] = ()  # sheets that are aluminium, counted from 1, where the joint's
    # record can name a steel only

    def __post_init__(self) -> None:
        """Refuse figures nobody measured."""
        for name, most in (("flange_width", 0.3), ("reach_needed", 2.0), ("arm_reach", 2.0)):
            value = getattr(self, name)
            if value is not None and not 0.0 < value <= most:
                raise BadInput(name, f"is {value * 1e3:g} mm; give up to {most * 1e3:g} mm")
        count = self.original_count
        if count is not None and not 0 <= count <= LARGEST_COUNT:
            raise BadInput("original_count", f"is {count}; count them, 0 to {LARGEST_COUNT}")
        year = self.model_year
        if year is not None and not YEARS[0] <= year <= YEARS[1]:
            raise BadInput("model_year", f"is {year}; give a year from {YEARS[0]} to {YEARS[1]}")

    @property
    def is_told(self) -> bool:
        """Whether anything was told at all."""
        return self != Circumstances()


@dataclass(frozen=True, slots=True)
class JointToJoin:
    """Sheets from side A to side B, the gap [m] between them, and what is around them."""

    sheets: tuple[JoinedSheet, ...]
    gap: float = 0.0
    circumstances: Circumstances = field(default_factory=Circumstances)

    def __post_init__(self) -> None:
        """Refuse what is no joint."""
        if not MIN_SHEETS <= len(self.sheets) <= MAX_SHEETS:
            raise BadInput(
                "sheet", f"{len(self.sheets)} given; a joint has {MIN_SHEETS} to {MAX_SHEETS}"
            )
        if not 0.0 <= self.gap <= MAX_GAP:
            raise BadInput("gap", f"is {self.gap * 1e3:g} mm; give 0 to {MAX_GAP * 1e3:g} mm")


def joint_to_join(stack: StackUp, circumstances: Circumstances | None = None) -> JointToJoin:
    """Return a stack-up with what is around it.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    circumstances : Circumstances or None
        What is around them; a sheet it calls aluminium is one, whatever the stack-up says.

    Returns
    -------
    JointToJoin
        What the rules are asked about.

    Raises
    ------
    BadInput
        A sheet is called aluminium that is not there.
    """
    told = circumstances or Circumstances()
    wrong = [one for one in told.aluminium if not 1 <= one <= len(stack.sheets)]
    if wrong:
        raise BadInput("aluminium", f"names sheet {wrong[0]}; there are {len(stack.sheets)}")
    sheets = tuple(
        JoinedSheet(one.thickness, alloy=UNNAMED_ALLOY)
        if place in told.aluminium
        else JoinedSheet(one.thickness, one.steel, coating=one.coating)
        for place, one in enumerate(stack.sheets, start=1)
    )
    return JointToJoin(sheets, stack.gap, told)
