"""Says a sentence of the core, or a text of a page, in another language."""

import re
from collections.abc import Mapping
from functools import cache, lru_cache

from buttonhole.language.catalogue import HOLE, IN_CONTEXT, MAX_TEXT, Catalogue, Message, catalogue
from buttonhole.language.display import Display
from buttonhole.language.figures import shown_figures

# Holes that hold what people wrote or what has the same name everywhere: never translated.
AS_TYPED = frozenset(
    (
        "actor", "by", "decided_by", "designation", "document", "file", "given", "job",
        "job_name", "joint_name", "key", "machine", "name_typed", "note_typed", "opened_by",
        "person", "quoted", "read_by", "reference", "released_by", "revision", "serial",
        "shown_text", "steel", "steel_name", "title", "typed", "vehicle", "vin", "welded_by",
        "welder", "wire",
    )
)  # fmt: skip
_DEPTH = 4
_TAG = re.compile(r"</?[a-z]+>")
_PLACED = re.compile(r"\d-\d: ")  # an interface before what is said of it
_LETTERS = re.compile(r"[^\W\d_]{2}")
# Figures with their units, names of steels, standards and wires: the same in every language.
_NO_WORDS = re.compile(
    r"(?:[±≥≤<>≈(]?[\d.,]+(?:\s?(?:to|bis|/|×|x|\+|–|-)\s?[\d.,]+)*)\)?\s?"
    r"(?:mm[²³]?|kN|N|kA|A|ms|s|HV|MPa|%|°C|V|kJ|J|l/min|m/min|mm/s|min|h|g/m²|µm|kg|Hz|in)?[.;]?"
    r"|[A-Z0-9][A-Za-z]{0,3}(?:[ \-+/.]?[A-Z0-9][A-Z0-9.\-/+]*)*"
)
# Where a text of several sentences or clauses may be taken apart.
_CUTS = (
    re.compile(r"(\n+)"),
    re.compile(r"( · )"),
    re.compile(r"((?<=[.?!])\s+(?=[^\s\d]|\d-\d: ))"),
    re.compile(r"(; )"),
    re.compile(r"(: )"),
    re.compile(r"( – )"),
    re.compile(r"(, )"),
)


class Speech:
    """One language and the reader's units; ``missed`` collects what could not be said, if asked."""

    def __init__(self, display: Display, messages: Catalogue) -> None:
        self.display = display
        self.messages = messages
        self.missed: set[str] | None = None
        self._kept = lru_cache(maxsize=20_000)(self._said)

    def say(self, text: str) -> str:
        """Say a text of the core; what has no message stays English.

        Parameters
        ----------
        text : str
            A sentence, a word or a figure as the core writes it.

        Returns
        -------
        str
            The same in the language and units of the display.
        """
        if self.missed is not None:
            return self._said(text)
        return self._kept(text)

    def _said(self, text: str) -> str:
        return shown_figures(self.translated(text), self.display)

    def again(self, text: str) -> str:
        """Say what is partly said already, as in a drawing; nothing is noted as missing."""
        noted, self.missed = self.missed, None
        try:
            return self._said(text)
        finally:
            self.missed = noted

    def translated(self, text: str) -> str:
        """Say a text in the language, its figures as they are."""
        bare = text.strip()
        if len(bare) > MAX_TEXT or not _LETTERS.search(bare):
            return text
        if _NO_WORDS.fullmatch(bare) and self.messages.exact(bare) is None:
            return text
        found = self._found(bare, 0)
        if found is None:
            if self.missed is not None:
                self.missed.add(bare)
            return text
        return text.replace(bare, found, 1) if bare != text else found

    def say_in(self, context: str, text: str) -> str:
        """Say a word that means something else elsewhere; without a message for it as anywhere."""
        known = self.messages.exact(f"{context}{IN_CONTEXT}{text}")
        return known.forms[0] if known is not None else self.translated(text)

    def fill(self, message: str, holes: Mapping[str, str]) -> str:
        """Say a message whose holes are known, their figures as they are.

        Parameters
        ----------
        message : str
            The English message with its holes.
        holes : Mapping of str
            What stands in them, said already.

        Returns
        -------
        str
            The message in the language.
        """
        known = self.messages.messages.get(message)
        if known is None:
            if self.missed is not None and _LETTERS.search(_TAG.sub("", HOLE.sub("", message))):
                self.missed.add(message)
            return _filled(message, holes)
        return _filled(known.form(dict(holes), self.messages.plural), holes)

    def _found(self, text: str, depth: int) -> str | None:
        message = self.messages.exact(text)
        if message is not None:
            return _cased(text, message)
        half: str | None = None  # said, but a hole of it stayed English
        for known, holes in self.messages.candidates(text):
            said = {name: self._hole(name, value, depth) for name, value in holes.items()}
            filled = _filled(
                known.form(holes, self.messages.plural),
                {name: holes[name] if one is None else one for name, one in said.items()},
            )
            if all(one is not None for one in said.values()):
                return filled
            half = half or filled
        if depth >= _DEPTH:
            return half
        whole = self._without_frame(text, depth)
        if half is not None and not _CUTS[2].search(text):
            return whole or half
        return whole or self._in_parts(text, depth) or half

    def _hole(self, name: str, value: str, depth: int) -> str | None:
        """What stands in a hole; nothing when it is several words that have no message."""
        if name in AS_TYPED or not _LETTERS.search(value) or _NO_WORDS.fullmatch(value):
            return value
        found = self._found(value, depth + 1) if depth < _DEPTH else None
        return value if found is None and " " not in value.strip() else found

    def _without_frame(self, text: str, depth: int) -> str | None:
        """What a page puts round a sentence of the core: a full stop, ``This``, brackets."""
        placed = _PLACED.match(text)
        if placed and (found := self._found(text[placed.end() :], depth + 1)):
            return placed[0] + found
        if text.endswith(".") and (found := self._found(text[:-1], _DEPTH)):
            return found + "."
        if (
            text.startswith("(")
            and text.endswith(")")
            and (found := self._found(text[1:-1], depth + 1))
        ):
            return f"({found})"
        if text.startswith("This ") and (found := self._found(text[5:].rstrip("."), _DEPTH)):
            begin = "Das " if self.display.language == "de" else "This "
            return begin + found.rstrip(".") + "."
        return None

    def _in_parts(self, text: str, depth: int) -> str | None:
        """Take a text apart where all its parts can be said, else where some of them can."""
        best: str | None = None
        for cut in _CUTS:
            parts = cut.split(text)
            if len(parts) < 3:
                continue
            said = [
                self._found(part, depth + 1) if place % 2 == 0 and part else None
                for place, part in enumerate(parts)
            ]
            joined = "".join(
                part if one is None else one for part, one in zip(parts, said, strict=True)
            )
            silent = [
                part
                for part, one in zip(parts[::2], said[::2], strict=True)
                if one is None and _LETTERS.search(part) and not _NO_WORDS.fullmatch(part)
            ]
            if not silent and joined != text:
                return joined
            # a list is said whole or not at all: half of it would be no language
            if best is None and joined != text and cut not in _CUTS[-2:]:
                best = joined
        return best


def _filled(form: str, holes: Mapping[str, str]) -> str:
    return HOLE.sub(lambda match: holes.get(match[2], match[0]), form)


def _cased(text: str, message: Message) -> str:
    said = message.forms[0]
    if text[:1].isupper() and not message.text[:1].isupper():
        return said[:1].upper() + said[1:]
    return said


@cache
def speech(display: Display) -> Speech:
    """The speech of a display.

    Parameters
    ----------
    display : Display
        Language and units.

    Returns
    -------
    Speech
        What says texts in it; the same one for every page.
    """
    return Speech(display, catalogue(display.language))
