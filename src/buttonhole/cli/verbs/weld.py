"""``buttonhole weld`` and ``fire``: the welds on the vehicle, and the watch after the last one."""

from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    JobArgument,
    JointArgument,
    RecordOption,
    SeenOption,
    desk_at,
    find_job,
    find_joint,
    reading,
)
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.joint import NoteOption
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.desk import Desk

NumberOption = Annotated[
    int | None, typer.Option("--number", help=_("Which weld; the next one unless said."))
]


def plan(
    joint: JointArgument,
    count: Annotated[int, typer.Argument(metavar="COUNT", help=_("Welds on the vehicle."))],
    by: ByOption,
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say how many welds a joint gets on the vehicle."""
    from buttonhole.desk.weld_vehicle import PlanWelds, plan_welds

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        plan_welds(desk, PlanWelds(found.id, seen or found.seen, count))
        told = _answer(desk, found.id)
    _tell(told, json)


def made(
    joint: JointArgument,
    by: ByOption,
    number: NumberOption = None,
    note: NoteOption = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Note a weld that was made on the vehicle; without a release it is a deviation, never lost."""
    from buttonhole.desk.weld_vehicle import TickWeld, tick_weld

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        tick_weld(desk, TickWeld(found.id, number, note))
        told = _answer(desk, found.id)
    _tell(told, json)


def undo(
    joint: JointArgument,
    number: Annotated[int, typer.Argument(metavar="NUMBER", help=_("Which weld."))],
    because: Annotated[str, typer.Option(help=_("Why; it stays beside the tick."))],
    by: ByOption,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Take back the tick of a weld; the tick stays readable."""
    from buttonhole.desk.weld_vehicle import UndoWeld, undo_weld

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        undo_weld(desk, UndoWeld(found.id, number, because))
        told = _answer(desk, found.id)
    _tell(told, json)


def show(joint: JointArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Show what is welded of a joint, and what is left of its release and of the tips."""
    with reading(record) as desk:
        told = _answer(desk, find_joint(desk, joint).id)
    _tell(told, json)


def check(
    joint: JointArgument,
    by: ByOption,
    wedged: Annotated[
        list[int] | None, typer.Option(help=_("A weld a wedge was put beside; again for more."))
    ] = None,
    bad: Annotated[
        list[int] | None, typer.Option(help=_("A weld that is not good; again for more."))
    ] = None,
    note: NoteOption = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Note that every weld was looked at from both sides, and which are not good."""
    from buttonhole.desk.close_joint import CheckWelds, check_welds

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = CheckWelds(
            found.id, seen or found.seen, tuple(wedged or ()), tuple(bad or ()), note
        )
        check_welds(desk, command)
        told = _answer(desk, found.id)
    _tell(told, json)


def close(
    joint: JointArgument,
    protection: Annotated[str, typer.Option(help=_("What protects the welds from behind."))],
    by: ByOption,
    deviations: Annotated[
        str, typer.Option(help=_("Why welds were made without a release, what makes them good."))
    ] = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Close a joint whose welds are made, checked, and watched for fire."""
    from buttonhole.desk.close_joint import CloseJoint, ClosingRefused, close_joint

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        try:
            close_joint(desk, CloseJoint(found.id, seen or found.seen, protection, deviations))
        except ClosingRefused as refused:
            raise BadInput("", str(refused)) from refused
        told = _answer(desk, found.id)
    _tell(told, json)


def fire_show(job: JobArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Show the fire watch of a job."""
    with reading(record) as desk:
        told = _watch(desk, find_job(desk, job).id)
    _tell_watch(told, json)


def fire_set(
    job: JobArgument,
    time: Annotated[str, typer.Argument(metavar="TIME", help=_("How long, e.g. '45 min'."))],
    by: ByOption,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say how long somebody stays after the last weld, half an hour to four."""
    from buttonhole.desk.watch_fire import SetFireWatch, set_fire_watch

    seconds = quantity("TIME", time, "time") or 0.0
    with desk_at(record, by) as desk:
        found = find_job(desk, job)
        set_fire_watch(desk, SetFireWatch(found.id, seconds / 60.0))
        told = _watch(desk, found.id)
    _tell_watch(told, json)


def fire_end(
    job: JobArgument,
    found: Annotated[str, typer.Option(help=_("nothing or something."))],
    by: ByOption,
    note: NoteOption = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Sign the end of the fire watch, and whether something was found."""
    from buttonhole.desk.watch_fire import EndFireWatch, end_fire_watch

    with desk_at(record, by) as desk:
        there = find_job(desk, job)
        end_fire_watch(desk, EndFireWatch(there.id, found, note))
        told = _watch(desk, there.id)
    _tell_watch(told, json)


def _answer(desk: "Desk", joint_id: str) -> dict[str, Any]:
    from buttonhole.desk.welding_answer import welding_answer

    return welding_answer(desk, joint_id)


def _watch(desk: "Desk", job_id: str) -> dict[str, Any]:
    from buttonhole.desk.welding_answer import watch_answer

    return watch_answer(desk, job_id)


def _tell(told: dict[str, Any], json: bool) -> None:
    if json:
        say.give_json(told)
        return
    goal = told["goal"]
    of = "" if goal is None else _(" of {}").format(goal)
    lines = [
        _("{}: {}").format(told["joint"], told["state"]),
        _("  {}{} welds made").format(len(told["made"]), of),
    ]
    if told["release_holds"]:
        left = told["welds_left"]
        welds = "" if left is None else _("{} welds and ").format(left)
        lines.append(_("  the release holds for {}{:.0f} min").format(welds, told["time_left_min"]))
    else:
        lines += [f"  {one}" for one in told["ended"]]
    if told["tips"]:
        due = _("dress them now") if told["tips"]["due"] else _("not due")
        many, every = told["tips"]["welds"], told["tips"]["every"]
        lines.append(_("  tips: {} welds since dressing, {} at most: {}").format(many, every, due))
    late = [str(one["number"]) for one in told["made"] if one["late"]]
    if late:
        lines.append(_("  made while no release held: {}").format(", ".join(late)))
    for one in told["undone"]:
        lines.append(
            _("  weld {} taken back by {}: {}").format(
                one["number"], one["undone_by"], one["reason"]
            )
        )
    say.give_lines(lines)


def _tell_watch(told: dict[str, Any], json: bool) -> None:
    if json:
        say.give_json(told)
    elif told["until"] is None:
        say.give_lines([_("nothing is welded yet; the watch starts with the first weld ticked")])
    elif not told["owed"]:
        by = told["signed"]["by"]
        say.give_lines([_("fire watch done, signed by {}").format(by)])
    else:
        say.give_lines(
            [_("stay for {:.0f} min more, until {}").format(told["left_min"], told["until"])]
            if told["left_min"]
            else [_("the time is over: look once more and sign with `fire end`")]
        )
