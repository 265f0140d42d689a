"""``buttonhole joint``: what meets where."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

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
from buttonhole.cli.solving import solving
from buttonhole.cli.verbs.predict import JsonOption, WeldFileArgument
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.view import JointView

WhereOption = Annotated[str, typer.Option("--where", help=_("Where on the vehicle."))]
OldSpotsOption = Annotated[
    int, typer.Option("--old-spots", help=_("Spots counted before the part came off."))
]
NoteOption = Annotated[str, typer.Option("--note", help=_("What else is to be said."))]


def add(
    job: JobArgument,
    name: Annotated[str, typer.Argument(metavar="NAME", help=_("What you call it, e.g. J1."))],
    file: WeldFileArgument,
    by: ByOption,
    where: WhereOption = "",
    old_spots: OldSpotsOption = 0,
    note: NoteOption = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Add a joint to a job: its sheets, and what is around them, are those of the weld file."""
    from buttonhole.desk.decide_method import TellCircumstances, tell_circumstances
    from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
    from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
    from buttonhole.desk.joint_file import read_joint_file
    from buttonhole.desk.weld_file import read_arc_keys, read_weld_file
    from buttonhole.procedure.joining.circumstances import Circumstances

    keys = read_arc_keys(file)
    stack = read_weld_file(file).stack if keys is None else None
    around = read_joint_file(file).joint.circumstances if keys is None else Circumstances()
    with desk_at(record, by) as desk:
        found = find_job(desk, job)
        if any(one.name.casefold() == name.casefold() for one in found.joints):
            raise BadInput("NAME", _("{!r} is there already; give another one").format(name))
        if keys is not None:
            by_arc = DescribeArcJoint(found.id, name, keys, where, old_spots, note)
            joint = describe_arc_joint(desk, by_arc)
        elif stack is not None:
            by_spots = DescribeJoint(found.id, name, stack, where, old_spots, note)
            joint = describe_joint(desk, by_spots)
            if around.is_told:
                joint = tell_circumstances(desk, TellCircumstances(joint.id, joint.seen, around))
    tell(joint, json)


def change(
    joint: JointArgument,
    file: WeldFileArgument,
    by: ByOption,
    where: WhereOption | None = None,
    old_spots: OldSpotsOption | None = None,
    note: NoteOption | None = None,
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Describe a joint anew; other sheets end its release."""
    from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
    from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
    from buttonhole.desk.weld_file import read_arc_keys, read_weld_file

    keys = read_arc_keys(file)
    stack = read_weld_file(file).stack if keys is None else None
    with desk_at(record, by) as desk:
        old = find_joint(desk, joint)
        said = (
            old.location if where is None else where,
            old.old_spots if old_spots is None else old_spots,
            old.note if note is None else note,
            old.id,
            seen or old.seen,
        )
        if keys is not None:
            found = describe_arc_joint(desk, DescribeArcJoint(old.job_id, old.name, keys, *said))
        elif stack is not None:
            found = describe_joint(desk, DescribeJoint(old.job_id, old.name, stack, *said))
    tell(found, json)


def show(joint: JointArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Show a joint: sheets, set-up, coupons, release and what happened."""
    with reading(record) as desk:
        found = find_joint(desk, joint)
    tell(found, json)


def file(
    joint: JointArgument,
    target: Annotated[Path, typer.Argument(metavar="FILE", help=_("Where the weld file goes."))],
    record: RecordOption = None,
) -> None:
    """Write a joint and its set-up into a weld file; a file that is there is not replaced."""
    from buttonhole.desk.weld_file import WeldFile, arc_weld_file_text, write_weld_file

    with reading(record) as desk:
        found = find_joint(desk, joint)
    chosen = found.set_up or found.proposal
    if chosen is None and found.arc is None:
        raise BadInput("JOINT", _("{} has no set-up yet").format(found.name))
    if target.exists():
        raise BadInput(str(target), _("is there already; give another name"))
    if found.arc is not None:
        target.write_text(arc_weld_file_text(found.arc.chosen), encoding="utf-8")
    elif chosen is not None:
        write_weld_file(target, WeldFile(found.stack, chosen.set_up))
    say.give_lines([_("{} is written to {}").format(found.name, target)])


def predict(
    joint: JointArgument, by: ByOption, record: RecordOption = None, json: JsonOption = False
) -> None:
    """Predict the weld of a joint's set-up and write the figures into the record."""
    from buttonhole.cli.verbs.predict import give_arc
    from buttonhole.cli.verbs.predict import tell as tell_prediction
    from buttonhole.desk.judge_coupon import criterion_of
    from buttonhole.desk.predict_arc import predict_arc
    from buttonhole.desk.predict_arc_weld import PredictArcWeld, predict_arc_weld
    from buttonhole.desk.predict_weld import PredictWeld, predict_weld

    with desk_at(record, by) as desk, solving(joint):
        view = find_joint(desk, joint)
        if view.arc is not None:
            answer = predict_arc(view.arc.weld)
            predict_arc_weld(desk, PredictArcWeld(view.id, answer))
            give_arc(answer, json=json)
            return
        found = predict_weld(desk, PredictWeld(view.id))
    stack, rule = found.joint.stack, criterion_of(found.joint)
    tell_prediction(stack, found.set_up, (found.weld, found.metal), rule, json=json)


def tell(joint: "JointView", json: bool) -> None:
    """Give a joint as JSON or in words."""
    from buttonhole.cli.view_answer import joint_answer
    from buttonhole.cli.view_text import joint_lines

    if json:
        say.give_json(joint_answer(joint))
    else:
        say.give_lines(joint_lines(joint))
