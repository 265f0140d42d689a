"""``buttonhole job``: a vehicle and the joints on it."""

from enum import Enum
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import ByOption, JobArgument, RecordOption, desk_at, find_job, reading
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.desk import Desk
    from buttonhole.desk.view import JobView

Kind = TypeVar("Kind", bound=Enum)
PowertrainOption = Annotated[
    str,
    typer.Option(help=_("combustion, hybrid, electric, gas or unknown: the gates follow from it.")),
]
RepairOption = Annotated[
    str, typer.Option(help=_("yes or no: whether it was repaired there before."))
]


def open_(
    title: Annotated[str, typer.Argument(metavar="TITLE", help=_("What the shop calls it."))],
    vehicle: Annotated[str, typer.Option(help=_("Which vehicle, in your words."))],
    by: ByOption,
    vin: Annotated[str, typer.Option(help=_("Its VIN, if it has one."))] = "",
    area: Annotated[str, typer.Option(help=_("Where on the vehicle."))] = "",
    powertrain: PowertrainOption = "unknown",
    earlier_repair: RepairOption = "",
    demo: Annotated[
        bool, typer.Option("--demo", help=_("Every paper of this job says that it is a demo."))
    ] = False,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Open a job for a vehicle; begins the record if there is none."""
    from buttonhole.desk.open_job import OpenJob, open_job
    from buttonhole.vehicle.safety import Powertrain

    with desk_at(record, by, must_exist=False) as desk:
        drive = _choice("--powertrain", powertrain, Powertrain)
        job = open_job(desk, OpenJob(title, vehicle, vin, area, demo, drive, earlier_repair))
        told = _answer(desk, job)
    _tell(job, told, json)


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
        told = _answer(desk, found)
    _tell(found, told, json)


def vin(
    text: Annotated[str, typer.Argument(metavar="VIN", help=_("As on the plate."))],
    json: JsonOption = False,
) -> None:
    """Check a vehicle identification number; its check digit where the region has one."""
    from buttonhole.vehicle.vin import read_vin

    found = read_vin(text)
    if json:
        say.give_json(
            {
                "vin": found.text,
                "check_digit_applies": found.check_applies,
                "check_digit_fits": found.check_fits if found.check_applies else None,
                "remarks": list(found.remarks),
            }
        )
        return
    say.give_lines([found.text, *(found.remarks or (_("nothing remarkable"),))])


def intake(
    job: JobArgument,
    by: ByOption,
    vin: Annotated[str | None, typer.Option(help=_("Its VIN; as it was unless said."))] = None,
    powertrain: Annotated[
        str | None, typer.Option(help=_("What drives it; as it was unless said."))
    ] = None,
    earlier_repair: Annotated[
        str | None, typer.Option(help=_("yes or no; as it was unless said."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Tell what is known of the vehicle by now; which gates apply may change."""
    from buttonhole.desk.open_job import TellIntake, tell_intake
    from buttonhole.vehicle.safety import Powertrain

    with desk_at(record, by) as desk:
        found = find_job(desk, job)
        drive = (
            found.powertrain
            if powertrain is None
            else _choice("--powertrain", powertrain, Powertrain)
        )
        repaired = found.earlier_repair if earlier_repair is None else earlier_repair
        number = found.vin if vin is None else vin
        found = tell_intake(desk, TellIntake(found.id, number, drive, repaired))
        told = _answer(desk, found)
    _tell(found, told, json)


def gate(
    job: JobArgument,
    gate: Annotated[str, typer.Argument(metavar="GATE", help=_("Key of what is made safe."))],
    by: ByOption,
    remark: Annotated[str, typer.Option(help=_("What else is to be said."))] = "",
    answer: Annotated[
        str | None,
        typer.Option(help=_("done or not_needed; of implants cleared or not_cleared.")),
    ] = None,
    who: Annotated[str, typer.Option(help=_("Who made it safe, where that is another."))] = "",
    when: Annotated[str, typer.Option(help=_("Time of day it was made safe, e.g. 9:40."))] = "",
    wait: Annotated[
        str | None, typer.Option(metavar="TIME", help=_("The maker's waiting time, e.g. '3 min'."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Sign that one thing is made safe before work begins; `job show` lists them."""
    from buttonhole.desk.open_job import TickGate, tick_gate
    from buttonhole.vehicle.safety import Answer

    seconds = quantity("--wait", wait, "time")
    said = None if answer is None else _choice("--answer", answer, Answer)
    minutes = None if seconds is None else seconds / 60.0
    with desk_at(record, by) as desk:
        command = TickGate(find_job(desk, job).id, gate, remark, said, who, when, minutes)
        found = tick_gate(desk, command)
        told = _answer(desk, found)
    _tell(found, told, json)


def _choice(key: str, given: str, kind: type[Kind]) -> Kind:
    try:
        return kind(given)
    except ValueError:
        listed = ", ".join(one.value for one in kind)
        raise BadInput(key, _("is {!r}; give one of {}").format(given, listed)) from None


def _answer(desk: "Desk", job: "JobView") -> list[dict[str, Any]]:
    from buttonhole.desk.gates import gates_now

    return [
        {
            "gate": one.gate.key,
            "words": one.gate.words,
            "state": one.state,
            "because": one.because,
            "signed_by": one.view.actor or None,
            "at": one.view.at.isoformat() if one.view.at else None,
            "answer": one.view.answer or None,
            "made_safe_by": one.view.who or None,
            "made_safe_at": one.view.when or None,
            "wait_min": one.view.wait_minutes,
            "ready_at": one.ready_at.isoformat(timespec="minutes") if one.ready_at else None,
            "remark": one.view.remark or None,
        }
        for one in gates_now(desk, job)
    ]


def _tell(job: Any, gates: list[dict[str, Any]], json: bool) -> None:
    from buttonhole.cli.view_answer import joint_answer
    from buttonhole.cli.view_text import history_lines

    if json:
        keys = ("id", "title", "vehicle", "vin", "area", "demo", "opened_by")
        say.give_json(
            {key: getattr(job, key) for key in keys}
            | {
                "powertrain": job.powertrain.value,
                "earlier_repair": job.earlier_repair or None,
                "vin_remarks": list(job.vin_remarks),
                "gates": gates,
                "joints": [joint_answer(one) for one in job.joints],
            }
        )
        return
    lines = [f"{job.title}: {job.vehicle}" + (f", {job.area}" if job.area else "")]
    if job.demo:
        lines.append(_("DEMO: no paper of this job is valid"))
    lines += ["", _("Made safe (sign with `buttonhole job gate`)")]
    for one in gates:
        if one["state"] == "not needed":
            continue
        mark = f"[{one['signed_by'] or '    '}]"
        lines += say.wrapped(one["words"], first=f"  {mark} {one['gate']}: ", rest=" " * 11)
        if one["state"] not in ("signed", "open"):
            lines.append(f"           {one['state']}")
    lines += ["", _("Joints")]
    lines += [f"  {one.name}: {one.state.value}" for one in job.joints] or [
        "  " + _("none yet; add one with `buttonhole joint add`")
    ]
    say.give_lines([*lines, "", *history_lines(job.history)])
