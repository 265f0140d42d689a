"""On what a rule bears: ``access = one_side|closed_section; strongest > 980 MPa``."""

import math
import operator
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from buttonhole.procedure.joining.facts import FACTS, Value
from buttonhole.units import BadInput, parse, show

_COMPARED: Mapping[str, Callable[[float, float], bool]] = {
    ">=": operator.ge,
    "<=": operator.le,
    ">": operator.gt,
    "<": operator.lt,
    "=": operator.eq,
}
_PART = re.compile(r"^\s*([a-z_]+)\s*(>=|<=|!=|=|>|<)\s*(.+?)\s*$")
_SAID = {
    ">=": "at least",
    "<=": "at most",
    ">": "over",
    "<": "under",
    "=": "",
    "!=": "not",
}


@dataclass(frozen=True, slots=True)
class Condition:
    """One fact against one number or against some words."""

    fact: str
    sign: str
    limit: float = math.nan  # SI
    words: tuple[str, ...] = ()

    def holds(self, facts: Mapping[str, Value]) -> bool | None:
        """Say whether it holds; None when the fact is not known."""
        value = facts.get(self.fact)
        if value is None:
            return None
        if isinstance(value, str):
            return (value in self.words) is (self.sign == "=")
        if self.sign == "!=":
            return not math.isclose(value, self.limit, rel_tol=1e-9)
        near = math.isclose(value, self.limit, rel_tol=1e-9, abs_tol=1e-12)
        if near:  # 2.1 mm on 0.7 mm is 3 to 1, not more
            return self.sign in (">=", "<=", "=")
        return _COMPARED[self.sign](value, self.limit)

    @property
    def said(self) -> str:
        """In words."""
        kind = FACTS[self.fact]
        if self.words:
            told = " or ".join(one.replace("_", " ") for one in self.words)
            if self.words in (("yes",), ("no",)):
                yes = (self.words == ("yes",)) is (self.sign == "=")
                return f"{kind.words}: {'yes' if yes else 'no'}"
            return f"{kind.words}: {_SAID[self.sign]} {told}".replace("  ", " ")
        plain = kind.quantity == "count"
        figure = f"{self.limit:g}" if plain else show(self.limit, kind.quantity)
        return f"{kind.words}: {_SAID[self.sign]} {figure}".replace(":  ", ": ")


@cache
def conditions(text: str) -> tuple[Condition, ...]:
    """Read conditions; all of them must hold.

    Parameters
    ----------
    text : str
        Parts with ``;`` between them; empty: always.

    Returns
    -------
    tuple of Condition
        In their order.

    Raises
    ------
    BadInput
        A fact there is none of, or a value it can't have; the message says what would be right.
    """
    return tuple(_one(part) for part in text.split(";") if part.strip())


def _one(part: str) -> Condition:
    found = _PART.match(part)
    if found is None:
        raise BadInput(
            "applies_to",
            f"{part.strip()[:60]!r} is no condition; give a fact, a sign and a value, e.g. "
            "'access = one_side|closed_section' or 'strongest > 980 MPa'",
        )
    fact, sign, value = found.groups()
    kind = FACTS.get(fact)
    if kind is None:
        raise BadInput("applies_to", f"{fact!r} is no fact; there are: {', '.join(FACTS)}")
    if not kind.quantity:
        if sign not in ("=", "!="):
            raise BadInput("applies_to", f"{fact!r} is a word; compare it with = or !=")
        return Condition(fact, sign, words=tuple(one.strip() for one in value.split("|")))
    if kind.quantity != "count":
        return Condition(fact, sign, parse(value, kind.quantity, "applies_to"))
    try:
        return Condition(fact, sign, float(value))
    except ValueError:
        raise BadInput("applies_to", f"{value[:40]!r} is no number; {fact} is one") from None


def all_hold(found: tuple[Condition, ...], facts: Mapping[str, Value]) -> bool | None:
    """Say whether all hold: no as soon as one does not, None when one is not known."""
    results = [one.holds(facts) for one in found]
    if any(one is False for one in results):
        return False
    return None if any(one is None for one in results) else True


def not_known(found: tuple[Condition, ...], facts: Mapping[str, Value]) -> tuple[str, ...]:
    """Return the facts that stand between a rule and an answer."""
    return tuple(one.fact for one in found if one.holds(facts) is None)
