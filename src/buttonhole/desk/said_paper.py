"""Prints a paper in the language and units of who asked for it; the record's own words stay."""

import dataclasses
from collections.abc import Callable
from typing import Any, TypeVar

from buttonhole.language import Display, speech
from buttonhole.language.figures import change_of
from buttonhole.paper.card import Setting
from buttonhole.paper.figure import DrawnArcJoint, DrawnStack, Style
from buttonhole.units import BadInput

T = TypeVar("T")
# What people wrote, what names a thing, and what programs read.
_OWN = frozenset(
    ("card_id", "coupon_id", "group", "subject", "procedure", "released_by", "qr", "language",
     "advice", "machine", "made", "tested", "supply", "interface")
)  # fmt: skip


def printed(paper: Callable[[T], bytes], content: T, display: Display) -> bytes:
    """
    Print a paper in a language and in units; in English where the other words have no room.

    Parameters
    ----------
    paper : callable
        Prints the content.
    content : dataclass
        What the paper says, in English and SI.
    display : Display
        Language and units.

    Returns
    -------
    bytes
        The PDF.

    Raises
    ------
    BadInput
        When there is no room for the English words either.
    """
    if display.is_plain:
        return paper(content)
    try:
        return paper(said(content, display))
    except BadInput:
        return paper(content)


def said(content: T, display: Display) -> T:
    """
    Say what a paper says in a language and in units.

    Parameters
    ----------
    content : dataclass
        What the paper says, in English and SI.
    display : Display
        Language and units.

    Returns
    -------
    dataclass
        The same for this reader.
    """
    voice = speech(display)
    style = Style(
        system="inch" if display.units.length == "in" else "metric",
        decimal="," if display.language == "de" else ".",
        say=voice.translated,
    )
    found: Any = _part(content, voice.say, display)
    return dataclasses.replace(found, style=style, language=display.language)  # type: ignore[no-any-return] # the shape is kept


def _part(value: Any, say: Callable[[str], str], display: Display) -> Any:
    if isinstance(value, str):
        return say(value) if value else value
    if isinstance(value, tuple):
        return tuple(_part(one, say, display) for one in value)
    if isinstance(value, Setting):
        return _setting(value, say, display)
    if not dataclasses.is_dataclass(value) or isinstance(
        value, type | Style | DrawnStack | DrawnArcJoint
    ):
        return value
    return dataclasses.replace(
        value,
        **{
            one.name: _part(getattr(value, one.name), say, display)
            for one in dataclasses.fields(value)
            if one.name not in _OWN and not (one.name == "name" and hasattr(value, "role"))
        },
    )


def _setting(one: Setting, say: Callable[[str], str], display: Display) -> Setting:
    """A number to set; where its unit is another one, the SI figure stands beside it."""
    unit = one.value.partition(" ")[2]
    changed = change_of(unit, display.units) is not None
    second = one.value if changed else say(one.second) if one.second else ""
    return Setting(say(one.name), say(one.value), second)
