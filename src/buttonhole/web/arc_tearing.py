"""The questions about a coupon of an arc weld, one a screen, and what their answers make.

The back comes first: it tells most, and no reading is complete without it.
"""

from collections.abc import Mapping
from typing import Any

from buttonhole.coupon.arc.fracture import ArcFracture, find_fracture, offered
from buttonhole.coupon.arc.imperfection import Rule, Seen, imperfection, offered_imperfections
from buttonhole.coupon.arc.judgement import arc_suitability, suited_arc
from buttonhole.coupon.arc.piece import ArcForm, ArcInterface, ArcPiece
from buttonhole.coupon.arc.reading import CLEAN, ArcReading
from buttonhole.coupon.arc.verdict import HELD_ALL_ALONG
from buttonhole.coupon.gauge import Gauge
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import BRITTLE_ANGLE
from buttonhole.units import BadInput
from buttonhole.web.arc_torn_pictures import back_choice, fault_picture, torn_arc_picture
from buttonhole.web.asking import Choice, Figure, Question, gauge_of, which_gauge
from buttonhole.web.fields import Answers
from buttonhole.web.pictures import test_picture, twist_picture
from buttonhole.web.screen import between
from buttonhole.weld.arc.plug.marks import BackMark

FORCE_TESTS = (TestKind.TENSILE_SHEAR, TestKind.CROSS_TENSION)
BACK, SEEN, OUTSIDE, ROUGH = "back", "seen", "outside", "rough-only"
ONLY_ROUGH = frozenset(
    {
        ArcFracture.PARTED_ROUGH,
        ArcFracture.PART_HOLE,
        ArcFracture.RING_ONLY,
        ArcFracture.POROUS_FACE,
    }
)
NOT_MEASURED = frozenset(
    {
        ArcFracture.SMOOTH_FACE,
        ArcFracture.PEELED_SMOOTH,
        ArcFracture.CLEAN_ON_ONE,
        ArcFracture.BURNT_THROUGH,
        ArcFracture.CRACKED,
    }
)
MAY_BE_MEASURED = frozenset(
    {ArcFracture.RING_ONLY, ArcFracture.PULLED_THROUGH, ArcFracture.POROUS_FACE,
     ArcFracture.ROOT_OPENED, ArcFracture.TORN_BEYOND, ArcFracture.RING_TORN}
)  # fmt: skip
# Fields of a reading that belong to a whole coupon, and those asked at each interface.
_OUTSIDE = (
    ("head_max", "Head, largest"),
    ("head_min", "Head, across it"),
    ("head_height", "Head, height"),
    ("hole_max", "Hole as drilled, largest"),
    ("hole_min", "Hole, across it"),
    ("zinc_ring", "Ring on the back"),
)
_LABELS = {
    "d_max": "Largest diameter",
    "d_min": "Across it, at 90°",
    "tested_length": "Length torn or bent",
    "fused_length": "Length that held",
    "leg": "Smaller leg",
    "throat": "Throat",
    "wetted_width": "Width the braze is drawn out",
    "bend_angle": "Bent by",
    "twist_angle": "Angle of twist",
    "force": "Largest force",
}
_UNITS = {"bend_angle": "°", "twist_angle": "°", "force": "kN"}


def questions(
    piece: ArcPiece, given: Mapping[str, str], gauges: tuple[Gauge, ...]
) -> tuple[Question, ...]:
    """All questions about a coupon; which ones there are follows from the answers so far."""
    asked = [_back(piece), _seen(piece)]
    limited = [one for one in _seen_keys(piece, given) if imperfection(one).rule is Rule.LIMIT]
    if limited:
        asked.append(_how_deep(limited))
    if piece.form is ArcForm.PLUG:
        asked.append(_outside())
    for face in piece.interfaces:
        test, fracture = _test_of(given, face.index), _fracture_of(piece, given, face.index)
        asked.append(_which_test(piece, face))
        if test is not TestKind.MACRO:
            asked.append(_how_it_let_go(piece, face.index))
        figures = _figures(piece, face.index, test, fracture)
        if figures and (test is TestKind.MACRO or fracture is not None):
            asked.append(_measure(piece, face.index, test, fracture, figures))
        if fracture in ONLY_ROUGH and figures:
            asked.append(_rough_only(face.index))
    if any(one.figures and one.keys[0] != OUTSIDE for one in asked):
        asked.append(which_gauge(gauges))
    return tuple(asked)


def readings(piece: ArcPiece, form: Answers, gauges: tuple[Gauge, ...]) -> tuple[ArcReading, ...]:
    """What the answers say, one reading for each interface; only once no question is open."""
    gauge = gauge_of(gauges, form.typed)
    return tuple(_reading(piece, face.index, form, gauge) for face in piece.interfaces)


def measured_of(piece: ArcPiece, one: Question, form: Answers) -> bool:
    """Whether the figures of a question can be those of a weld; what can't be is marked."""
    before = len(form.faults)
    for figure in one.figures:
        _value(form, figure.key, figure.unit)
    if len(form.faults) > before:
        return False
    index = int(one.keys[0].rpartition("-")[2]) if one.keys[0][-1].isdigit() else 0
    try:
        if one.keys[0] == OUTSIDE:
            ArcReading(index, TestKind.MACRO, None, **_outside_values(form))
        elif one.keys[0].startswith("size-"):
            _imperfections(piece, form)
        else:
            _reading(piece, index, form, None)
    except BadInput as bad:
        keys = {name: f"{name}-{index}" for name in _LABELS}
        keys["penetrations"] = f"melted-1-{index}"
        keys |= {name.removeprefix("size-"): name for name in one.keys if name.startswith("size-")}
        form.blame(bad, keys)
        return False
    return True


def _value(form: Answers, key: str, unit: str) -> float | None:
    if unit == "mm":
        return form.quantity(key, "length", "mm")
    if unit == "kN":
        return form.quantity(key, "force", "kN")
    return form.quantity_bare(key, "Give the angle in degrees, or leave it empty.")


def _test_of(given: Mapping[str, str], index: int) -> TestKind | None:
    found = given.get(f"test-{index}", "")
    return TestKind(found) if found in set(TestKind) else None


def _fracture_of(piece: ArcPiece, given: Mapping[str, str], index: int) -> ArcFracture | None:
    try:
        return find_fracture(given.get(f"mode-{index}", ""), piece)
    except BadInput:
        return None


def _seen_keys(piece: ArcPiece, given: Mapping[str, str]) -> tuple[str, ...]:
    """The imperfections that were tapped."""
    return tuple(
        one.key for one in offered_imperfections(piece) if given.get(f"seen-{one.key}") == "yes"
    )


def _back(piece: ArcPiece) -> Question:
    choices = tuple(
        Choice(one.value, *back_choice(one, seam=piece.form is not ArcForm.PLUG))
        for one in BackMark
    )
    return Question(
        (BACK,),
        "What does the back look like?",
        "Turn the coupon over before you tear it, and take a picture. Tap the likeliest.",
        choices=choices,
    )


def _seen(piece: ArcPiece) -> Question:
    listed = offered_imperfections(piece)
    choices = tuple(
        Choice(
            f"seen-{one.key}",
            one.name[:1].upper() + one.name[1:],
            one.sign[:1].upper() + one.sign[1:] + ".",
            fault_picture(one, piece),
        )
        for one in listed
    )
    return Question(
        (SEEN, *(one.value for one in choices)),
        "What do you see on the weld?",
        "Look with a loupe, at start and stop too. Tap all that is there; nothing: go on.",
        choices=choices,
        several=True,
    )


def _how_deep(keys: list[str]) -> Question:
    figures = tuple(
        Figure(f"size-{key}", f"{imperfection(key).name[:1].upper()}{imperfection(key).name[1:]}",
               "mm", need=False)
        for key in keys
    )  # fmt: skip
    wanted = "; ".join(f"{imperfection(key).name}: {imperfection(key).measure}" for key in keys)
    return Question(
        tuple(one.key for one in figures),
        "How deep is it?",
        f"Profile gauge or calliper. Measure {wanted}.",
        figures=figures,
    )


def _outside() -> Question:
    figures = tuple(Figure(key, label, "mm", need=False) for key, label in _OUTSIDE)
    return Question(
        (OUTSIDE, *(one.key for one in figures)),
        "How large is it outside?",
        "Before you tear it. Leave empty what you did not measure.",
        figures=figures,
    )


def _which_test(piece: ArcPiece, face: ArcInterface) -> Question:
    tests = suited_arc(piece.form)
    more = FORCE_TESTS if piece.form is ArcForm.PLUG else FORCE_TESTS[:1]
    choices = []
    for kind in (*tests, *more):
        found = arc_suitability(kind, piece.form, face)
        said = f"{kind.how} Shows: {kind.shows} Hides: {kind.hides}"
        if not found.decides:
            said = f"Does not decide here. {found.reason}"
        name = kind.value.replace("_", " ").capitalize()
        choices.append(Choice(kind.value, name, said, test_picture(kind.value)))
    hint = "Cooled down? Visor and gloves on: edges are sharp, pieces can fly."
    if face.is_strong:
        hint += " A sheet of ultra-high strength, or one nobody knows, can snap: shield the vice."
    return Question(
        (f"test-{face.index}",),
        "How do you tear it?",
        hint + " Etching: fume hood, gloves, goggles.",
        _place(piece, face.index),
        choices=tuple(choices),
    )


def _how_it_let_go(piece: ArcPiece, index: int) -> Question:
    choices = tuple(
        Choice(one.value, one.words.name, one.words.sign, torn_arc_picture(piece, one, notes=False))
        for one in offered(piece)
    )
    return Question(
        (f"mode-{index}",),
        "How did it let go?",
        "Look at both halves and tap the picture that is most like it.",
        _place(piece, index),
        choices=choices,
    )


def _place(piece: ArcPiece, index: int) -> str:
    return between(index) if piece.form is ArcForm.PLUG else ""


def _names(
    piece: ArcPiece, test: TestKind | None, fracture: ArcFracture | None
) -> tuple[tuple[str, bool], ...]:
    """What is measured in this test on a weld that let go so, each with whether it is needed."""
    plug, lap = piece.form is ArcForm.PLUG, piece.form is ArcForm.LAP
    if test is TestKind.MACRO:
        legs = (("leg", False), ("throat", False)) if lap and not piece.brazed else ()
        return (("d_max", True), ("d_min", True)) if plug else legs
    if fracture in NOT_MEASURED:
        return ()
    need = fracture not in MAY_BE_MEASURED
    force = (("force", False),) if test in FORCE_TESTS else ()
    if plug:
        twist = (("twist_angle", False),) if test is TestKind.TORSION else ()
        return (("d_max", need), ("d_min", need), *twist, *force)
    found = [("tested_length", True)]
    if fracture not in HELD_ALL_ALONG:
        found.append(("fused_length", need))
    if lap and not piece.brazed:
        found.append(("leg", need))
        if fracture is ArcFracture.THROAT_TORN:
            found.append(("throat", False))
    if piece.brazed:
        found.append(("wetted_width", False))
    if test is TestKind.BEND:
        found.append(("bend_angle", fracture is ArcFracture.UNBROKEN))
    return (*found, *force)


def _figures(
    piece: ArcPiece, index: int, test: TestKind | None, fracture: ArcFracture | None
) -> tuple[Figure, ...]:
    found = [
        Figure(f"{name}-{index}", _LABELS[name], _UNITS.get(name, "mm"), need=need)
        for name, need in _names(piece, test, fracture)
    ]
    if test is TestKind.MACRO:
        found += [
            Figure(f"melted-{number}-{index}", label, "mm")
            for number, label in enumerate(_melted_in(piece, index), start=1)
        ]
    return tuple(found)


def _melted_in(piece: ArcPiece, index: int) -> tuple[str, ...]:
    """The sheets whose melted depth is read in a section."""
    if piece.form is ArcForm.PLUG:
        return (f"Melted into sheet {index + 2}",)
    return tuple(f"Melted into sheet {number}" for number in range(1, len(piece.sheets) + 1))


def _measure(
    piece: ArcPiece,
    index: int,
    test: TestKind | None,
    fracture: ArcFracture | None,
    figures: tuple[Figure, ...],
) -> Question:
    if fracture is None:
        hint = "Section through the middle, etched: measure from edge to edge of what melted."
        pictures = [test_picture(TestKind.MACRO.value)]
    else:
        hint = fracture.words.measure
        pictures = [torn_arc_picture(piece, fracture)]
    if test is TestKind.TORSION:
        pictures.append(twist_picture(BRITTLE_ANGLE))
    if test is TestKind.BEND:
        pictures.append(test_picture(TestKind.BEND.value))
    return Question(
        (*(one.key for one in figures), f"photo-{index}"),
        "How large is it?",
        hint,
        _place(piece, index),
        figures=figures,
        pictures=tuple(one for one in pictures if one),
    )


def _rough_only(index: int) -> Question:
    return Question(
        (f"{ROUGH}-{index}",),
        "Did you measure the rough area only?",
        "What is smooth and bright was never fused: it does not count.",
        choices=(
            Choice("yes", "Yes, rough only", "The smooth part was left out."),
            Choice("no", "No, all of it", "Then the size is not trusted: measure again."),
        ),
    )


def _outside_values(form: Answers) -> dict[str, Any]:
    return {key: form.quantity(key, "length", "mm") for key, _ in _OUTSIDE}


def _imperfections(piece: ArcPiece, form: Answers) -> tuple[Seen, ...]:
    return tuple(
        Seen(key, form.quantity(f"size-{key}", "length", "mm"))
        for key in _seen_keys(piece, form.typed)
    )


def _reading(piece: ArcPiece, index: int, form: Answers, gauge: Gauge | None) -> ArcReading:
    test = TestKind(form.typed[f"test-{index}"])
    section = test is TestKind.MACRO
    fracture = None if section else _fracture_of(piece, form.typed, index)
    values: dict[str, Any] = {
        name: _value(form, f"{name}-{index}", _UNITS.get(name, "mm"))
        for name, _ in _names(piece, test, fracture)
    }
    depths: tuple[float, ...] = ()
    if section:
        found = [
            form.quantity(f"melted-{number}-{index}", "length", "mm")
            for number in range(1, len(_melted_in(piece, index)) + 1)
        ]
        depths = tuple(one for one in found if one is not None)
    off: dict[str, Any] = {}
    if gauge is not None:
        off["instrument_uncertainty"] = gauge.instrument(clean=fracture in CLEAN)
        off["reader_uncertainty"] = gauge.reader
    back = form.typed.get(BACK, "")
    return ArcReading(
        index,
        test,
        fracture,
        **values,
        **(_outside_values(form) if index == 0 and piece.form is ArcForm.PLUG else {}),
        **off,
        penetrations=depths,
        back=BackMark(back) if index == 0 and back in set(BackMark) else None,
        imperfections=_imperfections(piece, form) if index == 0 else (),
        smooth_left_out=form.typed.get(f"{ROUGH}-{index}", "yes") != "no",
    )
