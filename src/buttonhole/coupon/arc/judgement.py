"""How much the manner of fracture, the back and the test count on an arc weld.

Used where the vehicle maker's text says nothing. Common practice, no source, but for twisted welds
(twi-239-1984) and what ISO 5817 does not permit.
"""

from buttonhole.coupon.arc.fracture import ArcFracture
from buttonhole.coupon.arc.piece import ArcForm, ArcInterface, ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.judgement import SECTION_ONE, SOFT, THIN, Finding, Weight
from buttonhole.coupon.test import TWIST_LIMIT, Suitability, TestKind
from buttonhole.weld.arc.plug.marks import BackMark

BENT = 90.0  # deg; a strip bent less shows little

LOOK_AT_BACK = (
    "Look at the back of the weld and take a picture of it: none, faint, clear, bump, drip or hole."
)
MORE_HEAT = (
    "8 to 10 % more power, start in the middle of the lower sheet and work out, contact tube about "
    "10 mm away; then weld a new coupon."
)
_NO_FUSION = (
    "Start in the middle of the lower sheet and work out, contact tube 8 to 12 mm away, a little "
    "more power; clean, close the gap."
)
_REFUSED = {
    ArcFracture.SMOOTH_FACE: _NO_FUSION,
    ArcFracture.RING_ONLY: "Start in the middle of the lower sheet, then wash out to the rim.",
    ArcFracture.PULLED_THROUGH: "Wash the head out over the rim, 1 to 3 mm wider than the hole.",
    ArcFracture.PEELED_SMOOTH: (
        "Aim at the sheet that stayed smooth, slower, hotter; close the gap."
    ),
    ArcFracture.CLEAN_ON_ONE: "Aim at the clean sheet, clean it, slot or weave; warm both alike.",
    ArcFracture.ROOT_OPENED: "Wider root gap, more power or slower: strip and edges have to melt.",
    ArcFracture.POROUS_FACE: (
        "Clean round the joint; check gas, flow, draught and spatter in the nozzle; vent the zinc."
    ),
    ArcFracture.CRACKED: "Find out why: wire, restraint, zinc, crater not filled.",
    ArcFracture.BURNT_THROUGH: (
        "Close the gap; less time or 10 % less power, stitches, copper on the back."
    ),
}
_FAMILIES = {
    ArcForm.PLUG: {
        TestKind.PEEL,
        TestKind.CHISEL,
        TestKind.TORSION,
        TestKind.TENSILE_SHEAR,
        TestKind.CROSS_TENSION,
        TestKind.MACRO,
    },
    ArcForm.LAP: {
        TestKind.PEEL,
        TestKind.CHISEL,
        TestKind.BEND,
        TestKind.TENSILE_SHEAR,
        TestKind.MACRO,
    },
    ArcForm.BUTT_BACKED: {TestKind.BEND, TestKind.TENSILE_SHEAR, TestKind.MACRO},
}


def arc_suitability(test: TestKind, form: ArcForm, interface: ArcInterface) -> Suitability:
    """Say whether a test can decide about an arc weld.

    Parameters
    ----------
    test : TestKind
        The test.
    form : ArcForm
        Form of the weld.
    interface : ArcInterface
        The two sheets.

    Returns
    -------
    Suitability
        With what to do where it does not decide.

    Sources
    -------
    twi-239-1984 (torsion, by spots); the rest common practice, no source.
    """
    if test not in _FAMILIES[form]:
        good = ", ".join(one.value.replace("_", " ") for one in suited_arc(form))
        return Suitability(
            test, False, f"This test says little about a {form.words}; take {good} instead."
        )
    thick = max(interface.sheet_a.thickness, interface.sheet_b.thickness)
    if test is TestKind.TORSION and thick >= TWIST_LIMIT * (1 - 1e-9):
        return Suitability(
            test,
            False,
            "A size read after twisting is not reliable in sheets from about 2 mm. Peel or section "
            "one.",
        )
    return Suitability(test, True, f"{test.shows}")


def suited_arc(form: ArcForm) -> tuple[TestKind, ...]:
    """Return the shop tests for a form of weld, the one to take first at the head."""
    if form is ArcForm.PLUG:
        return (TestKind.PEEL, TestKind.CHISEL, TestKind.TORSION, TestKind.MACRO)
    if form is ArcForm.LAP:
        return (TestKind.PEEL, TestKind.BEND, TestKind.MACRO)
    return (TestKind.BEND, TestKind.MACRO)


def weigh_fracture(
    reading: ArcReading, piece: ArcPiece, interface: ArcInterface, *, backed: bool = False
) -> Finding:
    """Weigh how an arc weld let go.

    Parameters
    ----------
    reading : ArcReading
        Test, fracture and what belongs to them.
    piece : ArcPiece
        What was joined.
    interface : ArcInterface
        The two sheets.
    backed : bool
        A section of the same interface and set-up shows a sound weld.

    Returns
    -------
    Finding
        It does not depend on how large anything is.

    Sources
    -------
    twi-239-1984 for torsion; the rest common practice, no source.
    """
    how = reading.fracture
    if how is None:
        return _sectioned(reading, piece)
    if how in _REFUSED:
        return Finding(
            Weight.REJECT, (f"{how.words.name}: {_lower(how.words.sign)}",), _REFUSED[how]
        )
    fit = arc_suitability(reading.test, piece.form, interface)
    if not fit.decides:
        return Finding(Weight.SIZE_NOT_TRUSTED, (fit.reason,), "Weld another coupon for that.")
    if not reading.smooth_left_out:
        return Finding(
            Weight.SIZE_NOT_TRUSTED,
            ("What is smooth and bright was measured with it; it was never fused.",),
            "Measure again, the rough area only.",
        )
    if piece.form is ArcForm.PLUG:
        return _plug(reading, interface, backed)
    return _seam(reading, piece, backed)


def _lower(sentence: str) -> str:
    return sentence[0].lower() + sentence[1:]


def _sectioned(reading: ArcReading, piece: ArcPiece) -> Finding:
    depths = reading.penetrations
    if depths and not piece.brazed and min(depths) <= 0.0:
        return Finding(
            Weight.REJECT,
            ("The section shows a sheet that did not melt: lack of fusion is not permitted.",),
            "Aim at that sheet, slower, closer, more power.",
        )
    if depths and piece.brazed and max(depths) > 0.0:
        return Finding(
            Weight.REJECT,
            ("The section shows a melted sheet: in arc brazing only the braze melts.",),
            "Less power, push, pulse.",
        )
    return Finding(Weight.GOOD, ("The section shows one place; the rest is not seen.",))


def _plug(reading: ArcReading, interface: ArcInterface, backed: bool) -> Finding:
    how = reading.fracture
    if how is ArcFracture.HOLE_PULLED:
        return Finding(Weight.GOOD, ("It pulled a hole in the sheet below.",))
    if how is ArcFracture.TORN_BEYOND:
        return Finding(Weight.GOOD, ("The sheet tore on past the weld: it held all round.",))
    if how is ArcFracture.RING_TORN:
        said = "The top sheet tore round the weld; the plug held on the sheet below."
        if interface.is_strong and not backed:
            return Finding(
                Weight.UNDECIDED,
                (said, "In steel of this strength that may be a brittle ring."),
                "Ask the maker whether it may be plug welded; section one.",
            )
        return Finding(Weight.GOOD, (said,))
    if how is ArcFracture.PARTED_ROUGH:
        return _parted(reading, interface, backed)
    name = how.words.name if how else ""
    return Finding(Weight.NOTE, (f"{name}: the whole fused area counts.",))


def _parted(reading: ArcReading, interface: ArcInterface, backed: bool) -> Finding:
    if backed:
        return Finding(Weight.NOTE, ("It parted at the sheet below; a section backs it.",))
    below = interface.sheet_b
    soft = below.steel is not None and below.steel.tensile_strength <= SOFT
    expected = soft and not below.is_strong and below.thickness <= THIN * (1 + 1e-9)
    if reading.test is TestKind.TORSION and not interface.is_strong:
        return Finding(
            Weight.NOTE,
            ("Twisted welds part at the face also when they are good: the diameter counts.",),
            "Peel or section one coupon.",
        )
    if expected and reading.test in (TestKind.PEEL, TestKind.CHISEL):
        return Finding(
            Weight.REJECT,
            ("It parted, where a sound plug pulls a hole in a sheet below like this.",),
            MORE_HEAT,
        )
    return Finding(
        Weight.UNDECIDED,
        ("It parted at the sheet below: here the diameter alone does not decide.",),
        SECTION_ONE,
    )


def _seam(reading: ArcReading, piece: ArcPiece, backed: bool) -> Finding:
    how = reading.fracture
    if how is ArcFracture.UNBROKEN:
        return _unbroken(reading)
    if how is ArcFracture.TOE_TORN:
        if reading.test is TestKind.BEND:
            return Finding(
                Weight.REJECT,
                ("It opened along the toe when it was bent.",),
                "Look for undercut and overlap there: torch upright, slower, lower voltage.",
            )
        return Finding(
            Weight.NOTE, ("It tore along the toe.",), "Look for undercut there and measure it."
        )
    if how is ArcFracture.THROAT_TORN:
        return _throat(piece, backed)
    if how is ArcFracture.SOFT_ZONE_TORN:
        return Finding(
            Weight.NOTE,
            (
                "It tore in the softened zone: usual for alloys that are hardened by heat, and "
                "weaker than the sheet.",
            ),
            "Weld it only where the maker has this joint; let it cool between runs.",
        )
    if how is ArcFracture.SHEET_TORN:
        return Finding(Weight.GOOD, ("A sheet tore beside the weld; the weld is whole.",))
    if how is ArcFracture.BRAZE_ON_BOTH:
        return Finding(Weight.NOTE, ("The braze tore through itself and held on both sheets.",))
    name = how.words.name if how else ""
    return Finding(Weight.NOTE, (f"{name}: the length that held counts.",))


def _throat(piece: ArcPiece, backed: bool) -> Finding:
    soft = all(
        one.steel is not None and not one.is_unknown and one.steel.tensile_strength <= SOFT
        for one in piece.sheets
    )
    if soft and not piece.aluminium:
        return Finding(
            Weight.REJECT,
            ("The weld tore through, where a sound seam lets the sheet tear.",),
            "More leg and throat: slower, less gap, or more wire.",
        )
    if backed:
        return Finding(Weight.NOTE, ("The weld tore through; a section backs it.",))
    return Finding(
        Weight.UNDECIDED,
        ("The weld tore through; in sheets stronger than the wire that does not decide.",),
        SECTION_ONE,
    )


def _unbroken(reading: ArcReading) -> Finding:
    if reading.test is not TestKind.BEND:
        return Finding(
            Weight.UNDECIDED,
            ("It did not come apart: that says little in this test.",),
            "Bend or section it.",
        )
    if reading.bend_angle is None:
        return Finding(
            Weight.UNDECIDED, ("Nobody said how far it was bent.",), "Measure the angle."
        )
    if reading.bend_angle < BENT:
        return Finding(
            Weight.UNDECIDED,
            (f"It was bent by {reading.bend_angle:g} degrees only.",),
            f"Bend it by {BENT:g} degrees or more.",
        )
    return Finding(Weight.GOOD, (f"Bent by {reading.bend_angle:g} degrees, nothing opened.",))


def weigh_back(back: BackMark | None, piece: ArcPiece) -> Finding:
    """Weigh what shows on the back.

    Parameters
    ----------
    back : BackMark or None
        None: nobody looked.
    piece : ArcPiece
        What was joined.

    Returns
    -------
    Finding
        Not decided where nobody looked.

    Sources
    -------
    common practice, no source; iso-5817 (burn-through is not permitted).
    """
    if back is None:
        return Finding(Weight.UNDECIDED, ("Nobody looked at the back of the weld.",), LOOK_AT_BACK)
    if back in (BackMark.DRIP, BackMark.HOLE):
        return Finding(
            Weight.REJECT,
            (f"The back shows a {back.value}: burn-through is not permitted.",),
            _REFUSED[ArcFracture.BURNT_THROUGH],
        )
    if back is BackMark.BUMP and piece.brazed:
        return Finding(
            Weight.REJECT,
            ("The back shows a bump: the sheet melted, and in arc brazing it must not.",),
            "Less power, push, pulse.",
        )
    if back is BackMark.NONE and not piece.aluminium and not piece.brazed:
        return Finding(
            Weight.NOTE,
            ("No mark on the back: little heat reached the last sheet.",),
            "Section one, or give it a little more heat.",
        )
    return Finding(Weight.GOOD)
