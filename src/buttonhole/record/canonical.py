"""Canonical JSON after RFC 8785: one value has one spelling, so one value has one hash.

Quantities go into payloads as SI numbers. RFC 8785 writes a number the way ECMAScript does: the
shortest digits that give the same IEEE 754 double back. So a number survives the trip through the
record bit for bit, and another reader needs no library of ours to get the same bytes.
"""

import json
import math
from collections.abc import Mapping, Sequence
from json.encoder import encode_basestring
from typing import Any

from buttonhole.units import BadInput

MAX_EXACT_INTEGER = 2**53
"""Beyond this a double no longer holds every whole number [-]."""

HALF_PAIR = "a text with half a surrogate pair has no UTF-8 form"

MAX_DEPTH = 64
"""Deeper nesting than this is no record of a weld [-]."""


def canonical(value: object) -> str:
    """
    Write a value as canonical JSON text.

    Parameters
    ----------
    value : object
        None, bool, int, float, str, and mappings and sequences of them.

    Returns
    -------
    str
        The text; its UTF-8 form is what is hashed.

    Raises
    ------
    BadInput
        For nan, infinity, whole numbers beyond 2^53, keys that are no text, lone surrogates and
        types JSON has no word for.

    Sources
    -------
    - rfc-8785: sections 3.2.2 and 3.2.3.
    """
    parts: list[str] = []
    _write(value, parts, 0)
    return "".join(parts)


def parse(text: str) -> Any:
    """
    Read JSON text that `canonical` wrote, or that anyone wrote.

    Whole numbers beyond 2^53 come back as floats, as they do in ECMAScript, so that writing them
    again gives the same text.

    Raises
    ------
    BadInput
        When the text is no JSON, or names a key twice, or holds nan or infinity.
    """
    try:
        return json.loads(
            text,
            parse_int=_read_integer,
            parse_constant=_refuse_constant,
            object_pairs_hook=_refuse_doubles,
        )
    except RecursionError:
        raise BadInput("json", f"nested too deeply; {MAX_DEPTH} levels are the most") from None
    except json.JSONDecodeError as fault:
        raise BadInput("json", f"no JSON at character {fault.pos}: {fault.msg}") from None


def quoted(text: str) -> str:
    """Write a text as RFC 8785 does; half a surrogate pair is left for the encoder to refuse."""
    return encode_basestring(text)


def number_text(number: float) -> str:
    """
    Write a number as ECMAScript's Number::toString does.

    Parameters
    ----------
    number : float
        A finite number [-].

    Returns
    -------
    str
        The shortest digits that read back as the same double.

    Raises
    ------
    BadInput
        For nan and infinity.

    Sources
    -------
    - rfc-8785: section 3.2.2.3 and appendix B, which follow ECMA-262.
    """
    if not math.isfinite(number):
        raise BadInput("number", f"{number} has no place in a record; leave the value out")
    if number == 0:
        return "0"  # minus zero too
    sign = "-" if number < 0 else ""
    mantissa, _, exponent = repr(abs(number)).partition("e")
    whole, _, fraction = mantissa.partition(".")
    digits = (whole + fraction).lstrip("0")
    # The decimal point stands after this many of the digits.
    point = len(whole) + (int(exponent) if exponent else 0)
    point -= len(whole + fraction) - len(digits)
    digits = digits.rstrip("0")
    return sign + _lay_out(digits, point)


def _lay_out(digits: str, point: int) -> str:
    count = len(digits)
    if count <= point <= 21:
        return digits + "0" * (point - count)
    if 0 < point <= 21:
        return f"{digits[:point]}.{digits[point:]}"
    if -6 < point <= 0:
        return "0." + "0" * -point + digits
    power = point - 1
    head = digits if count == 1 else f"{digits[0]}.{digits[1:]}"
    return f"{head}e{'+' if power > 0 else '-'}{abs(power)}"


def _write(value: object, parts: list[str], depth: int) -> None:
    if depth > MAX_DEPTH:
        raise BadInput("json", f"nested too deeply; {MAX_DEPTH} levels are the most")
    if value is None:
        parts.append("null")
    elif isinstance(value, bool):
        parts.append("true" if value else "false")
    elif isinstance(value, str):
        parts.append(_text(value))
    elif isinstance(value, int):
        if abs(value) > MAX_EXACT_INTEGER:
            raise BadInput("number", f"{value} is beyond 2^53; write it as text")
        parts.append(str(int(value)))
    elif isinstance(value, float):
        parts.append(number_text(float(value)))
    elif isinstance(value, Mapping):
        _write_object(value, parts, depth)
    elif isinstance(value, Sequence) and not isinstance(value, bytes | bytearray):
        parts.append("[")
        for place, item in enumerate(value):
            if place:
                parts.append(",")
            _write(item, parts, depth + 1)
        parts.append("]")
    else:
        raise BadInput("json", f"a {type(value).__name__} has no place in a record")


def _write_object(value: Mapping[Any, object], parts: list[str], depth: int) -> None:
    for key in value:
        if not isinstance(key, str):
            raise BadInput("json", f"the key {key!r} is no text")
    parts.append("{")
    for place, key in enumerate(sorted(value, key=_utf16)):
        if place:
            parts.append(",")
        parts.append(_text(key))
        parts.append(":")
        _write(value[key], parts, depth + 1)
    parts.append("}")


def _utf16(key: str) -> bytes:
    # RFC 8785 sorts by UTF-16 code units; big-endian bytes sort the same way.
    try:
        return key.encode("utf-16-be")
    except UnicodeEncodeError:
        raise BadInput("json", HALF_PAIR) from None


def _text(value: str) -> str:
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        raise BadInput("json", HALF_PAIR) from None
    return quoted(value)


def _read_integer(digits: str) -> int | float:
    # Python refuses to read thousands of digits as an int; a double is what ECMAScript makes of it.
    if len(digits) <= 17 and abs(int(digits)) <= MAX_EXACT_INTEGER:
        return int(digits)
    return float(digits)


def _refuse_constant(name: str) -> object:
    raise BadInput("json", f"{name} has no place in a record; leave the value out")


def _refuse_doubles(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise BadInput("json", "a key is named twice in one object")
    return found
