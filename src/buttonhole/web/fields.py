"""Reads what was typed into a form."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Depends
from starlette.requests import Request

from buttonhole.units import BadInput, parse

MAX_FIELDS = 120
MAX_LENGTH = 400  # letters of one answer
SHOWN = "shown-"  # begins the name of what a field in another unit sends along


@dataclass(slots=True)
class Answers:
    """The answers of one form as typed, and what is wrong with them.

    Reading goes on after a fault, so that a page can mark all of them at once.
    """

    typed: Mapping[str, str]
    faults: dict[str, str] = field(default_factory=dict)

    def text(self, key: str, *, need: str = "") -> str:
        """A text; ``need`` says what to give when it must not be empty."""
        given = self.typed.get(key, "").strip()
        if not given and need:
            self.faults[key] = need
        return given

    def choice(self, key: str, allowed: Mapping[str, object] | tuple[str, ...], need: str) -> str:
        """One of the answers offered."""
        given = self.typed.get(key, "").strip()
        if given not in allowed:
            self.faults[key] = need
            return ""
        return given

    def number(self, key: str, *, low: int, high: int, need: str) -> int | None:
        """A whole number, or nothing when the field was left empty and ``need`` is empty."""
        given = self.typed.get(key, "").strip()
        if not given and not need:
            return None
        if not (given.isascii() and given.isdigit() and len(given) < 9):
            self.faults[key] = need or "Give a whole number, or leave it empty."
            return None
        if not low <= int(given) <= high:
            self.faults[key] = f"Give a whole number from {low} to {high}."
            return None
        return int(given)

    def quantity(self, key: str, kind: str, unit: str, *, need: str = "") -> float | None:
        """SI value of a figure; ``unit`` is the one shown beside the field.

        A unit typed by hand is taken, and so is a comma. An empty field is nothing, or a fault
        when ``need`` says what to give.
        """
        given = self.typed.get(key, "").strip()
        if not given:
            if need:
                self.faults[key] = need
            return None
        try:
            return parse(with_unit(given, unit), kind, key)
        except BadInput as bad:
            self.faults[key] = sentence(bad.message)
            return None

    def quantity_text(self, key: str, kind: str, unit: str, *, need: str = "") -> str | None:
        """A figure as a weld file holds it, a text with its unit; otherwise as ``quantity``."""
        if self.quantity(key, kind, unit, need=need) is None:
            return None
        return with_unit(self.typed[key].strip(), unit)

    def quantity_bare(self, key: str, need: str) -> float | None:
        """A plain number above zero, or nothing; ``need`` says what to give when it is none."""
        given = self.typed.get(key, "").strip().replace(",", ".")
        if not given:
            return None
        try:
            value = float(given)
        except ValueError:
            value = -1.0
        if not 0.0 < value < 1e6:  # also catches NaN
            self.faults[key] = need
            return None
        return value

    def blame(self, bad: BadInput, keys: Mapping[str, str] | None = None) -> None:
        """Put a fault the core found beside the field it came from."""
        known = {**{key: key for key in self.typed}, **(keys or {})}
        self.faults[known.get(bad.key, bad.key)] = sentence(bad.message)


def with_unit(given: str, unit: str) -> str:
    """Put the unit shown beside the field behind a figure typed without one."""
    text = given.replace(",", ".")
    if not any(letter.isalpha() or letter == "°" for letter in text.lower().replace("e", "")):
        text = f"{text} {unit}"
    return text


def sentence(message: str) -> str:
    """Make a sentence of what the core said about a value."""
    said = message.strip()
    if said.startswith(("is ", "has ", "needs ", "must ", "can't ", "stands ")):
        said = "This " + said
    return said[:1].upper() + said[1:] + ("" if said.endswith((".", "?")) else ".")


async def read_answers(request: Request) -> Answers:
    """Read a form, or the answers in the address of a page.

    Raises
    ------
    BadInput
        More fields or longer texts than any form of ours has.
    """
    if request.method == "GET":
        pairs = request.query_params.multi_items()
    else:
        form = await request.form(max_files=0, max_fields=MAX_FIELDS)
        pairs = [(key, value) for key, value in form.multi_items() if isinstance(value, str)]
    if len(pairs) > MAX_FIELDS:
        raise BadInput("form", f"has {len(pairs)} fields; no form of ours is that long")
    typed: dict[str, str] = {}
    for key, value in pairs:
        if len(value) > MAX_LENGTH or len(key) > 60:
            raise BadInput(key[:60], f"is {len(value)} letters long; give at most {MAX_LENGTH}")
        typed[key] = one_line(value)
    take_shown_units(typed)
    request.state.typed = typed  # what was typed is shown again when two people save at once
    return Answers(typed)


def take_shown_units(typed: dict[str, str]) -> None:
    """Put the unit that stood beside a field behind what was typed into it.

    A field shown in another unit than its own sends along that unit, the figure it was filled with
    and the same figure in its own unit (``saying.shown_field``): a figure nobody touched is taken
    back as it was, to the last digit. What was typed with a unit keeps it.
    """
    for name in [one for one in typed if one.startswith(SHOWN)]:
        unit, _, rest = typed.pop(name).partition("|")
        filled, _, before = rest.partition("|")
        key = name.removeprefix(SHOWN)
        given = typed.get(key, "").strip()
        if before and given == filled:
            typed[key] = before
        elif given:
            typed[key] = with_unit(given, unit)


def one_line(text: str) -> str:
    """Drop control letters and line ends: no answer of ours has a use for them."""
    kept = (" " if unicodedata.category(one) in ("Cc", "Zl", "Zp") else one for one in text)
    return "".join(one for one in kept if unicodedata.category(one) not in ("Cf", "Cs", "Cn"))


Form = Annotated[Answers, Depends(read_answers)]
