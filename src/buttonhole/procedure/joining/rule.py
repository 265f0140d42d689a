"""A rule as data: topic, value, unit, what it applies to, source, rank, and what took its place."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from buttonhole.procedure.authority import Authority
from buttonhole.procedure.joining.condition import Condition, all_hold, conditions, not_known
from buttonhole.procedure.joining.facts import Value
from buttonhole.procedure.joining.method import JoiningMethod, methods_named
from buttonhole.sources import Status
from buttonhole.units import BadInput

METHOD = "joining method"
LONGEST = 1000  # letters of a reason


class Effect(StrEnum):
    """What a rule does where it applies."""

    REQUIRE = "require"  # this method, and no other
    ACCEPT = "accept"
    REJECT = "reject"
    ASK = "ask"  # only with the maker's word
    HOLD = "hold"  # nothing of the joint before this is cleared
    FIRST = "first"  # to be done before the joint is made
    MIND = "mind"  # to be minded
    SAYS = "says"  # a published figure or statement; decides nothing


class Kind(StrEnum):
    """Whether a rule permits, tells what is possible at all, or is the law of the place."""

    RULE = "rule"
    MEANS = "means"
    LAW = "law"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule in one version. What it said stays what it said: a change is another version.

    ``methods`` are methods or groups with ``|`` between them, ``applies_to`` conditions on the
    facts of a joint (empty: every joint), ``order`` [-] sorts allowed methods, the least first.
    ``scope`` is the subject of the record it was filed for ("joint/..."); empty: every joint.

    Raises
    ------
    BadInput
        A part is missing or can't be.
    """

    key: str
    version: int
    topic: str
    effect: Effect
    methods: str
    reason: str
    source: str  # key of the bibliography, or the document of the maker
    status: Status
    rank: Authority
    valid_from: date
    value: str = ""
    unit: str = ""
    applies_to: str = ""
    kind: Kind = Kind.RULE
    whose: str = ""
    order: int = 50
    superseded_by: str = ""  # "key@version"
    scope: str = ""
    revision: str = ""
    read_on: date | None = None
    filed_by: str = ""

    def __post_init__(self) -> None:
        """Refuse a rule that nobody could read, find again or apply."""
        for name in ("key", "topic", "reason", "source"):
            if not getattr(self, name).strip():
                raise BadInput(name, "is missing; a rule has one")
        if self.version < 1:
            raise BadInput("version", f"is {self.version}; versions count from 1")
        if len(self.reason) > LONGEST:
            raise BadInput("reason", f"has {len(self.reason)} letters; at most {LONGEST} are kept")
        methods_named(self.methods)
        conditions(self.applies_to)
        if self.rank is Authority.REFUSE:
            raise BadInput("rank", "is the last one, which is no rule; give 1 to 5")

    @property
    def name(self) -> str:
        """Key and version, as decisions keep it."""
        return f"{self.key}@{self.version}"

    @property
    def is_makers(self) -> bool:
        """Whether it is the vehicle maker's own word about this vehicle."""
        return self.rank.is_makers

    @property
    def verified(self) -> bool:
        """It was read in a text; not from memory, not what the trade does without a source."""
        return self.status is Status.READ

    @property
    def mark(self) -> str:
        """What has to be seen beside it wherever it is shown; empty for the maker's own word."""
        if self.is_makers:
            return ""
        if self.kind is Kind.LAW:
            return "local code, as filed"
        parts = ["not the maker's"]
        if self.status is Status.MEMORY:
            parts.append("from memory, not verified")
        elif self.status is Status.COMMON_PRACTICE:
            parts.append("common practice, no source")
        elif self.status is Status.DERIVED:
            parts.append("derived")
        return ", ".join(parts)

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """What it applies to."""
        return conditions(self.applies_to)

    @property
    def applies_in_words(self) -> str:
        """What it applies to, for people."""
        return "; ".join(one.said for one in self.conditions) or "every joint"

    def names(self, method: JoiningMethod) -> bool:
        """Whether it speaks of a method."""
        return method in methods_named(self.methods)

    def applies(self, facts: Mapping[str, Value]) -> bool | None:
        """Whether it applies; None when a fact it turns on is not known."""
        return all_hold(self.conditions, facts)

    def needs(self, facts: Mapping[str, Value]) -> tuple[str, ...]:
        """Return the facts that must be known before anybody can say whether it applies."""
        return not_known(self.conditions, facts)
