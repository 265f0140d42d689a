"""What a bay card must say, and what it refuses."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from buttonhole.paper.card import Setting, bay_card
from buttonhole.paper.figure import DrawnLimit
from buttonhole.paper.typesetting import DoesNotFit
from buttonhole.procedure.validity import ARC_ENDS, SPOT_ENDS, EndCondition
from buttonhole.units import BadInput
from tests.paper import examples, pdf


def test_everything_needed_at_the_gun_is_on_the_card():
    words = pdf.text(bay_card(examples.bay_card_of(3, 9)))
    for needed in (
        "SPOT WELD",
        "1 0.70 mm DC04 GI",
        "3 1.60 mm 22MnB5 AlSi",
        "1-2 at least 3.35 mm (4√t)",
        "cap B: face 6.0 mm, radius 50 mm",
        "9.1 kA",
        "12 cycles at 50 Hz",
        "Gun A, program 4.2, arms 250",
        "W1 + L10",
        "20 welds",
        "16:30 · 2026-11-25",
        "or 40 welds",
        "or until anything on this card changes; new shift; any splash",
        "Released by Ines Okoro, 2026-11-25 09:05",
        "Procedure: Body repair book",
        "K7-03B",
        "Gun square to the sheets",
        "No other outlet or lead",
    ):
        assert needed in words, needed


def test_numbers_to_set_are_large():
    page = pdf.reader(bay_card(examples.bay_card_of(3, 6))).pages[0]
    sizes: dict[str, float] = {}

    def note(text: str, _cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            sizes[text.strip()] = abs(tm[3]) * size

    page.extract_text(visitor_text=note)
    assert max(size for text, size in sizes.items() if "9.1 kA" in text) >= 18
    assert min(sizes.values()) >= 5.4


@pytest.mark.parametrize("ends", [SPOT_ENDS, ARC_ENDS])
@pytest.mark.parametrize("count", [2, 3, 4])
def test_every_condition_that_ends_a_release_has_room(count: int, ends: tuple[EndCondition, ...]):
    conditions = tuple(one.words for one in ends)
    card = replace(
        examples.bay_card_of(count, 3 * (count - 1), demo=True),
        ends_when=conditions,
        card_id="01928f3e-7c4b-7e9a-9d2f-3b1e6a5c4d21",
        qr="release 01928f3e-7c4b-7e9a-9d2f-3b1e6a5c4d21 " + "9f86d081" * 8,
        procedure="a long reference to a page of a book " * 9,
        stack=replace(
            examples.drawn_stack(count),
            limits=((DrawnLimit(3.35e-3, "AWS D8.1M:2007 shear-tension load"),),) * (count - 1),
        ),
    )
    words = pdf.text(bay_card(card))
    for condition in conditions:
        assert condition in words


def test_a_card_without_counts_says_so():
    card = replace(examples.bay_card_of(), max_welds=None, dress_after=None)
    words = pdf.text(bay_card(card))
    assert "no limit set" in words
    assert "no count of welds set" in words


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"method": "M" * 200}, "method"),
        ({"outlet": "W" * 300}, "supply"),
        ({"settings": (Setting("Welding current", "9.1 kA or a little more " * 20),)}, "settings"),
        ({"card_id": "K" * 200}, "card_id"),
        ({"ends_when": ("another condition",) * 60}, "ends_when"),
    ],
)
def test_what_must_be_whole_is_refused_rather_than_cut(change: dict[str, object], key: str):
    with pytest.raises(DoesNotFit) as caught:
        bay_card(replace(examples.bay_card_of(), **change))
    assert caught.value.key == key


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"settings": ()}, "settings"),
        ({"settings": (Setting("a", "1"),) * 10}, "settings"),
        ({"advice": ("gun_square",)}, "advice"),
        ({"procedure": " "}, "procedure"),
        ({"released_by": ""}, "released_by"),
        ({"outlet": ""}, "outlet"),
        ({"valid_until": examples.ISSUED}, "valid_until"),
        ({"valid_until": datetime(2026, 11, 25, 16, 30)}, "valid_until"),  # noqa: DTZ001 - the fault
        ({"issued": datetime(2026, 11, 25, 9, 5)}, "issued"),  # noqa: DTZ001 - the fault
        ({"qr": ""}, "qr"),
        ({"qr": "x" * 301}, "qr"),
    ],
)
def test_a_card_that_could_mislead_is_refused(change: dict[str, object], key: str):
    with pytest.raises(BadInput) as caught:
        bay_card(replace(examples.bay_card_of(), **change))
    assert caught.value.key == key


@pytest.mark.parametrize("count", [1, 5])
def test_a_stack_that_is_none_is_refused(count: int):
    card = examples.bay_card_of()
    sheets = (examples.SHEETS * 2)[:count]
    with pytest.raises(BadInput, match="2 to 4"):
        bay_card(replace(card, stack=replace(card.stack, sheets=sheets)))


def test_the_end_is_shown_in_the_shop_s_own_time():
    card = examples.bay_card_of()
    later = replace(card, valid_until=card.valid_until + timedelta(hours=8))
    assert "00:30 · 2026-11-26" in pdf.text(bay_card(later))
