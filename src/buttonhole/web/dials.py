"""Dials: what is turned on a screen to see at once what it does."""

from dataclasses import dataclass

from buttonhole.web.fields import Answers


@dataclass(frozen=True, slots=True)
class Dial:
    """One thing that is turned: key, words, kind and unit, its step and ends [unit]."""

    key: str
    label: str
    kind: str
    unit: str
    step: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Turned:
    """A dial with where it stands [unit of the dial]."""

    dial: Dial
    value: float

    @property
    def words(self) -> str:
        """Its value with the unit."""
        return f"{self.value:g} {self.dial.unit}".replace(" deg", "°")


def turned(form: Answers, dial: Dial, start: float) -> Turned:
    """Where a dial stands [its unit]: as asked, one step less or more, inside its ends."""
    value = start
    asked = form.typed.get(dial.key, "").replace(",", ".")
    try:
        value = float(asked) if asked else start
    except ValueError:
        value = start
    if form.typed.get("more") == dial.key:
        value += dial.step
    if form.typed.get("less") == dial.key:
        value -= dial.step
    value = min(max(value, dial.low), dial.high) if value == value else start
    return Turned(dial, round(value, 6))
