"""Says in one line what is wrong with the keys of a file."""

import difflib
from collections.abc import Mapping
from dataclasses import dataclass

from pydantic import BaseModel, ValidationError

from buttonhole.desk.weld_file.values import kind_of, quoted
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class Form:
    """A kind of file: its name, its tables ("" is the top) and what to give for each key."""

    name: str
    tables: Mapping[str, type[BaseModel]]
    hints: Mapping[str, str]


def first_fault(error: ValidationError, form: Form) -> BadInput:
    """The most telling of all faults: an unknown key explains a missing one, so it comes first."""
    faults = error.errors(include_url=False, include_context=False)
    unknown = [one for one in faults if one["type"] == "extra_forbidden"]
    fault = (unknown or faults)[0]
    place = tuple(fault["loc"])
    message = _message(fault["type"], fault["msg"], place, fault["input"], form)
    return BadInput(_key(place), message)


def _key(place: tuple[int | str, ...]) -> str:
    """``("sheet", 1, "thickness")`` as people count it: ``sheet 2 thickness``."""
    words = (str(one + 1) if isinstance(one, int) else quoted(one)[1:-1] for one in place)
    return " ".join(words)


def _message(kind: str, said: str, place: tuple[int | str, ...], value: object, form: Form) -> str:
    names = [one for one in place if isinstance(one, str)]
    hint = form.hints.get(names[-1] if names else "", "give a table here")
    if kind == "buttonhole":
        return said
    if kind == "extra_forbidden":
        return _unknown_key(names, form)
    if kind == "missing":
        return f"is missing; {hint}"
    if kind == "too_long":
        return f"has too many entries; {hint}"
    return f"{kind_of(value)}; {hint}"


def _unknown_key(names: list[str], form: Form) -> str:
    *tables, typed = names
    here = list(form.tables[tables[-1] if tables else ""].model_fields)
    for name, entry in form.tables.items():  # the very key elsewhere goes before one like it here
        if typed in entry.model_fields:
            where = f"belongs in [{name}]" if name else "belongs above the first table"
            return f"stands in the wrong table; it {where}"
    near = difflib.get_close_matches(typed.casefold(), here, n=1, cutoff=0.6)
    if near:
        return f"is no key of {form.name}; did you mean {near[0]}?"
    return f"is no key of {form.name}; the keys here are {', '.join(here)}"
