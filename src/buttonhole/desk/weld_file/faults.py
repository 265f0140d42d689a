"""Says in one line what is wrong with the keys of a weld file."""

import difflib

from pydantic import ValidationError

from buttonhole.desk.weld_file.keys import (
    MAX_PULSES,
    CriterionEntry,
    Entry,
    PulseEntry,
    SetUpEntry,
    SheetEntry,
    WeldEntry,
)
from buttonhole.desk.weld_file.values import kind_of, quoted
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import CurrentType


def first_fault(error: ValidationError) -> BadInput:
    """The most telling of all faults: an unknown key explains a missing one, so it comes first."""
    faults = error.errors(include_url=False, include_context=False)
    unknown = [one for one in faults if one["type"] == "extra_forbidden"]
    fault = (unknown or faults)[0]
    place = tuple(fault["loc"])
    return BadInput(_key(place), _message(fault["type"], fault["msg"], place, fault["input"]))


def _key(place: tuple[int | str, ...]) -> str:
    """``("sheet", 1, "thickness")`` as people count it: ``sheet 2 thickness``."""
    words = (str(one + 1) if isinstance(one, int) else quoted(one)[1:-1] for one in place)
    return " ".join(words)


def _message(kind: str, said: str, place: tuple[int | str, ...], value: object) -> str:
    if kind == "buttonhole":
        return said
    if kind == "extra_forbidden":
        return _unknown_key(place)
    if kind == "missing":
        return f"is missing; {_what_to_give(place)}"
    if kind == "too_long":
        return f"has more than {MAX_PULSES} pulses; give those of one weld"
    return f"{kind_of(value)}; {_what_to_give(place)}"


def _what_to_give(place: tuple[int | str, ...]) -> str:
    return {
        "process": 'give process = "spot"',
        "sheet": "give one [[sheet]] table, with two brackets, for each sheet from side A to B",
        "steel": 'give the designation as printed, e.g. steel = "DC04", or "unknown"',
        "thickness": 'give the measured thickness, e.g. thickness = "0.8 mm"',
        "set_up": "give the table [set_up] with welding_current and the other settings",
        "current_type": "give one of " + ", ".join(one.value for one in CurrentType),
        "electrode_force": 'give electrode_force = "2.2 kN" or what your machine shows',
        "squeeze_time": 'give squeeze_time = "300 ms" or what your machine shows',
        "hold_time": 'give hold_time = "160 ms" or what your machine shows',
        "pulse": "give one [[set_up.pulse]] table, with two brackets, for each pulse",
        "time": 'give the time of this pulse, e.g. time = "100 ms"',
        "criterion": "give the table [criterion] with minimum_rule",
        "minimum_rule": "give the key of a rule as `buttonhole judge --rules` lists them",
    }.get(next((one for one in reversed(place) if isinstance(one, str)), ""), "give a table here")


_KEYS: dict[str, type[Entry]] = {
    "": WeldEntry,
    "sheet": SheetEntry,
    "set_up": SetUpEntry,
    "pulse": PulseEntry,
    "criterion": CriterionEntry,
}


def _unknown_key(place: tuple[int | str, ...]) -> str:
    typed = str(place[-1])
    tables = [one for one in place[:-1] if isinstance(one, str)]
    here = list(_KEYS[tables[-1] if tables else ""].model_fields)
    near = difflib.get_close_matches(typed.casefold(), here, n=1, cutoff=0.5)
    if near:
        return f"is no key of a weld file; did you mean {near[0]}?"
    for name, entry in _KEYS.items():
        if typed in entry.model_fields:
            where = f"belongs in [{name}]" if name else "belongs above the first table"
            return f"stands in the wrong table; it {where}"
    return f"is no key of a weld file; the keys here are {', '.join(here)}"
