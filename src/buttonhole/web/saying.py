"""Says what stands on a page in the language and the units of who reads it."""

import re
from dataclasses import dataclass
from functools import lru_cache
from html import escape as escaped
from html import unescape

from markupsafe import Markup

from buttonhole.language import Display, Speech, shown_figures, speech
from buttonhole.language.display import display_now
from buttonhole.language.figures import field_unit
from buttonhole.language.speech import AS_TYPED
from buttonhole.web.fields import SHOWN

_MASK = 0xE000  # private letters stand for what must not be read as figures
_MASKED = re.compile("[\ue000-\uf8ff]")
_IN_DRAWING = re.compile(
    r"(?P<open><(?:text|tspan|title|desc)\b[^>]*>)(?P<said>[^<]+)|(?P<label>aria-label=\")(?P<name>[^\"]+)"
)


class Own(str):
    """What somebody typed, or a name that is the same in every language."""

    __slots__ = ()


def own(value: object) -> Own:
    """Mark a text as not to be translated."""
    return Own(value)


def say_text(message: str, /, **values: object) -> Markup:
    """Say a run of text of a template.

    Parameters
    ----------
    message : str
        The English text with its holes, as the template has it; safe as it stands.
    **values : object
        What stands in the holes: text of the core is said in the language too and escaped, markup
        of ours is kept, and so is what somebody typed.

    Returns
    -------
    Markup
        The text for the page.
    """
    display = display_now()
    if not values:
        return _said_alone(message, display)
    voice = speech(display)
    if len(values) == 1:  # the long lists of a page are made of these
        ((name, value),) = values.items()
        if type(value) is str and message == f"{{{name}}}" and name not in AS_TYPED:
            return Markup(escaped(voice.say(value)))  # noqa: S704 - escaped
    masked: list[str] = []
    holes = {name: _held(name, value, voice, masked) for name, value in values.items()}
    said = shown_figures(voice.fill(message, holes), display)
    html = _MASKED.sub(lambda found: masked[ord(found[0]) - _MASK], said)
    return Markup(html)  # noqa: S704 - each value was escaped or is markup of ours


@lru_cache(maxsize=5_000)
def _said_alone(message: str, display: Display) -> Markup:
    """A text without holes."""
    return Markup(shown_figures(speech(display).fill(message, {}), display))  # noqa: S704 - ours


def _held(name: str, value: object, voice: Speech, masked: list[str]) -> str:
    """What stands in a hole; a private letter in place of what must not be read as a figure."""
    if hasattr(value, "__html__"):
        masked.append(said_drawing(str(value), voice.display))
    elif isinstance(value, Own) or name in AS_TYPED:
        masked.append(escaped(str(value)))
    elif not isinstance(value, str):
        return escaped(str(value))
    elif _MASKED.search(value):  # nobody types such letters; they must not stand for another value
        masked.append(escaped(value))
    elif '"' in value or "“" in value:
        masked.append(escaped(voice.say(value)))
    else:
        return escaped(voice.translated(value))
    return chr(_MASK + len(masked) - 1)


def said_drawing(html: str, display: Display) -> str:
    """Write the figures of a drawing of ours, and what names it was given."""
    if display.is_plain or not html.lstrip().startswith("<svg"):
        return html
    return _said_drawing(html, display)


@lru_cache(maxsize=500)
def _said_drawing(html: str, display: Display) -> str:
    voice = speech(display)

    def said(found: re.Match[str]) -> str:
        begin = found["open"] or found["label"]
        return begin + escaped(voice.again(unescape(found["said"] or found["name"])))

    return _IN_DRAWING.sub(said, html)


@dataclass(frozen=True, slots=True)
class ShownField:
    """A field for a figure as the reader sees it."""

    value: str
    unit: str
    name: str = ""
    sent: str = ""  # what goes along with the field, empty when it is shown in its own unit


def shown_field(key: str, typed: str, unit: str) -> ShownField:
    """Show a field of a figure in the chosen unit.

    Parameters
    ----------
    key : str
        Name of the field.
    typed : str
        What stands in it: a bare figure is in the field's own unit.
    unit : str
        The field's own unit.

    Returns
    -------
    ShownField
        Value and unit to show, and what to send along so that both are understood.
    """
    display = display_now()
    beside = field_unit(unit, display)
    value = beside.typed(typed, display)
    if beside.change is None:
        name = speech(display).say(unit) if unit else unit
        return ShownField(value, name)
    before = typed if value != typed else ""
    return ShownField(value, beside.name, f"{SHOWN}{key}", f"{beside.unit}|{value}|{before}")
