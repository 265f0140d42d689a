"""``buttonhole method``: which way a joint may be joined, and why not another."""

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    JointArgument,
    RecordOption,
    SeenOption,
    desk_at,
    find_joint,
    reading,
    record_path,
)
from buttonhole.cli.quantities import day
from buttonhole.cli.verbs.joint import tell
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.print_letter import Addressed
    from buttonhole.procedure.joining.book import RuleBook
    from buttonhole.procedure.joining.decision import Decision

FileOrJoint = Annotated[
    str,
    typer.Argument(
        metavar="FILE|JOINT", help=_("A joint file or weld file, or a joint of the record.")
    ),
]


def method(
    joint: FileOrJoint,
    on: Annotated[
        str | None, typer.Option("--on", help=_("Rules in force on this day, year-month-day."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say which ways of joining are allowed, which wait for the maker, and why not the others."""
    from buttonhole.cli.method_text import method_lines
    from buttonhole.desk.decide_method import joint_decision
    from buttonhole.desk.method_answer import method_answer

    if is_file(joint):
        decision = of_file(Path(joint), on, record)
    else:
        with reading(record) as desk:
            decision = joint_decision(desk, find_joint(desk, joint))
    answer = method_answer(decision)
    if json:
        say.give_json(answer)
    else:
        say.give_lines(method_lines(answer))


def is_file(called: str) -> bool:
    """Whether somebody means a file, not a joint of the record."""
    return Path(called).exists() or called.endswith(".toml") or called.startswith(("/", "./"))


def of_file(path: Path, on: str | None, record: Path | None = None) -> "Decision":
    """Decide about the joint of a file.

    Parameters
    ----------
    path : Path
        A joint file or weld file.
    on : str or None
        The day; today when left out.
    record : Path or None
        The record whose filed rules count too; the usual one, if it is there.

    Returns
    -------
    Decision
        Every way of joining with its reasons.

    Raises
    ------
    BadInput
        The file, or the day.
    """
    from buttonhole.desk.joint_file import read_joint_file
    from buttonhole.desk.weld_file import named_file
    from buttonhole.procedure.joining.decide import decide

    described = read_joint_file(path)
    today = datetime.now(UTC).astimezone().date()
    when = today if on is None else day("--on", on)
    book = book_at(record)
    with named_file(path):
        return decide(described.joint, book.with_filed(described.rules), when)


def book_at(record: Path | None) -> "RuleBook":
    """The program's rules, with those filed in a record, where there is one.

    Parameters
    ----------
    record : Path or None
        The record's file; the usual one when left out.

    Returns
    -------
    RuleBook
        In every version.

    Raises
    ------
    BadInput
        The record named is not there.
    """
    from buttonhole.desk.rule_book import rule_book
    from buttonhole.procedure.joining.book import built_in

    if record is None and not record_path(None).exists():
        return built_in()
    with reading(record) as desk:
        return rule_book(desk)


def choose(
    joint: JointArgument,
    way: Annotated[str, typer.Argument(metavar="METHOD", help=_("One of those allowed."))],
    by: ByOption,
    because: Annotated[str, typer.Option(help=_("Why this one, in your words."))] = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Choose a way of joining; the rules of the day are written down with it."""
    from buttonhole.desk.decide_method import ChooseMethod, choose_method
    from buttonhole.procedure.joining.method import find_method

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = ChooseMethod(found.id, seen or found.seen, find_method(way), because)
        found = choose_method(desk, command)
    tell(found, json)


def circumstances(
    joint: JointArgument,
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help=_("Joint file with [circumstances]."))
    ],
    by: ByOption,
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Tell what is around a joint: the table [circumstances] of a joint file."""
    from dataclasses import replace

    from buttonhole.desk.decide_method import TellCircumstances, tell_circumstances
    from buttonhole.desk.joint_file import read_joint_file

    described = read_joint_file(file).joint
    aluminium = tuple(
        place for place, one in enumerate(described.sheets, start=1) if one.is_aluminium
    )
    told = replace(described.circumstances, aluminium=aluminium)
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        found = tell_circumstances(desk, TellCircumstances(found.id, seen or found.seen, told))
    tell(found, json)


def letter(
    joint: FileOrJoint,
    target: Annotated[Path, typer.Argument(metavar="PDF", help=_("Where the letter goes."))],
    by: ByOption,
    vehicle: Annotated[str, typer.Option(help=_("Vehicle; for a joint of a file."))] = "",
    name: Annotated[str, typer.Option(help=_("Name and place of the joint of a file."))] = "",
    means: Annotated[str, typer.Option(help=_("Machines and people at hand."))] = "",
    needed_by: Annotated[
        str | None, typer.Option(help=_("Day the answer is needed by, year-month-day."))
    ] = None,
    on: Annotated[
        str | None, typer.Option("--on", help=_("Date of the letter about a file; today."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Draft the letter to the maker: the joint, what is known, what conflicts, the questions."""
    from dataclasses import replace

    from buttonhole.cli.papers import write_paper
    from buttonhole.desk.print_letter import PrintLetter, letter_for, print_letter

    until = None if needed_by is None else day("--needed-by", needed_by)
    if is_file(joint):
        decision = of_file(Path(joint), on, record)
        addressed = _addressed(decision, Path(joint).stem, vehicle, name)
        addressed = replace(addressed, sender=by, means=means, needed_by=until)
        write_paper(target, lambda: letter_for(decision, addressed), json)
        return
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = PrintLetter(found.id, by, means, until)
        write_paper(target, lambda: print_letter(desk, command), json)


def _addressed(decision: "Decision", stem: str, vehicle: str, name: str) -> "Addressed":
    """What a letter about a file says of itself; its date is that of the rules."""
    from buttonhole.desk.print_letter import Addressed

    if not vehicle.strip():
        raise BadInput("--vehicle", _("is missing; the maker must know which vehicle"))
    when = decision.on
    return Addressed(
        letter_id=f"Q-{stem[:40]}-{when:%Y%m%d}",
        vehicle=vehicle,
        vin="",
        joint=name or stem,
        sender="",
        issued=datetime(when.year, when.month, when.day, tzinfo=UTC),
    )
