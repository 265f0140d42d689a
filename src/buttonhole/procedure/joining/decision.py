"""What the rules decide of a joint: methods that stand, wait or fall, each with its reasons."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from buttonhole.procedure.authority import Authority
from buttonhole.procedure.joining.circumstances import JointToJoin
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.procedure.joining.rule import Effect, Rule

NOT_MAKERS = "Not the maker's procedure: it releases nothing by itself."
ANOTHER_WAY = "The maker names another way here:"
NO_RULE = "No rule at hand allows it here."


class Standing(StrEnum):
    """How a method stands at a joint."""

    ALLOWED = "allowed"
    ASK = "ask"  # only with the maker's word
    TELL = "tell"  # a fact is missing
    REJECTED = "rejected"


class Outcome(StrEnum):
    """What the decision comes to."""

    ALLOWED = "allowed"
    ASK = "ask"
    HOLD = "hold"
    TELL = "tell"

    @property
    def words(self) -> str:
        """In a sentence."""
        return {
            "allowed": "There is a way to join it.",
            "ask": "Ask the vehicle maker: nobody else can say.",
            "hold": "On hold: a sheet is not known.",
            "tell": "Tell more about the joint first.",
        }[self.value]


@dataclass(frozen=True, slots=True)
class MethodStanding:
    """How one method stands: the rules that decide it, and those they overrule.

    ``obstacles`` say why the maker's own way can't be gone as things are; ``needs`` name facts that
    must be told first; ``in_conflict`` that rules of one rank contradict each other.
    """

    method: JoiningMethod
    standing: Standing
    authority: Authority
    reasons: tuple[Rule, ...] = ()
    outranked: tuple[Rule, ...] = ()
    mind: tuple[Rule, ...] = ()
    needs: tuple[str, ...] = ()
    obstacles: tuple[str, ...] = ()
    in_conflict: bool = False
    order: int = 50

    @property
    def is_makers(self) -> bool:
        """Whether the maker's own word decides it."""
        return self.authority.is_makers

    @property
    def mark(self) -> str:
        """What has to be seen beside it; empty when the maker's own word decides."""
        return "" if self.is_makers else NOT_MAKERS

    def names_another(self, rule: Rule) -> bool:
        """Whether a rule speaks against this method by requiring another one."""
        return rule.effect is Effect.REQUIRE and not rule.names(self.method)

    @property
    def why(self) -> tuple[str, ...]:
        """The reasons in sentences."""
        said = tuple(
            f"{ANOTHER_WAY} {one.reason}" if self.names_another(one) else one.reason
            for one in self.reasons
        )
        return (*said, *self.obstacles) or (NO_RULE,)


@dataclass(frozen=True, slots=True)
class PublishedConflict:
    """Published rules on one topic that differ; all are shown and none is chosen."""

    topic: str
    rules: tuple[Rule, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """A question to the maker: a yes or no unless it is open, then figures.

    ``about`` is the method, if one.
    """

    text: str
    figures: tuple[str, ...] = ()
    about: JoiningMethod | None = None
    is_open: bool = False  # no yes or no answers it


@dataclass(frozen=True, slots=True)
class Decision:
    """All methods of a joint as the rules of a day see them."""

    joint: JointToJoin
    on: date
    outcome: Outcome
    methods: tuple[MethodStanding, ...]
    holds: tuple[Rule, ...] = ()
    first: tuple[Rule, ...] = ()
    tell: tuple[str, ...] = ()  # facts
    conflicts: tuple[PublishedConflict, ...] = ()
    questions: tuple[Question, ...] = ()
    hints: tuple[str, ...] = ()
    checks: tuple[str, ...] = ()

    def of(self, standing: Standing) -> tuple[MethodStanding, ...]:
        """Return the methods that stand so, the first choice first."""
        return tuple(one for one in self.methods if one.standing is standing)

    @property
    def allowed(self) -> tuple[MethodStanding, ...]:
        """The methods somebody's rule allows."""
        return self.of(Standing.ALLOWED)

    @property
    def rejected(self) -> tuple[MethodStanding, ...]:
        """The methods a rule rejects."""
        return self.of(Standing.REJECTED)

    def standing(self, method: JoiningMethod) -> MethodStanding:
        """Return how one method stands."""
        return next(one for one in self.methods if one.method is method)

    def best_of(self, methods: Sequence[JoiningMethod]) -> MethodStanding:
        """Return of some methods the one that stands best."""
        found = [one for one in self.methods if one.method in methods]
        return min(found, key=lambda one: tuple(Standing).index(one.standing))

    @property
    def releases(self) -> bool:
        """Whether a method rests on the maker's own word and nothing holds the joint."""
        return self.outcome is Outcome.ALLOWED and any(one.is_makers for one in self.allowed)

    @property
    def rules(self) -> tuple[Rule, ...]:
        """Every rule the decision used or shows, each once."""
        found: dict[str, Rule] = {}
        for each in self.methods:
            found |= {one.name: one for one in (*each.reasons, *each.outranked, *each.mind)}
        shown = (one for each in self.conflicts for one in each.rules)
        found |= {one.name: one for one in (*self.holds, *self.first, *shown)}
        return tuple(found.values())
