"""File a rule: the maker's answer for a joint, a code of the place, the shop's own."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from buttonhole.desk.cite_procedure import figures
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.rule_book import FILED, rule_book
from buttonhole.desk.saving import about_joint, append, save
from buttonhole.desk.view import JointView
from buttonhole.procedure.authority import MakerProcedure
from buttonhole.procedure.joining.book import RuleBook
from buttonhole.procedure.joining.maker_text import Says, StatedRule, Whose, key_of, rule_of
from buttonhole.procedure.joining.method import SQUEEZE, methods_named
from buttonhole.procedure.joining.rule import METHOD, Effect, Rule
from buttonhole.record.event import Draft
from buttonhole.units import BadInput

ABOUT_RULES = "rules"


@dataclass(frozen=True, slots=True)
class FileRule:
    """A text somebody read, or a rule of the shop, and which joints it is for.

    Without `joint_id` it holds for every joint to which `applies_to` applies. `topic`, `value` and
    `unit` make it a figure in place of a word about methods ("number of spots", "1.3"). `key` is
    that of a rule this one takes the place of. `read_by` is the person at the desk when left out.
    """

    methods: str
    whose: Whose
    reference: str
    revision: str
    read_on: date
    text: str
    says: Says = Says.PERMITS
    joint_id: str | None = None
    seen: str | None = None
    read_by: str = ""
    applies_to: str = ""
    topic: str = METHOD
    value: str = ""
    unit: str = ""
    key: str = ""
    valid_from: date | None = None
    spots_factor: float | None = None
    minimum_diameter: float | None = None


def file_rule(desk: Desk, command: FileRule) -> Rule:
    """
    File a rule. What it takes the place of stays in the record and in what was decided by it.

    The maker's own word for one joint is also the joint's authority, unless a text of his of a
    higher rank is cited there already.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : FileRule
        The rule.

    Returns
    -------
    Rule
        With its version.

    Raises
    ------
    BadInput
        When a part is missing, or it would take the place of a rule it can't.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id) if command.joint_id else None
    today = desk.shop_time(desk.now()).date()
    for key, day in (("read_on", command.read_on), ("valid_from", command.valid_from)):
        if key == "read_on" and day is not None and day > today:
            raise BadInput(key, f"is {day.isoformat()}, a day that is still to come")
    if command.whose.rank.is_makers and joint is None and not command.applies_to.strip():
        raise BadInput(
            "applies_to",
            "is missing; a maker's text holds for his vehicles only: give the joint, or say to "
            "which joints it applies",
        )
    rule = _rule(desk, command, rule_book(desk), joint)
    about = (ABOUT_RULES, *(about_joint(joint.job_id, joint.id) if joint else ()))
    payload: dict[str, Any] = {"rule": rule}
    if joint is None:
        append(desk, [desk.draft(FILED, about, payload)], {})
        return rule
    payload |= {"job": joint.job_id, "joint": joint.id}
    drafts = [desk.draft(FILED, about, payload), *_authority(desk, command, rule, joint)]
    save(desk, drafts, f"joint/{joint.id}", command.seen)
    return rule


def _rule(desk: Desk, command: FileRule, book: RuleBook, joint: JointView | None) -> Rule:
    stated = StatedRule(
        methods=_methods(command.methods),
        says=command.says,
        whose=command.whose,
        reference=text("reference", command.reference, longest=400),
        revision=text("revision", command.revision),
        read_on=command.read_on,
        read_by=text("read_by", command.read_by or desk.actor),
        text=text("text", command.text, longest=LONGEST_TEXT // 4),
        applies_to=text("applies_to", command.applies_to, need=False, longest=400),
    )
    scope = f"joint/{joint.id}" if joint else ""
    own = f"-{joint.id[-6:].casefold()}" if joint else ""
    key = command.key.strip() or key_of(stated) + own
    older = book.versions(key)
    if command.key.strip() and not older:
        book.find(key)  # says which keys are near
    if older and older[-1].scope != scope:
        raise BadInput(
            "key", f"{key} is for other joints; a rule takes the place of one with the same reach"
        )
    version = book.next_version(key)
    rule = rule_of(stated, key=key, version=version, valid_from=command.valid_from, scope=scope)
    if command.topic == METHOD:
        return rule
    return replace(
        rule,
        topic=text("topic", command.topic),
        effect=Effect.SAYS,
        value=text("value", command.value),
        unit=text("unit", command.unit, need=False),
    )


def _methods(given: str) -> str:
    methods_named(given)
    return "|".join(one.strip() for one in given.split("|"))


def _authority(desk: Desk, command: FileRule, rule: Rule, joint: JointView) -> list[Draft]:
    """The maker's word as the joint's authority, where none of his stands before it."""
    if not command.whose.rank.is_makers or rule.effect is Effect.SAYS:
        return []
    standing = joint.procedure.authority if joint.procedure else None
    if isinstance(standing, MakerProcedure) and standing.authority < command.whose.rank:
        return []
    named = methods_named(rule.methods)
    spot = set(SQUEEZE) & set(named)
    if command.says is Says.FORBIDS and not spot:
        return []  # says nothing about what is done in its place
    procedure = MakerProcedure(
        reference=rule.source,
        revision=rule.revision,
        read_on=command.read_on,
        read_by=rule.filed_by,
        says=rule.reason,
        authority=command.whose.rank,
        permits=command.says is not Says.FORBIDS,
        method="spot" if spot else named[0].value,
    )
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "procedure": procedure,
        "rules": figures(command.spots_factor, command.minimum_diameter),
        "rule": rule.name,
    }
    return [desk.draft("procedure_cited", about_joint(joint.job_id, joint.id), payload)]
