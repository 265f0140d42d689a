"""``buttonhole record evidence``: from a VIN or a label to the evidence of one weld."""

from datetime import UTC, datetime
from typing import TYPE_CHECKING, Annotated, cast

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import ByOption, RecordOption, desk_at, reading
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.record.store import EventStore


def evidence(
    vehicle: Annotated[
        str, typer.Argument(metavar="VIN", help=_("VIN, or with --label the code of a label."))
    ],
    joint: Annotated[str, typer.Option(help=_("Only this joint, by name or id."))] = "",
    weld: Annotated[int | None, typer.Option(help=_("Only the weld of this number."))] = None,
    at: Annotated[
        str | None, typer.Option(help=_("As it was known then: 2026-03-02T14:30 (UTC)."))
    ] = None,
    label: Annotated[bool, typer.Option("--label", help=_("It is the code of a label."))] = False,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Show what is kept about the welds of a vehicle, and what is missing."""
    from buttonhole.cli.evidence_text import evidence_json, evidence_lines
    from buttonhole.desk.find_evidence import FindEvidence, find_evidence

    asked = FindEvidence(
        vin="" if label else vehicle,
        label=vehicle if label else "",
        joint=joint,
        weld=weld,
        at=_moment(at),
    )
    with reading(record) as desk:
        found = find_evidence(desk, cast("EventStore", desk.store), asked)
    if json:
        say.give_json(evidence_json(found))
        return
    say.give_lines(evidence_lines(found))


def guest(
    vehicle: Annotated[str, typer.Argument(metavar="VIN", help=_("The vehicle."))],
    name: Annotated[str, typer.Option("--for", help=_("Who may look."))],
    by: ByOption,
    hours: Annotated[float, typer.Option(help=_("How long, in hours."))] = 48.0,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Make a link to the evidence of one vehicle, to look at only; every look is written down."""
    from buttonhole.desk.guest_link import make_guest_link

    with desk_at(record, by) as desk:
        link = make_guest_link(desk, vehicle, name, hours)
    path = f"/guest/{link.secret}"
    if json:
        say.give_json({"path": path, "vin": link.vin, "until": link.until.isoformat()})
        return
    say.give_lines([_("Behind the address of the server: {}").format(path)])


def _moment(text: str | None) -> datetime | None:
    if text is None:
        return None
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise BadInput("--at", _("is {!r}; give 2026-03-02T14:30").format(text)) from None
    return found if found.tzinfo else found.replace(tzinfo=UTC)
