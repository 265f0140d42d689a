"""``buttonhole rules``: the rules as data, in every version, and filing another one."""

from datetime import UTC, datetime
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    RecordOption,
    SeenOption,
    desk_at,
    find_joint,
)
from buttonhole.cli.method_text import rule_lines
from buttonhole.cli.quantities import day, quantity
from buttonhole.cli.verbs import judge
from buttonhole.cli.verbs.method import book_at
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput


def diameters(context: typer.Context, json: JsonOption = False) -> None:
    """List the rules for the smallest diameter, with who uses them and where they were read."""
    if context.invoked_subcommand is None:
        judge.rules(json=json)


def list_(
    topic: Annotated[str | None, typer.Option(help=_("Only this topic."))] = None,
    method: Annotated[str | None, typer.Option(help=_("Only what speaks of this method."))] = None,
    every: Annotated[
        bool, typer.Option("--all", help=_("Superseded versions and other joints' rules too."))
    ] = False,
    on: Annotated[
        str | None, typer.Option("--on", help=_("Rules in force on this day, year-month-day."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """List the rules for the way of joining that are in force, by rank."""
    from buttonhole.desk.method_answer import rule_answer
    from buttonhole.procedure.joining.method import find_method

    book = book_at(record)
    when = datetime.now(UTC).astimezone().date() if on is None else day("--on", on)
    found = book.rules if every else book.in_force(when)
    if topic is not None:
        topics = list(dict.fromkeys(one.topic for one in book.rules))
        if topic not in topics:
            raise BadInput("--topic", _("{!r} is none of: {}").format(topic, ", ".join(topics)))
        found = tuple(one for one in found if one.topic == topic)
    if method is not None:
        wanted = find_method(method)
        found = tuple(one for one in found if one.names(wanted))
    answers = [rule_answer(one) for one in found]
    if json:
        say.give_json({"rules": answers})
        return
    for one in answers:
        mark = f"  [{one['mark']}]" if one["mark"] else ""
        say.give_lines([f"{one['key']}@{one['version']}  {one['effect']}{mark}"])
        say.give_lines(say.wrapped(one["reason"], first="    "))


def show(
    key: Annotated[str, typer.Argument(metavar="KEY", help=_("A rule, or KEY@VERSION."))],
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Show a rule with all its versions, newest first; KEY@VERSION shows one."""
    from buttonhole.desk.method_answer import rule_answer

    book = book_at(record)
    found = book.find(key)
    versions = [found] if "@" in key else list(reversed(book.versions(found.key)))
    answers = [rule_answer(one) for one in versions]
    if json:
        say.give_json({"rules": answers})
        return
    for one in answers:
        say.give_lines(rule_lines(one))


Methods = Annotated[
    str, typer.Option("--method", help=_("Method or group, several with | between them."))
]
WhoseText = Annotated[
    str,
    typer.Option("--whose", help=_("procedure, general or answer (maker's); code, guide, shop.")),
]
Reference = Annotated[str, typer.Option("--reference", help=_("Document and page as printed."))]
Revision = Annotated[str, typer.Option("--revision", help=_("Revision or date as printed."))]
ReadOn = Annotated[str, typer.Option("--read-on", help=_("Day it was read, year-month-day."))]
Words = Annotated[str, typer.Option("--text", help=_("What it says."))]
SaysOfIt = Annotated[str, typer.Option("--says", help=_("requires, permits or forbids."))]
ForJoint = Annotated[str | None, typer.Option("--joint", help=_("The joint it is for."))]
AppliesTo = Annotated[
    str, typer.Option("--applies-to", help=_("Joints it applies to, e.g. 'zone = pillar_foot'."))
]
Supersedes = Annotated[
    str, typer.Option("--supersedes", metavar="KEY", help=_("Rule it takes the place of."))
]
Topic = Annotated[str | None, typer.Option("--topic", help=_("Topic of a figure."))]
Figure = Annotated[str, typer.Option("--value", help=_("The figure."))]
Unit = Annotated[str, typer.Option("--unit", help=_("Its unit."))]
ValidFrom = Annotated[str | None, typer.Option("--valid-from", help=_("First day it holds."))]
Factor = Annotated[float | None, typer.Option("--spots-factor", help=_("New spots per old one."))]
Minimum = Annotated[str | None, typer.Option("--minimum", help=_("Least diameter it asks for."))]


def file(
    methods: Methods,
    whose: WhoseText,
    reference: Reference,
    revision: Revision,
    read_on: ReadOn,
    text: Words,
    by: ByOption,
    says: SaysOfIt = "permits",
    joint: ForJoint = None,
    applies_to: AppliesTo = "",
    key: Supersedes = "",
    topic: Topic = None,
    value: Figure = "",
    unit: Unit = "",
    valid_from: ValidFrom = None,
    spots_factor: Factor = None,
    minimum: Minimum = None,
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """File a rule: the maker's answer for a joint, a code of the place, the shop's own."""
    from buttonhole.desk.file_rule import FileRule, file_rule
    from buttonhole.desk.method_answer import rule_answer
    from buttonhole.procedure.joining.maker_text import Says, Whose
    from buttonhole.procedure.joining.rule import METHOD

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint) if joint else None
        command = FileRule(
            methods=methods,
            whose=_one_of(Whose, "--whose", whose),
            reference=reference,
            revision=revision,
            read_on=day("--read-on", read_on),
            text=text,
            says=_one_of(Says, "--says", says),
            joint_id=found.id if found else None,
            seen=seen or (found.seen if found else None),
            applies_to=applies_to,
            topic=topic or METHOD,
            value=value,
            unit=unit,
            key=key,
            valid_from=None if valid_from is None else day("--valid-from", valid_from),
            spots_factor=spots_factor,
            minimum_diameter=quantity("--minimum", minimum, "length"),
        )
        answer = rule_answer(file_rule(desk, command))
    if json:
        say.give_json(answer)
    else:
        say.give_lines([_("Filed:"), *rule_lines(answer)])


def _one_of(kind: type, option: str, given: str):  # type: ignore[no-untyped-def] # gives one of the kind
    try:
        return kind(given.strip().casefold())
    except ValueError:
        listed = ", ".join(one.value for one in kind)  # type: ignore[attr-defined] # an enumeration
        raise BadInput(option, _("is {!r}; give one of {}").format(given, listed)) from None
