"""``buttonhole coupon plan``, ``labels``, ``label``, ``tie``: what to weld, and its numbers."""

from pathlib import Path
from typing import Annotated

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    JointArgument,
    RecordOption,
    desk_at,
    find_coupon,
    find_joint,
    reading,
)
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.coupon import CouponOption
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

OccasionOption = Annotated[
    str | None,
    typer.Option(help=_("Why: new, known, changed or shift; from the record unless said.")),
]
SparesOption = Annotated[int, typer.Option(help=_("Coupons for a second round."))]
PitchOption = Annotated[
    str, typer.Option(metavar="LENGTH", help=_("Pitch of the spots on the vehicle."))
]
CodeArgument = Annotated[str, typer.Argument(metavar="LABEL", help=_("Number on the label."))]


def plan(
    joint: JointArgument,
    occasion: OccasionOption = None,
    spares: SparesOption = 1,
    pitch: PitchOption = "30 mm",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say which coupons to weld, from what, and how each is torn; nothing is written."""
    from buttonhole.desk.plan_coupons import PlanCoupons, cut_rows, planned, sheet_words

    why, apart = _occasion(occasion), quantity("--pitch", pitch, "length")
    with reading(record) as desk:
        found = find_joint(desk, joint)
        made = planned(desk, PlanCoupons(found.id, why, spares, apart or 0.0))
        rows = cut_rows(made, sheet_words(found))
    if json:
        say.give_json(
            {
                "occasion": made.occasion.value,
                "coupons": [
                    {
                        "order": one.order,
                        "purpose": one.purpose.value,
                        "welds": one.welds,
                        "judged_weld": one.judged,
                    }
                    for one in made.coupons
                ],
                "strips": [
                    {
                        "sheet": one.sheet + 1,
                        "count": one.count,
                        "length_mm": one.length * 1e3,
                        "width_mm": one.width * 1e3,
                        "note": one.note,
                    }
                    for one in made.strips
                ],
                "overlap_mm": made.overlap * 1e3,
                "tests": list(made.tests),
                "notes": list(made.notes),
            }
        )
        return
    lines = [f"  {one.order}  {one.purpose.words}, {one.welds} welds" for one in made.coupons]
    lines = [made.occasion.words, *lines, "", _("To cut")]
    lines += [f"  {one.sheet}: {one.pieces}; {one.strip} {one.note}".rstrip() for one in rows]
    lines += ["", *say.wrapped("; ".join(made.tests), first="", rest="  ")]
    say.give_lines(lines)


def labels(
    joint: JointArgument,
    target: Annotated[Path, typer.Argument(metavar="PDF", help=_("Where the labels go."))],
    by: ByOption,
    again: Annotated[
        str | None, typer.Option(metavar="PLAN", help=_("Print the labels of this plan again."))
    ] = None,
    occasion: OccasionOption = None,
    spares: SparesOption = 1,
    pitch: PitchOption = "30 mm",
    roll: Annotated[bool, typer.Option("--roll", help=_("One label a page, 50 x 25 mm."))] = False,
    address: Annotated[
        str, typer.Option(metavar="URL", help=_("Where the server answers, for the square code."))
    ] = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Give each coupon of the plan a label and print them; a number is given once."""
    from buttonhole.cli.papers import write_paper
    from buttonhole.desk.plan_coupons import PlanCoupons, issue_plan, print_labels

    why, apart = _occasion(occasion), quantity("--pitch", pitch, "length")
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)

        def printing():  # type: ignore[no-untyped-def] # PrintedLabels, imported when run
            name = again or issue_plan(desk, PlanCoupons(found.id, why, spares, apart or 0.0)).id
            return print_labels(desk, found.id, name, address=address, roll=roll)

        write_paper(target, printing, json)


def label(code: CodeArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Say what a label is on."""
    from buttonhole.desk.labels import find_label
    from buttonhole.desk.read_job import read_joint

    with reading(record) as desk:
        found = find_label(desk, code)
        joint = read_joint(desk, found.joint_id) if found.joint_id else None
        numbers = {one.id: one.number for one in joint.coupons} if joint else {}
    number = numbers.get(found.coupon_id)
    if json:
        say.give_json(
            {
                "label": found.code,
                "joint": joint.name if joint else None,
                "session": found.session_id or None,
                "coupon": number,
                "purpose": found.about.get("purpose"),
                "order": found.about.get("order"),
            }
        )
        return
    where = joint.name if joint else _("a training session")
    on = _("on coupon {}").format(number) if number else _("on no coupon yet")
    say.give_lines([f"{found.code}: {where}, {on}"])


def tie(
    joint: JointArgument,
    code: CodeArgument,
    by: ByOption,
    coupon: CouponOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say on which coupon a label is; it stays there."""
    from buttonhole.desk.labels import tie_label

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        there = find_coupon(found, coupon)
        tied = tie_label(desk, code, found.id, there.id)
    if json:
        say.give_json({"label": tied.code, "joint": found.name, "coupon": there.number})
        return
    say.give_lines([_("{}: on coupon {} of {}").format(tied.code, there.number, found.name)])


def _occasion(given: str | None):  # type: ignore[no-untyped-def] # Occasion, imported when run
    from buttonhole.coupon.plan import Occasion

    if given is None:
        return None
    try:
        return Occasion(given)
    except ValueError:
        listed = ", ".join(Occasion)
        raise BadInput("--occasion", _("is {!r}; give one of {}").format(given, listed)) from None
