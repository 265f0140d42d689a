"""Every text that reaches a screen has a German message."""

import pytest

from buttonhole.language.catalogue import HOLE, catalogue
from checks import messages

SCREENS = ("web", "vehicle", "photo", "paper/figure")
CORE = ("desk", "procedure", "coupon", "learning", "joint", "weld")


@pytest.mark.parametrize(
    "found",
    [
        pytest.param(messages.template_texts, id="templates"),
        pytest.param(messages.table_texts, id="tables"),
        pytest.param(lambda: messages.module_texts(SCREENS), id="screens"),
    ],
)
def test_every_text_of_the_screens_has_a_german_message(found) -> None:  # type: ignore[no-untyped-def] # one of three iterators
    texts = list(found())
    assert len(texts) > 100
    assert [f"{one.place}: {one.text}" for one in messages.missing("de", iter(texts))] == []


def test_nearly_every_sentence_of_the_core_has_a_german_message() -> None:
    """What is left over says what a programmer or the writer of a file did wrong."""
    texts = {one.text for one in messages.module_texts(CORE)}
    lacking = messages.missing("de", messages.module_texts(CORE))
    assert len(texts) > 1000
    assert len(lacking) <= 0.2 * len(texts), [one.text for one in lacking]


def test_german_is_written_in_german_letters_and_with_german_words() -> None:
    for one in catalogue("de").messages.values():
        for form in one.forms:
            bare = HOLE.sub("", form)
            assert not any(f" {word} " in f" {bare} " for word in ("the", "with", "weld", "coupon"))
            assert not any(word in bare for word in ("ae ", "fuer", "ueber", "schweiss", "groess"))


def test_a_text_without_a_message_is_found() -> None:
    strange = messages.Found("Words that no catalogue will ever hold.", "here:1")
    assert messages.missing("de", iter([strange])) == [strange]
