"""The coupon sheet: what was welded, how it tore, what was measured and what follows. A5."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from buttonhole.paper.cautions import SHEET_CAUTIONS
from buttonhole.paper.figure.margin import DrawnMargin, margin
from buttonhole.paper.figure.stack import DrawnStack, caps_words, sheet_words, stack
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import without_ground, words_of
from buttonhole.paper.qr import qr_picture
from buttonhole.paper.typesetting import cleaned, preview, typeset
from buttonhole.units import BadInput

MOST_SETTINGS, MOST_DIFFERENCES = 8, 6
_NOT_TEXT = frozenset({"qr", "language", "image"})
_FORMATS = {b"\xff\xd8\xff": "jpg", b"\x89PNG\r\n\x1a\n": "png"}


@dataclass(frozen=True, slots=True)
class SetAndRead:
    """One number as it was set and as the machine or a meter read it back."""

    name: str
    set_value: str
    read_back: str = ""


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing compared between coupon and vehicle; ``same`` is None where nobody knows."""

    what: str
    coupon: str
    vehicle: str
    same: bool | None


@dataclass(frozen=True, slots=True)
class SheetReading:
    """One torn interface as the sheet shows it; lengths in metres, None where there is none."""

    interface: str  # "1-2"
    test: str
    mode: str
    d_max: float | None
    d_min: float | None
    limit: float
    uncertainty: float  # expanded, half width
    guard_band: float
    verdict: str  # one word
    upper: float | None = None  # diameter at which splash starts
    note: str = ""  # angle, force, dent, back mark, faults

    @property
    def mean(self) -> float | None:
        """Mean of the largest and the smallest diameter [m]."""
        if self.d_max is None or self.d_min is None:
            return None
        return (self.d_max + self.d_min) / 2


@dataclass(frozen=True, slots=True)
class Photo:
    """A frame for a photo; without an image the frame is printed empty."""

    words: str  # what it shows, also the text alternative
    image: bytes | None = None  # JPEG or PNG


@dataclass(frozen=True, slots=True)
class Signature:
    """A line to sign on: the role, and the name of who signed already."""

    role: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class CouponSheet:
    """All that a coupon sheet says, as plain values.

    An empty text is printed as a line to write on, so a sheet with ids and stack alone is a blank
    form. Long free texts are made smaller, then cut with an ellipsis; the sheet then says that
    the whole text is in the record under ``coupon_id``. Stack, limits and cautions are printed
    whole or the sheet is refused.
    """

    coupon_id: str
    subject: str  # job and vehicle, or training; joints served
    stack: DrawnStack
    settings: tuple[SetAndRead, ...]
    readings: tuple[SheetReading, ...]
    qr: str
    issued: datetime  # with the shop's time zone
    made: str = ""  # when, where, by whom, ambient temperature
    tested: str = ""  # when, measurer, instrument and its calibration
    machine: str = ""  # machine, serial, program, arms, caps, welds since dressing
    supply: str = ""  # outlet, lead
    differences: tuple[Difference, ...] = ()
    criterion: str = ""  # name, source and status
    verdict: str = ""
    reason: str = ""
    counting: str = ""  # what counting alone proves
    next_step: str = ""
    photos: tuple[Photo, Photo] = (Photo("before: front and back"), Photo("after: both halves"))
    signatures: tuple[Signature, ...] = (Signature("welder"), Signature("examiner"))
    demo: bool = False
    language: str = "en"
    style: Style = field(default_factory=Style)


def coupon_sheet(sheet: CouponSheet) -> bytes:
    """Print a coupon sheet.

    Parameters
    ----------
    sheet : CouponSheet
        What it says.

    Returns
    -------
    bytes
        One A5 page, PDF/A-2b and PDF/UA-1; the same sheet gives the same bytes.

    Raises
    ------
    BadInput
        If a part is missing or is of the wrong kind, or a text that must not be cut has no room.
    """
    _check(sheet)
    return typeset("coupon_sheet.typ", _data(cleaned(sheet, _NOT_TEXT)), sheet.issued)


def coupon_sheet_preview(sheet: CouponSheet, dots_per_inch: float = 150.0) -> bytes:
    """Show a coupon sheet on a screen, just as it will be printed.

    Parameters
    ----------
    sheet : CouponSheet
        What it says.
    dots_per_inch : float
        Fineness [1/in].

    Returns
    -------
    bytes
        PNG.

    Raises
    ------
    BadInput
        As for the print.
    """
    _check(sheet)
    return preview(
        "coupon_sheet.typ", _data(cleaned(sheet, _NOT_TEXT)), sheet.issued, dots_per_inch
    )


def _check(sheet: CouponSheet) -> None:
    sheets = len(sheet.stack.sheets)
    if not 2 <= sheets <= 4:
        raise BadInput("stack", f"has {sheets} sheets; a coupon sheet shows 2 to 4")
    for name, count, most in (
        ("settings", len(sheet.settings), MOST_SETTINGS),
        ("differences", len(sheet.differences), MOST_DIFFERENCES),
        ("readings", len(sheet.readings), 3),
        ("signatures", len(sheet.signatures), 4),
    ):
        if count > most:
            raise BadInput(name, f"has {count} rows; the sheet has room for {most}")
    if not sheet.readings or not sheet.signatures:
        raise BadInput("readings", "and signatures need at least one row each")
    for reading in sheet.readings:
        both = (reading.d_max is None) == (reading.d_min is None)
        if not both or (reading.mean is not None and (reading.d_max or 0) < (reading.d_min or 0)):
            raise BadInput(
                "readings", f"of {reading.interface} need the largest, then the smallest diameter"
            )


def _data(sheet: CouponSheet) -> dict[str, Any]:
    style, say = sheet.style, sheet.style.say
    drawn = stack(sheet.stack, style=Style(34.0, style.system, style.decimal, say), labelled=False)
    notes = [f"{one.interface}: {one.note}" for one in sheet.readings if one.note]
    return {
        "title": f"{say('Coupon sheet')} {sheet.coupon_id}",
        "heading": f"{say('Coupon')} {sheet.coupon_id}",
        "language": sheet.language,
        "demo": sheet.demo,
        "subject": sheet.subject,
        "made": _after(say("Welded"), sheet.made),
        "tested": _after(say("Tested"), sheet.tested),
        "qr": {
            "svg": qr_picture(sheet.qr),
            "alt": f"{say('QR code of the record')} {sheet.coupon_id}",
        },
        "stack": {"svg": without_ground(drawn), "alt": words_of(drawn)},
        "sheets": [
            f"{order}  {sheet_words(one, style)}"
            for order, one in enumerate(sheet.stack.sheets, start=1)
        ],
        "caps": caps_words(sheet.stack, style),
        "settings": [
            {"name": one.name, "set": one.set_value, "read_back": one.read_back}
            for one in sheet.settings
        ],
        "machine": _after(say("Machine"), sheet.machine),
        "supply": _after(say("Supply"), sheet.supply),
        "differences": _differences(sheet),
        "readings": [_reading(one, style) for one in sheet.readings],
        "notes": "; ".join(notes),
        **_margin(sheet),
        "row_height": _row_height(sheet),
        "verdict_room": _verdict_room(sheet),
        "criterion": _after(say("Criterion"), sheet.criterion),
        "verdict": sheet.verdict,
        "reason": sheet.reason,
        "counting": sheet.counting,
        "next_step": _after(say("Next"), sheet.next_step),
        "photos": [_photo(one) for one in sheet.photos],
        "signatures": [{"role": one.role, "name": one.name} for one in sheet.signatures],
        "cautions": " ".join(say(one) for one in SHEET_CAUTIONS),
        "words": _words(style),
    }


def _row_height(sheet: CouponSheet) -> float:
    """Height of a table row in points: room for a pen where the form is empty and has room."""
    rows = len(sheet.settings) + len(sheet.differences) + len(sheet.readings)
    written = any(one.mean is not None for one in sheet.readings)
    return 9.5 if written or rows > 12 else 13.0


def _verdict_room(sheet: CouponSheet) -> dict[str, float]:
    """Heights round the verdict in points; on a full sheet the reason gives way first."""
    if len(sheet.settings) + len(sheet.differences) + len(sheet.readings) > 14:
        return {"box": 88.0, "reason": 10.0, "counting": 24.0, "next_step": 15.0}
    return {"box": 114.0, "reason": 25.0, "counting": 25.0, "next_step": 25.0}


def _after(label: str, text: str) -> str:
    return f"{label}: {text}" if text else ""


def _differences(sheet: CouponSheet) -> list[dict[str, str]]:
    say = sheet.style.say
    known = {True: say("same"), False: say("✗ OTHER"), None: say("? unknown")}
    return [
        {
            "what": one.what,
            "coupon": one.coupon,
            "vehicle": one.vehicle,
            "same": known[one.same] if one.what else "",
        }
        for one in sheet.differences
    ]


def _reading(one: SheetReading, style: Style) -> dict[str, str]:
    def length(value: float | None) -> str:
        return "" if value is None else style.bare_length(value)

    return {
        "interface": one.interface,
        "test": one.test,
        "mode": one.mode,
        "d_max": length(one.d_max),
        "d_min": length(one.d_min),
        "mean": length(one.mean),
        "limit": length(one.limit),
        "uncertainty": f"± {length(one.uncertainty)}",
        "guarded": length(one.limit + one.guard_band),
        "verdict": one.verdict,
    }


def _margin(sheet: CouponSheet) -> dict[str, Any]:
    """The bar of the reading with the smallest margin."""
    style, say = sheet.style, sheet.style.say
    measured = [(one.mean - one.limit, one) for one in sheet.readings if one.mean is not None]
    if not measured:
        return {"margin": None, "margin_of": say("Margin: nothing measured")}
    worst = min(measured, key=lambda pair: pair[0])[1]
    drawn = margin(
        DrawnMargin(
            worst.mean or 0.0,
            worst.uncertainty,
            worst.limit,
            worst.guard_band,
            worst.upper,
            worst.verdict,
        ),
        style=Style(26.0, style.system, style.decimal, say),
    )
    return {
        "margin": {"svg": without_ground(drawn), "alt": words_of(drawn)},
        "margin_of": f"{say('Smallest margin')}: {say('interface')} {worst.interface}",
    }


def _photo(photo: Photo) -> dict[str, Any]:
    if photo.image is None:
        return {"image": None, "format": None, "words": photo.words}
    kinds = [kind for mark, kind in _FORMATS.items() if photo.image.startswith(mark)]
    if not kinds:
        raise BadInput("photos", "holds a file that is neither JPEG nor PNG")
    return {"image": list(photo.image), "format": kinds[0], "words": photo.words}


def _words(style: Style) -> dict[str, str]:
    say, unit = style.say, style.length_unit
    return {
        "demo_mark": say("DEMO"),
        "demo": say("DEMO, not for a vehicle"),
        "stack": say("Stack-up"),
        "settings": say("Set and read back"),
        "setting": say("Setting"),
        "set": say("set"),
        "read_back": say("read back"),
        "differences": say("Coupon against vehicle: what is not the same?"),
        "what": say("what"),
        "coupon": say("coupon"),
        "vehicle": say("vehicle"),
        "same": say("same?"),
        "readings": f"{say('Readings')} [{unit}]",
        "interface": say("at"),
        "test": say("test"),
        "mode": say("fracture mode"),
        "d_max": say("d max"),
        "d_min": say("d min"),
        "mean": say("mean"),
        "limit": say("limit"),
        "uncertainty": say("U (k = 2)"),
        "guarded": say("limit + guard"),
        "verdict": say("verdict"),
        "photo_here": say("Photo here, with a scale in it"),
        "cut": say("Texts that end in … stand whole in the record under this number."),
    }
