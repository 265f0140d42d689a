"""``buttonhole drift``, ``watch``, ``supply``, ``gauge``: what a shop checks between releases."""

import dataclasses
from pathlib import Path
from typing import Annotated, Any

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
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput


def drift(
    start: Annotated[
        str | None, typer.Option(metavar="LENGTH", help=_("Start coupon, e.g. '5.4 mm'."))
    ] = None,
    end: Annotated[str | None, typer.Option(metavar="LENGTH", help=_("End coupon."))] = None,
    least: Annotated[
        str | None, typer.Option(metavar="LENGTH", help=_("Smallest that is good."))
    ] = None,
    welds: Annotated[
        int | None, typer.Option(help=_("Welds between the two coupons; of a joint as ticked."))
    ] = None,
    interval: Annotated[int, typer.Option(help=_("Welds between dresses so far."))] = 50,
    uncertainty: Annotated[
        str, typer.Option(metavar="LENGTH", help=_("Standard uncertainty of one reading."))
    ] = "0.1 mm",
    joint: Annotated[
        str | None,
        typer.Option(
            "--joint", metavar="JOINT", help=_("A joint of the record: its end coupon is kept.")
        ),
    ] = None,
    number: Annotated[
        int | None, typer.Option("--number", metavar="N", help=_("The end coupon; the last."))
    ] = None,
    by: ByOption = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Compare the start and the end coupon of some work."""
    from buttonhole.learning.wear import drift as compare

    if joint is not None:
        _end_coupon(joint, number, welds, by, record, json=json)
        return
    named = {"start": start, "end": end, "least": least, "uncertainty": uncertainty}
    lengths = []
    for name, text in named.items():
        if text is None:
            raise BadInput(f"--{name}", _("is missing; give it, or --joint"))
        lengths.append(quantity(f"--{name}", text, "length") or 0.0)
    if welds is None:
        raise BadInput("--welds", _("is missing; count the welds between the coupons"))
    found = compare(
        lengths[0], lengths[1], lengths[2], uncertainty=lengths[3], welds=welds, interval=interval
    )
    answer: dict[str, Any] = {
        "accepted": found.accepted,
        "drifts": found.drifts,
        "fall_mm": 1e3 * found.fall,
        "dress_interval_welds": found.interval,
        "wedge_welds": None if found.look_at is None else list(found.look_at),
        "words": found.words,
    }
    _give(answer, json)


def _end_coupon(
    joint: str, number: int | None, welds: int | None, by: str, record: Path | None, *, json: bool
) -> None:
    """Compare the end coupon of a joint of the record, and keep what it says."""
    from buttonhole.cli.view_answer import end_check_answer
    from buttonhole.desk.compare_end_coupon import CompareEndCoupon, compare_end_coupon

    with desk_at(record, by) as desk:
        found = find_joint(desk, joint)
        coupon = find_coupon(found, number)
        command = CompareEndCoupon(found.id, found.seen, coupon.id, welds)
        found = compare_end_coupon(desk, command)
    _give(end_check_answer(found.end_checks[-1]), json)


def supply(
    name: Annotated[str, typer.Argument(help=_("What is written on the lead or outlet."))],
    by: ByOption,
    length: Annotated[
        str | None, typer.Option(metavar="LENGTH", help=_("Of the lead, e.g. '25 m'."))
    ] = None,
    square: Annotated[
        float | None, typer.Option(metavar="MM2", help=_("Cross-section of one conductor in mm2."))
    ] = None,
    drop: Annotated[
        float | None, typer.Option(metavar="PERCENT", help=_("Drop measured under load, in %."))
    ] = None,
    current: Annotated[float, typer.Option(help=_("Of the gun from the mains, in A."))] = 60.0,
    voltage: Annotated[float, typer.Option(help=_("Between phases, in V."))] = 400.0,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say what an extension lead or outlet is, and what it takes of the voltage."""
    from buttonhole.desk.describe_supply import DescribeSupply, describe_supply

    command = DescribeSupply(
        name,
        quantity("--length", length, "length"),
        None if square is None else square * 1e-6,
        None if drop is None else drop / 100.0,
        current,
        voltage,
    )
    with desk_at(record, by, must_exist=False) as desk:
        found = describe_supply(desk, command)
    _give({"name": found.name, "drop_percent": 100.0 * found.drop, "words": found.words}, json)


def watch(joint: JointArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Look at the gun of a joint over time: chart, dress interval, re-check of the shift."""
    from buttonhole.desk.release_set_up import recheck_due
    from buttonhole.desk.watch_machine import watch_machine

    with reading(record) as desk:
        found = find_joint(desk, joint)
        if found.accepted is None:
            raise BadInput("JOINT", _("{} has no accepted set-up yet").format(found.name))
        seen = watch_machine(desk, found.accepted.surroundings.machine, found)
        due = recheck_due(desk, found)
    if json:
        say.give_json({**dataclasses.asdict(seen), "recheck_due": due})
        return
    lines = say.wrapped(f"{seen.machine}: {seen.words}")
    for one in seen.points:
        lines.append(f"  {one.name:<32}{one.score:+6.2f}{one.mean:+7.2f}  > {one.lower:+.2f}")
    enough = _("One coupon is enough for a re-check.") if seen.enough else ""
    for text in (seen.interval_words, due, enough):
        lines += say.wrapped(text) if text else []
    say.give_lines(lines)


def differences(
    joint: JointArgument,
    outlet: Annotated[str, typer.Option(help=_("Outlet it gets now; as accepted."))] = "",
    lead: Annotated[str, typer.Option(help=_("Extension lead it gets now; as accepted."))] = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say what is different on the joint from the coupon that speaks for it."""
    from buttonhole.coupon.difference import Surroundings
    from buttonhole.desk.differences_now import differences_now

    with reading(record) as desk:
        found = find_joint(desk, joint)
        seen = differences_now(desk, found, Surroundings("", outlet=outlet, lead=lead))
    if seen is None:
        raise BadInput("JOINT", _("{} has no coupon yet").format(found.name))
    effect = seen.supply
    answer: dict[str, Any] = {
        "coupon": seen.coupon.number,
        "level": seen.worst.value,
        "advice": seen.advice,
        "rows": [dataclasses.asdict(one) for one in seen.rows],
        "supply": None
        if effect is None
        else {
            "drop_coupon_percent": 100.0 * effect.drop_coupon,
            "drop_joint_percent": 100.0 * effect.drop_joint,
            "heat_lost_percent": 100.0 * effect.heat,
            "size_at_coupon_mm": [1e3 * one.value for one in effect.before],
            "size_at_joint_mm": [1e3 * one.value for one in effect.after],
            "words": effect.words,
        },
    }
    if json:
        say.give_json(answer)
        return
    lines = [
        f"{one.level.word:<14}{one.item}: {one.on_coupon} / {one.on_joint}" for one in seen.rows
    ]
    for text in (effect.words if effect else "", seen.advice):
        lines += say.wrapped(text) if text else []
    say.give_lines(lines)


def gauge(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help=_("CSV with the columns button, reader, mm."))
    ],
    keep: Annotated[
        str, typer.Option(metavar="NAME", help=_("Keep it in the record under this name."))
    ] = "",
    kind: Annotated[str, typer.Option(help=_("What it is, when it is kept."))] = "calliper",
    by: ByOption = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Judge a gauge and its readers by readings of kept buttons."""
    from buttonhole.desk.gauge_file import gauge_answer

    answer = gauge_answer(file)
    if keep:
        from buttonhole.coupon.gauge import find_gauge_kind
        from buttonhole.desk.gauge_file import keep_command
        from buttonhole.desk.keep_gauge import keep_gauge

        with desk_at(record, by, must_exist=False) as desk:
            kept = keep_gauge(desk, keep_command(answer, keep, find_gauge_kind(kind), file.name))
        answer["kept"] = {"name": kept.name, "kind": kept.kind.value, "study": kept.study}
    _give(answer, json)


def _give(answer: dict[str, Any], json: bool) -> None:
    if json:
        say.give_json(answer)
        return
    say.give_lines(say.wrapped(answer["words"]))
