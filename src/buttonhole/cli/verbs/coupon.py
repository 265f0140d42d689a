"""``buttonhole coupon``: weld one, tear it, read it, judge it."""

from pathlib import Path
from typing import Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import (
    ByOption,
    JointArgument,
    RecordOption,
    SeenOption,
    desk_at,
    find_coupon,
    find_joint,
)
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.joint import NoteOption, tell
from buttonhole.cli.verbs.judge import (
    ReadingOption,
    ReadingsOption,
    given_arc_readings,
    given_readings,
)
from buttonhole.cli.verbs.predict import JsonOption, RuleOption
from buttonhole.cli.verbs.set_up import (
    ArmsOption,
    AroundOption,
    GunOption,
    LeadOption,
    OutletOption,
    PositionOption,
    ProgramOption,
    SetUpFileOption,
    WelderOption,
    around_of,
)
from buttonhole.cli.words import _

CouponOption = Annotated[
    int | None, typer.Option("--coupon", metavar="N", help=_("Number of the coupon; the last."))
]


def _shown(metavar: str, text: str) -> Any:
    return typer.Option(metavar=metavar, help=text)


CurrentShown = Annotated[
    str | None, _shown("CURRENT", _("What the machine showed, e.g. '8.4 kA'."))
]
ForceShown = Annotated[str | None, _shown("FORCE", _("What the gun showed, e.g. '3.4 kN'."))]
TimeShown = Annotated[str | None, _shown("TIME", _("What the gun showed, e.g. '280 ms'."))]
VoltageShown = Annotated[str | None, _shown("VOLTAGE", _("What an arc's machine showed."))]
FeedShown = Annotated[str | None, _shown("SPEED", _("Wire feed an arc's machine showed."))]
ArcTimeShown = Annotated[str | None, _shown("TIME", _("How long the arc burned."))]


def weld(
    joint: JointArgument,
    outlet: OutletOption,
    lead: LeadOption,
    by: ByOption,
    welds_since_dress: Annotated[
        int | None, typer.Option(help=_("Welds since the tips were dressed; of a spot."))
    ] = None,
    current: CurrentShown = None,
    force: ForceShown = None,
    weld_time: TimeShown = None,
    voltage: VoltageShown = None,
    wire_feed: FeedShown = None,
    arc_time: ArcTimeShown = None,
    file: SetUpFileOption = None,
    gun: GunOption = "",
    arms: ArmsOption = "",
    program: ProgramOption = "",
    position: PositionOption = "",
    welder: WelderOption = "",
    around: AroundOption = None,
    tips: Annotated[str, typer.Option(help=_("How the tips look, in your words."))] = "",
    note: NoteOption = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Note a welded coupon; what you leave out is as on the joint."""
    from buttonhole.coupon.difference import ReadBack, Surroundings
    from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon
    from buttonhole.desk.weld_file import read_arc_keys, read_weld_file

    keys = None if file is None else read_arc_keys(file)
    own = None if file is None or keys is not None else read_weld_file(file)
    shown = ReadBack(
        quantity("--current", current, "current"),
        quantity("--force", force, "force"),
        quantity("--weld-time", weld_time, "time"),
        quantity("--voltage", voltage, "voltage"),
        quantity("--wire-feed", wire_feed, "speed"),
        quantity("--arc-time", arc_time, "time"),
    )
    here = Surroundings(gun, arms, program, "", "", position, welder, **around_of(around))
    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = WeldCoupon(
            found.id,
            seen or found.seen,
            outlet,
            lead,
            welds_since_dress,
            stack=own.stack if own else None,
            set_up=own.set_up if own else None,
            surroundings=here,
            read_back=shown,
            tip_state=tips,
            note=note,
            weld=keys,
        )
        tell(weld_coupon(desk, command), json)


def read(
    joint: JointArgument,
    by: ByOption,
    reading: ReadingOption = None,
    readings: ReadingsOption = None,
    coupon: CouponOption = None,
    instrument: Annotated[str, typer.Option(help=_("What it was measured with."))] = "",
    rule: RuleOption = None,
    note: NoteOption = "",
    seen: SeenOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Write down what was measured on a torn coupon, and judge it."""
    from buttonhole.desk.judge_coupon import JudgeCoupon, Readings, arc_rule, judge_coupon
    from buttonhole.desk.rules import rule_named

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        chosen = find_coupon(found, coupon)
        measured: Readings
        if chosen.weld is None:
            measured = given_readings(reading, readings)
            criterion = None if rule is None else rule_named(rule)
        else:
            measured = given_arc_readings(chosen.piece, reading, readings)
            criterion = None if rule is None else arc_rule(chosen.piece, rule)
        command = JudgeCoupon(
            found.id,
            seen or found.seen,
            chosen.id,
            criterion,
            measured,
            instrument,
            note,
        )
        found = judge_coupon(desk, command)
    tell(found, json)


def why(
    joint: JointArgument,
    by: ByOption,
    coupon: CouponOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say why a judged coupon may have failed, by what was seen on it."""
    from buttonhole.cli.verbs.learning import diagnosed_lines
    from buttonhole.desk.explain_coupon import explain_coupon

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        answer = explain_coupon(desk, found.id, find_coupon(found, coupon).id)
    if json:
        say.give_json(answer)
        return
    if not answer["suspects"]:
        say.give_lines([_("Nothing seen on it speaks for a cause.")])
        return
    say.give_lines([f"{one['row']:<4} {one['words']}" for one in answer["signs"]])
    say.give_lines(["", *diagnosed_lines(answer)])


def sheet(
    joint: JointArgument,
    target: Annotated[Path, typer.Argument(metavar="PDF", help=_("Where the sheet goes."))],
    by: ByOption,
    coupon: CouponOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Print the A5 sheet of a judged coupon as PDF."""
    from buttonhole.cli.papers import write_paper
    from buttonhole.desk.print_coupon_sheet import PrintCouponSheet, print_coupon_sheet

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        command = PrintCouponSheet(found.id, find_coupon(found, coupon).id)
        write_paper(target, lambda: print_coupon_sheet(desk, command), json)
    if not json:
        say.give_lines([_("Sign it, and keep the torn pieces with it.")])
