"""The questions about a torn coupon follow from the answers, and nothing is asked twice."""

from types import SimpleNamespace

import pytest

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.gauge import GaugeKind, studied_gauge, usual_gauge
from buttonhole.coupon.test import TestKind
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.web.asking import address, open_question
from buttonhole.web.fields import Answers
from buttonhole.web.tearing import measured, questions, readings

SILL = StackUp(
    tuple(
        Sheet(find_steel(steel), thickness, Coating(coating))
        for steel, thickness, coating in (
            ("DC04", 0.7e-3, "GI"),
            ("HCT600X", 1.2e-3, "GI"),
            ("22MnB5", 1.6e-3, "AlSi"),
        )
    )
)
COUPON = SimpleNamespace(stack=SILL)  # all that the questions look at
OWN = studied_gauge("K2", GaugeKind.CALLIPER, 0.03e-3, 0.05e-3, "10 buttons, 3 people, 2 each")
GAUGES = (OWN, *(usual_gauge(one) for one in GaugeKind))
FIRST = {"splash": "0", "test-0": "peel", "mode-0": "full_button", "max-0": "5.1", "min-0": "4,9"}


def asked(given: dict[str, str]) -> str:
    form = Answers(given)
    every = questions(COUPON, given, GAUGES)  # type: ignore[arg-type] # see COUPON
    now = open_question(every, form, measured)
    return now.keys[0] if now else ""


def test_one_question_follows_the_other() -> None:
    given: dict[str, str] = {}
    for key, answer in (*FIRST.items(), ("test-1", "macro"), ("max-1", "5.2")):
        if not key.startswith("min"):
            assert asked(given) == key
        given[key] = answer
    given["min-1"] = "5.2"
    assert asked(given) == "gauge"
    given["gauge"] = "own K2"
    assert asked(given) == ""


def test_the_answers_make_one_reading_for_each_interface() -> None:
    given = {**FIRST, "test-1": "macro", "max-1": "5.2", "min-1": "5.2"}
    one, two = readings(COUPON, Answers(given), GAUGES)  # type: ignore[arg-type] # see COUPON
    assert (one.test, one.mode, one.expulsion) == (TestKind.PEEL, FractureMode.FULL_BUTTON, True)
    assert one.mean_diameter == pytest.approx(5.0e-3)
    assert (two.test, two.mode, two.expulsion) == (TestKind.MACRO, None, False)


@pytest.mark.parametrize("mode", ["no_weld", "stuck_weld", "expelled"])
def test_where_nothing_fused_no_diameter_is_asked(mode: str) -> None:
    given = {"splash": "no", "test-0": "peel", "mode-0": mode}
    assert asked(given) == "test-1"


def test_a_smaller_largest_diameter_is_marked() -> None:
    given = {**FIRST, "max-0": "4.8"}
    form = Answers(given)
    every = questions(COUPON, given, GAUGES)  # type: ignore[arg-type] # see COUPON
    now = open_question(every, form, measured)
    assert now is not None
    assert now.keys[0] == "max-0"
    assert "min-0" in form.faults


def test_an_answer_nobody_offered_is_asked_again() -> None:
    assert asked({"splash": "perhaps"}) == "splash"
    assert asked({"splash": "no", "test-0": "bite"}) == "test-0"


def test_back_leads_to_the_question_before_with_its_answer_open() -> None:
    every = questions(COUPON, FIRST, GAUGES)  # type: ignore[arg-type] # see COUPON
    before = next(one for one in every if one.keys == ("mode-0",))
    assert address(FIRST, every, before) == "?splash=0&test-0=peel"


def test_the_order_of_tests_starts_with_what_suits_the_sheets() -> None:
    every = questions(COUPON, {}, GAUGES)  # type: ignore[arg-type] # see COUPON
    first = {one.keys[0]: one.choices[0].value for one in every if one.keys[0].startswith("test")}
    assert first == {"test-0": "peel", "test-1": "macro"}
    offered = next(one for one in every if one.keys[0] == "test-0").choices
    assert {one.value for one in offered} == set(TestKind) - {"bend"}  # that one is for seams


def test_the_gauge_says_how_far_a_reading_may_be_off() -> None:
    given = {**FIRST, "mode-0": "interfacial", "test-1": "macro", "max-1": "5.2", "min-1": "5.2"}
    for gauge, face, edge, reader in (
        ("own K2", 0.25e-3, 0.03e-3, 0.05e-3),  # kept buttons say nothing of a broken face
        ("loupe", 0.15e-3, 0.06e-3, 0.12e-3),
        ("", 0.25e-3, 0.10e-3, 0.15e-3),
    ):
        answers = Answers({**given, "gauge": gauge})
        one, two = readings(COUPON, answers, GAUGES)  # type: ignore[arg-type] # see COUPON
        assert (one.instrument_uncertainty, one.reader_uncertainty) == (face, reader)
        assert two.instrument_uncertainty == edge


def test_no_gauge_is_asked_where_nothing_was_measured() -> None:
    given = {"splash": "no"}
    for index in (0, 1):
        given |= {f"test-{index}": "peel", f"mode-{index}": "no_weld"}
    assert asked(given) == ""


def test_a_twisted_weld_shows_where_the_angle_is_read_and_a_dent_may_be_given() -> None:
    given = {"splash": "no", "test-0": "torsion", "mode-0": "interfacial"}
    every = questions(COUPON, given, GAUGES)  # type: ignore[arg-type] # see COUPON
    wide = next(one for one in every if one.keys[0] == "max-0")
    assert [one.key for one in wide.figures] == ["max-0", "min-0", "angle-0", "dent"]
    assert "twist-picture" in wide.pictures[1]
    answers = {**given, "max-0": "5", "min-0": "4.8", "angle-0": "35", "dent": "0,2"}
    answers |= {"test-1": "macro", "max-1": "5", "min-1": "5", "gauge": "calliper"}
    one, two = readings(COUPON, Answers(answers), GAUGES)  # type: ignore[arg-type] # see COUPON
    assert (one.twist_angle, one.indentation) == (35.0, pytest.approx(0.2e-3))
    assert two.indentation is None


def test_an_impossible_dent_is_marked_in_its_field() -> None:
    given = {**FIRST, "dent": "thick"}
    form = Answers(given)
    now = open_question(questions(COUPON, given, GAUGES), form, measured)  # type: ignore[arg-type] # see COUPON
    assert now is not None
    assert "dent" in form.faults
