"""``buttonhole release``, ``end`` and ``card``: permission to weld, its end and its paper."""

from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    JointArgument,
    RecordOption,
    SeenOption,
    desk_at,
    find_joint,
)
from buttonhole.cli.verbs.joint import tell
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput


def release(
    joint: JointArgument,
    by: ByOption,
    hours: Annotated[
        float | None, typer.Option(help=_("How long it holds; the usual time unless said."))
    ] = None,
    welds: Annotated[
        int | None, typer.Option(help=_("How many welds it holds for; the usual number."))
    ] = None,
    all_the_same: Annotated[
        str,
        typer.Option(
            metavar="REASON",
            help=_("Release although it is not sure enough: why. Two people sign."),
        ),
    ] = "",
    signed_by: Annotated[str, typer.Option(help=_("First of the two who sign."))] = "",
    and_by: Annotated[str, typer.Option(help=_("Second of the two who sign."))] = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Release the set-up; refused with every reason unless it is sure enough."""
    from buttonhole.desk.release_set_up import ReleaseSetUp, release_set_up
    from buttonhole.procedure.authority import Deviation

    signed = None
    if all_the_same or signed_by or and_by:
        signed = Deviation(all_the_same, signed_by, and_by)
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = ReleaseSetUp(found.id, seen or found.seen, hours, welds, "", signed)
        found = release_set_up(desk, command)
    tell(found, json)


def end(
    joint: JointArgument,
    because: Annotated[str, typer.Option(metavar="KEY", help=_("What happened; see the card."))],
    by: ByOption,
    detail: Annotated[str, typer.Option(help=_("More about it, in your words."))] = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """End the release of a joint because of something that happened."""
    from buttonhole.desk.release_set_up import EndRelease, end_release
    from buttonhole.procedure.validity import EndCondition

    try:
        condition = EndCondition(because)
    except ValueError:
        listed = ", ".join(EndCondition)
        raise BadInput("--because", _("is {!r}; give one of {}").format(because, listed)) from None
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        found = end_release(desk, EndRelease(found.id, seen or found.seen, condition, detail))
    tell(found, json)


def card(
    joint: JointArgument,
    target: Annotated[Path, typer.Argument(metavar="PDF", help=_("Where the card goes."))],
    by: ByOption,
    group: Annotated[str, typer.Option(help=_("Letter of the set-up group."))] = "A",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Print the A6 bay card of the release that holds, as PDF."""
    from buttonhole.cli.papers import write_paper
    from buttonhole.desk.print_card import PrintCard, print_card

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        write_paper(target, lambda: print_card(desk, PrintCard(found.id, group)), json)
    if not json:
        say.give_lines([_("Hang it at the gun; take it down when the release ends.")])
