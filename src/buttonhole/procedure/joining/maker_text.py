"""What a text of the vehicle maker, a local code or the shop says, turned into a rule."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from buttonhole.procedure.authority import Authority, MakerProcedure
from buttonhole.procedure.joining.method import SQUEEZE, JoiningMethod, methods_named
from buttonhole.procedure.joining.rule import METHOD, Effect, Kind, Rule
from buttonhole.sources import Status
from buttonhole.units import BadInput


class Says(StrEnum):
    """What a text says of a method."""

    REQUIRES = "requires"  # this and no other
    PERMITS = "permits"
    FORBIDS = "forbids"


class Whose(StrEnum):
    """Whose text it is; the word in files and forms."""

    PROCEDURE = "procedure"  # the maker's page for this joint
    GENERAL = "general"  # his general welding section or a bulletin
    ANSWER = "answer"  # his written answer
    CODE = "code"  # law or code of the place
    GUIDE = "guide"  # standard or published guide
    SHOP = "shop"  # the shop's own

    @property
    def words(self) -> str:
        """In words."""
        return {
            "procedure": Authority.MAKER_PROCEDURE.words,
            "general": Authority.MAKER_GENERAL.words,
            "answer": Authority.MAKER_ANSWER.words,
            "code": "a law or code of the place",
            "guide": Authority.STANDARD.words,
            "shop": "this shop's own rule",
        }[self.value]

    @property
    def rank(self) -> Authority:
        """Its place in the order of authority."""
        return {
            "procedure": Authority.MAKER_PROCEDURE,
            "general": Authority.MAKER_GENERAL,
            "answer": Authority.MAKER_ANSWER,
            "code": Authority.STANDARD,
            "guide": Authority.STANDARD,
            "shop": Authority.GENERIC,
        }[self.value]


_EFFECT = {
    Says.REQUIRES: Effect.REQUIRE,
    Says.PERMITS: Effect.ACCEPT,
    Says.FORBIDS: Effect.REJECT,
}


@dataclass(frozen=True, slots=True)
class StatedRule:
    """A text about a method as somebody read it.

    ``methods`` are methods or groups with ``|`` between them; ``applies_to`` conditions on the
    facts of a joint, empty for the joint or the joints it is filed for.
    """

    methods: str
    says: Says
    whose: Whose
    reference: str
    revision: str
    read_on: date
    read_by: str
    text: str
    applies_to: str = ""

    def __post_init__(self) -> None:
        """Refuse what nobody could find again."""
        needed = {
            "reference": "give number and page of the document",
            "revision": 'give the revision or date printed, or "none printed"',
            "read_by": "say who read it",
            "text": "write down what it says about this joint",
        }
        for key, right in needed.items():
            if not getattr(self, key).strip():
                raise BadInput(key, f"is missing; {right}")
        if self.says is Says.REQUIRES and not self.whose.rank.is_makers:
            raise BadInput(
                "says",
                "is requires; only the maker's text requires a method. Give permits or forbids",
            )


def key_of(stated: StatedRule) -> str:
    """Return a key for a rule by whose it is and its reference."""
    plain = re.sub(r"[^a-z0-9]+", "-", stated.reference.casefold()).strip("-")[:50]
    methods = "-".join(stated.methods.split("|"))
    return f"{stated.whose.value}-{plain or 'text'}-{methods}".replace("_", "-")


def rule_of(
    stated: StatedRule,
    *,
    key: str = "",
    version: int = 1,
    valid_from: date | None = None,
    scope: str = "",
) -> Rule:
    """Return the rule a text makes.

    Parameters
    ----------
    stated : StatedRule
        What was read.
    key : str
        Its key; made of its reference when empty.
    version : int
        Number of the version [-].
    valid_from : date or None
        First day it holds; the day it was read when left out.
    scope : str
        Subject of the record it is filed for; empty: every joint.

    Returns
    -------
    Rule
        The rule.

    Raises
    ------
    BadInput
        A method there is none of, or a condition that can't be read.
    """
    named = methods_named(stated.methods)
    if stated.says is Says.FORBIDS and JoiningMethod.SPOT in named:
        named = tuple(dict.fromkeys((*named, *SQUEEZE)))  # a weld bond is made of spots
    shop = stated.whose is Whose.SHOP
    return Rule(
        key=key or key_of(stated),
        version=version,
        topic=METHOD,
        effect=_EFFECT[stated.says],
        methods="|".join(named),
        reason=stated.text.strip(),
        source=stated.reference.strip(),
        status=Status.COMMON_PRACTICE if shop else Status.READ,
        rank=stated.whose.rank,
        valid_from=valid_from or stated.read_on,
        applies_to=stated.applies_to,
        kind=Kind.LAW if stated.whose is Whose.CODE else Kind.RULE,
        whose="the vehicle's maker" if stated.whose.rank.is_makers else stated.whose.words,
        order=1,
        scope=scope,
        revision=stated.revision.strip(),
        read_on=stated.read_on,
        filed_by=stated.read_by.strip(),
    )


def rule_of_procedure(cited: MakerProcedure, scope: str, ways: Iterable[JoiningMethod]) -> Rule:
    """Return the rule a cited page makes: it names a method, or it speaks of the weld at hand.

    Parameters
    ----------
    cited : MakerProcedure
        The page.
    scope : str
        Subject of the record it is cited for.
    ways : iterable of JoiningMethod
        The weld this joint was going to get; a page that names no method is about it.

    Returns
    -------
    Rule
        A method that is named is required, one that is not is permitted, or forbidden.
    """
    methods = cited.method or "|".join(ways)
    effect = Effect.REJECT
    if cited.permits:
        effect = Effect.REQUIRE if cited.method else Effect.ACCEPT
    return Rule(
        key=f"cited-{cited.authority.value}",
        version=1,
        topic=METHOD,
        effect=effect,
        methods=methods,
        reason=cited.says,
        source=cited.reference,
        status=Status.READ,
        rank=cited.authority,
        valid_from=cited.read_on,
        whose="the vehicle's maker",
        order=1,
        scope=scope,
        revision=cited.revision,
        read_on=cited.read_on,
        filed_by=cited.read_by,
    )
