"""Text is made printable before it meets the typesetter."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.paper.typesetting import LONGEST, UNPRINTABLE, cleaned, printable
from tests.paper import examples


def test_latin_greek_cyrillic_and_signs_are_printed():
    text = "Größe µ Ω √ ≥ ± ⌀ → € Привет"
    assert printable(text) == unicodedata.normalize("NFC", text)


def test_a_character_without_a_glyph_leaves_a_mark():
    assert printable("日x\U0001f600") == f"{UNPRINTABLE}x{UNPRINTABLE}"


def test_long_words_may_be_broken_and_short_ones_may_not():
    assert "\u200b" in printable("x" * 30)
    assert printable("HCT600X+ZM120") == "HCT600X+ZM120"


def test_a_flood_is_cut():
    assert len(printable("many words " * 5000).replace("\u200b", "")) == LONGEST


def test_fields_that_are_no_text_stay():
    card = examples.bay_card_of()
    other = cleaned(card, frozenset({"qr"}))
    assert other.qr == card.qr
    assert other.valid_until == card.valid_until
    assert other.style is card.style
    assert other.stack == card.stack


@given(st.text(alphabet=st.characters(max_codepoint=0x24F), max_size=80))
def test_printable_text_holds_no_control_and_is_stable(text: str):
    once = printable(text)
    assert not any(unicodedata.category(c) == "Cc" for c in once)
    assert printable(once) == once


@pytest.mark.parametrize("text", ["", " ", "\x00\x07", "\u202e"])
def test_nothing_readable_becomes_nothing(text: str):
    assert printable(text) == ""
