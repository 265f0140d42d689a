"""How much the manner of fracture counts, by test and by steel.

A judgement matrix for readings where the vehicle maker's text says nothing. A twisted weld is
never refused because it parted between the sheets: good welds do (twi-239-1984). In steel of
980 MPa and more, or hot-stamped, martensitic or unknown steel, a weld that parted between the
sheets needs a section or a force test beside its diameter. The rest is common practice, no source.
"""

from dataclasses import dataclass
from enum import StrEnum

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind, snaps, suitability
from buttonhole.joint.stack_up import FayingInterface, StackUp

SOFT = 590e6  # Pa, tensile strength up to which a full button is expected
THIN = 1.5e-3  # m, thickness up to which it is
OUTSIDE = 0.8e-3  # m, an outside sheet up to this is thin ...
OUTSIDE_SHARE = 4.0  # -, ... when the stack is over this many times as thick


class Weight(StrEnum):
    """What the manner of fracture adds to the diameter."""

    GOOD = "good"
    NOTE = "note"
    UNDECIDED = "undecided"
    SIZE_NOT_TRUSTED = "size not trusted"
    REJECT = "reject"
    INVALID = "invalid"


@dataclass(frozen=True, slots=True)
class Finding:
    """Weight of the manner of fracture, why, and what to do."""

    weight: Weight
    reasons: tuple[str, ...] = ()
    action: str = ""


SECTION_ONE = "Section one coupon, or have one pulled to measure its force."
PEEL_ONE = "Peel or section one coupon."


def expects_button(interface: FayingInterface) -> bool:
    """Whether a sound weld of these sheets peels with a full button."""
    sheets = (interface.sheet_a, interface.sheet_b)
    soft = all(s.steel.tensile_strength <= SOFT and not s.steel.is_unknown for s in sheets)
    return soft and interface.thinner_thickness <= THIN * (1 + 1e-9)


def outermost_thin(interface: FayingInterface, stack: StackUp) -> bool:
    """Whether a thin outside sheet of three or more lies at this interface."""
    if len(stack.sheets) < 3:
        return False
    at_ends = {0: stack.sheets[0], len(stack.sheets) - 2: stack.sheets[-1]}
    outside = at_ends.get(interface.index)
    return (
        outside is not None
        and outside.thickness <= OUTSIDE * (1 + 1e-9)
        and stack.total_thickness > OUTSIDE_SHARE * outside.thickness
    )


def weigh(reading: Reading, interface: FayingInterface, *, backed: bool = False) -> Finding:
    """Weigh how a weld let go.

    Parameters
    ----------
    reading : Reading
        Test, mode and diameters.
    interface : FayingInterface
        The two sheets.
    backed : bool
        A section or force test of the same set-up shows a sound weld.

    Returns
    -------
    Finding
        It depends on the diameter only where a diameter of zero contradicts the mode.

    Sources
    -------
    twi-239-1984 for torsion; aws-d8-1m for the words; the rest common practice, no source.
    """
    found = _without_size(reading)
    if found is not None:
        return found
    if reading.test is TestKind.MACRO:
        return Finding(
            Weight.GOOD,
            ("The section shows the nugget; a torn weld of the same set-up may measure more.",),
        )
    fit = suitability(reading.test, interface)
    if not fit.decides:
        return Finding(Weight.SIZE_NOT_TRUSTED, (fit.reason,), PEEL_ONE)
    if reading.test is TestKind.TORSION:
        return _twisted(reading, interface, backed)
    if reading.mode is FractureMode.INTERFACIAL:
        return _parted(reading, interface, backed)
    if reading.mode is FractureMode.FULL_BUTTON:
        return Finding(Weight.GOOD, ("It pulled a full button.",))
    name = FractureMode(reading.mode or FractureMode.PARTIAL_BUTTON).words.name
    return Finding(Weight.NOTE, (f"{name}: the whole fused diameter counts.",))


def _without_size(reading: Reading) -> Finding | None:
    """Return what decides before any diameter is looked at."""
    if reading.expulsion or reading.mode is FractureMode.EXPELLED:
        return Finding(
            Weight.REJECT,
            ("It splashed: a weld with expulsion is never accepted, however large.",),
            "Close the gap, check force, tips and dirt first; lower the current last. Then weld a "
            "new coupon.",
        )
    if reading.mode in (FractureMode.NO_WELD, FractureMode.STUCK_WELD):
        words = FractureMode(reading.mode).words
        return Finding(
            Weight.REJECT,
            (f"{words.name}: {words.sign}",),
            "Check coating, contact, force and the supply, then raise the heat.",
        )
    if reading.d_min <= 0.0:
        return Finding(
            Weight.INVALID,
            ("A weld that let go in this way has a diameter, but none was given.",),
            "Measure the largest and the smallest fused diameter.",
        )
    return None


def _twisted(reading: Reading, interface: FayingInterface, backed: bool) -> Finding:
    if reading.mode is FractureMode.FULL_BUTTON:
        return Finding(Weight.GOOD, ("It pulled a full button although it was twisted.",))
    said = (
        "Twisted welds part between the sheets also when they are good: the diameter counts, the "
        "mode is not decisive.",
    )
    if snaps(interface) and not backed:
        return Finding(
            Weight.UNDECIDED,
            (*said, "In steel of this strength the diameter alone is not enough."),
            SECTION_ONE,
        )
    return Finding(Weight.NOTE, said, "" if backed else PEEL_ONE)


def _parted(reading: Reading, interface: FayingInterface, backed: bool) -> Finding:
    if reading.test is TestKind.TENSILE_SHEAR or not expects_button(interface):
        if backed:
            return Finding(
                Weight.NOTE,
                ("It parted between the sheets; a section or a force test backs it.",),
            )
        return Finding(
            Weight.UNDECIDED,
            ("It parted between the sheets: here the diameter alone does not decide.",),
            SECTION_ONE,
        )
    return Finding(
        Weight.REJECT,
        ("It parted between the sheets, where a sound weld of these sheets pulls a button.",),
        "Raise the heat or the force step by step, check the tips, then weld a new coupon.",
    )
