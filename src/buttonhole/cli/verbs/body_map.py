"""``buttonhole joint place`` and ``job map``: where the joints are on a drawing of the body."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    JobArgument,
    JointArgument,
    RecordOption,
    desk_at,
    find_job,
    find_joint,
    reading,
)
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.place_joint import PlaceView


def place(
    joint: JointArgument,
    view: Annotated[str, typer.Argument(metavar="VIEW", help=_("left, right, front or rear."))],
    across: Annotated[float, typer.Argument(metavar="ACROSS", help=_("Per cent from the left."))],
    down: Annotated[float, typer.Argument(metavar="DOWN", help=_("Per cent from the top."))],
    by: ByOption,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Place a joint on a drawing of the body; placed again it moves."""
    from buttonhole.desk.place_joint import PlaceJoint, place_joint

    seen = _view(view)
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        placed = place_joint(desk, PlaceJoint(found.id, seen, across / 100.0, down / 100.0))
    _tell(placed, json)


def map_(
    job: JobArgument,
    view: Annotated[str, typer.Option(help=_("left, right, front or rear, for the picture."))] = (
        "left"
    ),
    svg: Annotated[
        Path | None, typer.Option(metavar="FILE", help=_("Draw that side into this file."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Show where the joints of a job are."""
    from buttonhole.desk.place_joint import marks_of, places
    from buttonhole.paper.figure.body import body

    seen = _view(view)
    with reading(record) as desk:
        found = places(desk, find_job(desk, job))
    if svg is not None:
        svg.write_text(body(seen, marks_of(found, seen, "")), encoding="utf-8")
    _tell(found, json)


def _view(given: str):  # type: ignore[no-untyped-def] # BodyView, imported when run
    from buttonhole.paper.figure.body import BodyView

    try:
        return BodyView(given)
    except ValueError:
        listed = ", ".join(BodyView)
        raise BadInput("VIEW", _("is {!r}; give one of {}").format(given, listed)) from None


def _tell(found: "tuple[PlaceView, ...]", json: bool) -> None:
    if json:
        rows: list[dict[str, Any]] = [
            {
                "joint": one.name,
                "number": one.number,
                "view": one.view.value,
                "across_share": one.across,
                "down_share": one.down,
                "placed_by": one.by,
            }
            for one in found
        ]
        say.give_json({"places": rows})
        return
    say.give_lines(
        f"{one.number}  {one.name}: {one.view.words}, {100 * one.across:.0f} %, "
        f"{100 * one.down:.0f} %"
        for one in found
    )
