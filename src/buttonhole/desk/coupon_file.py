"""What was measured on a torn coupon, from a TOML file or from one line per interface."""

import math
import re
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationError

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import READER, Reading, usual_instrument_uncertainty
from buttonhole.coupon.test import TestKind
from buttonhole.desk.weld_file.faults import Form, first_fault
from buttonhole.desk.weld_file.read import named_file, read_toml
from buttonhole.desk.weld_file.values import choice, quantity
from buttonhole.units import BadInput

E = TypeVar("E", bound="CouponFileEntry")
R = TypeVar("R")

LARGEST = "0 to 30 mm"
ONE_LINE = "INTERFACE, TEST, MODE, LARGEST, SMALLEST"

_length = partial(quantity, kind="length", low=0.0, high=30e-3, span=LARGEST)
Diameter = Annotated[float, BeforeValidator(partial(_length, example="5.4 mm"))]
Sigma = Annotated[float, BeforeValidator(partial(_length, example="0.1 mm"))]
Force = Annotated[
    float,
    BeforeValidator(
        partial(quantity, kind="force", example="5.2 kN", low=0.0, high=2e5, span="0 to 200 kN")
    ),
]
Angle = Annotated[
    float,
    BeforeValidator(
        # the core counts a twist in degrees, the border parses radians
        partial(quantity, kind="angle", example="40 deg", low=0.0, high=20.0, span="0 to 1000 deg")
    ),
]


class CouponFileEntry(BaseModel):
    """A table of a coupon file: no key that nobody knows, no value of another kind."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class _ReadingEntry(CouponFileEntry):
    interface: int
    test: Annotated[str, BeforeValidator(partial(choice, allowed=tuple(TestKind)))]
    mode: Annotated[str | None, BeforeValidator(partial(choice, allowed=tuple(FractureMode)))] = (
        None
    )
    largest: Diameter
    smallest: Diameter
    expulsion: bool = False
    instrument_uncertainty: Sigma | None = None
    reader_uncertainty: Sigma | None = None
    force: Force | None = None
    twist_angle: Angle | None = None
    indentation: Diameter | None = None


class _CouponEntry(CouponFileEntry):
    reading: list[_ReadingEntry]


_FORM = Form(
    name="a coupon file",
    tables={"": _CouponEntry, "reading": _ReadingEntry},
    hints={
        "reading": "give one [[reading]] table, with two brackets, for each faying interface",
        "interface": "give the faying interface from side A, a whole number from 1",
        "test": "give one of " + ", ".join(TestKind),
        "largest": 'give the largest fused diameter, e.g. largest = "5.4 mm"',
        "smallest": 'give the smallest fused diameter, e.g. smallest = "4.8 mm"',
        "expulsion": "give true or false",
    },
)


_KEYS = {"d_max": "largest", "d_min": "smallest"}  # of a reading, as a file calls them


def read_coupon_file(path: str | Path) -> tuple[Reading, ...]:
    """Read what was measured on one coupon.

    Parameters
    ----------
    path : str or Path
        A TOML file with one ``[[reading]]`` for each faying interface.

    Returns
    -------
    tuple of Reading
        In the order written.

    Raises
    ------
    BadFile
        The file can't be read or a value is none; names the file and the key.
    """
    data = read_toml(path, what="a coupon file")
    with named_file(path):
        return readings_from(data)


def readings_from(data: dict[str, Any]) -> tuple[Reading, ...]:
    """Turn the keys of a coupon file into readings.

    Parameters
    ----------
    data : dict
        Tables and values as read; diameters are texts with their unit.

    Returns
    -------
    tuple of Reading
        In SI units.

    Raises
    ------
    BadInput
        The first thing that is wrong.
    """
    entries = validated(data, _CouponEntry, _FORM).reading
    return each_reading(entries, _reading, _KEYS)


def validated(data: dict[str, Any], kind: type[E], form: Form) -> E:
    """Check the keys of a coupon file.

    Raises
    ------
    BadInput
        The first thing that is wrong.
    """
    try:
        return kind.model_validate(data)
    except ValidationError as error:
        raise first_fault(error, form) from None  # pydantic's own text runs over many lines


def each_reading(
    entries: Sequence[E], build: Callable[[E], R], keys: Mapping[str, str]
) -> tuple[R, ...]:
    """Build the reading of each table of a coupon file.

    Parameters
    ----------
    entries : sequence
        As checked.
    build : callable
        Makes a reading of one.
    keys : mapping
        Fields of a reading, as a file calls them.

    Returns
    -------
    tuple
        The readings.

    Raises
    ------
    BadInput
        With the number of the table and the key of the file.
    """
    readings = []
    for number, entry in enumerate(entries, start=1):
        try:
            readings.append(build(entry))
        except BadInput as bad:
            key = keys.get(bad.key, bad.key)
            raise BadInput(f"reading {number} {key}", bad.message) from bad
    return tuple(readings)


def one_line(make: Callable[[dict[str, Any]], tuple[R, ...]], entry: dict[str, Any]) -> R:
    """Build the reading of one line of the command line.

    Raises
    ------
    BadInput
        With the name of the option.
    """
    try:
        return make({"reading": [entry]})[0]
    except BadInput as bad:
        key = bad.key.removeprefix("reading 1 ")
        raise BadInput(f"--reading {key}", bad.message) from bad


def reading_in_words(line: str) -> Reading:
    """Read one line such as ``1, peel, full_button, 5.4 mm, 4.8 mm``.

    Parameters
    ----------
    line : str
        Interface from 1, test, fracture mode (``-`` for a macro section), largest and smallest
        diameter; after them the word ``expulsion`` if it splashed, and ``dent 0.12 mm`` if its
        depth was measured. A comma inside a number has no blank behind it.

    Returns
    -------
    Reading
        In SI units.

    Raises
    ------
    BadInput
        Too few words, or one that is none.
    """
    words = [word.strip() for word in re.split(r",\s+|;", line.strip())]
    dents = [word for word in words[5:] if word.casefold().startswith("dent ")]
    words = [word for word in words if word not in dents]
    splashed = len(words) == 6 and words[5].casefold() == "expulsion"
    if not (len(words) == 5 or splashed) or len(dents) > 1:
        raise BadInput("--reading", f"is {line[:60]!r}; give {ONE_LINE} with ', ' between them")
    first, test, mode, largest, smallest = words[:5]
    if not re.fullmatch(r"[1-3]", first):
        raise BadInput("--reading", f"begins with {first[:20]!r}; give the interface, 1 to 3")
    entry = {"interface": int(first), "test": test, "expulsion": splashed}
    entry |= {"largest": largest, "smallest": smallest}
    if mode != "-":
        entry["mode"] = mode
    if dents:
        entry["indentation"] = dents[0][len("dent ") :].strip()
    return one_line(readings_from, entry)


def _reading(entry: _ReadingEntry) -> Reading:
    if entry.interface < 1:
        raise BadInput("interface", f"is {entry.interface}; count from side A, from 1")
    mode = None if entry.mode is None else FractureMode(entry.mode)
    instrument, reader = entry.instrument_uncertainty, entry.reader_uncertainty
    angle = entry.twist_angle
    return Reading(
        interface=entry.interface - 1,
        test=TestKind(entry.test),
        mode=mode,
        d_max=entry.largest,
        d_min=entry.smallest,
        expulsion=entry.expulsion,
        instrument_uncertainty=(
            usual_instrument_uncertainty(mode) if instrument is None else instrument
        ),
        reader_uncertainty=READER if reader is None else reader,
        force=entry.force,
        twist_angle=None if angle is None else math.degrees(angle),
        indentation=entry.indentation,
    )
