"""Reads the messages of a language and finds the one that made a sentence.

A message is a text with named holes, ``welded by {welded_by}``. The core makes sentences out of
figures and words; here the message a sentence was made by is found again, so that the core needs
to know of no other language.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from babel import Locale
from babel.messages.pofile import read_po

FOLDER = Path(__file__).parent / "messages"
HOLE = re.compile(r"\{(#?)([a-z_][a-z0-9_]*)\}")
IN_CONTEXT = "\x04"  # stands between the context of a message and its text
MAX_TEXT = 1500  # letters; no sentence of ours is longer

_NUMBER = r"[+\-−]?(?:\d[\d.,]*(?:e[+\-]?\d+)?|nan|inf)"
# Holes that always hold a whole number.
_COUNTS = frozenset(
    ("count", "free", "goal", "index", "interface", "index_2", "n", "number", "order", "questions",
     "total", "version", "welds", "welds_made", "welds_since_dress")
)  # fmt: skip
_WORD = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True, slots=True)
class Message:
    """One message and what it is in the language: one form, or one for each plural."""

    text: str
    forms: tuple[str, ...]
    count: str = ""  # the hole whose number chooses the form
    of_page: bool = False  # a text of a template: asked for by itself, never looked for

    def form(self, holes: dict[str, str], plural: Callable[[int], int]) -> str:
        """The form for these values."""
        if len(self.forms) == 1:
            return self.forms[0]
        number = holes.get(self.count, "").strip()
        index = plural(int(number)) if number.isascii() and number.isdigit() else 1
        return self.forms[min(index, len(self.forms) - 1)]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A message with holes, as something to match sentences with."""

    message: Message
    expression: re.Pattern[str]
    names: tuple[str, ...]
    weight: int  # letters outside the holes [-]

    def holes(self, text: str) -> dict[str, str] | None:
        """What stood in the holes, or nothing when the sentence was not made by this message."""
        found = self.expression.match(text)
        return dict(zip(self.names, found.groups(), strict=True)) if found else None


def pattern_of(message: Message) -> Pattern | None:
    """Make a pattern of a message; nothing when it has no hole or no word of its own."""
    parts = HOLE.split(message.text)
    if len(parts) == 1 or message.of_page:
        return None
    literals, kinds, names = parts[0::3], parts[1::3], parts[2::3]
    weight = sum(len(one) for literal in literals for one in _WORD.findall(literal))
    if weight < 3:
        return None
    written = re.escape(literals[0])
    for place, (kind, name, literal) in enumerate(zip(kinds, names, literals[1:], strict=True)):
        free = "(.*?)" if place == 0 and not literals[0] else "(.+?)"
        hole = f"({_NUMBER})" if kind or name in _COUNTS else free
        last = place == len(kinds) - 1
        after = re.escape(literal) + (r"\Z" if last else "")
        # Atomic: the first place where the text goes on is the one; no search grows without end.
        written += f"{hole}{after}" if last else f"(?>{hole}{after})"
    return Pattern(message, re.compile(written, re.DOTALL), tuple(names), weight)


class Catalogue:
    """The messages of one language."""

    def __init__(self, language: str, messages: tuple[Message, ...]) -> None:
        self.language = language
        self.plural: Callable[[int], int] = _plural_index(language)
        self.messages = {one.text.strip(): one for one in messages}
        self._folded = {one.text.strip().casefold(): one for one in reversed(messages)}
        self._anchored: dict[str, list[Pattern]] = defaultdict(list)
        frequency: dict[str, int] = defaultdict(int)
        patterns = [one for message in messages if (one := pattern_of(message)) is not None]
        for one in patterns:
            for word in set(_own_words(one.message.text)):
                frequency[word] += 1
        for one in patterns:
            words = _own_words(one.message.text)
            self._anchored[min(words, key=lambda word: (frequency[word], -len(word)))].append(one)

    def exact(self, text: str) -> Message | None:
        """The message that is this text, in large or small letters."""
        return self.messages.get(text) or self._folded.get(text.casefold())

    def candidates(self, text: str) -> Iterator[tuple[Message, dict[str, str]]]:
        """The messages with holes that may have made a text, the one that says most first."""
        words = set(_WORD.findall(text))
        found = [one for word in words for one in self._anchored.get(word, ())]
        found.sort(key=lambda one: (-one.weight, one.message.text))
        for one in found:
            holes = one.holes(text)
            if holes is not None:
                yield one.message, holes


def _own_words(text: str) -> list[str]:
    """The words of a message that stand whole in every sentence it makes."""
    bare = HOLE.sub("\0", text)
    words = [
        one[0]
        for one in _WORD.finditer(bare)
        if "\0" not in bare[max(one.start() - 1, 0) : one.start()] + bare[one.end() : one.end() + 1]
    ]
    return words or [""]


def _plural_index(language: str) -> Callable[[int], int]:
    order = {"one": 0, "other": 1}
    rule = Locale.parse(language).plural_form
    return lambda number: order.get(rule(number), 1)


@cache
def catalogue(language: str) -> Catalogue:
    """Read the messages of a language.

    Parameters
    ----------
    language : str
        Code of the language; one without a file has no messages.

    Returns
    -------
    Catalogue
        Its messages.
    """
    return Catalogue(language, tuple(_read(language)))


def _read(language: str) -> Iterator[Message]:
    for path in sorted((FOLDER / language).glob("*.po")):
        with path.open("rb") as file:
            for entry in read_po(file, locale=language):
                if not entry.id or entry.fuzzy:
                    continue
                if isinstance(entry.id, str):
                    text, name = str(entry.string), entry.id.strip()
                    if entry.context:
                        name = f"{entry.context}{IN_CONTEXT}{name}"
                    if text:
                        yield Message(name, (text.strip(),), "", _of_page(entry))
                elif isinstance(entry.string, list | tuple) and all(entry.string):
                    name = entry.id[0].strip()
                    yield Message(name, tuple(entry.string), _count(name, entry), _of_page(entry))


def _of_page(entry: object) -> bool:
    """Whether it comes from templates alone and is not put together there out of pieces."""
    places = [str(name) for name, _ in getattr(entry, "locations", [])]
    joined = re.search(r"\{#?value", str(getattr(entry, "id", ""))) is not None
    return bool(places) and all(one.startswith("templates/") for one in places) and not joined


def _count(text: str, entry: object) -> str:
    for comment in getattr(entry, "auto_comments", []):
        if comment.startswith("count:"):
            return str(comment.removeprefix("count:").strip())
    names = [name for _, name in HOLE.findall(text)]
    return names[0] if names else ""
