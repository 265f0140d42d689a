"""The letter to the maker: what it must say, and what it refuses."""

import re
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from buttonhole.paper.figure import DrawnSheet, DrawnStack
from buttonhole.paper.letter import Asked, Differing, Line, MakerLetter, Statement, maker_letter
from buttonhole.units import BadInput
from tests.paper import pdf

LETTER = MakerLetter(
    letter_id="Q-1",
    vehicle="Kestrel H5, 2019",
    vin="0BHDEM01000000017",
    joint="J1, left sill",
    stack=DrawnStack((DrawnSheet(1.2e-3, "DC04", "GI"), DrawnSheet(1.6e-3, "22MnB5", "AlSi"))),
    known=(Line("access", "one side"),),
    texts=(Statement("Plug 8 mm.", "the vehicle's maker", "manual 7, revision 2"),),
    conflicts=(Differing("number of spots", (Statement("1.3 times.", "a maker"),) * 2),),
    questions=(Asked("Is a plug permitted?", ("number", "hole")),),
    sender="Harbour Lane Body Works",
    issued=datetime(2026, 3, 2, tzinfo=UTC),
    means="Gun A",
    needed_by=date(2026, 3, 9),
)


def all_text(page: bytes) -> str:
    found = " ".join(one.extract_text() for one in pdf.reader(page).pages)
    return re.sub(r"\s+", " ", found.replace("\u200b", ""))


def test_everything_the_maker_needs_is_in_it() -> None:
    words = all_text(maker_letter(LETTER))
    for needed in (
        "Kestrel H5, 2019",
        "0BHDEM01000000017",
        "J1, left sill",
        "1.60 mm 22MnB5 AlSi",
        "access one side",
        "Plug 8 mm. the vehicle's maker, manual 7, revision 2",
        "number of spots",
        "Is a plug permitted?",
        "hole:",
        "2026-03-09",
        "Gun A",
        "procedure prevails",
    ):
        assert needed in words, needed


def test_it_is_for_archives_and_readers_and_the_same_to_the_byte() -> None:
    page = maker_letter(LETTER)
    assert page == maker_letter(replace(LETTER))
    xmp = pdf.metadata(page)
    assert "<pdfaid:part>2</pdfaid:part>" in xmp
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp
    kinds = pdf.structure(page)
    assert {"/H1", "/H2", "/Table", "/TH"} <= {kind for kind, _ in kinds}
    figures = [words for kind, words in kinds if kind == "/Figure"]
    assert figures
    assert all("22MnB5" in one for one in figures)


def test_what_somebody_typed_is_never_markup() -> None:
    nasty = "#panic(1) $x$ *bold* <a> ] [ \u202e"
    words = all_text(maker_letter(replace(LETTER, vehicle=nasty, means=nasty)))
    assert "#panic(1) $x$ *bold* <a>" in words


def test_a_question_no_yes_or_no_answers_has_no_boxes_for_them() -> None:
    asked = Asked("Which steel is sheet 2?", ("designation",))
    closed = all_text(maker_letter(replace(LETTER, questions=(asked,))))
    opened = all_text(maker_letter(replace(LETTER, questions=(replace(asked, is_open=True),))))
    assert closed.split().count("yes") == opened.split().count("yes") + 1
    assert "designation:" in opened


def test_a_demonstration_says_so() -> None:
    assert "DEMO, not for a vehicle" in all_text(maker_letter(replace(LETTER, demo=True)))


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"questions": ()}, "questions"),
        ({"questions": LETTER.questions * 9}, "questions"),
        ({"vehicle": " "}, "vehicle"),
        ({"sender": ""}, "sender"),
        ({"issued": datetime(2026, 3, 2)}, "issued"),  # noqa: DTZ001 - no time zone, on purpose
    ],
)
def test_a_letter_nobody_could_answer_is_refused(change: dict[str, object], key: str) -> None:
    with pytest.raises(BadInput) as caught:
        maker_letter(replace(LETTER, **change))
    assert caught.value.key == key
