import pytest

from buttonhole.web.fields import Answers, one_line
from buttonhole.web.pages.person import safe_path


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("0.7", 0.7e-3),
        ("0,7", 0.7e-3),
        ("0.7 mm", 0.7e-3),
        (" 1.2 ", 1.2e-3),
        ("0.03 in", 0.762e-3),
    ],
)
def test_a_thickness_is_read_in_the_unit_beside_the_field(typed: str, metres: float) -> None:
    answers = Answers({"thickness": typed})
    assert answers.quantity("thickness", "length", "mm") == pytest.approx(metres)
    assert answers.faults == {}


@pytest.mark.parametrize("typed", ["thin", "0.7 kN", "1e999", "nan", "--", "0.7 0.8"])
def test_what_is_no_thickness_is_marked_and_not_guessed(typed: str) -> None:
    answers = Answers({"thickness": typed})
    assert answers.quantity("thickness", "length", "mm") is None
    assert "thickness" in answers.faults


def test_cycles_need_the_mains_frequency() -> None:
    answers = Answers({"weld_time": "10 cycles"})
    assert answers.quantity("weld_time", "time", "ms") is None
    assert "50" in answers.faults["weld_time"] or "frequency" in answers.faults["weld_time"]
    answers = Answers({"weld_time": "10 cycles@50Hz"})
    assert answers.quantity("weld_time", "time", "ms") == pytest.approx(0.2)


def test_all_faults_of_a_form_are_found_at_once() -> None:
    answers = Answers({"a": "", "b": "x", "c": "blue"})
    answers.text("a", need="Give a.")
    answers.number("b", low=1, high=9, need="")
    answers.choice("c", ("red",), "Choose red.")
    assert set(answers.faults) == {"a", "b", "c"}


def test_control_letters_never_reach_the_record() -> None:
    assert one_line("a\x00b\nc\u202ed\u200be") == "a b cde"


@pytest.mark.parametrize(
    "path", ["//elsewhere.example", "http://elsewhere.example", "/\\elsewhere", "", "/a\nb", "jobs"]
)
def test_an_answer_never_leads_to_another_site(path: str) -> None:
    assert safe_path(path) == "/"


def test_an_answer_leads_back_to_a_page_of_ours() -> None:
    assert safe_path("/joints/7?step=2") == "/joints/7?step=2"
