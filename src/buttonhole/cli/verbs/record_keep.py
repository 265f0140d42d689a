"""``buttonhole record``: archives, backups, names of people, and how long what is kept."""

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    RecordOption,
    desk_at,
    find_job,
    reading,
    record_path,
)
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.verbs.record_sign import DeviceOption, device_of, new_file
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.record.store import EventStore
    from buttonhole.record.verify import Report

VIN = re.compile(r"[A-HJ-NPR-Z0-9]{17}")
FileArgument = Annotated[Path, typer.Argument(metavar="FILE", help=_("The file."))]
PersonArgument = Annotated[
    str, typer.Argument(metavar="PERSON", help=_("The name as it stands in the record."))
]


def archive(
    vehicle: Annotated[str, typer.Argument(metavar="VEHICLE", help=_("VIN, or title of a job."))],
    target: FileArgument,
    by: ByOption,
    names: Annotated[bool, typer.Option(help=_("With the names of people, or without."))] = True,
    device: DeviceOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Write the archive of a vehicle: one file that can be read and checked without the program."""
    from buttonhole.desk.make_archive import MakeArchive, make_archive

    new_file(target)
    with desk_at(record, by) as desk:
        store = cast("EventStore", desk.store)
        called = vehicle.upper().replace(" ", "")
        if VIN.fullmatch(called) and store.last(f"vin/{called}"):
            wanted = MakeArchive(vin=called, with_names=names)
        else:
            wanted = MakeArchive(job_id=find_job(desk, vehicle).id, with_names=names)
        made = make_archive(desk, store, device_of(record, device), wanted)
    target.write_bytes(made.data)
    told = {
        "file": str(target),
        "sha256": made.sha256,
        "bytes": len(made.data),
        "events": made.events,
        "files": made.files,
        "lacking": list(made.lacking),
        "public_key": made.public,
    }
    if json:
        say.give_json(told)
        return
    say.give_lines(
        [
            _("{}: {} events, {} files, SHA-256 {}").format(
                target, made.events, made.files, made.sha256
            ),
            _("Signed by the key {}").format(made.public),
            *(_("Named in an event and not kept here: {}").format(one) for one in made.lacking),
        ]
    )


def take_in(
    source: FileArgument, by: ByOption, record: RecordOption = None, json: JsonOption = False
) -> None:
    """Take in the archive of another site: the union of both, nothing overwritten."""
    from buttonhole.desk.import_archive import import_archive

    with desk_at(record, by, must_exist=False) as desk:
        found = import_archive(desk, cast("EventStore", desk.store), source)
    conflicts = [
        {"joint": one.joint, "ours": one.ours, "theirs": one.theirs} for one in found.conflicts
    ]
    if json:
        told = {"vin": found.vin, "origin": found.origin, "new": found.new, "known": found.known}
        told |= {"files": found.files, "known_key": found.known_key, "conflicts": conflicts}
        say.give_json(told)
        return
    lines = [_("{} new events, {} known already.").format(found.new, found.known)]
    if not found.known_key:
        words = _("First archive signed by the key {}...; compare it with a paper of that shop.")
        lines.append(words.format(found.origin))
    for one in found.conflicts:
        words = _("Released twice, {}: {} / {}. Both stand; decide, and end one.")
        lines.append(words.format(one.joint, one.ours, one.theirs))
    say.give_lines(lines)


def back_up(target: FileArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Copy the record to a new file while it is in use, and check the copy."""
    from buttonhole.desk.back_up import back_up as copy

    with reading(record) as desk:
        found = copy(cast("EventStore", desk.store), target)
    _tell_copy(found.target, found.size, found.report, json)


def restore(source: FileArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Bring a backup back to where no record is, and check it."""
    from buttonhole.desk.back_up import restore as copy
    from buttonhole.record.store import StoreTrouble

    try:
        found = copy(source, record_path(record))
    except StoreTrouble as trouble:
        raise BadInput("", trouble.message) from trouble
    _tell_copy(found.target, found.size, found.report, json)


def drill(by: ByOption, record: RecordOption = None, json: JsonOption = False) -> None:
    """Prove that a backup would do: make one, bring it back elsewhere, check, compare."""
    from buttonhole.desk.back_up import drill as prove

    with desk_at(record, by) as desk:
        found = prove(desk, cast("EventStore", desk.store))
    if json:
        told = {"good": found.good, "events": found.report.events, "head": found.report.head}
        say.give_json(told | {"files": found.files, "differs": list(found.differs)})
    if not found.good:
        raise BadInput(str(record_path(record)), "; ".join([*found.differs, found.report.words]))
    if not json:
        words = _("A backup was made, brought back and checked: {} events, {} files, the same.")
        say.give_lines([words.format(found.report.events, found.files)])


def upgrade(record: RecordOption = None, json: JsonOption = False) -> None:
    """Bring a record of an earlier program to the form of this one; every event stays as it is."""
    with desk_at(record, "upgrade") as desk:
        count, head = desk.store.head()
    if json:
        say.give_json({"events": count, "head": head})
        return
    say.give_lines([_("The record is in the form of this program: {} events.").format(count)])


def person(name: PersonArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Show everything the record holds about a person: for the person, on request."""
    from buttonhole.desk.conflict import NotThere
    from buttonhole.desk.withhold_person import export_person

    with reading(record) as desk:
        try:
            found = export_person(cast("EventStore", desk.store), name)
        except NotThere as missing:
            raise BadInput("PERSON", str(missing)) from missing
    keys = ("event_id", "at", "type", "words", "open")
    entries = [{key: getattr(one, key) for key in keys} for one in found.entries]
    if json:
        say.give_json({"person": found.name, "entries": entries, "has_key": found.has_key})
        return
    say.give_lines(f"{one.at[:16].replace('T', ' ')}  {one.words}" for one in found.entries)


def withhold(
    name: PersonArgument,
    reason: Annotated[str, typer.Option(help=_("Why; without the name."))],
    by: ByOption,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Take a person's name out of the record; every entry stays, and the chain stays whole."""
    from buttonhole.desk.withhold_person import withhold_person

    with desk_at(record, by) as desk:
        found = withhold_person(desk, cast("EventStore", desk.store), name, reason)
    if json:
        told = {"entries": len(found.entries), "open_entries": found.open_entries}
        say.give_json(told)
        return
    lines = [_("Taken out of {} entries.").format(len(found.entries) - found.open_entries)]
    if found.open_entries:
        words = _("{} entries hold the name in their own words and keep it.")
        lines.append(words.format(found.open_entries))
    lines.append(_("Backups and archives made before still have it."))
    say.give_lines(lines)


def retention(
    vehicle_years: Annotated[int, typer.Option(help=_("Years for vehicles."))] = 25,
    training_years: Annotated[int, typer.Option(help=_("Years for training."))] = 10,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say until when each job is to be kept, and which are due; nothing is deleted."""
    from buttonhole.desk.retention import RetentionPolicy
    from buttonhole.desk.retention import retention as kept_until

    if not (0 < vehicle_years <= 100 and 0 < training_years <= 100):
        raise BadInput("--vehicle-years", _("years are whole numbers from 1 to 100"))
    with reading(record) as desk:
        found = kept_until(desk, RetentionPolicy(vehicle_years, training_years))
    if json:
        rows = [
            {
                "job": one.job_id,
                "title": one.title,
                "kind": one.kind,
                "last_entry": one.last.date().isoformat(),
                "keep_until": one.until.date().isoformat(),
                "due": one.due,
            }
            for one in found
        ]
        say.give_json({"jobs": rows, "due": sum(one.due for one in found)})
        return
    say.give_lines(
        f"{one.until.date().isoformat()}  {one.title} ({one.kind})"
        + (_(": due, decide whether to keep it") if one.due else "")
        for one in found
    )


def _tell_copy(target: Path, size: int, report: "Report", json: bool) -> None:
    if json:
        told = {"file": str(target), "bytes": size, "events": report.events, "head": report.head}
        say.give_json(told | {"whole": report.whole})
    if not report.whole:
        raise BadInput(str(target), report.words)
    if not json:
        words = _("{}: {} bytes. {}")
        say.give_lines([words.format(target, size, report.words)])
