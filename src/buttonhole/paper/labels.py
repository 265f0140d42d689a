"""Labels for coupons: an A4 sheet with the plan before them, or a roll of 50 x 25 mm."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from buttonhole.paper.figure.style import Style
from buttonhole.paper.qr import qr_picture
from buttonhole.paper.typesetting import cleaned, typeset, utc
from buttonhole.units import BadInput

MOST_LABELS = 240
_NOT_TEXT = frozenset({"qr", "language", "code"})


@dataclass(frozen=True, slots=True)
class Label:
    """One label: its code in large letters, four lines, and what its square code holds."""

    code: str
    first: str
    second: str
    third: str
    fourth: str
    qr: str


@dataclass(frozen=True, slots=True)
class CutRow:
    """What to cut of one sheet."""

    sheet: str
    pieces: str
    strip: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """Labels with the plan they belong to; without cuts and tests only the labels are printed."""

    title: str
    subject: str
    labels: tuple[Label, ...]
    issued: datetime  # with the shop's time zone
    cuts: tuple[CutRow, ...] = ()
    tests: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    roll: bool = False
    demo: bool = False
    language: str = "en"
    style: Style = field(default_factory=Style)


def label_sheet(sheet: LabelSheet) -> bytes:
    """Print labels.

    Parameters
    ----------
    sheet : LabelSheet
        What they say.

    Returns
    -------
    bytes
        PDF/A-2b and PDF/UA-1; the same labels give the same bytes.

    Raises
    ------
    BadInput
        If there is no label or there are too many, or a code has no room.
    """
    if not 1 <= len(sheet.labels) <= MOST_LABELS:
        raise BadInput("labels", f"are {len(sheet.labels)}; print 1 to {MOST_LABELS} at once")
    utc(sheet.issued)
    return typeset("coupon_labels.typ", _data(cleaned(sheet, _NOT_TEXT)), sheet.issued)


def _data(sheet: LabelSheet) -> dict[str, Any]:
    say = sheet.style.say
    return {
        "title": sheet.title,
        "subject": sheet.subject,
        "language": sheet.language,
        "demo": sheet.demo,
        "roll": sheet.roll,
        "labels": [
            {
                "code": f"{one.code[:3]} {one.code[3:]}",
                "lines": [one.first, one.second, one.third, one.fourth],
                "qr": {"svg": qr_picture(one.qr), "alt": f"{say('Square code of')} {one.code}"},
            }
            for one in sheet.labels
        ],
        "cuts": [[one.sheet, one.pieces, one.strip, one.note] for one in sheet.cuts],
        "tests": list(sheet.tests),
        "notes": list(sheet.notes),
        "words": {
            "demo_mark": say("DEMO"),
            "demo": say("DEMO, not for a vehicle"),
            "cut": say("To cut"),
            "sheet": say("Sheet"),
            "pieces": say("Pieces, length x width"),
            "strip": say("Strip of that width"),
            "note": say("Mind"),
            "tests": say("How each is torn"),
            "labels": say("Labels: stick one on before welding, its number is used once"),
            "mind": say("Mind"),
            "prevails": say(
                "How many and how large is our usual; the vehicle maker's procedure prevails."
            ),
        },
    }
