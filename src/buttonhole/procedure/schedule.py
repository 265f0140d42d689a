"""Published ranges of force, time and current to begin a search from.

They are for two equal low-carbon sheets and stand in tables of their own: ISO 14373 for uncoated
and zinc-coated sheet, BS 1140 for iron-zinc. Stronger steel gets more force on top.
"""

from dataclasses import dataclass

from buttonhole.joint.coating import Coating
from buttonhole.joint.stack_up import StackUp, ThicknessRule, governing_steel, governing_thickness
from buttonhole.joint.steel import HARDENED, MULTIPHASE, Family
from buttonhole.sources import table
from buttonhole.units import BadInput

CYCLE_50 = 0.020  # s, one cycle of 50 Hz
KGF = 9.80665  # N, exact by definition
INCH = 25.4e-3  # m, exact by definition
CYCLE_60 = 1.0 / 60.0  # s, one cycle of 60 Hz
SQUEEZE = 17 * CYCLE_50  # s, least for pneumatic guns (rw-practice-notes)


@dataclass(frozen=True, slots=True)
class Schedule:
    """Ranges to begin from, all in SI; ``extra_force`` [-] is added for stronger steel."""

    name: str
    thickness: float  # m, that governs
    face: float  # m
    force_min: float  # N
    force_max: float  # N
    time_min: float  # s
    time_max: float  # s
    current_min: float  # A
    current_max: float  # A
    extra_force: float  # -
    extra_reason: str


def _printed(coatings: set[Coating]) -> tuple[str, str, str]:
    """Return table, row and name for what covers the sheets; the hardest coating counts."""
    if coatings & {Coating.GI, Coating.ZM, Coating.UNKNOWN}:
        return "schedule_iso14373_zinc", "hot-dip zinc", "ISO 14373, hot-dip zinc"
    if Coating.EG in coatings:
        return "schedule_iso14373_zinc", "electrolytic zinc", "ISO 14373, electrolytic zinc"
    if Coating.GA in coatings:
        return "schedule_bs1140", "iron zinc or zinc nickel", "BS 1140, iron-zinc"
    return "schedule_iso14373_uncoated", "high force, short time", "ISO 14373, uncoated, high force"


def _extra_force(stack: StackUp) -> tuple[float, str]:
    """Return the share of force added for the strongest steel, and why [-]."""
    family = governing_steel(stack).family
    if family in HARDENED | MULTIPHASE:
        return 0.20, "20 % more force for high-strength steel (a guide value from memory)"
    if family is Family.HSLA:
        return 0.15, "15 % more force for micro-alloyed steel (a design guideline)"
    return 0.0, ""


def schedule_for(stack: StackUp) -> Schedule:
    """Return the published ranges nearest to a stack-up.

    Parameters
    ----------
    stack : StackUp
        The sheets.

    Returns
    -------
    Schedule
        By the second thinnest sheet (of two the thinner) and the coating that needs most.

    Raises
    ------
    BadInput
        No published range reaches that thickness.

    Sources
    -------
    iso-14373, bs-1140 (read as reprinted)
    design-guideline-2005 (force for stronger steel, read)
    handbook-memory (force for multiphase and hardened steel)
    """
    thickness = governing_thickness(stack, ThicknessRule.BS_1140)
    file, row, name = _printed({sheet.coating for sheet in stack.sheets})
    listed = table(file).where("coating" if "zinc" in file else "condition", row)
    # BS 1140 prints its lower and upper ends in rows of their own.
    lower = listed.where("bound", "min") if file == "schedule_bs1140" else listed
    over, upto = lower.column("t_over [mm]"), lower.column("t_upto [mm]")
    hit = (over < thickness * 1e3 - 1e-9) & (thickness * 1e3 <= upto + 1e-9)
    if not hit.any():
        raise BadInput(
            "thickness",
            f"{thickness * 1e3:g} mm governs; published ranges reach over {over.min():g} to "
            f"{upto.max():g} mm. Ask the vehicle maker for a set-up",
        )
    at = int(hit.argmax())
    extra, why = _extra_force(stack)

    def ends(header: str, unit: float) -> tuple[float, float]:
        if file == "schedule_bs1140":
            pair = [float(listed.where("bound", b).column(header)[at]) for b in ("min", "max")]
        else:
            stem, end = header.split(" ", 1)
            pair = [float(listed.column(f"{stem}_{b} {end}")[at]) for b in ("min", "max")]
        return pair[0] * unit, pair[1] * unit

    if file == "schedule_bs1140":
        force, time = ends("force [kgf]", KGF), ends("weld_time [cycle50]", CYCLE_50)
    elif file == "schedule_iso14373_zinc":
        force, time = ends("force [kN]", 1e3), ends("weld_time [ms]", 1e-3)
    else:
        force, time = ends("force [kN]", 1e3), ends("weld_time [cycle50]", CYCLE_50)
    current = ends("I [kA]", 1e3)
    face = float(lower.column("face [mm]")[at]) * 1e-3
    return Schedule(name, thickness, face, *force, *time, *current, extra, why)


def hold_time(thickness: float) -> float:
    """Return the hold time of the optimum conditions chart for low-carbon steel.

    Parameters
    ----------
    thickness : float
        That governs [m].

    Returns
    -------
    float
        Hold time [s].

    Raises
    ------
    BadInput
        The chart does not reach that thickness.

    Sources
    -------
    rw-supplier-chart
    """
    cycles = table("schedule_sae1010").interpolate(
        "t [in]", "hold_time [cycle60]", thickness / INCH
    )
    return cycles * CYCLE_60
