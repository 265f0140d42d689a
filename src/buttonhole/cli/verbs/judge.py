"""``buttonhole judge``: what torn welds mean under a rule, without a record."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.verbs.predict import JsonOption, RuleOption, WeldFileArgument
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.coupon.arc.piece import ArcPiece
    from buttonhole.coupon.arc.reading import ArcReading
    from buttonhole.coupon.criterion import Criterion
    from buttonhole.coupon.reading import Reading

ReadingOption = Annotated[
    list[str] | None,
    typer.Option(
        "--reading",
        metavar="TEXT",
        help=_(
            "One interface: '1, peel, full_button, 5.4 mm, 4.8 mm'; an arc weld: "
            "'1, peel, hole_pulled, 6.6 mm, 6.2 mm, back clear'; once for each."
        ),
    ),
]
ReadingsOption = Annotated[
    Path | None,
    typer.Option("--readings", metavar="FILE", help=_("Coupon file with [[reading]] tables.")),
]


def judge(
    file: WeldFileArgument,
    reading: ReadingOption = None,
    readings: ReadingsOption = None,
    rule: RuleOption = None,
    json: JsonOption = False,
) -> None:
    """Judge a torn coupon: its size against the limit with a guard band, mode by the test."""
    from buttonhole.cli.view_answer import verdict_answer
    from buttonhole.cli.view_text import verdict_lines
    from buttonhole.coupon.statistics import counting_alone
    from buttonhole.coupon.verdict import judge as judge_reading
    from buttonhole.desk.rules import rule_for
    from buttonhole.desk.weld_file import named_file, read_arc_keys, read_weld_file

    keys = read_arc_keys(file)
    if keys is not None:
        judge_arc_weld(file, keys, reading, readings, rule, json)
        return
    described = read_weld_file(file)
    criterion = rule_for(described.stack, rule or described.minimum_rule)
    found = given_readings(reading, readings)
    with named_file(file):
        judged = [(one, judge_reading(one, criterion, described.stack)) for one in found]
    if json:
        say.give_json({"judged": [verdict_answer(*one, criterion) for one in judged]})
        return
    for one in judged:
        say.give_lines(verdict_lines(*one, criterion))
    good = all(verdict.outcome.accepted for _reading, verdict in judged)
    say.give_lines(say.wrapped(counting_alone(int(good), 1).text, first=""))


def judge_arc_weld(
    file: Path,
    keys: dict[str, Any],
    reading: list[str] | None,
    readings: Path | None,
    rule: str | None,
    json: bool,
) -> None:
    """Judge a torn, bent or sectioned arc weld.

    Parameters
    ----------
    file : Path
        Its weld file.
    keys : dict
        What stands in it.
    reading, readings : list of str or None, Path or None
        What was measured.
    rule : str or None
        Key of the rule.
    json : bool
        Whether the answer is for programs.
    """
    from buttonhole.cli.view_answer import verdict_answer
    from buttonhole.cli.view_text import verdict_lines
    from buttonhole.coupon.statistics import counting_alone
    from buttonhole.desk.judge_coupon import judge_arc_readings
    from buttonhole.desk.weld_file import named_file

    def given(piece: "ArcPiece") -> "tuple[ArcReading, ...]":
        return given_arc_readings(piece, reading, readings)

    with named_file(file):
        judged = judge_arc_readings(keys, given, rule)
    if json:
        say.give_json({"judged": [verdict_answer(*one) for one in judged]})
        return
    for one in judged:
        say.give_lines(verdict_lines(*one))
    good = all(verdict.outcome.accepted for _reading, verdict, _criterion in judged)
    say.give_lines(say.wrapped(counting_alone(int(good), 1).text, first=""))


def given_arc_readings(
    piece: "ArcPiece", lines: list[str] | None, file: Path | None
) -> "tuple[ArcReading, ...]":
    """Readings of an arc weld from options or from a coupon file.

    Parameters
    ----------
    piece : ArcPiece
        What was joined.
    lines : list of str or None
        One for each interface.
    file : Path or None
        A coupon file.

    Returns
    -------
    tuple of ArcReading
        At least one.

    Raises
    ------
    BadInput
        None given, or both ways used at once.
    """
    from buttonhole.desk.arc_coupon_file import (
        EXAMPLES,
        arc_reading_in_words,
        read_arc_coupon_file,
    )

    _one_way(lines, file, EXAMPLES[piece.form])
    if file is not None:
        return read_arc_coupon_file(file, piece)
    return tuple(arc_reading_in_words(one, piece) for one in lines or ())


def _one_way(lines: list[str] | None, file: Path | None, example: str) -> None:
    if bool(lines) == (file is not None):
        raise BadInput(
            "--reading",
            _("give --reading '{}' for each interface, or --readings FILE").format(example),
        )


def given_readings(lines: list[str] | None, file: Path | None) -> "tuple[Reading, ...]":
    """Readings from options or from a coupon file.

    Parameters
    ----------
    lines : list of str or None
        One for each interface.
    file : Path or None
        A coupon file.

    Returns
    -------
    tuple of Reading
        At least one.

    Raises
    ------
    BadInput
        None given, or both ways used at once.
    """
    from buttonhole.desk.coupon_file import ONE_LINE, read_coupon_file, reading_in_words

    _one_way(lines, file, ONE_LINE)
    if file is not None:
        return read_coupon_file(file)
    return tuple(reading_in_words(one) for one in lines or ())


def rules(json: JsonOption = False) -> None:
    """List the rules for the smallest diameter, with who uses them and where they were read."""
    from buttonhole.coupon.arc.criterion import arc_criteria
    from buttonhole.desk.rules import diameter_rules

    listed = [
        {**_rule(one), "thickness_rule": one.thickness_rule.value} for one in diameter_rules()
    ]
    of_arcs = [
        {
            **_rule(one),
            "quantity": one.quantity.value,
            "factor": one.factor,
            "base": one.base,
            "offset_mm": one.offset * 1e3,
            "only_noted": not one.counts,
        }
        for one in arc_criteria()
    ]
    if json:
        say.give_json({"rules": listed, "arc_rules": of_arcs})
        return
    for one in listed:
        _give_rule(one, one["thickness_rule"])
    say.give_lines(["", _("Arc welds")])
    for one in of_arcs:
        noted = _("; only noted") if one["only_noted"] else ""
        _give_rule(one, f"{one['quantity']}{noted}")


def _rule(one: "Criterion") -> dict[str, Any]:
    return {
        "key": one.key,
        "name": one.name,
        "used_by": one.used_by,
        "source": one.source,
        "status": one.status.value,
        "note": one.note,
    }


def _give_rule(one: dict[str, Any], what: str) -> None:
    mark = "" if one["status"] != "memory" else _("; from memory, check it")
    say.give_lines([f"{one['key']}  ({one['name']}; {what})"])
    say.give_lines(say.wrapped(f"{one['used_by']} [{one['source']}{mark}]", first="    "))
