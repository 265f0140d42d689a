"""``buttonhole drift``, ``gauge``: what a shop checks between releases."""

from pathlib import Path
from typing import Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import ByOption, RecordOption, desk_at
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _


def drift(
    start: Annotated[str, typer.Option(metavar="LENGTH", help=_("Start coupon, e.g. '5.4 mm'."))],
    end: Annotated[str, typer.Option(metavar="LENGTH", help=_("End coupon."))],
    least: Annotated[str, typer.Option(metavar="LENGTH", help=_("Smallest that is good."))],
    welds: Annotated[int, typer.Option(help=_("Welds between the two coupons."))],
    interval: Annotated[int, typer.Option(help=_("Welds between dresses so far."))] = 50,
    uncertainty: Annotated[
        str, typer.Option(metavar="LENGTH", help=_("Standard uncertainty of one reading."))
    ] = "0.1 mm",
    json: JsonOption = False,
) -> None:
    """Compare the start and the end coupon of some work."""
    from buttonhole.learning.wear import drift as compare

    lengths = [
        quantity(f"--{name}", text, "length") or 0.0
        for name, text in (
            ("start", start),
            ("end", end),
            ("least", least),
            ("uncertainty", uncertainty),
        )
    ]
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
