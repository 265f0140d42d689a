"""``buttonhole procedure``: by which authority a joint is welded."""

from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli.at_desk import (
    ByOption,
    JointArgument,
    RecordOption,
    SeenOption,
    desk_at,
    find_joint,
)
from buttonhole.cli.quantities import day, quantity
from buttonhole.cli.verbs.joint import tell
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _


def cite(
    joint: JointArgument,
    reference: Annotated[str, typer.Option(help=_("Document and page as printed."))],
    revision: Annotated[str, typer.Option(help=_("Revision or date as printed."))],
    read_on: Annotated[str, typer.Option(help=_("Day it was read, year-month-day."))],
    says: Annotated[str, typer.Option(help=_("What it says about this joint."))],
    by: ByOption,
    spots_factor: Annotated[
        float | None, typer.Option(help=_("New spots for each old one, e.g. 1.3."))
    ] = None,
    minimum: Annotated[
        str | None,
        typer.Option(
            help=_("Smallest it asks for, e.g. '4.4 mm': a lap seam's leg, else a diameter.")
        ),
    ] = None,
    page: Annotated[
        Path | None, typer.Option(help=_("Picture of the page; its hash is kept."))
    ] = None,
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Cite the vehicle maker's procedure; without it nothing is released."""
    from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure

    diameter = quantity("--minimum", minimum, "length")
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = CiteProcedure(
            found.id,
            seen or found.seen,
            reference,
            revision,
            day("--read-on", read_on),
            says,
            spots_factor,
            diameter,
            page_image_hash=None if page is None else _hash_of(page),
        )
        found = cite_procedure(desk, command)
    tell(found, json)


def deviate(
    joint: JointArgument,
    reason: Annotated[str, typer.Option(help=_("Why the procedure is left, or there is none."))],
    second: Annotated[str, typer.Option(metavar="NAME", help=_("Who signs beside you."))],
    by: ByOption,
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Sign a deviation from the maker's procedure; two people answer for it."""
    from buttonhole.desk.cite_procedure import SignDeviation, sign_deviation

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = SignDeviation(found.id, seen or found.seen, reason, by, second)
        found = sign_deviation(desk, command)
    tell(found, json)


def _hash_of(page: Path) -> str:
    import hashlib

    with page.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
