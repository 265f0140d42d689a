"""The trainer's day: eight trainees, four welds, two positions; labels, results, papers."""

import io
from dataclasses import replace

import pypdf
import pytest

from buttonhole.coupon.training import Fault, Piece, ReadyRule, WeldType
from buttonhole.desk.conflict import NotThere, SentTwice
from buttonhole.desk.labels import find_label
from buttonhole.desk.print_training import print_feedback, print_training_labels
from buttonhole.desk.training import (
    OpenTraining,
    TypedResult,
    list_trainings,
    open_training,
    read_training,
    save_results,
)
from buttonhole.units import BadInput

NAMES = tuple(f"Trainee {letter}" for letter in "ABCDEFGH")
DAY = OpenTraining("Course 7", NAMES, tuple(WeldType), ("PA", "PF"), rule=ReadyRule(2))


@pytest.fixture
def day(desk):
    return open_training(desk, DAY)


def typed(piece, first=6e-3, second=5.6e-3, fault=Fault.NONE):
    if not piece.weld.is_round:
        first, second = 1.5e-3, 0.0
    return TypedResult(piece.code, Piece(first, second, fault))


def test_every_piece_has_a_label_of_its_own(desk, day):
    assert len(day.pieces) == 64
    assert len({one.code for one in day.pieces}) == 64
    assert {(one.trainee, one.weld, one.position) for one in day.pieces} == {
        (name, weld, place) for name in NAMES for weld in WeldType for place in ("PA", "PF")
    }
    assert find_label(desk, day.pieces[5].code).session_id == day.id
    assert list_trainings(desk)[0][1] == "Course 7"


def test_results_of_one_form_are_written_once_and_all_or_none(desk, day):
    rows = [typed(one) for one in day.of("Trainee A")]
    sent = replace(desk, sent="f1")
    view = save_results(sent, day.id, rows)
    assert view.typed == 8
    with pytest.raises(SentTwice):
        save_results(sent, day.id, [typed(day.of("Trainee B")[0])])
    wrong = [typed(day.of("Trainee B")[0]), TypedResult(day.of("Trainee B")[1].code, Piece(1, 2))]
    with pytest.raises(BadInput, match=day.of("Trainee B")[1].code):
        save_results(desk, day.id, wrong)
    assert read_training(desk, day.id).typed == 8


def test_a_result_typed_anew_counts_and_the_first_stays_in_the_record(desk, store, day):
    piece = day.pieces[0]
    save_results(desk, day.id, [typed(piece)])
    save_results(desk, day.id, [typed(piece)])  # the same again: nothing to write
    view = save_results(desk, day.id, [typed(piece, 3e-3, 3e-3, Fault.SMALL)])
    assert not view.pieces[0].result.passed
    assert sum(one.type == "training_result" for one in store.events()) == 2


def test_the_evening_says_who_is_ready_and_what_goes_wrong_most(desk, day):
    rows = []
    for number, name in enumerate(NAMES):
        for place, one in enumerate(day.of(name)):
            fault = Fault.COLD if number >= 5 and one.weld is WeldType.PLUG else Fault.NONE
            small = 4.0e-3 if fault is Fault.COLD else 6e-3 + 0.1e-3 * place
            rows.append(typed(one, small, small, fault))
    view = save_results(desk, day.id, rows)
    assert view.readiness("Trainee A", WeldType.PLUG).state == "ready"
    assert view.readiness("Trainee H", WeldType.PLUG).state == "not yet"
    assert view.faults()[0] == (Fault.COLD, 6)
    assert view.faults(weld=WeldType.SPOT) == ()


def test_labels_and_feedback_are_printed(desk, day):
    view = save_results(desk, day.id, [typed(one) for one in day.of("Trainee C")[:7]])
    text = words(print_training_labels(desk, day.id, address="http://127.0.0.1:8047").pdf)
    assert all(f"{one.code[:3]} {one.code[3:]}" in text for one in view.pieces)
    card = words(print_feedback(desk, day.id, "Trainee C").pdf)
    assert "Trainee C" in card
    assert view.of("Trainee C")[0].code in card
    assert "not torn yet" in card
    assert (
        print_feedback(desk, day.id, "Trainee C").pdf
        == print_feedback(desk, day.id, "Trainee C").pdf
    )
    with pytest.raises(NotThere):
        print_feedback(desk, day.id, "Nobody")


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"trainees": ()}, "trainees"),
        ({"trainees": ("A", "A")}, "trainees"),
        ({"welds": ()}, "welds"),
        ({"positions": ("PX",)}, "positions"),
        ({"each": 0}, "each"),
        ({"each": 8}, "each"),
        ({"limits": {WeldType.PLUG: 1.0}}, "limit-plug"),
    ],
)
def test_a_session_that_can_not_be_is_refused(desk, store, change, key):
    with pytest.raises(BadInput) as told:
        open_training(desk, replace(DAY, **change))
    assert told.value.key == key
    assert store.events() == ()


def words(pdf):
    return "\n".join(one.extract_text() for one in pypdf.PdfReader(io.BytesIO(pdf)).pages)
