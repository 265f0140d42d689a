"""The questions about a torn coupon, one a screen, and what their answers make.

The answers so far stand in the address of the page: the back button, a tablet that slept and a
server that started again lose none of them. Nothing is in the record before the last step.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from markupsafe import Markup

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading, usual_instrument_uncertainty
from buttonhole.coupon.test import TestKind, suitability, suited
from buttonhole.desk.view import CouponView
from buttonhole.joint.stack_up import FayingInterface
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers
from buttonhole.web.pictures import test_picture, torn_picture
from buttonhole.web.screen import between

FORCE_TESTS = (TestKind.TENSILE_SHEAR, TestKind.CROSS_TENSION)
NO_PICTURE = Markup()
NO_SPLASH, SOMEWHERE = "no", "somewhere"


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer to tap."""

    value: str
    words: str
    more: str = ""
    picture: Markup = NO_PICTURE


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure to type: key of its field, label and unit beside it."""

    key: str
    label: str
    unit: str
    need: bool = True


@dataclass(frozen=True, slots=True)
class Question:
    """One screen: answers to tap, or figures to type. ``keys`` are what it fills in."""

    keys: tuple[str, ...]
    question: str
    hint: str = ""
    place: str = ""
    choices: tuple[Choice, ...] = ()
    figures: tuple[Figure, ...] = ()
    picture: Markup = NO_PICTURE


def questions(coupon: CouponView, given: Mapping[str, str]) -> tuple[Question, ...]:
    """All questions about a coupon; which ones there are follows from the answers so far."""
    asked = [_splash(coupon)]
    for face in coupon.stack.interfaces:
        test, mode = _test_of(given, face.index), _mode_of(given, face.index)
        asked.append(_which_test(face))
        if test is not TestKind.MACRO:
            asked.append(_which_mode(face.index))
        if test is TestKind.MACRO or mode is None or mode.fused:
            asked.append(_how_wide(face.index, test, mode))
    return tuple(asked)


def open_question(asked: tuple[Question, ...], form: Answers) -> Question | None:
    """The first question without a usable answer; what is wrong with it is marked in the form."""
    for one in asked:
        if not all(form.typed.get(key, "").strip() for key in _needed(one)):
            if any(key in form.typed for key in _needed(one)):
                for figure in one.figures:
                    if figure.need and not form.text(figure.key):
                        form.faults[figure.key] = f"{figure.label}: measure it and type it in."
            return one
        if one.choices and form.typed[one.keys[0]] not in {each.value for each in one.choices}:
            form.faults[one.keys[0]] = "Tap one of these."
            return one
        if one.figures and not _measured(one, form):
            return one
    return None


def readings(coupon: CouponView, form: Answers) -> tuple[Reading, ...]:
    """What the answers say, one reading for each interface; only once no question is open."""
    return tuple(_reading(face.index, form) for face in coupon.stack.interfaces)


def address(given: Mapping[str, str], asked: tuple[Question, ...], upto: Question | None) -> str:
    """The answers before a question, as the end of an address."""
    kept: dict[str, str] = {}
    for one in asked:
        if one is upto:
            break
        kept.update({key: given[key] for key in one.keys if key in given})
    return f"?{urlencode(kept)}" if kept else ""


def _needed(one: Question) -> tuple[str, ...]:
    return tuple(figure.key for figure in one.figures if figure.need) or one.keys


def _test_of(given: Mapping[str, str], index: int) -> TestKind | None:
    found = given.get(f"test-{index}", "")
    return TestKind(found) if found in set(TestKind) else None


def _mode_of(given: Mapping[str, str], index: int) -> FractureMode | None:
    found = given.get(f"mode-{index}", "")
    return FractureMode(found) if found in set(FractureMode) else None


def _which_test(face: FayingInterface) -> Question:
    order = [one.test for one in suited(face)]
    choices = []
    for kind in dict.fromkeys([*order, *TestKind]):
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
    hint = mode.words.measure if mode else "Measure the nugget at the interface."
    picture = torn_picture(mode.value) if mode else test_picture(test.value if test else "")
    return Question(
        tuple(figure.key for figure in figures),
        "How wide is it?",
        hint,
        between(index),
        figures=tuple(figures),
        picture=picture,
    )


def _measured(one: Question, form: Answers) -> bool:
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
        _reading(index, form)
    except BadInput as bad:
        keys = {"d_max": f"max-{index}", "d_min": f"min-{index}", "force": f"force-{index}"}
        form.blame(bad, keys)
        return False
    return True


def _reading(index: int, form: Answers) -> Reading:
    test = TestKind(form.typed[f"test-{index}"])
    mode = None if test is TestKind.MACRO else _mode_of(form.typed, index)
    splash = form.typed.get("splash", NO_SPLASH)
    return Reading(
        interface=index,
        test=test,
        mode=mode,
        d_max=form.quantity(f"max-{index}", "length", "mm") or 0.0,
        d_min=form.quantity(f"min-{index}", "length", "mm") or 0.0,
        expulsion=splash in (str(index), SOMEWHERE),
        instrument_uncertainty=usual_instrument_uncertainty(mode),
        force=form.quantity(f"force-{index}", "force", "kN"),
        twist_angle=form.quantity_bare(f"angle-{index}", "Give the angle in degrees."),
    )
