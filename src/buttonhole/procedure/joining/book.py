"""All rules in all versions: the program's own, and what the shop filed."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from buttonhole.procedure.authority import Authority
from buttonhole.procedure.joining.rule import Effect, Kind, Rule
from buttonhole.sources import Status, table
from buttonhole.units import BadInput

TABLE = "joining_rules"


@dataclass(frozen=True, slots=True)
class RuleBook:
    """Rules in every version; none is ever taken out.

    Raises
    ------
    BadInput
        Two rules of the same key and version.
    """

    rules: tuple[Rule, ...]

    def __post_init__(self) -> None:
        """Refuse a book in which one name stands for two rules."""
        names = [one.name for one in self.rules]
        twice = next((one for one in names if names.count(one) > 1), None)
        if twice:
            raise BadInput("rule", f"{twice} is there already; file the next version")

    def with_filed(self, filed: Iterable[Rule]) -> "RuleBook":
        """Return the book with what the shop filed; a filed version takes an older one's place."""
        return RuleBook(_superseded((*self.rules, *filed)))

    def in_force(self, on: date, *scopes: str) -> tuple[Rule, ...]:
        """Return the rules in force.

        Parameters
        ----------
        on : date
            The day.
        *scopes : str
            Subjects of the record the joint belongs to; rules filed for others do not count.

        Returns
        -------
        tuple of Rule
            By rank, then in the order of the book.
        """
        known = {one.name: one for one in self.rules}
        found = [
            one
            for one in self.rules
            if one.valid_from <= on
            and (not one.scope or one.scope in scopes)
            and not (one.superseded_by and known[one.superseded_by].valid_from <= on)
        ]
        return tuple(sorted(found, key=lambda one: one.rank))

    def find(self, name: str) -> Rule:
        """Return the rule of a key, newest version, or of ``key@version``.

        Raises
        ------
        BadInput
            No such rule; the message names near ones.
        """
        key, _, version = name.strip().partition("@")
        of_key = [one for one in self.rules if one.key == key]
        found = [one for one in of_key if version in ("", str(one.version))]
        if found:
            return max(found, key=lambda one: one.version)
        if of_key:
            there = ", ".join(str(one.version) for one in of_key)
            raise BadInput("rule", f"{key} has no version {version[:20]!r}; there are {there}")
        import difflib

        keys = list(dict.fromkeys(one.key for one in self.rules))
        near = difflib.get_close_matches(key[:60], keys, n=4, cutoff=0.5)
        hint = f"near keys: {', '.join(near)}" if near else "list them with `buttonhole rules list`"
        raise BadInput("rule", f"{key[:60]!r} is not there; {hint}")

    def versions(self, key: str) -> tuple[Rule, ...]:
        """Return every version of a rule, the first one first."""
        return tuple(
            sorted((one for one in self.rules if one.key == key), key=lambda one: one.version)
        )

    def next_version(self, key: str) -> int:
        """Return the number the next version of a key has [-]; 1 for a new key."""
        return 1 + max((one.version for one in self.rules if one.key == key), default=0)


def _superseded(rules: tuple[Rule, ...]) -> tuple[Rule, ...]:
    """Let each version name the next one of its key; what names another rule already keeps it."""
    numbers: dict[str, list[int]] = {}
    for one in rules:
        numbers.setdefault(one.key, []).append(one.version)
    found = []
    for one in rules:
        later = [number for number in numbers[one.key] if number > one.version]
        if later and not one.superseded_by:
            one = replace(one, superseded_by=f"{one.key}@{min(later)}")
        found.append(one)
    names = {one.name for one in found}
    lost = next((one for one in found if one.superseded_by not in ("", *names)), None)
    if lost is not None:
        raise BadInput("superseded_by", f"of {lost.name} is {lost.superseded_by!r}, no rule here")
    return tuple(found)


@cache
def built_in() -> RuleBook:
    """Return the program's own rules; each names its source."""
    rows = table(TABLE).rows()
    found = [
        Rule(
            key=str(row["key"]),
            version=int(str(row["version"])),
            topic=str(row["topic"]),
            effect=Effect(str(row["effect"])),
            methods=str(row["methods"]),
            reason=str(row["reason"]),
            source=str(row["source"]),
            status=Status(str(row["status"])),
            rank=Authority(int(str(row["rank"]))),
            valid_from=date.fromisoformat(str(row["valid_from"])),
            value=str(row["value"] or ""),
            unit=str(row["unit"] or ""),
            applies_to=str(row["applies_to"] or ""),
            kind=Kind(str(row["kind"])),
            whose=str(row["whose"] or ""),
            order=int(str(row["order"] or "50")),
            superseded_by=str(row["superseded_by"] or ""),
        )
        for row in rows
    ]
    return RuleBook(_superseded(tuple(found)))
