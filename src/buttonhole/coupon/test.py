"""The destructive tests: what each shows, what it hides, and which of them suits a stack-up.

Sources: iso-10447; iso-17653; iso-14273; iso-14272; iso-17639; twi-239-1984. What a test shows and
hides in a shop is common practice, no source, where none of these is named.
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.joint.stack_up import FayingInterface
from buttonhole.joint.steel import HARDENED
from buttonhole.sources import table
from buttonhole.units import BadInput

# Lowest tensile strength from which sheets snap rather than roll in peel; common practice, no
# source: the limit between the rows of the judgement matrix.
SNAPS = 980e6  # Pa
TWIST_LIMIT = 2.0e-3  # m; a size read after torsion is not to be trusted from here (TWI: 2.4 mm)


class TestKind(StrEnum):
    """A test of a coupon; the value is the word in files and records."""

    __test__ = False  # not a test of this program

    PEEL = "peel"
    CHISEL = "chisel"
    TORSION = "torsion"
    TENSILE_SHEAR = "tensile_shear"
    CROSS_TENSION = "cross_tension"
    MACRO = "macro"
    BEND = "bend"

    @property
    def shows(self) -> str:
        """What the test is good for."""
        return _WORDS[self][0]

    @property
    def hides(self) -> str:
        """What the test does not show."""
        return _WORDS[self][1]

    @property
    def how(self) -> str:
        """How it is done in a shop, in one line."""
        return _WORDS[self][2]

    @property
    def standard(self) -> str:
        """The standard that describes it."""
        return scope(self).standard


_WORDS = {
    TestKind.PEEL: (
        "Button diameter and how the weld lets go.",
        "Sheets of 980 MPa and more often snap; thick sheets can't be rolled.",
        "Clamp one sheet, roll the other off with round-nosed grips or a roller.",
    ),
    TestKind.CHISEL: (
        "Stuck welds, and the button if driven to the end; can also be done on the vehicle.",
        "Welds that are only a little too small; it harms the coating.",
        "Drive a wedge beside the weld, not into it.",
    ),
    TestKind.TORSION: (
        "The fused diameter on the broken face, and toughness by the angle of twist.",
        "How the weld would let go on the vehicle: good welds part between the sheets when "
        "twisted. In sheets from about 2 mm also the size.",
        "Hold one sheet in the vice, twist the other flat, about 90 degrees in 5 seconds.",
    ),
    TestKind.TENSILE_SHEAR: (
        "The load in shear.",
        "Brittleness of a small nugget: shear hardly notices it.",
        "Pull a lapped coupon in a testing machine.",
    ),
    TestKind.CROSS_TENSION: (
        "The load in the worst direction; shows brittle welds in high-strength steel.",
        "The load in shear; needs a laboratory.",
        "Pull two crossed strips apart in a fixture.",
    ),
    TestKind.MACRO: (
        "Nugget diameter, penetration, pores and cracks; the only way for stacks that don't tear.",
        "How the weld lets go, and everything outside the cut: a cut beside the middle shows a "
        "smaller nugget.",
        "Saw through the middle, grind, etch with nital. Acid: gloves, goggles, ventilation.",
    ),
    TestKind.BEND: (
        "Places along a seam that are not fused; cold starts, cracks, pores.",
        "How much it bears; nothing about a spot.",
        "Cut strips across the seam, bend them in the vice with the root outside.",
    ),
}


STANDARDS = {
    TestKind.PEEL: "ISO 10447:2015",
    TestKind.CHISEL: "ISO 10447:2015",
    TestKind.TORSION: "ISO 17653:2012",
    TestKind.TENSILE_SHEAR: "ISO 14273:2016",
    TestKind.CROSS_TENSION: "ISO 14272:2016",
    TestKind.MACRO: "ISO 17639",
    TestKind.BEND: "ISO 5173",
}


@dataclass(frozen=True, slots=True)
class Scope:
    """Standard of a test and the single sheets it covers, ``t_min`` to ``t_max`` [m]."""

    standard: str
    t_min: float
    t_max: float


def scope(test: TestKind) -> Scope:
    """Return the standard of a test and the sheet thickness it covers.

    Sources
    -------
    iso-10447; iso-17653; iso-14273; iso-14272. ISO 17639, ISO 5173 state no thickness: from memory.
    """
    standard = STANDARDS[test]
    listed = table("test_standards").where("standard", standard)
    if not listed.cells:
        return Scope(standard, 0.0, math.inf)
    low, high = (float(listed.column(header)[0]) for header in ("t_min [mm]", "t_max [mm]"))
    return Scope(standard, low * 1e-3, high * 1e-3)


@dataclass(frozen=True, slots=True)
class Suitability:
    """Whether a test can decide about a weld, and why."""

    test: TestKind
    decides: bool
    reason: str


def _thicknesses(interface: FayingInterface) -> tuple[float, float]:
    pair = (interface.sheet_a.thickness, interface.sheet_b.thickness)
    return min(pair), max(pair)


def suitability(test: TestKind, interface: FayingInterface) -> Suitability:
    """Say whether a test can decide about the weld at a faying interface.

    Parameters
    ----------
    test : TestKind
        The test.
    interface : FayingInterface
        The two sheets that are to be parted.

    Returns
    -------
    Suitability
        ``decides`` is false where the standard does not cover the sheets or the test is known to
        mislead; the reason says what to do.

    Sources
    -------
    iso-10447, iso-17653, iso-14273, iso-14272 (scopes)
    twi-239-1984 (torsion)
    """
    if test is TestKind.BEND:
        return Suitability(test, False, "A bend test is for seams. Peel or section a spot.")
    covered, (thin, thick) = scope(test), _thicknesses(interface)
    if thin < covered.t_min * (1 - 1e-9) or thick > covered.t_max * (1 + 1e-9):
        return Suitability(
            test,
            False,
            f"{covered.standard} covers sheets of {covered.t_min * 1e3:g} to "
            f"{covered.t_max * 1e3:g} mm; these are {thin * 1e3:g} and {thick * 1e3:g} mm. "
            "Section one.",
        )
    if test is TestKind.TORSION and thick >= TWIST_LIMIT * (1 - 1e-9):
        return Suitability(
            test,
            False,
            "A size read after twisting is not reliable in sheets from about 2 mm. "
            "Peel or section one.",
        )
    if test in (TestKind.PEEL, TestKind.CHISEL) and snaps(interface):
        return Suitability(
            test,
            True,
            "Sheets of 980 MPa and more may snap or part between the sheets. If that happens, "
            "section one or have one pulled.",
        )
    return Suitability(test, True, f"{covered.standard} covers these sheets.")


def snaps(interface: FayingInterface) -> bool:
    """Whether one of the sheets is of 980 MPa and more, hot-stamped, martensitic or unknown."""
    steels = (interface.sheet_a.steel, interface.sheet_b.steel)
    return any(s.is_unknown or s.family in HARDENED or s.tensile_strength >= SNAPS for s in steels)


def suited(interface: FayingInterface) -> tuple[Suitability, ...]:
    """Return the shop tests for an interface, the one to take first at the head."""
    order = (
        (TestKind.MACRO, TestKind.CHISEL, TestKind.PEEL, TestKind.TORSION)
        if snaps(interface)
        else (TestKind.PEEL, TestKind.CHISEL, TestKind.TORSION, TestKind.MACRO)
    )
    found = [suitability(test, interface) for test in order]
    return tuple(sorted(found, key=lambda each: not each.decides))


def find_test(text: str) -> TestKind:
    """Return the test of a name.

    Raises
    ------
    BadInput
        No such test; the message lists them.
    """
    try:
        return TestKind(text)
    except ValueError as error:
        raise BadInput("test", f"{text[:40]!r} is none of: {', '.join(TestKind)}") from error
