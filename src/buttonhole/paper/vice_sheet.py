"""Prediction against vice: two predicted welds, and empty boxes for what two coupons show. A4."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from buttonhole.paper.cautions import SHEET_CAUTIONS
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import without_ground, words_of
from buttonhole.paper.typesetting import cleaned, typeset, utc
from buttonhole.units import BadInput

MOST_ROWS = 8
_NOT_TEXT = frozenset({"section", "back", "language"})


@dataclass(frozen=True, slots=True)
class Weld:
    """One predicted weld: how it is made, and its two drawings as SVG."""

    words: str
    section: str
    back: str


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of both welds [unit]: value, and the range that should hold nine of ten."""

    name: str
    unit: str
    first: tuple[float, float, float]
    second: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class ViceSheet:
    """All that the sheet says."""

    title: str
    trade: str
    model: str
    welds: tuple[Weld, Weld]
    rows: tuple[Row, ...]
    what: str
    model_version: str
    issued: datetime  # with the shop's time zone
    language: str = "en"
    style: Style = field(default_factory=Style)


def vice_sheet(sheet: ViceSheet) -> bytes:
    """Print a sheet.

    Parameters
    ----------
    sheet : ViceSheet
        What it says.

    Returns
    -------
    bytes
        A4, PDF/A-2b and PDF/UA-1; the same sheet gives the same bytes.

    Raises
    ------
    BadInput
        When there is no figure to measure, or there are too many.
    """
    if not 1 <= len(sheet.rows) <= MOST_ROWS:
        raise BadInput("rows", f"are {len(sheet.rows)}; a sheet has room for 1 to {MOST_ROWS}")
    utc(sheet.issued)
    return typeset("vice_sheet.typ", _data(cleaned(sheet, _NOT_TEXT)), sheet.issued)


def _data(sheet: ViceSheet) -> dict[str, Any]:
    say = sheet.style.say
    return {
        "title": f"{say('Prediction against vice')}: {sheet.title}",
        "language": sheet.language,
        "trade": sheet.trade,
        "model": sheet.model,
        "what": sheet.what,
        "version": f"{say('Model')} {sheet.model_version}",
        "welds": [
            {
                "words": one.words,
                "section": {"svg": without_ground(one.section), "alt": words_of(one.section)},
                "back": {"svg": without_ground(one.back), "alt": words_of(one.back)},
            }
            for one in sheet.welds
        ],
        "rows": [
            [f"{one.name}, {one.unit}", *_cells(one.first, one.unit), *_cells(one.second, one.unit)]
            for one in sheet.rows
        ],
        "cautions": " ".join(say(one) for one in SHEET_CAUTIONS),
        "words": {
            "trade": say("The trade says (common practice, no source)"),
            "model": say("The model"),
            "figure": say("Figure"),
            "predicted": say("predicted"),
            "range": say("nine of ten"),
            "vice": say("in the vice"),
            "first": say("Right"),
            "second": say("Otherwise"),
            "draw": say("Draw how it tore, front and back"),
            "who": say("Welded by, label, date"),
            "learned": say("What we learned"),
        },
    }


def _cells(reading: tuple[float, float, float], unit: str) -> list[str]:
    places = 2 if unit in ("mm", "kN") else 0
    value, low, high = (f"{one:.{places}f}" for one in reading)
    return [value, f"{low} - {high}", ""]
