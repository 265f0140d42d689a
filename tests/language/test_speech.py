"""Sentences of the core in another language."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from buttonhole.language import Display, speech
from buttonhole.language.catalogue import HOLE, Catalogue, Message, catalogue
from buttonhole.language.display import INCH
from buttonhole.language.speech import Speech

GERMAN = speech(Display("de"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Released", "Freigegeben"),
        ("No coupon counts yet.", "Noch zählt keine Probe."),
        (
            "Mean diameter 4.20 mm is under the limit "
            "(limit 4.50 mm, with guard band 4.60 mm (2 u)).",
            "Der mittlere Durchmesser 4,20 mm liegt unter der Grenze "
            "(Grenze 4,50 mm, mit Schutzband 4,60 mm (2 u)).",
        ),
        (
            "welded by Release, 1 welds since dressing",
            "geschweißt von Release, 1 Schweißung seit dem Fräsen",
        ),
        (
            "welded by Ann, 12 welds since dressing",
            "geschweißt von Ann, 12 Schweißungen seit dem Fräsen",
        ),
        ("Give 0.1 to 60 kA.", "0,1 bis 60 kA angeben."),
        ("Weld a coupon. No coupon counts yet.", "Eine Probe schweißen. Noch zählt keine Probe."),
        ("HCT600X+Z100MB", "HCT600X+Z100MB"),
        ("words nobody ever wrote here", "words nobody ever wrote here"),
    ],
)  # fmt: skip
def test_a_sentence_is_said_in_german(text: str, said: str) -> None:
    assert GERMAN.say(text) == said


def test_a_number_chooses_the_plural_form_of_its_own_language() -> None:
    messages = (
        Message("{count} welds left", ("{count} weld left", "{count} welds left"), "count"),
    )
    english = Speech(Display("en"), Catalogue("en", messages))
    assert [english.say(f"{n} welds left") for n in (0, 1, 2, 21)] == [
        "0 welds left",
        "1 weld left",
        "2 welds left",
        "21 welds left",
    ]


def test_units_and_language_go_together() -> None:
    both = speech(Display("de", INCH))
    assert both.say("Give 1.5 to 20 mm.") == "0,059 bis 0,787 in angeben."


def test_no_message_loses_or_invents_a_hole() -> None:
    for one in catalogue("de").messages.values():
        names = {name for _, name in HOLE.findall(one.text)}
        for form in one.forms:
            assert {name for _, name in HOLE.findall(form)} <= names, one.text
        assert not one.count or one.count in names, one.text


@settings(max_examples=200)
@given(st.text(max_size=300))
def test_no_text_breaks_it(text: str) -> None:
    GERMAN.say(text)


@given(
    st.lists(
        st.sampled_from(["a, ", "welds ", "is ", "of ", "; ", ": ", "{x} ", ". "]), max_size=150
    )
)
def test_long_texts_full_of_joints_take_no_long_search(parts: list[str]) -> None:
    begun = time.perf_counter()
    Speech(Display("de"), catalogue("de")).say("".join(parts)[:1400])
    assert time.perf_counter() - begun < 1.0


def test_a_page_of_sentences_is_said_in_a_few_milliseconds() -> None:
    texts = [text for text in catalogue("de").messages if "{" not in text][:300]
    for text in texts:
        GERMAN.say(text)
    begun = time.perf_counter()
    for text in texts:
        GERMAN.say(text)
    assert time.perf_counter() - begun < 5e-3
