"""The tables of a file that say what is around a joint and what texts say about it."""

from datetime import date
from functools import partial
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, Field
from pydantic_core import PydanticCustomError

from buttonhole.desk.weld_file.entry import Entry, si
from buttonhole.desk.weld_file.values import choice, kind_of, short_text
from buttonhole.procedure.joining.circumstances import (
    Access,
    Adhesive,
    Near,
    Original,
    RemainingFlange,
    Zone,
)
from buttonhole.procedure.joining.maker_text import Says, Whose
from buttonhole.procedure.joining.method import JoiningMethod

MOST_TEXTS = 12
LONGEST_TEXT = 1000
_YES = {"yes": True, "no": False, "true": True, "false": False}
TEXT_WHOSE = tuple(one.value for one in Whose)


def refuse(message: str) -> PydanticCustomError:
    return PydanticCustomError("buttonhole", "{message}", {"message": message})


def one_of_enum(kind: type) -> BeforeValidator:
    return BeforeValidator(partial(choice, allowed=tuple(one.value for one in kind)))  # type: ignore[attr-defined] # an enumeration


def text(example: str) -> BeforeValidator:
    return BeforeValidator(partial(short_text, example=example))


def yes_or_no(value: object) -> bool:
    if isinstance(value, bool):
        return value
    if isinstance(value, str) and value.strip().casefold() in _YES:
        return _YES[value.strip().casefold()]
    raise refuse(f"{kind_of(value)}; give true or false")


def _day(value: object) -> date:
    if isinstance(value, date):
        return value
    try:
        return date.fromisoformat(str(value))
    except ValueError:
        raise refuse(f"{kind_of(value)}; give the day as 2026-01-31") from None


def _long_text(value: object) -> str:
    if not isinstance(value, str) or not value.strip():
        raise refuse(f"{kind_of(value)}; give what the text says about this joint, in quotes")
    if len(value) > LONGEST_TEXT:
        raise refuse(f"has {len(value)} letters; at most {LONGEST_TEXT} are kept")
    return value.strip()


YesNo = Annotated[bool, BeforeValidator(yes_or_no)]
Day = Annotated[date, BeforeValidator(_day)]
Flange = Annotated[float, si("length", "16 mm", 1e-3, 0.3, "1 to 300 mm")]
Reach = Annotated[float, si("length", "250 mm", 1e-3, 2.0, "1 to 2000 mm")]


class CircumstancesEntry(Entry):
    access: Annotated[str | None, one_of_enum(Access)] = None
    flange_width: Flange | None = None
    reach_needed: Reach | None = None
    arm_reach: Reach | None = None
    adhesive: Annotated[str | None, one_of_enum(Adhesive)] = None
    visible: YesNo = False
    sectioning: YesNo = False
    zone: Annotated[str | None, one_of_enum(Zone)] = None
    original_joining: Annotated[str | None, one_of_enum(Original)] = None
    original_count: Annotated[int | None, Field(ge=0, le=500)] = None
    remaining_flange: Annotated[str | None, one_of_enum(RemainingFlange)] = None
    near: Annotated[list[Annotated[str, one_of_enum(Near)]], Field(default_factory=list)]
    earlier_repair: YesNo = False
    model_year: Annotated[int | None, Field(ge=1950, le=2100)] = None
    means: Annotated[list[Annotated[str, one_of_enum(JoiningMethod)]], Field(default_factory=list)]


class MakerTextEntry(Entry):
    method: Annotated[str, text("plug")]
    says: Annotated[str, one_of_enum(Says)]
    rank: Annotated[str, one_of_enum(Whose)]
    reference: Annotated[str, text("Body repair manual 64-20, page 12")]
    revision: Annotated[str, text("2025-03")]
    read_on: Day
    read_by: Annotated[str, text("T. Veld")]
    text: Annotated[str, BeforeValidator(_long_text)]
    applies_to: Annotated[str, text("access = one_side")] = ""


Texts = Annotated[list[MakerTextEntry], Field(max_length=MOST_TEXTS, default_factory=list)]


AROUND_TABLES: dict[str, type[BaseModel]] = {
    "circumstances": CircumstancesEntry,
    "maker_text": MakerTextEntry,
}
AROUND_HINTS = {
    "circumstances": "give the table [circumstances] with access, adhesive and the like",
    "maker_text": "give one [[maker_text]] table, with two brackets, for each of up to 12 texts",
    "near": "give a list of what heat could reach, e.g. near = ["
    + ", ".join(f'"{one}"' for one in Near)
    + "]",
    "means": 'give a list of ways this shop has means for, e.g. means = ["spot", "plug"]',
    "original_count": "give the welds the factory made, 0 to 500",
    "model_year": "give the model year, e.g. 2019",
    "method": 'give the method the text names, e.g. method = "plug"',
    "says": "give one of " + ", ".join(Says),
    "rank": "give one of " + ", ".join(TEXT_WHOSE),
    "reference": "give number and page of the document",
    "revision": 'give the revision or date printed, or "none printed"',
    "read_on": "give the day it was read, e.g. read_on = 2026-01-31",
    "read_by": "say who read it",
    "text": "write down what the text says about this joint",
}
