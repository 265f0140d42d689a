"""All rules for the way of joining: the program's own and what this record holds."""

from collections.abc import Iterable

from buttonhole.desk.desk import Desk
from buttonhole.desk.folding import CORRECTION
from buttonhole.desk.view import JointView
from buttonhole.desk.written import read
from buttonhole.procedure.authority import MakerProcedure
from buttonhole.procedure.joining.book import RuleBook, built_in
from buttonhole.procedure.joining.maker_text import rule_of_procedure
from buttonhole.procedure.joining.rule import Rule

FILED = "rule_filed"


def rule_book(desk: Desk) -> RuleBook:
    """
    Read the rules.

    Parameters
    ----------
    desk : Desk
        Where the person works.

    Returns
    -------
    RuleBook
        In every version; what was filed and taken back is left out.
    """
    return built_in().with_filed(filed_rules(desk))


def filed_rules(desk: Desk) -> tuple[Rule, ...]:
    """
    Read what was filed.

    Parameters
    ----------
    desk : Desk
        Where the person works.

    Returns
    -------
    tuple of Rule
        In the order they were filed.
    """
    withdrawn = {one.payload["corrects"] for one in desk.store.events_of_type(CORRECTION)}
    events = desk.store.events_of_type(FILED)
    return tuple(read(Rule, one.payload["rule"]) for one in events if one.id not in withdrawn)


def book_for(desk: Desk, joint: JointView) -> RuleBook:
    """
    Read the rules with what the joint's cited page says.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    RuleBook
        For a decision about this joint.
    """
    book = rule_book(desk)
    cited = joint.procedure
    if cited is None or cited.rule or not isinstance(cited.authority, MakerProcedure):
        return book
    return book.with_filed([rule_of_procedure(cited.authority, f"joint/{joint.id}", joint.ways)])


def named_rules(desk: Desk, joint: JointView, names: Iterable[str]) -> tuple[Rule, ...]:
    """
    Read the rules something about a joint rests on, in the version it names.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.
    names : iterable of str
        key@version.

    Returns
    -------
    tuple of Rule
        In the order of the names. One that is no longer there is left out: its entry, or the page
        it was read from, was withdrawn.
    """
    known = {one.name: one for one in book_for(desk, joint).rules}
    return tuple(known[name] for name in names if name in known)
