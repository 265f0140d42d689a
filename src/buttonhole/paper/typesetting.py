"""From plain values to a sealed page: fonts, safe text, PDF/A and PDF/UA."""

import dataclasses
import json
import threading
import unicodedata
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any, Literal, TypeVar

import fontpkg_atkinson_hyperlegible  # type: ignore[import-untyped]  # ships no types
import typst

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import plain
from buttonhole.units import BadInput

TEMPLATES = Path(__file__).parent / "template"
FONTS = fontpkg_atkinson_hyperlegible.ROOT / "files"
STANDARDS: list[Literal["a-2b", "ua-1"]] = ["a-2b", "ua-1"]
LONGEST = 2000  # characters of one text; no page has room for more
UNPRINTABLE = "▯"
_WORD = 14  # characters after which an unbroken word may be broken
_BREAK = "\u200b"

T = TypeVar("T")
_lock = threading.Lock()  # a compiler keeps its state between runs


class DoesNotFit(BadInput):
    """A text that must be printed whole has no room on the page."""


@cache
def _compiler(template: str) -> typst.Compiler:
    return typst.Compiler(
        str(TEMPLATES / template),
        root=str(TEMPLATES),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
    )


def typeset(template: str, data: dict[str, Any], issued: datetime) -> bytes:
    """Set a page.

    Parameters
    ----------
    template : str
        File name of the template.
    data : dict
        What it shows: texts made safe by :func:`cleaned`, numbers, flags, drawings.
    issued : datetime
        Date of the document, with time zone; the clock is never asked.

    Returns
    -------
    bytes
        PDF/A-2b and PDF/UA-1; the same data gives the same bytes.

    Raises
    ------
    DoesNotFit
        If a text that must not be cut has no room.
    """
    return _compiled(template, data, issued, format="pdf", pdf_standards=[*STANDARDS])


def preview(template: str, data: dict[str, Any], issued: datetime, dots_per_inch: float) -> bytes:
    """Show on a screen what :func:`typeset` prints.

    Parameters
    ----------
    template : str
        File name of the template.
    data : dict
        The same as for the print.
    issued : datetime
        Date of the document, with time zone.
    dots_per_inch : float
        Fineness [1/in].

    Returns
    -------
    bytes
        PNG.
    """
    return _compiled(template, data, issued, format="png", ppi=dots_per_inch)


def _compiled(template: str, data: dict[str, Any], issued: datetime, **how: Any) -> bytes:
    moment = utc(issued)
    stamp = [moment.year, moment.month, moment.day, moment.hour, moment.minute, moment.second]
    inputs = {"data": json.dumps({**data, "issued": stamp}, ensure_ascii=False, sort_keys=True)}
    with _lock:
        try:
            page = _compiler(template).compile(
                sys_inputs=inputs, timestamp=int(moment.timestamp()), **how
            )
        except typst.TypstError as error:
            raise _reason(error) from error
    if not isinstance(page, bytes):
        raise TypeError(f"the typesetter gave {type(page).__name__}, not one page")
    return page


def utc(moment: datetime) -> datetime:
    """Turn a moment into universal time; one without a time zone is refused."""
    if moment.tzinfo is None:
        raise BadInput("issued", "has no time zone; give one, e.g. 2026-01-31T08:00:00+00:00")
    return moment.astimezone(UTC)


def _reason(error: Exception) -> Exception:
    if "decode image" in str(error):
        return BadInput("photos", "holds a picture that cannot be read; take it again")
    _, mark, rest = str(error).partition("must-fit:")
    if not mark:
        return error
    key = rest.split(":")[0]
    return DoesNotFit(key, "is too long to be printed whole and must not be cut; shorten it")


def cleaned(value: T, keep: frozenset[str] = frozenset()) -> T:
    """Make every text inside a value printable.

    Parameters
    ----------
    value : dataclass, tuple, str or plain value
        What a page is made of.
    keep : frozenset of str
        Names of fields that are not printed as text and stay as they are.

    Returns
    -------
    dataclass, tuple, str or plain value
        The same with each text put through :func:`printable`.
    """
    result: Any = value
    if isinstance(value, str):
        result = printable(value)
    elif isinstance(value, tuple):
        result = tuple(cleaned(one, keep) for one in value)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type | Style):
        result = dataclasses.replace(
            value,
            **{
                field.name: cleaned(getattr(value, field.name), keep)
                for field in dataclasses.fields(value)
                if field.name not in keep
            },
        )
    return result  # type: ignore[no-any-return]  # the shape of the value is kept


def printable(text: str) -> str:
    """Make one text printable.

    Parameters
    ----------
    text : str
        Anything a person typed.

    Returns
    -------
    str
        One line without control or direction characters; a character that no font has becomes
        ``▯``; very long words may be broken; at most ``LONGEST`` characters.
    """
    line = unicodedata.normalize("NFC", plain(text))
    if len(line) > LONGEST:
        line = line[: LONGEST - 1] + "…"
    shown = "".join(character if _has_glyph(character) else UNPRINTABLE for character in line)
    return " ".join(_breakable(word) for word in shown.split(" "))


def _breakable(word: str) -> str:
    if len(word) <= _WORD:
        return word
    broken = []
    for index, character in enumerate(word):
        # a combining mark stays with its letter
        if index and index % 4 == 0 and not unicodedata.combining(character):
            broken.append(_BREAK)
        broken.append(character)
    return "".join(broken)


@cache
def _has_glyph(character: str) -> bool:
    """Ask the typesetter itself, in the strict standard that refuses a missing glyph."""
    if " " <= character <= "~":
        return True
    with _lock:
        try:
            _compiler("probe.typ").compile(
                format="pdf",
                sys_inputs={"text": character},
                pdf_standards=[*STANDARDS],
                timestamp=0,
            )
        except typst.TypstError:
            return False
    return True
