"""``buttonhole tip``: the working ends of the electrodes."""

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
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.joint import NoteOption, tell
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _


def dress(
    joint: JointArgument,
    by: ByOption,
    gun: Annotated[str, typer.Option(help=_("Which gun; the joint's own unless said."))] = "",
    face_before: Annotated[
        str | None, typer.Option(metavar="LENGTH", help=_("Face before, e.g. '7.4 mm'."))
    ] = None,
    face_after: Annotated[
        str | None, typer.Option(metavar="LENGTH", help=_("Face after, e.g. '6 mm'."))
    ] = None,
    welds_before: Annotated[
        int | None, typer.Option(help=_("Welds since the tips were dressed before."))
    ] = None,
    note: NoteOption = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Note that the tips were dressed; every release on this gun ends."""
    from buttonhole.desk.dress_tip import DressTip, dress_tip

    before = quantity("--face-before", face_before, "length")
    after = quantity("--face-after", face_after, "length")
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = DressTip(found.id, seen or found.seen, gun, before, after, welds_before, note)
        found = dress_tip(desk, command)
    tell(found, json)
