"""``buttonhole judge``: what torn welds mean under a rule, without a record."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.verbs.predict import JsonOption, RuleOption, WeldFileArgument
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.coupon.reading import Reading

ReadingOption = Annotated[
    list[str] | None,
    typer.Option(
        "--reading",
        metavar="TEXT",
        help=_("One interface: '1, peel, full_button, 5.4 mm, 4.8 mm'; once for each."),
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
    """Judge a torn coupon: diameter against the limit with a guard band, mode by the test."""
    from buttonhole.cli.view_answer import verdict_answer
    from buttonhole.cli.view_text import verdict_lines
    from buttonhole.coupon.statistics import counting_alone
    from buttonhole.coupon.verdict import judge as judge_reading
    from buttonhole.desk.rules import rule_for
    from buttonhole.desk.weld_file import named_file, read_weld_file

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

    if bool(lines) == (file is not None):
        raise BadInput(
            "--reading",
            _("give --reading '{}' for each interface, or --readings FILE").format(ONE_LINE),
        )
    if file is not None:
        return read_coupon_file(file)
    return tuple(reading_in_words(one) for one in lines or ())


def rules(json: JsonOption = False) -> None:
    """List the rules for the smallest diameter, with who uses them and where they were read."""
    from buttonhole.desk.rules import diameter_rules

    listed: list[dict[str, Any]] = [
        {
            "key": one.key,
            "name": one.name,
            "thickness_rule": one.thickness_rule.value,
            "used_by": one.used_by,
            "source": one.source,
            "status": one.status.value,
            "note": one.note,
        }
        for one in diameter_rules()
    ]
    if json:
        say.give_json({"rules": listed})
        return
    for one in listed:
        mark = "" if one["status"] != "memory" else _("; from memory, check it")
        say.give_lines([f"{one['key']}  ({one['name']}; {one['thickness_rule']})"])
        say.give_lines(say.wrapped(f"{one['used_by']} [{one['source']}{mark}]", first="    "))
