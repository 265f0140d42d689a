"""In which language and in which units somebody reads."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import astuple, dataclass, field, fields
from functools import lru_cache

# The languages there are, each by its own name.
LANGUAGES: Mapping[str, str] = {"en": "English", "de": "Deutsch"}

# For each kind of quantity the units to choose from; the first is the usual one.
UNIT_CHOICES: Mapping[str, tuple[str, ...]] = {
    "length": ("mm", "in"),
    "force": ("kN", "daN", "lbf"),
    "time": ("ms", "cycles at 50 Hz", "cycles at 60 Hz"),
    "pressure": ("bar", "psi"),
    "flow": ("l/min", "cfh"),
    "speed": ("m/min", "in/min"),
    "temperature": ("°C", "°F"),
    "torque": ("N m", "lbf ft"),
}


@dataclass(frozen=True, slots=True)
class Units:
    """The unit of each kind of quantity, as in ``UNIT_CHOICES``."""

    length: str = "mm"
    force: str = "kN"
    time: str = "ms"
    pressure: str = "bar"
    flow: str = "l/min"
    speed: str = "m/min"
    temperature: str = "°C"
    torque: str = "N m"

    def code(self) -> str:
        """One digit for each kind: what a cookie keeps."""
        return "".join(
            str(UNIT_CHOICES[one.name].index(getattr(self, one.name))) for one in fields(self)
        )


SI = Units()
INCH = Units("in", "lbf", "cycles at 60 Hz", "psi", "cfh", "in/min", "°F", "lbf ft")


@dataclass(frozen=True, slots=True)
class Display:
    """A language and units."""

    language: str = "en"
    units: Units = SI
    _hash: int = field(init=False, repr=False, compare=False)  # asked for at every text of a page

    def __post_init__(self) -> None:
        object.__setattr__(self, "_hash", hash((self.language, self.units)))

    def __hash__(self) -> int:
        return self._hash

    @property
    def is_plain(self) -> bool:
        """Whether everything is shown as the core says it."""
        return self.language == "en" and self.units == SI


ENGLISH = Display()
_now: ContextVar[Display] = ContextVar("display", default=ENGLISH)


def units_of(code: str) -> Units:
    """Read the units a cookie keeps; what is none of ours gives the usual ones."""
    if len(code) != len(UNIT_CHOICES) or not (code.isascii() and code.isdigit()):
        return SI
    chosen = [
        names[int(digit)] if int(digit) < len(names) else names[0]
        for digit, names in zip(code, UNIT_CHOICES.values(), strict=True)
    ]
    return Units(*chosen)


@lru_cache(maxsize=100)
def display_of_codes(language: str, code: str) -> Display:
    """The display of a language and of the units a cookie keeps; always the same object."""
    return Display(language, units_of(code[: len(UNIT_CHOICES) + 1]))


def language_of(chosen: str, accepted: str = "") -> str:
    """The language somebody chose, or the first of ours that the browser asks for.

    Parameters
    ----------
    chosen : str
        Code of a language, or nothing.
    accepted : str
        The browser's list, ``de-CH,de;q=0.9,en;q=0.8`` say.

    Returns
    -------
    str
        A key of ``LANGUAGES``; English when none is asked for.
    """
    if chosen in LANGUAGES:
        return chosen
    wanted: list[tuple[float, int, str]] = []
    for place, part in enumerate(accepted[:400].split(",")):
        name, _, weight = part.strip().partition(";")
        code = name.strip().casefold().partition("-")[0]
        if code in LANGUAGES:
            wanted.append((-_weight(weight), place, code))
    return min(wanted)[2] if wanted else "en"


def _weight(text: str) -> float:
    try:
        return float(text.strip().removeprefix("q=")) if text.strip() else 1.0
    except ValueError:
        return 0.0


def display_now() -> Display:
    """The display of the page or paper being made."""
    return _now.get()


@contextmanager
def displayed(display: Display) -> Iterator[None]:
    """Make what is inside for this display."""
    token = _now.set(display)
    try:
        yield
    finally:
        _now.reset(token)


def chosen_units(display: Display) -> dict[str, str]:
    """The chosen unit of each kind."""
    return dict(zip(UNIT_CHOICES, astuple(display.units), strict=True))
