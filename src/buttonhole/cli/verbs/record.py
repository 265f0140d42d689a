"""``buttonhole record``: what was written down, and whether it was altered."""

from typing import TYPE_CHECKING, Annotated, cast

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    RecordOption,
    SeenOption,
    desk_at,
    find_job,
    reading,
    record_path,
)
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.record.store import EventStore


def verify(
    record: RecordOption = None,
    events: Annotated[
        int | None, typer.Option(help=_("Number of entries a printed card names."))
    ] = None,
    head: Annotated[str | None, typer.Option(help=_("Hash a printed card names."))] = None,
    json: JsonOption = False,
) -> None:
    """Check that nothing was altered, cut out or moved; a damaged record ends with exit 2."""
    from buttonhole.desk.verify_record import verify_record

    with reading(record) as desk:
        found = verify_record(cast("EventStore", desk.store), head_count=events, head_hash=head)
    if json:
        fault = None if found.fault is None else found.fault.message
        say.give_json(
            {
                "whole": found.whole,
                "events": found.events,
                "head": found.head,
                "fault": fault,
                "place": None if found.fault is None else found.fault.place,
                "event": None if found.fault is None else found.fault.event_id,
                "kind": None if found.fault is None else found.fault.kind.value,
                "root": found.root,
                "signed_heads": found.signed.heads,
                "events_under_a_signed_head": found.signed.covered,
                "signed_entries": found.signed.entries,
                "remarks": list(found.remarks),
            }
        )
    if not found.whole:
        raise BadInput(str(record_path(record)), found.words)
    if not json:
        say.give_lines([found.words, _("Last hash: {}").format(found.head), *found.remarks])


def show(
    job: Annotated[
        str | None, typer.Argument(metavar="JOB", help=_("Only this job; title or id."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Show the entries as they were written, the oldest first."""
    from buttonhole.desk.saying import say as words_of

    with reading(record) as desk:
        subject = None if job is None else f"job/{find_job(desk, job).id}"
        events = desk.store.events(subject)
    if json:
        keys = ("id", "type", "at", "actor", "payload", "prev_hash", "hash", "origin")
        told = [{key: getattr(one, key) for key in keys} for one in events]
        say.give_json({"events": told}, exact=True)  # rounded figures would not match the hashes
        return
    for one in events:
        lead = f"{one.at[:16].replace('T', ' ')}  {one.actor}: "
        say.give_lines(say.wrapped(words_of(one.type, one.payload), first=lead, rest=" " * 18))


def correct(
    entry: Annotated[str, typer.Argument(metavar="ENTRY", help=_("Id, as `record show --json`."))],
    reason: Annotated[str, typer.Option(help=_("Why it was wrong."))],
    by: ByOption,
    seen: SeenOption = None,
    record: RecordOption = None,
) -> None:
    """Take back an entry that was wrong; it stays readable and counts no more."""
    from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
    from buttonhole.desk.read_job import read_joint

    with desk_at(record, by) as desk:
        event = desk.store.event(entry)
        joint = None if event is None else event.payload.get("joint")
        if seen is None and joint is not None:
            seen = read_joint(desk, joint).seen
        correct_entry(desk, CorrectEntry(entry, reason, seen))
    say.give_lines([_("Taken back. It stays in the record with your reason.")])
