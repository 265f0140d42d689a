"""Which coupons to weld before a joint is welded: how many, from what, how large, torn how.

How many is common practice without a source, editable; the vehicle maker's number prevails. Sizes
follow the specimens of ISO 14273 as remembered.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from buttonhole.coupon.test import TestKind, suited
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput

KNOWN_FROM = 10  # judged coupons of this stack on this machine
PITCH = 30e-3  # m; of the second spot, when nobody says the joint's
SEAM_LENGTH = 40e-3  # m; the least that is judged of a seam
SEAM_RUN = 10e-3  # m; before its start and behind its stop
BLADE = 2e-3  # m; lost at every cut
MOST = 24  # coupons of one plan, spares counted


class Occasion(StrEnum):
    """Why coupons are welded; the value is the word in records."""

    NEW = "new"
    KNOWN = "known"
    CHANGED = "changed"
    SHIFT = "shift"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "new": "This stack is new on this machine",
            "known": f"At least {KNOWN_FROM} good coupons of it stand in the record",
            "changed": "Tips, gas, wire or outlet were changed",
            "shift": "A new shift or day",
        }[self.value]


class Purpose(StrEnum):
    """What one coupon is for."""

    CONFIRM = "confirm"
    START = "start"
    END = "end"
    SPARE = "spare"

    @property
    def words(self) -> str:
        """In plain words."""
        return {
            "confirm": "before the first weld",
            "start": "before the first weld",
            "end": "after the last weld",
            "spare": "second round, if one fails",
        }[self.value]


class Process(StrEnum):
    """How a coupon is welded, as far as its size is concerned."""

    SPOT = "spot"
    PLUG = "plug"
    LAP_SEAM = "lap_seam"
    BUTT_SEAM = "butt_seam"


@dataclass(frozen=True, slots=True)
class Strip:
    """Pieces to cut of one sheet of the joint, 0 from side A: `count` of `length` x `width` [m]."""

    sheet: int
    count: int
    length: float
    width: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class PlannedCoupon:
    """One coupon: its place in the order, its purpose, its welds, and which of them is judged."""

    order: int
    purpose: Purpose
    welds: int
    judged: int


@dataclass(frozen=True, slots=True)
class CouponPlan:
    """The coupons in their order, what to cut for them, and how each is torn."""

    process: Process
    occasion: Occasion
    coupons: tuple[PlannedCoupon, ...]
    strips: tuple[Strip, ...]
    overlap: float  # m
    tests: tuple[str, ...]
    notes: tuple[str, ...]

    def strip_length(self, sheet: int) -> float:
        """
        Say how long a strip of one sheet is needed, cut to the coupons' width.

        Parameters
        ----------
        sheet : int
            Which sheet, 0 from side A [-].

        Returns
        -------
        float
            Length with what the cuts lose [m]; 0 when nothing is cut of it.
        """
        return sum(one.count * (one.length + BLADE) for one in self.strips if one.sheet == sheet)


_COUNTS: dict[Occasion, dict[bool, tuple[Purpose, ...]]] = {
    # True for seams: two pieces show start, middle and stop; spots and plugs are three.
    Occasion.NEW: {False: (Purpose.CONFIRM,) * 3, True: (Purpose.CONFIRM,) * 2},
    Occasion.KNOWN: dict.fromkeys((False, True), (Purpose.START, Purpose.END)),
    Occasion.CHANGED: dict.fromkeys((False, True), (Purpose.START,)),
    Occasion.SHIFT: dict.fromkeys((False, True), (Purpose.START,)),
}


def plan_coupons(
    process: Process,
    thicknesses: Sequence[float],
    occasion: Occasion,
    *,
    stack: StackUp | None = None,
    spares: int = 1,
    pitch: float = PITCH,
    hole: float | None = None,
) -> CouponPlan:
    """
    Plan the coupons of a joint.

    Parameters
    ----------
    process : Process
        How the joint is welded.
    thicknesses : sequence of float
        Of the sheets, from side A [m].
    occasion : Occasion
        Why coupons are welded.
    stack : StackUp, optional
        Of a spot weld, for the tests that suit it.
    spares : int
        Coupons for a second round [-].
    pitch : float
        Of the spots on the vehicle [m].
    hole : float, optional
        Diameter of a plug's hole [m].

    Returns
    -------
    CouponPlan
        Its coupons, strips and tests.

    Raises
    ------
    BadInput
        When there are fewer than two sheets, a pitch nobody welds, or too many coupons.

    Sources
    -------
    - common practice, no source: how many.
    - iso-14273, from memory: length, width and overlap by thickness.
    """
    is_seam = process in (Process.LAP_SEAM, Process.BUTT_SEAM)
    purposes = _COUNTS[occasion][is_seam]
    _refuse(thicknesses, pitch, spares, len(purposes))
    purposes = _in_order(purposes, spares)
    length, width, overlap = _size(process, max(thicknesses), pitch)
    return CouponPlan(
        process=process,
        occasion=occasion,
        coupons=_coupons(process, purposes),
        strips=_strips(process, len(thicknesses), len(purposes), (length, width), hole),
        overlap=overlap if process is not Process.BUTT_SEAM else 0.0,
        tests=_tests(process, stack),
        notes=_notes(process, pitch),
    )


def _refuse(thicknesses: Sequence[float], pitch: float, spares: int, needed: int) -> None:
    if len(thicknesses) < 2:
        raise BadInput("sheets", f"are {len(thicknesses)}; a coupon needs two or more")
    if not 5e-3 <= pitch <= 0.2:  # also catches NaN
        raise BadInput("pitch", f"is {pitch * 1e3:g} mm; give the pitch of the spots, 5 to 200 mm")
    if not 0 <= spares <= MOST - needed:
        raise BadInput("spares", f"is {spares}; give 0 to {MOST - needed}")


def _in_order(purposes: tuple[Purpose, ...], spares: int) -> tuple[Purpose, ...]:
    """Spares come before the end coupon, so that the numbers run as the coupons are welded."""
    ends = tuple(one for one in purposes if one is Purpose.END)
    return (*purposes[: len(purposes) - len(ends)], *(Purpose.SPARE,) * spares, *ends)


def _coupons(process: Process, purposes: Sequence[Purpose]) -> tuple[PlannedCoupon, ...]:
    """The last weld of a coupon is judged; a spot is judged beside one made before it."""
    welds = 2 if process is Process.SPOT else 1
    return tuple(
        PlannedCoupon(order, purpose, welds, welds)
        for order, purpose in enumerate(purposes, start=1)
    )


def _size(process: Process, thickest: float, pitch: float) -> tuple[float, float, float]:
    """Length, width and overlap [m] of one strip, from memory of ISO 14273 for one weld."""
    length, width, overlap = 160e-3, 90e-3, 60e-3
    if thickest <= 1.5e-3 * (1 + 1e-9):
        length, width, overlap = 105e-3, 45e-3, 35e-3
    elif thickest <= 3e-3 * (1 + 1e-9):
        length, width, overlap = 138e-3, 60e-3, 45e-3
    if process is Process.SPOT:
        width += pitch
    elif process is not Process.PLUG:
        width = max(width, SEAM_LENGTH + 2 * SEAM_RUN)
    return length, width, overlap


def _strips(
    process: Process, sheets: int, count: int, size: tuple[float, float], hole: float | None
) -> tuple[Strip, ...]:
    length, width = size
    found = []
    for sheet in range(sheets):
        note, many = "", count
        if process is Process.PLUG and sheet < sheets - 1 and hole:
            note = f"one hole of {hole * 1e3:g} mm in the middle of the overlap"
        backing = process is Process.BUTT_SEAM and sheet == sheets - 1
        if backing:
            note = "the backing strip, as wide as on the vehicle"
        elif process is Process.BUTT_SEAM and sheets == 2:
            note, many = "two edges that meet over the backing", 2 * count
        found.append(Strip(sheet, many, length, width, note))
    return tuple(found)


def _tests(process: Process, stack: StackUp | None) -> tuple[str, ...]:
    if process is Process.SPOT and stack is not None:
        found = []
        for face in stack.interfaces:
            first = suited(face)[0]
            name = first.test.value.replace("_", " ")
            found.append(f"Sheet {face.index + 1} to {face.index + 2}: {name}. {first.reason}")
        return tuple(found)
    if process is Process.PLUG:
        return (
            "Look at the back first and note it. "
            f"Then tear it: {TestKind.CHISEL.how} Measure what stays on the lower sheet.",
        )
    return (
        "Look at the back first and note it. Then bend it open from the root in the vice, or saw "
        "it across in the middle, away from start and stop.",
    )


def _notes(process: Process, pitch: float) -> tuple[str, ...]:
    found = [
        "Cut from what is left of the same parts, old and new; else from sheet of the same grade, "
        "coating and thickness within 0.1 mm.",
        "Same order of sheets, same sealer, adhesive, primer and gap as the joint.",
    ]
    if process is Process.SPOT:
        found.append(
            f"Two spots at a pitch of {pitch * 1e3:g} mm: the second one is judged, because the "
            "first takes some of its current, as on the flange."
        )
    if process in (Process.LAP_SEAM, Process.BUTT_SEAM):
        at_least = ceil(SEAM_LENGTH * 1e3)
        found.append(f"Seam at least {at_least} mm long, in the position of the vehicle.")
    return tuple(found)
