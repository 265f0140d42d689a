"""What is not the same on the coupon as on the vehicle: a coupon proves only what it shares.

Every rule here is common practice, no source; the thickness step is our own choice.
"""

from dataclasses import dataclass
from enum import StrEnum

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.set_up import SpotSetUp

SAME_THICKNESS = 0.02e-3  # m; what a calliper can tell apart
NEAR_THICKNESS = 0.1e-3  # m; common practice, no source
SAME_GAP = 0.05e-3  # m; the thinnest feeler gauge of a usual set
NEAR_READ_BACK = 0.03  # -; common practice, no source
FAR_READ_BACK = 0.06  # -; common practice, no source


class Level(StrEnum):
    """How much a difference matters; never shown by colour alone."""

    RED = "red"
    AMBER = "amber"
    GREEN = "green"

    @property
    def word(self) -> str:
        """The word that stands beside the colour."""
        return {"red": "not the joint", "amber": "look", "green": "same"}[self.value]


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a weld is made with besides sheets and settings. Empty: nobody said."""

    machine: str
    arm_pair: str = ""
    program_version: str = ""
    outlet: str = ""
    lead: str = ""
    position: str = ""
    welder: str = ""


@dataclass(frozen=True, slots=True)
class ReadBack:
    """What the machine showed after the weld; none where it shows nothing."""

    current: float | None = None  # A rms
    force: float | None = None  # N
    weld_time: float | None = None  # s


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing compared: what it is, on the joint, on the coupon, and what to do about it."""

    item: str
    on_joint: str
    on_coupon: str
    level: Level
    advice: str = ""


def differences(
    joint: tuple[StackUp, SpotSetUp, Surroundings],
    coupon: tuple[StackUp, SpotSetUp, Surroundings],
    read_back: ReadBack | None = None,
) -> tuple[Difference, ...]:
    """
    Compare a coupon with the joint it stands for.

    Parameters
    ----------
    joint : tuple of StackUp, SpotSetUp, Surroundings
        What is to be welded on the vehicle.
    coupon : tuple of StackUp, SpotSetUp, Surroundings
        What was welded.
    read_back : ReadBack, optional
        What the machine showed.

    Returns
    -------
    tuple of Difference
        Red ones first; what is the same comes last.

    Sources
    -------
    common-practice: which differences make a coupon worthless.
    """
    found = [
        *_stacks(joint[0], coupon[0]),
        *_set_ups(joint[1], coupon[1]),
        *_surroundings(joint[2], coupon[2]),
        *_read_backs(coupon[1], read_back or ReadBack()),
    ]
    order = list(Level)
    return tuple(sorted(found, key=lambda one: order.index(one.level)))


def _stacks(joint: StackUp, coupon: StackUp) -> list[Difference]:
    found = []
    if len(joint.sheets) != len(coupon.sheets):
        counts = (f"{len(joint.sheets)} sheets", f"{len(coupon.sheets)} sheets")
        return [Difference("sheets", *counts, Level.RED, "Weld the coupon from all sheets.")]
    for place, (one, other) in enumerate(zip(joint.sheets, coupon.sheets, strict=True), 1):
        level, advice = _sheet_level(one, other)
        item = f"sheet {place}"
        found.append(Difference(item, _sheet_words(one), _sheet_words(other), level, advice))
    level, advice = Level.GREEN, ""
    if joint.gap - coupon.gap > SAME_GAP:
        level = Level.RED
        advice = "The joint stands open further than the coupon did: close it, or copy the gap."
    elif coupon.gap - joint.gap > SAME_GAP:
        level, advice = Level.AMBER, "The coupon stood open further than the joint."
    found.append(Difference("gap", _mm(joint.gap), _mm(coupon.gap), level, advice))
    return found


def _sheet_level(joint: Sheet, coupon: Sheet) -> tuple[Level, str]:
    if joint.coating != coupon.coating:
        return Level.RED, "Take scrap with the same coating."
    if joint.steel.designation != coupon.steel.designation:
        return Level.RED, "Take scrap of the same steel."
    away = abs(joint.thickness - coupon.thickness)
    if away > NEAR_THICKNESS * (1 + 1e-9):
        return Level.RED, "Take scrap of the same thickness."
    if away > SAME_THICKNESS * (1 + 1e-9):
        return Level.AMBER, "Nearly the same thickness; scrap of the part itself is better."
    if joint.steel.is_unknown or joint.coating is Coating.UNKNOWN:
        return Level.AMBER, "Nobody knows this sheet: only scrap of the part itself is the same."
    return Level.GREEN, ""


def _set_ups(joint: SpotSetUp, coupon: SpotSetUp) -> list[Difference]:
    pairs = (
        ("welding current", _pulses(joint), _pulses(coupon)),
        ("current type", joint.current_type.value, coupon.current_type.value),
        ("electrode force", _kn(joint.electrode_force), _kn(coupon.electrode_force)),
        ("squeeze time", _ms(joint.squeeze_time), _ms(coupon.squeeze_time)),
        ("hold time", _ms(joint.hold_time), _ms(coupon.hold_time)),
        ("electrode caps", _caps(joint), _caps(coupon)),
    )
    advice = "The coupon was welded with another set-up: it says nothing about this one."
    return [
        Difference(item, one, other, Level.GREEN)
        if one == other
        else Difference(item, one, other, Level.RED, advice)
        for item, one, other in pairs
    ]


def _surroundings(joint: Surroundings, coupon: Surroundings) -> list[Difference]:
    supply = "Another supply changes the heat. Weld a coupon at the supply the vehicle gets."
    arms = "Other arms bend and conduct differently. Weld a coupon with the arms of the job."
    rules = (
        ("machine", joint.machine, coupon.machine, Level.RED, "Weld it with the gun of the job."),
        ("arm pair", joint.arm_pair, coupon.arm_pair, Level.RED, arms),
        ("program version", joint.program_version, coupon.program_version, Level.RED, ""),
        ("outlet", joint.outlet, coupon.outlet, Level.RED, supply),
        ("lead", joint.lead, coupon.lead, Level.RED, supply),
        ("position", joint.position, coupon.position, Level.AMBER, "Weld it as the car stands."),
        ("welder", joint.welder, coupon.welder, Level.AMBER, "A release holds for who welded."),
    )
    found = []
    for item, one, other, level, advice in rules:
        if one == other:
            found.append(Difference(item, one or "not said", other or "not said", Level.GREEN))
        elif not one or not other:
            said = (one or "not said", other or "not said")
            found.append(Difference(item, *said, Level.AMBER, "Say it on both, then compare."))
        else:
            found.append(Difference(item, one, other, level, advice))
    return found


def _read_backs(set_up: SpotSetUp, shown: ReadBack) -> list[Difference]:
    main = max(pulse.current for pulse in set_up.pulses)
    pairs = (
        ("current shown", main, shown.current, _ka),
        ("force shown", set_up.electrode_force, shown.force, _kn),
        ("weld time shown", set_up.weld_time, shown.weld_time, _ms),
    )
    found = []
    for item, due, got, words in pairs:
        if got is None:
            continue
        away = abs(got / due - 1.0)
        level, advice = Level.GREEN, ""
        if away > FAR_READ_BACK:
            level, advice = Level.RED, "The machine did not do what was set: check supply and gun."
        elif away > NEAR_READ_BACK:
            level, advice = Level.AMBER, "The machine did not quite do what was set."
        found.append(Difference(item, words(due), words(got), level, advice))
    return found


def _sheet_words(sheet: Sheet) -> str:
    return f"{sheet.thickness * 1e3:.2f} mm {sheet.steel.designation} {sheet.coating.value}"


def _pulses(set_up: SpotSetUp) -> str:
    return ", ".join(
        f"{_ka(one.current)} {_ms(one.time)}"
        + (f" then {_ms(one.cool_time)} without" if one.cool_time else "")
        + (f" up-slope {_ms(one.up_slope)}" if one.up_slope else "")
        + (f" down-slope {_ms(one.down_slope)}" if one.down_slope else "")
        for one in set_up.pulses
    )


def _caps(set_up: SpotSetUp) -> str:
    return "; ".join(
        " ".join(
            f"{name} {value * 1e3:g} mm"
            for name, value in (("face", cap.face_diameter), ("radius", cap.radius))
            if value is not None
        )
        for cap in (set_up.cap_a, set_up.cap_b)
    )


def _mm(length: float) -> str:
    return f"{length * 1e3:.2f} mm"


def _ka(current: float) -> str:
    return f"{current / 1e3:.2f} kA"


def _kn(force: float) -> str:
    return f"{force / 1e3:.2f} kN"


def _ms(time: float) -> str:
    return f"{time * 1e3:.0f} ms"
