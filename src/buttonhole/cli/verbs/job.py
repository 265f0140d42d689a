"""``buttonhole job``: a vehicle and the joints on it."""

from typing import Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import ByOption, JobArgument, RecordOption, desk_at, find_job, reading
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _


def open_(
    title: Annotated[str, typer.Argument(metavar="TITLE", help=_("What the shop calls it."))],
    vehicle: Annotated[str, typer.Option(help=_("Which vehicle, in your words."))],
    by: ByOption,
    vin: Annotated[str, typer.Option(help=_("Its VIN, if it has one."))] = "",
    area: Annotated[str, typer.Option(help=_("Where on the vehicle."))] = "",
    demo: Annotated[
        bool, typer.Option("--demo", help=_("Every paper of this job says that it is a demo."))
    ] = False,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Open a job for a vehicle; begins the record if there is none."""
    from buttonhole.desk.open_job import OpenJob, open_job

    with desk_at(record, by, must_exist=False) as desk:
        job = open_job(desk, OpenJob(title, vehicle, vin, area, demo))
    _tell(job, json)


def list_(record: RecordOption = None, json: JsonOption = False) -> None:
    """List the jobs, the newest first."""
    from buttonhole.desk.read_job import list_jobs

    with reading(record) as desk:
        lines = list_jobs(desk)
    if json:
        keys = ("id", "title", "vehicle", "vin", "demo", "opened_by")
        told = [
            {key: getattr(one, key) for key in keys} | {"opened_at": one.opened_at.isoformat()}
            for one in lines
        ]
        say.give_json({"jobs": told})
        return
    say.give_lines(
        f"{one.opened_at.astimezone():%Y-%m-%d}  {one.title}: {one.vehicle}" for one in lines
    )


def show(job: JobArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Show a job: its joints and what happened."""
    with reading(record) as desk:
        found = find_job(desk, job)
    _tell(found, json)


def gate(
    job: JobArgument,
    gate: Annotated[str, typer.Argument(metavar="GATE", help=_("Key of what is made safe."))],
    by: ByOption,
    remark: Annotated[str, typer.Option(help=_("What else is to be said."))] = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Sign that one thing is made safe before work begins; `job show` lists them."""
    from buttonhole.desk.open_job import TickGate, tick_gate

    with desk_at(record, by) as desk:
        found = tick_gate(desk, TickGate(find_job(desk, job).id, gate, remark))
    _tell(found, json)


def _tell(job: Any, json: bool) -> None:
    from buttonhole.cli.view_answer import joint_answer
    from buttonhole.cli.view_text import history_lines

    if json:
        keys = ("id", "title", "vehicle", "vin", "area", "demo", "opened_by")
        say.give_json(
            {key: getattr(job, key) for key in keys}
            | {"joints": [joint_answer(one) for one in job.joints]}
        )
        return
    lines = [f"{job.title}: {job.vehicle}" + (f", {job.area}" if job.area else "")]
    if job.demo:
        lines.append(_("DEMO: no paper of this job is valid"))
    lines += ["", _("Made safe (sign with `buttonhole job gate`)")]
    for one in job.gates:
        mark = f"[{one.actor}]" if one.at else "[    ]"
        lines += say.wrapped(one.words, first=f"  {mark} {one.key}: ", rest=" " * 11)
    lines += ["", _("Joints")]
    lines += [f"  {one.name}: {one.state.value}" for one in job.joints] or [
        "  " + _("none yet; add one with `buttonhole joint add`")
    ]
    say.give_lines([*lines, "", *history_lines(job.history)])
