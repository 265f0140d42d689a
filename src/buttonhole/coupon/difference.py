"""What is not the same on the coupon as on the vehicle: a coupon proves only what it shares.

Every rule here is common practice, no source; the thickness step is our own choice.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.coupon.arc.piece import ArcSheet
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
    """What a weld is made with besides sheets and settings. Empty: nobody said.

    ``coating_state``: what is on the faces where it is welded (``as_joint``, bare, primer, e-coat);
    ``between``: sealer or adhesive between the sheets or near them. Torch, liner, and the numbers
    of spool and cylinder are of an arc.
    """

    machine: str
    arm_pair: str = ""
    program_version: str = ""
    outlet: str = ""
    lead: str = ""
    position: str = ""
    welder: str = ""
    coating_state: str = ""
    between: str = ""
    torch: str = ""
    liner: str = ""
    wire_batch: str = ""
    gas_batch: str = ""


AS_JOINT = "as_joint"  # a coating state: as on the vehicle


@dataclass(frozen=True, slots=True)
class ReadBack:
    """What the machine showed after the weld; none where it shows nothing.

    Force and weld time are of a spot; voltage, wire feed and arc time of an arc.
    """

    current: float | None = None  # A rms
    force: float | None = None  # N
    weld_time: float | None = None  # s
    voltage: float | None = None  # V
    wire_feed_speed: float | None = None  # m/s
    arc_time: float | None = None  # s


@dataclass(frozen=True, slots=True)
class Compared:
    """One item of the surroundings that is compared: what another one counts, and what to do.

    An ``optional`` one is left out where neither side says it.
    """

    item: str
    field: str
    level: "Level"
    advice: str
    optional: bool = False


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
        *sheet_differences(joint[0].sheets, coupon[0].sheets),
        *_gaps(joint[0], coupon[0]),
        *_set_ups(joint[1], coupon[1]),
        *surroundings_differences(joint[2], coupon[2]),
        *_read_backs(coupon[1], read_back or ReadBack()),
    ]
    return red_first(found)


def red_first(found: Sequence[Difference]) -> tuple[Difference, ...]:
    """Put what matters most first; what is the same comes last."""
    order = list(Level)
    return tuple(sorted(found, key=lambda one: order.index(one.level)))


def sheet_differences(
    joint: Sequence[Sheet | ArcSheet], coupon: Sequence[Sheet | ArcSheet]
) -> list[Difference]:
    """Compare the sheets of a coupon with those of the joint, from the same side.

    Parameters
    ----------
    joint, coupon : sequence of Sheet or ArcSheet
        In their order.

    Returns
    -------
    list of Difference
        One for each sheet; a single red one where their number differs.
    """
    if len(joint) != len(coupon):
        counts = (f"{len(joint)} sheets", f"{len(coupon)} sheets")
        return [Difference("sheets", *counts, Level.RED, "Weld the coupon from all sheets.")]
    found = []
    for place, (one, other) in enumerate(zip(joint, coupon, strict=True), 1):
        level, advice = _sheet_level(one, other)
        item = f"sheet {place}"
        found.append(Difference(item, _sheet_words(one), _sheet_words(other), level, advice))
    return found


def _gaps(joint: StackUp, coupon: StackUp) -> list[Difference]:
    if len(joint.sheets) != len(coupon.sheets):  # another joint altogether
        return []
    return [gap_difference("gap", joint.gap, coupon.gap)]


def gap_difference(item: str, joint: float, coupon: float) -> Difference:
    """Compare two gaps.

    Parameters
    ----------
    item : str
        Which gap.
    joint, coupon : float
        On the vehicle and on the coupon [m].

    Returns
    -------
    Difference
        Red where the joint stands open further.
    """
    level, advice = Level.GREEN, ""
    if joint - coupon > SAME_GAP:
        level = Level.RED
        advice = "The joint stands open further than the coupon did: close it, or copy the gap."
    elif coupon - joint > SAME_GAP:
        level, advice = Level.AMBER, "The coupon stood open further than the joint."
    return Difference(item, _mm(joint), _mm(coupon), level, advice)


def _sheet_level(joint: Sheet | ArcSheet, coupon: Sheet | ArcSheet) -> tuple[Level, str]:
    if joint.coating != coupon.coating:
        return Level.RED, "Take scrap with the same coating."
    if _sheet_name(joint) != _sheet_name(coupon):
        metal = "alloy" if joint.steel is None else "steel"
        return Level.RED, f"Take scrap of the same {metal}."
    away = abs(joint.thickness - coupon.thickness)
    if away > NEAR_THICKNESS * (1 + 1e-9):
        return Level.RED, "Take scrap of the same thickness."
    if away > SAME_THICKNESS * (1 + 1e-9):
        return Level.AMBER, "Nearly the same thickness; scrap of the part itself is better."
    if joint.coating is Coating.UNKNOWN or (joint.steel is not None and joint.steel.is_unknown):
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
    return set_differences(pairs)


def set_differences(pairs: Sequence[tuple[str, str, str]]) -> list[Difference]:
    """Compare what was set, by the words it is shown with; another value is another set-up.

    Parameters
    ----------
    pairs : sequence of (str, str, str)
        Item, on the joint, on the coupon.

    Returns
    -------
    list of Difference
        Green or red.
    """
    advice = "The coupon was welded with another set-up: it says nothing about this one."
    return [
        Difference(item, one, other, Level.GREEN)
        if one == other
        else Difference(item, one, other, Level.RED, advice)
        for item, one, other in pairs
    ]


SUPPLY = "Another supply changes the heat. Weld a coupon at the supply the vehicle gets."
ARMS = "Other arms bend and conduct differently. Weld a coupon with the arms of the job."
FACES = (
    Compared(
        "coating state",
        "coating_state",
        Level.RED,
        "Prepare the faces of the coupon as those of the joint.",
        optional=True,
    ),
    Compared(
        "sealer or adhesive",
        "between",
        Level.RED,
        "Put on the coupon what will be between the sheets, or near them.",
        optional=True,
    ),
)
SPOT_ITEMS = (
    Compared("machine", "machine", Level.RED, "Weld it with the gun of the job."),
    Compared("arm pair", "arm_pair", Level.RED, ARMS),
    Compared("program version", "program_version", Level.RED, ""),
    Compared("outlet", "outlet", Level.RED, SUPPLY),
    Compared("lead", "lead", Level.RED, SUPPLY),
    Compared("position", "position", Level.AMBER, "Weld it as the car stands."),
    Compared("welder", "welder", Level.AMBER, "A release holds for who welded."),
    *FACES,
)


def surroundings_differences(
    joint: Surroundings, coupon: Surroundings, items: tuple[Compared, ...] = SPOT_ITEMS
) -> list[Difference]:
    """Compare what is round a coupon with what is round the joint.

    Parameters
    ----------
    joint, coupon : Surroundings
        Of both.
    items : tuple of Compared
        What is compared.

    Returns
    -------
    list of Difference
        In the order of the items.

    Sources
    -------
    common-practice: what counts how much.
    """
    found = []
    for each in items:
        one, other = getattr(joint, each.field), getattr(coupon, each.field)
        if each.optional and not one and not other:
            continue
        said = (one or "not said", other or "not said")
        if one == other or (each.field == "coating_state" and other == AS_JOINT):
            found.append(Difference(each.item, *said, Level.GREEN))
        elif not one or not other:
            found.append(Difference(each.item, *said, Level.AMBER, "Say it on both, then compare."))
        else:
            found.append(Difference(each.item, one, other, each.level, each.advice))
    return found


def shown_difference(
    item: str, due: float, got: float | None, words: Callable[[float], str]
) -> list[Difference]:
    """Compare what a machine showed with what was set.

    Parameters
    ----------
    item : str
        What it is.
    due : float
        As set [SI].
    got : float or None
        As shown [SI]; None where it shows nothing.
    words : callable
        Says it with its unit.

    Returns
    -------
    list of Difference
        Empty where it shows nothing.
    """
    if got is None:
        return []
    away = abs(got / due - 1.0)
    level, advice = Level.GREEN, ""
    if away > FAR_READ_BACK:
        level = Level.RED
        advice = "The machine did not do what was set: check supply and machine."
    elif away > NEAR_READ_BACK:
        level, advice = Level.AMBER, "The machine did not quite do what was set."
    return [Difference(item, words(due), words(got), level, advice)]


def _read_backs(set_up: SpotSetUp, shown: ReadBack) -> list[Difference]:
    main = max(pulse.current for pulse in set_up.pulses)
    return [
        *shown_difference("current shown", main, shown.current, _ka),
        *shown_difference("force shown", set_up.electrode_force, shown.force, _kn),
        *shown_difference("weld time shown", set_up.weld_time, shown.weld_time, _ms),
    ]


def _sheet_name(sheet: Sheet | ArcSheet) -> str:
    return sheet.name if isinstance(sheet, ArcSheet) else sheet.steel.designation


def _sheet_words(sheet: Sheet | ArcSheet) -> str:
    return f"{sheet.thickness * 1e3:.2f} mm {_sheet_name(sheet)} {sheet.coating.value}"


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
