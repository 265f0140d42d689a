"""Decide how a joint may be joined: the order of authority first, then the stricter word.

The order is that of ``Authority`` and nothing else. Among the maker's texts the highest rank
decides; two of one rank that contradict each other are asked about, not weighed. Where the maker is
silent, a standard's or guide's permission goes before the program's own rules, but not before what
is possible at all; a rejection goes before "ask", "ask" before a permission. A method nobody's rule
allows is asked about. A local code that forbids is never overruled, neither is the maker: where
they differ, nothing is done before somebody answers.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from buttonhole.procedure.authority import Authority
from buttonhole.procedure.joining.book import RuleBook
from buttonhole.procedure.joining.circumstances import JointToJoin
from buttonhole.procedure.joining.decision import (
    Decision,
    MethodStanding,
    Outcome,
    PublishedConflict,
    Standing,
)
from buttonhole.procedure.joining.facts import Value, facts_of, flange_needed, hints
from buttonhole.procedure.joining.method import SQUEEZE, JoiningMethod
from buttonhole.procedure.joining.questions import questions
from buttonhole.procedure.joining.rule import METHOD, Effect, Kind, Rule

# Not known, these do not hold a method up: they are measured at the joint before it is made.
MEASURED_AT_THE_JOINT = frozenset({"flange_room", "arm_room"})
_DEFAULT_ORDER = 50


@dataclass(frozen=True, slots=True)
class _Voice:
    """What one rule says of one method; ``known`` is false while a fact it turns on is missing."""

    rule: Rule
    says: Standing
    known: bool


def decide(joint: JointToJoin, book: RuleBook, on: date, *scopes: str) -> Decision:
    """Decide how a joint may be joined.

    Parameters
    ----------
    joint : JointToJoin
        Sheets and what is around them.
    book : RuleBook
        All rules, filed ones too.
    on : date
        The day; rules in force then count.
    *scopes : str
        Subjects of the record the joint belongs to, for rules filed for them only.

    Returns
    -------
    Decision
        Every method with its reasons; each rule names its source.
    """
    in_force = book.in_force(on, *scopes)
    rules = [one for one in in_force if one.topic == METHOD]
    facts = facts_of(joint)
    held = [one for one in rules if one.effect is Effect.HOLD and one.applies(facts)]
    found: list[MethodStanding] = []
    for method in (*SQUEEZE, *(one for one in JoiningMethod if one not in SQUEEZE)):
        if method not in SQUEEZE and "squeeze" not in facts:
            facts["squeeze"] = _squeeze(found)
        found.append(_standing(method, rules, facts, joint))
    found = [_without_squeeze(one, found) for one in found]
    if held:
        found = [_held(one, held) for one in found]
    methods = tuple(sorted(found, key=_place))
    decision = Decision(
        joint=joint,
        on=on,
        outcome=_outcome(methods, held),
        methods=methods,
        holds=tuple(held),
        first=_first(rules, facts, methods),
        tell=_tell(methods),
        conflicts=_conflicts(in_force, facts, methods),
        hints=tuple(
            f"Sheet {place}: {text}"
            for place, sheet in enumerate(joint.sheets, start=1)
            for text in hints(sheet)
        ),
        checks=_checks(joint, methods),
    )
    return replace(decision, questions=questions(decision))


def _standing(
    method: JoiningMethod, rules: Sequence[Rule], facts: Mapping[str, Value], joint: JointToJoin
) -> MethodStanding:
    voices = _voices(method, rules, facts)
    mind = tuple(
        one
        for one in rules
        if one.effect is Effect.MIND and one.names(method) and one.applies(facts)
    )
    makers = [one for one in voices if one.rule.is_makers]
    law = [one for one in voices if one.rule.kind is Kind.LAW and one.known]
    if makers:
        found = _by_maker(method, makers, voices, facts, joint)
    else:
        found = _without_maker(method, [one for one in voices if one not in law], facts)
    return replace(_under_law(found, law), mind=mind)


def _voices(
    method: JoiningMethod, rules: Sequence[Rule], facts: Mapping[str, Value]
) -> list[_Voice]:
    says = {
        Effect.ACCEPT: Standing.ALLOWED,
        Effect.REQUIRE: Standing.ALLOWED,
        Effect.REJECT: Standing.REJECTED,
        Effect.ASK: Standing.ASK,
    }
    found = []
    for one in rules:
        if one.effect not in says:
            continue
        named = one.names(method)
        if not named and one.effect is not Effect.REQUIRE:
            continue
        applies = one.applies(facts)
        if applies is None and not one.is_makers:
            missing = set(one.needs(facts))
            if missing <= MEASURED_AT_THE_JOINT:
                continue
        if applies is not False:
            said = says[one.effect] if named else Standing.REJECTED
            found.append(_Voice(one, said, applies is True))
    return found


def _rules(voices: Sequence[_Voice], says: Standing | None = None) -> tuple[Rule, ...]:
    return tuple(one.rule for one in voices if says is None or one.says is says)


def _by_maker(
    method: JoiningMethod,
    makers: Sequence[_Voice],
    voices: Sequence[_Voice],
    facts: Mapping[str, Value],
    joint: JointToJoin,
) -> MethodStanding:
    open_ones = [one for one in makers if not one.known]
    rank = min(one.rule.rank for one in makers)
    top = [one for one in makers if one.rule.rank is rank]
    said = {one.says for one in top}
    if len(said) > 1:
        return MethodStanding(method, Standing.ASK, rank, _rules(top), in_conflict=True)
    if open_ones and open_ones[0] in top:
        needs = tuple(fact for one in open_ones for fact in one.rule.needs(facts))
        return MethodStanding(method, Standing.TELL, rank, _rules(top), needs=needs)
    standing = top[0].says
    against = tuple(
        one.rule for one in voices if one.known and one not in top and one.says is not standing
    )
    if standing is not Standing.ALLOWED:
        against = tuple(one for one in against if one.effect in (Effect.ACCEPT, Effect.REQUIRE))
        return MethodStanding(method, standing, rank, _rules(top), outranked=against)
    means = tuple(one for one in against if one.kind is Kind.MEANS)
    against = tuple(one for one in against if one not in means)
    obstacles = tuple(
        f"The maker's way, but as described it can't be done: {one.reason}" for one in means
    )
    told = joint.circumstances.means
    if told and method not in told:
        obstacles += (
            "The maker's way, but this shop has no machine or person for it: give the joint to a "
            "shop that has. Another method does not take its place.",
        )
    standing = Standing.ASK if obstacles else Standing.ALLOWED
    return MethodStanding(
        method,
        standing,
        rank,
        _rules(top),
        outranked=against,
        obstacles=obstacles,
        order=min(one.rule.order for one in top),
    )


def _without_maker(
    method: JoiningMethod, voices: Sequence[_Voice], facts: Mapping[str, Value]
) -> MethodStanding:
    known = [one for one in voices if one.known]
    guides = [
        one for one in known if one.rule.rank is Authority.STANDARD and one.says is Standing.ALLOWED
    ]
    against = [one for one in known if one.says is Standing.REJECTED]
    outranked: tuple[Rule, ...] = ()
    if guides:  # a permission of higher rank goes before ours, not before what is possible
        ours = [
            one
            for one in known
            if one.rule.rank is Authority.GENERIC
            and one.rule.kind is Kind.RULE
            and one.says is not Standing.ALLOWED
        ]
        outranked = _rules(ours)
        voices = [one for one in voices if one not in ours and one.known]
        against = [one for one in against if one not in ours]
    if against:
        over = tuple(one for one in _rules(known, Standing.ALLOWED) if one not in outranked)
        return _found(method, Standing.REJECTED, against, outranked=over)
    asks = [one for one in voices if one.known and one.says is Standing.ASK]
    if asks:
        return _found(method, Standing.ASK, asks)
    yes = [one for one in voices if one.says is Standing.ALLOWED]
    if not yes:
        return MethodStanding(method, Standing.ASK, Authority.REFUSE)
    not_yet = [one for one in voices if not one.known]
    sure = [one for one in yes if one.known]
    if sure and all(one.says is Standing.ALLOWED for one in not_yet):
        return _found(method, Standing.ALLOWED, sure, outranked=outranked)
    needs = [fact for one in (not_yet or yes) for fact in one.rule.needs(facts)]
    return _found(method, Standing.TELL, not_yet, needs=tuple(dict.fromkeys(needs)))


def _found(
    method: JoiningMethod,
    standing: Standing,
    voices: Sequence[_Voice],
    outranked: tuple[Rule, ...] = (),
    needs: tuple[str, ...] = (),
) -> MethodStanding:
    ordered = sorted(voices, key=lambda one: one.rule.order)
    return MethodStanding(
        method=method,
        standing=standing,
        authority=min(one.rule.rank for one in voices),
        reasons=_rules(ordered),
        outranked=outranked,
        needs=needs,
        order=ordered[0].rule.order,
    )


def _under_law(found: MethodStanding, law: Sequence[_Voice]) -> MethodStanding:
    """Let a local code forbid; against the maker's permission nobody here decides."""
    forbids = tuple(one.rule for one in law if one.says is not Standing.ALLOWED)
    if not forbids or found.standing is Standing.REJECTED:
        return found
    if found.is_makers:
        return replace(
            found, standing=Standing.ASK, reasons=(*found.reasons, *forbids), in_conflict=True
        )
    says = {one.says for one in law if one.rule in forbids}
    standing = Standing.REJECTED if Standing.REJECTED in says else Standing.ASK
    return replace(found, standing=standing, authority=forbids[0].rank, reasons=forbids, needs=())


def _squeeze(found: Sequence[MethodStanding]) -> Value:
    """Whether a squeeze-type spot is allowed: yes, no, ask, or None while a fact is missing."""
    standing = [one.standing for one in found]
    if Standing.ALLOWED in standing:
        return "yes"
    spot = found[0]
    if Standing.TELL in standing:
        return None
    return "no" if spot.standing is Standing.REJECTED else "ask"


def _without_squeeze(one: MethodStanding, found: Sequence[MethodStanding]) -> MethodStanding:
    """Ask for what the squeeze gun's rules need, in place of their result."""
    if "squeeze" not in one.needs:
        return one
    needs = [fact for each in found if each.method in SQUEEZE for fact in each.needs]
    rest = [fact for fact in one.needs if fact != "squeeze"]
    return replace(one, needs=tuple(dict.fromkeys([*needs, *rest])))


def _held(one: MethodStanding, held: Sequence[Rule]) -> MethodStanding:
    if one.standing is Standing.REJECTED:
        return one
    return replace(one, standing=Standing.ASK, reasons=(*held, *one.reasons), needs=())


def _place(one: MethodStanding) -> tuple[int, bool, int, int]:
    standing = tuple(Standing).index(one.standing)
    return standing, not one.is_makers, one.order, tuple(JoiningMethod).index(one.method)


def _outcome(methods: Sequence[MethodStanding], held: Sequence[Rule]) -> Outcome:
    standing = {one.standing for one in methods}
    if held:
        return Outcome.HOLD
    if Standing.ALLOWED in standing:
        return Outcome.ALLOWED
    return Outcome.TELL if Standing.TELL in standing else Outcome.ASK


def _open(methods: Sequence[MethodStanding]) -> list[MethodStanding]:
    """Return what may still be done, whoever has to say so."""
    return [one for one in methods if one.standing is not Standing.REJECTED]


def _first(
    rules: Sequence[Rule], facts: Mapping[str, Value], methods: Sequence[MethodStanding]
) -> tuple[Rule, ...]:
    return tuple(
        one
        for one in rules
        if one.effect is Effect.FIRST
        and one.applies(facts)
        and any(one.names(each.method) for each in _open(methods))
    )


def _tell(methods: Sequence[MethodStanding]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(fact for one in methods for fact in one.needs))


def _conflicts(
    rules: Sequence[Rule], facts: Mapping[str, Value], methods: Sequence[MethodStanding]
) -> tuple[PublishedConflict, ...]:
    """Return what published rules say differently about the methods that may still be taken."""
    open_ones = _open(methods)
    by_topic: dict[str, list[Rule]] = {}
    for one in rules:
        if one.effect is not Effect.SAYS or one.applies(facts) is False:
            continue
        if any(one.names(each.method) for each in open_ones):
            by_topic.setdefault(one.topic, []).append(one)
    return tuple(
        PublishedConflict(topic, tuple(found))
        for topic, found in by_topic.items()
        if len({(one.value, one.reason) for one in found}) > 1
    )


def _checks(joint: JointToJoin, methods: Sequence[MethodStanding]) -> tuple[str, ...]:
    """Say what must be measured at the joint because nobody told it."""
    if not any(one.method in SQUEEZE for one in _open(methods)):
        return ()
    told = joint.circumstances
    found = []
    if told.flange_width is None:
        width = flange_needed(joint)
        found.append(
            f"Flange width was not told: a spot needs {width * 1e3:.1f} mm here (5√t and 3 mm on "
            "each side)."
        )
    if told.arm_reach is None or told.reach_needed is None:
        found.append("Reach of the arms was not told: see that they close on the weld.")
    return tuple(found)
