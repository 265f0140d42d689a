"""The questions about a torn spot coupon, one a screen, and what their answers make."""

from collections.abc import Mapping

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.gauge import Gauge
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind, suitability, suited
from buttonhole.coupon.verdict import BRITTLE_ANGLE
from buttonhole.desk.view import CouponView
from buttonhole.joint.stack_up import FayingInterface
from buttonhole.units import BadInput
from buttonhole.web.asking import Choice, Figure, Question, gauge_of, which_gauge
from buttonhole.web.fields import Answers
from buttonhole.web.pictures import test_picture, torn_picture, twist_picture
from buttonhole.web.screen import between

FORCE_TESTS = (TestKind.TENSILE_SHEAR, TestKind.CROSS_TENSION)
NO_SPLASH, SOMEWHERE = "no", "somewhere"


def questions(
    coupon: CouponView, given: Mapping[str, str], gauges: tuple[Gauge, ...]
) -> tuple[Question, ...]:
    """All questions about a coupon; which ones there are follows from the answers so far."""
    asked = [_splash(coupon)]
    for face in coupon.stack.interfaces:
        test, mode = _test_of(given, face.index), _mode_of(given, face.index)
        asked.append(_which_test(face))
        if test is not TestKind.MACRO:
            asked.append(_which_mode(face.index))
        if test is TestKind.MACRO or mode is None or mode.fused:
            asked.append(_how_wide(face.index, test, mode))
    if any(one.figures for one in asked):
        asked.append(which_gauge(gauges))
    return tuple(asked)


def readings(coupon: CouponView, form: Answers, gauges: tuple[Gauge, ...]) -> tuple[Reading, ...]:
    """What the answers say, one reading for each interface; only once no question is open."""
    gauge = gauge_of(gauges, form.typed)
    return tuple(_reading(face.index, form, gauge) for face in coupon.stack.interfaces)


def _test_of(given: Mapping[str, str], index: int) -> TestKind | None:
    found = given.get(f"test-{index}", "")
    return TestKind(found) if found in set(TestKind) else None


def _mode_of(given: Mapping[str, str], index: int) -> FractureMode | None:
    found = given.get(f"mode-{index}", "")
    return FractureMode(found) if found in set(FractureMode) else None


def _which_test(face: FayingInterface) -> Question:
    order = [one.test for one in suited(face)]
    choices = []
    of_spots = [one for one in TestKind if one is not TestKind.BEND]  # strips of a seam are bent
    for kind in dict.fromkeys([*order, *of_spots]):
        found = suitability(kind, face)
        more = f"{kind.how} Shows: {kind.shows} Hides: {kind.hides}"
        if not found.decides:
            more = f"Does not decide here. {found.reason}"
        name = kind.value.replace("_", " ").capitalize()
        choices.append(Choice(kind.value, name, more, test_picture(kind.value)))
    return Question(
        (f"test-{face.index}",),
        "How do you tear it?",
        "Visor and gloves on. The edges are sharp and the button can fly.",
        between(face.index),
        choices=tuple(choices),
    )


def _splash(coupon: CouponView) -> Question:
    places = [
        Choice(str(face.index), f"Yes: {between(face.index).lower()}")
        for face in coupon.stack.interfaces
    ]
    choices = (
        Choice(NO_SPLASH, "No"),
        *places,
        Choice(SOMEWHERE, "Yes, can't say where"),
    )
    hint = "Sparks out of the joint, a hole, whiskers at the edge."
    return Question(("splash",), "Did it splash while it was welded?", hint, choices=choices)


def _which_mode(index: int) -> Question:
    choices = tuple(
        Choice(mode.value, mode.words.name, mode.words.sign, torn_picture(mode.value, notes=False))
        for mode in FractureMode
    )
    return Question(
        (f"mode-{index}",),
        "How did it let go?",
        "Look at both halves and tap the picture that is most like it.",
        between(index),
        choices=choices,
    )


def _how_wide(index: int, test: TestKind | None, mode: FractureMode | None) -> Question:
    figures = [
        Figure(f"max-{index}", "Largest diameter", "mm"),
        Figure(f"min-{index}", "Across it, at 90°", "mm"),
    ]
    if test is TestKind.TORSION:
        figures.append(Figure(f"angle-{index}", "Angle of twist", "°", need=False))
    if test in FORCE_TESTS:
        figures.append(Figure(f"force-{index}", "Largest force", "kN", need=False))
    if index == 0:
        figures.append(Figure("dent", "Deepest dent outside", "mm", need=False))
    hint = mode.words.measure if mode else "Measure the nugget at the interface."
    pictures = [torn_picture(mode.value) if mode else test_picture(test.value if test else "")]
    if test is TestKind.TORSION:
        pictures.append(twist_picture(BRITTLE_ANGLE))
    return Question(
        (*(figure.key for figure in figures), f"photo-{index}"),
        "How wide is it?",
        hint,
        between(index),
        figures=tuple(figures),
        pictures=tuple(one for one in pictures if one),
    )


def measured(one: Question, form: Answers) -> bool:
    """Whether the figures of a question can be those of a weld; what can't be is marked."""
    index = int(one.keys[0].rpartition("-")[2])
    before = len(form.faults)
    for figure in one.figures:
        if figure.unit == "mm":
            form.quantity(figure.key, "length", "mm")
        elif figure.unit == "kN":
            form.quantity(figure.key, "force", "kN")
        else:
            form.quantity_bare(figure.key, "Give the angle in degrees, or leave it empty.")
    if len(form.faults) > before:
        return False
    try:
        _reading(index, form, None)
    except BadInput as bad:
        keys = {"d_max": f"max-{index}", "d_min": f"min-{index}", "force": f"force-{index}"}
        keys["indentation"] = "dent"
        form.blame(bad, keys)
        return False
    return True


def _reading(index: int, form: Answers, gauge: Gauge | None) -> Reading:
    test = TestKind(form.typed[f"test-{index}"])
    mode = None if test is TestKind.MACRO else _mode_of(form.typed, index)
    splash = form.typed.get("splash", NO_SPLASH)
    off: dict[str, float] = {}
    if gauge is not None:
        clean = mode in (FractureMode.FULL_BUTTON, None)
        off = {
            "instrument_uncertainty": gauge.instrument(clean=clean),
            "reader_uncertainty": gauge.reader,
        }
    return Reading(
        interface=index,
        test=test,
        mode=mode,
        d_max=form.quantity(f"max-{index}", "length", "mm") or 0.0,
        d_min=form.quantity(f"min-{index}", "length", "mm") or 0.0,
        expulsion=splash in (str(index), SOMEWHERE),
        force=form.quantity(f"force-{index}", "force", "kN"),
        twist_angle=form.quantity_bare(f"angle-{index}", "Give the angle in degrees."),
        indentation=form.quantity("dent", "length", "mm") if index == 0 else None,
        **off,
    )
