"""What was measured on a torn arc weld, from a TOML file or from one line per interface."""

import re
from functools import partial
from pathlib import Path
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from buttonhole.coupon.arc.fracture import find_fracture, offered
from buttonhole.coupon.arc.imperfection import Seen, offered_imperfections
from buttonhole.coupon.arc.piece import ArcForm, ArcPiece
from buttonhole.coupon.arc.reading import ArcReading, usual_gauge_uncertainty
from buttonhole.coupon.arc.verdict import refuse_strangers
from buttonhole.coupon.reading import READER
from buttonhole.coupon.test import TestKind
from buttonhole.desk.coupon_file import (
    Angle,
    CouponFileEntry,
    Force,
    Sigma,
    each_reading,
    one_line,
    validated,
)
from buttonhole.desk.weld_file.faults import Form
from buttonhole.desk.weld_file.read import named_file, read_toml
from buttonhole.desk.weld_file.values import choice, quantity, short_text
from buttonhole.units import BadInput, parse
from buttonhole.weld.arc.plug.marks import BackMark

ONE_LINE = "INTERFACE, TEST, FRACTURE, then sizes by name, e.g. leg 1.6 mm, back clear"
EXAMPLES = {
    ArcForm.PLUG: "1, peel, hole_pulled, 6.6 mm, 6.2 mm, head 10.5 mm, back clear",
    ArcForm.LAP: "1, peel, sheet_torn, tested 40 mm, leg 1.6 mm, back faint",
    ArcForm.BUTT_BACKED: "1, bend, unbroken, tested 40 mm, bent 120 deg, back clear",
}
MOST_SHEETS, MOST_SEEN = 4, 12


def _length(example: str, high: float) -> BeforeValidator:
    span = f"0 to {high * 1e3:g} mm"
    return BeforeValidator(
        partial(quantity, kind="length", example=example, low=0.0, high=high, span=span)
    )


Diameter = Annotated[float, _length("6.6 mm", 40e-3)]
Length = Annotated[float, _length("40 mm", 0.3)]
Depth = Annotated[float, _length("1.6 mm", 20e-3)]
Width = Annotated[float, _length("6 mm", 0.1)]
Word = Annotated[str, BeforeValidator(partial(short_text, example="hole_pulled"))]


class _ArcReadingEntry(CouponFileEntry):
    interface: int = 1
    test: Annotated[str, BeforeValidator(partial(choice, allowed=tuple(TestKind)))]
    fracture: Word | None = None
    torn_largest: Diameter | None = None
    torn_smallest: Diameter | None = None
    head_largest: Diameter | None = None
    head_smallest: Diameter | None = None
    head_height: Depth | None = None
    hole_largest: Diameter | None = None
    hole_smallest: Diameter | None = None
    tested_length: Length | None = None
    fused_length: Length | None = None
    leg: Depth | None = None
    throat: Depth | None = None
    wetted_width: Width | None = None
    penetrations: Annotated[list[Depth], Field(max_length=MOST_SHEETS, default_factory=list)]
    back: Annotated[str, BeforeValidator(partial(choice, allowed=tuple(BackMark)))] | None = None
    zinc_ring: Width | None = None
    back_picture: Word | None = None
    imperfections: Annotated[list[Word], Field(max_length=MOST_SEEN, default_factory=list)]
    bend_angle: Angle | None = None
    twist_angle: Angle | None = None
    force: Force | None = None
    smooth_left_out: bool = True
    instrument_uncertainty: Sigma | None = None
    reader_uncertainty: Sigma | None = None


class _ArcCouponEntry(CouponFileEntry):
    reading: list[_ArcReadingEntry]


_FORM = Form(
    name="an arc weld's coupon file",
    tables={"": _ArcCouponEntry, "reading": _ArcReadingEntry},
    hints={
        "reading": "give one [[reading]] table, with two brackets, for each interface",
        "interface": "give the interface from the side welded, a whole number from 1",
        "test": "give one of " + ", ".join(TestKind),
        "fracture": 'give how it let go, e.g. fracture = "hole_pulled"',
        "back": "give what the back shows: " + ", ".join(BackMark),
        "smooth_left_out": "give true or false",
        "penetrations": 'give how deep each sheet melted, e.g. penetrations = ["0.3 mm", "0.2 mm"]',
        "imperfections": 'give what was seen, e.g. imperfections = ["undercut 0.1 mm"]',
    },
)
_AS_IN_FILE = {
    "d_max": "torn_largest",
    "d_min": "torn_smallest",
    "head_max": "head_largest",
    "head_min": "head_smallest",
    "hole_max": "hole_largest",
    "hole_min": "hole_smallest",
}


def read_arc_coupon_file(path: str | Path, piece: ArcPiece) -> tuple[ArcReading, ...]:
    """Read what was measured on one coupon of an arc weld.

    Parameters
    ----------
    path : str or Path
        A TOML file with one ``[[reading]]`` for each interface.
    piece : ArcPiece
        What was joined.

    Returns
    -------
    tuple of ArcReading
        In the order written.

    Raises
    ------
    BadFile
        The file can't be read or a value is none; names the file and the key.
    """
    data = read_toml(path, what="a coupon file")
    with named_file(path):
        return arc_readings_from(data, piece)


def arc_readings_from(data: dict[str, Any], piece: ArcPiece) -> tuple[ArcReading, ...]:
    """Turn the keys of a coupon file into readings.

    Parameters
    ----------
    data : dict
        Tables and values as read; sizes are texts with their unit.
    piece : ArcPiece
        What was joined.

    Returns
    -------
    tuple of ArcReading
        In SI units.

    Raises
    ------
    BadInput
        The first thing that is wrong.
    """

    def build(entry: _ArcReadingEntry) -> ArcReading:
        reading = _reading(entry, piece)
        refuse_strangers(reading, piece)
        return reading

    return each_reading(validated(data, _ArcCouponEntry, _FORM).reading, build, _AS_IN_FILE)


def _reading(entry: _ArcReadingEntry, piece: ArcPiece) -> ArcReading:
    if entry.interface < 1:
        raise BadInput("interface", f"is {entry.interface}; count from the side welded, from 1")
    fracture = None
    if entry.fracture is not None:
        fracture = find_fracture(entry.fracture, piece)
    elif entry.test != TestKind.MACRO:
        listed = ", ".join(offered(piece))
        raise BadInput("fracture", f"is missing; say how it let go: {listed}")
    gauge, reader = entry.instrument_uncertainty, entry.reader_uncertainty
    return ArcReading(
        interface=entry.interface - 1,
        test=TestKind(entry.test),
        fracture=fracture,
        d_max=entry.torn_largest,
        d_min=entry.torn_smallest,
        head_max=entry.head_largest,
        head_min=entry.head_smallest,
        head_height=entry.head_height,
        hole_max=entry.hole_largest,
        hole_min=entry.hole_smallest,
        tested_length=entry.tested_length,
        fused_length=entry.fused_length,
        leg=entry.leg,
        throat=entry.throat,
        wetted_width=entry.wetted_width,
        penetrations=tuple(entry.penetrations),
        back=None if entry.back is None else BackMark(entry.back),
        zinc_ring=entry.zinc_ring,
        back_picture=entry.back_picture or "",
        imperfections=tuple(_seen(text, piece) for text in entry.imperfections),
        bend_angle=_degrees(entry.bend_angle),
        twist_angle=_degrees(entry.twist_angle),
        force=entry.force,
        smooth_left_out=entry.smooth_left_out,
        instrument_uncertainty=usual_gauge_uncertainty(fracture) if gauge is None else gauge,
        reader_uncertainty=READER if reader is None else reader,
    )


def _degrees(angle: float | None) -> float | None:
    """The core counts angles of a coupon in degrees, the border parses radians."""
    return None if angle is None else round(angle * 57.29577951308232, 9)


def _seen(text: str, piece: ArcPiece) -> Seen:
    key, _, size = text.strip().partition(" ")
    word = key.casefold().replace("-", "_")
    listed = [one.key for one in offered_imperfections(piece)]
    if word not in listed:
        raise BadInput("imperfections", f"{key[:40]!r} is none of: {', '.join(listed)}")
    return Seen(word, parse(size, "length") if size.strip() else None)


_BY_NAME = {
    "tested": "tested_length",
    "held": "fused_length",
    "fused": "fused_length",
    "leg": "leg",
    "throat": "throat",
    "width": "wetted_width",
    "height": "head_height",
    "ring": "zinc_ring",
    "bent": "bend_angle",
    "twisted": "twist_angle",
    "force": "force",
    "back": "back",
    "picture": "back_picture",
}
_PAIRS = ("torn", "head", "hole")


def arc_reading_in_words(line: str, piece: ArcPiece) -> ArcReading:
    """Read one line such as ``1, peel, hole_pulled, 6.6 mm, 6.2 mm, head 10.5 mm, back clear``.

    Parameters
    ----------
    line : str
        Interface from 1, test, fracture (``-`` for a macro section); then sizes by their names:
        torn (or bare, the largest and the smallest), head, hole (``head 10.5 mm x 10.1 mm``),
        height, tested, held, leg, throat, width, melted (once for each sheet), ring, bent, twisted,
        force, back, ``sees undercut 0.1 mm``, and ``smooth measured too``.
    piece : ArcPiece
        What was joined.

    Returns
    -------
    ArcReading
        In SI units.

    Raises
    ------
    BadInput
        Too few words, or one that is none.
    """
    words = [word.strip() for word in re.split(r",\s+|;", line.strip())]
    example = EXAMPLES[piece.form]
    if len(words) < 3:
        raise BadInput("--reading", f"is {line[:60]!r}; give e.g. {example!r}")
    first, test, fracture, *more = words
    if not re.fullmatch(r"[1-3]", first):
        raise BadInput("--reading", f"begins with {first[:20]!r}; give the interface, 1 to 3")
    entry: dict[str, Any] = {"interface": int(first), "test": test}
    if fracture != "-":
        entry["fracture"] = fracture
    for word in more:
        _take(entry, word, example)
    if "torn_largest" in entry:
        entry.setdefault("torn_smallest", entry["torn_largest"])
    return one_line(lambda data: arc_readings_from(data, piece), entry)


def _take(entry: dict[str, Any], word: str, example: str) -> None:
    """Put one part of a line into the table of a file."""
    name, _, rest = word.partition(" ")
    name = name.casefold()
    if re.match(r"[-+.\d]", word):
        key = "torn_smallest" if "torn_largest" in entry else "torn_largest"
        _once(entry, key, word)
    elif name in _PAIRS:
        large, _, small = rest.partition(" x ")
        _once(entry, f"{name}_largest", large)
        _once(entry, f"{name}_smallest", small or large)
    elif name == "melted":
        entry.setdefault("penetrations", []).append(rest)
    elif name == "sees":
        entry.setdefault("imperfections", []).append(rest)
    elif word.casefold() == "smooth measured too":
        entry["smooth_left_out"] = False
    elif name in _BY_NAME:
        _once(entry, _BY_NAME[name], rest)
    else:
        known = ", ".join((*_PAIRS, *_BY_NAME, "melted", "sees"))
        raise BadInput(
            "--reading", f"has {word[:40]!r}; begin a part with one of {known}, e.g. {example!r}"
        )


def _once(entry: dict[str, Any], key: str, value: str) -> None:
    if key in entry:
        raise BadInput("--reading", f"gives {key.replace('_', ' ')} twice; give it once")
    entry[key] = value
