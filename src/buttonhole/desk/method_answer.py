"""The answer about the way of joining as one object, the same for command line, API and record."""

from typing import Any

from buttonhole.procedure.joining.decision import (
    Decision,
    MethodStanding,
    PublishedConflict,
    Standing,
)
from buttonhole.procedure.joining.facts import FACTS
from buttonhole.procedure.joining.rule import Rule
from buttonhole.sources import bibliography

CAUTIONS = (
    "The vehicle maker's procedure, local codes and licensed practice go before this answer.",
    "What is not marked as the maker's releases nothing by itself.",
)


def rule_answer(rule: Rule) -> dict[str, Any]:
    """
    One rule in one version.

    Parameters
    ----------
    rule : Rule
        The rule.

    Returns
    -------
    dict
        For JSON.
    """
    entry = bibliography().get(rule.source)
    return {
        "key": rule.key,
        "version": rule.version,
        "topic": rule.topic,
        "effect": rule.effect.value,
        "methods": rule.methods.split("|"),
        "value": rule.value,
        "unit": rule.unit,
        "applies_to": rule.applies_to,
        "applies_in_words": rule.applies_in_words,
        "reason": rule.reason,
        "source": rule.source,
        "source_title": entry.title if entry else rule.source,
        "revision": rule.revision,
        "read_on": rule.read_on.isoformat() if rule.read_on else None,
        "filed_by": rule.filed_by,
        "status": rule.status.value,
        "rank": int(rule.rank),
        "rank_words": rule.rank.words,
        "whose": rule.whose,
        "is_makers": rule.is_makers,
        "mark": rule.mark,
        "valid_from": rule.valid_from.isoformat(),
        "superseded_by": rule.superseded_by or None,
        "scope": rule.scope or None,
    }


def method_answer(decision: Decision) -> dict[str, Any]:
    """
    The whole decision.

    Parameters
    ----------
    decision : Decision
        As decided.

    Returns
    -------
    dict
        For JSON; `methods` in their order, the first choice first.
    """
    return {
        "outcome": decision.outcome.value,
        "outcome_words": decision.outcome.words,
        "on": decision.on.isoformat(),
        "allowed": [one.method.value for one in decision.allowed],
        "ask": [one.method.value for one in decision.of(Standing.ASK)],
        "tell": [{"fact": one, "question": question_of(one)} for one in decision.tell],
        "rejected": [one.method.value for one in decision.rejected],
        "releases_by_itself": decision.releases,
        "methods": [_standing(one) for one in decision.methods],
        "holds": [rule_answer(one) for one in decision.holds],
        "first": [rule_answer(one) for one in decision.first],
        "conflicts": [_conflict(one) for one in decision.conflicts],
        "questions": [
            {
                "text": one.text,
                "figures": list(one.figures),
                "about": one.about.value if one.about else None,
            }
            for one in decision.questions
        ],
        "hints": list(decision.hints),
        "checks": list(decision.checks),
        "rules": [one.name for one in decision.rules],
        "cautions": list(CAUTIONS),
    }


def question_of(fact: str) -> str:
    """
    Say what to tell about a fact that is missing.

    Parameters
    ----------
    fact : str
        Its name.

    Returns
    -------
    str
        A question.
    """
    return FACTS[fact].ask or f"Tell: {FACTS[fact].words}."


def _standing(one: MethodStanding) -> dict[str, Any]:
    return {
        "method": one.method.value,
        "name": one.method.words,
        "process": one.method.process or None,
        "standing": one.standing.value,
        "rank": int(one.authority),
        "authority": one.authority.words,
        "is_makers": one.is_makers,
        "mark": one.mark,
        "why": list(one.why),
        "reasons": [rule_answer(each) for each in one.reasons],
        "outranked": [rule_answer(each) for each in one.outranked],
        "mind": [rule_answer(each) for each in one.mind],
        "needs": list(one.needs),
        "in_conflict": one.in_conflict,
    }


def _conflict(one: PublishedConflict) -> dict[str, Any]:
    return {
        "topic": one.topic,
        "resolved": False,
        "rules": [rule_answer(each) for each in one.rules],
    }
