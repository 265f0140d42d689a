"""``buttonhole learn``, ``plan``, ``diagnose``: what coupons teach about a machine."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import RecordOption, find_coupon, find_joint, reading
from buttonhole.cli.verbs.predict import JsonOption, RuleOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.learning_case import LearningCase

CouponsOption = Annotated[
    list[str] | None,
    typer.Option(
        "--coupon",
        metavar="TEXT",
        help=_(
            "One coupon of this set-up, in the order welded. Spot: '1, peel, full_button, 5.4 mm, "
            "4.8 mm, dent 0.12 mm', ' / ' between interfaces. Plug: '6.2 mm back clear crown "
            "0.8 mm ring 14 mm', 'none', 'hole'. Seam: '3.1 mm deep 0.6 mm back clear', 'held', "
            "'none', 'hole'."
        ),
    ),
]
HistoryOption = Annotated[
    Path | None,
    typer.Option(
        "--history",
        metavar="FILE",
        help=_("Earlier coupons of the machine: [[coupon]] tables with weld and coupon."),
    ),
]
MetersOption = Annotated[
    list[str] | None,
    typer.Option("--meter", metavar="TEXT", help=_("'current -8 %', 'face +15 %', 'gap 0.8 mm'.")),
]


JointOption = Annotated[
    str | None,
    typer.Option(
        "--joint",
        metavar="JOINT",
        help=_("A joint of the record instead of files: its name or id, or JOB/NAME."),
    ),
]
FileArgument = Annotated[
    Path | None,
    typer.Argument(metavar="[FILE]", help=_("Weld file of a spot or a plug; or give --joint.")),
]


def _one_of(file: Path | None, joint: str | None) -> None:
    if (file is None) == (joint is None):
        raise BadInput("FILE", _("give a weld file or --joint, one of them"))


def _case(
    file: Path,
    coupons: list[str] | None,
    history: Path | None,
    meters: list[str] | None,
    rule: str | None,
    welds: int = 40,
) -> "LearningCase":
    from buttonhole.desk.learning_case import learning_case
    from buttonhole.desk.weld_file import named_file

    with named_file(file), say.progress(_("asking the solver")) as progress:
        return learning_case(
            file,
            coupons or [],
            history=history,
            meters=meters or [],
            rule=rule,
            welds=welds,
            progress=progress,
        )


def learn(
    file: FileArgument = None,
    joint: JointOption = None,
    coupon: CouponsOption = None,
    history: HistoryOption = None,
    meter: MetersOption = None,
    welds: Annotated[int, typer.Option(help=_("How many welds are to be made."))] = 40,
    rule: RuleOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Learn a machine from its coupons, and say whether the set-up may be released."""
    from buttonhole.desk.learning_answer import learn_answer

    _one_of(file, joint)
    if joint is not None:
        _decided(joint, welds, record, json=json)
        return
    assert file is not None  # noqa: S101 - one of them was given
    answer = learn_answer(_case(file, coupon, history, meter, rule, welds))
    if json:
        say.give_json(answer)
        return
    say.give_lines(_learned(answer))


def _decided(joint: str, welds: int, record: Path | None, *, json: bool) -> None:
    """A joint of the record: what all its machine's coupons say of its set-up."""
    from buttonhole.cli.decision_text import decision_lines
    from buttonhole.desk.decide_release import decide_release

    with reading(record) as desk:
        found = find_joint(desk, joint)
        answer = decide_release(desk, found, welds=welds).answer
    if json:
        say.give_json({"joint": found.name, "decision": dict(answer)})
    else:
        say.give_lines(decision_lines(answer))


def _learned(answer: dict[str, Any]) -> list[str]:
    lines = [_("the machine, by what is known (between 5 and 95 %)")]
    for name, one in answer["machine"].items():
        factor, unit = {"m": (1e3, "mm"), "A": (1.0, "A")}.get(one["unit"], (100.0, "%"))
        low, high = factor * one["low"], factor * one["high"]
        lines.append(
            f"  {name:<24}{factor * one['value']:+7.2f} {unit:<3} {low:+.2f} .. {high:+.2f}"
        )
    one = answer["scatter_mm"]
    lines.append(
        f"  {_('scatter'):<24}{one['value']:7.2f} mm  {one['low']:.2f} .. {one['high']:.2f}"
    )
    for number, size in enumerate(answer["next_weld"]["size_mm"], start=1):
        least = answer["next_weld"]["least_mm"][number - 1]
        text = _("next weld, {}: {:.1f} mm ({:.1f} to {:.1f}), {:.2f} mm asked")
        what = answer["next_weld"]["what"] or [_("interface {}")] * number
        lines.append(
            text.format(
                what[number - 1].format(number), size["value"], size["low"], size["high"], least
            )
        )
    lines += ["", *say.wrapped(answer["decision"]["words"])]
    for reason in answer["decision"]["reasons"]:
        lines += say.wrapped(reason, first="  - ")
    return [*lines, "", *say.wrapped(answer["caution"])]


def plan(
    file: FileArgument = None,
    joint: JointOption = None,
    coupon: CouponsOption = None,
    history: HistoryOption = None,
    meter: MetersOption = None,
    rule: RuleOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Say which set-up the next coupon should be welded with, or that none will do."""
    from buttonhole.desk.learning_answer import plan_answer

    _one_of(file, joint)
    if joint is not None:
        _planned(joint, record, json=json)
        return
    assert file is not None  # noqa: S101 - one of them was given
    answer = plan_answer(_case(file, coupon, history, meter, rule))
    if json:
        say.give_json(answer)
        return
    say.give_lines([*say.wrapped(answer["words"]), "", *say.wrapped(answer["caution"])])


def _planned(joint: str, record: Path | None, *, json: bool) -> None:
    """The next coupon of a joint of the record."""
    from buttonhole.desk.decide_release import plan_coupon

    with reading(record) as desk:
        found = find_joint(desk, joint)
        answer = plan_coupon(desk, found)
    if json:
        say.give_json({"joint": found.name, **answer})
        return
    say.give_lines([*say.wrapped(answer["words"]), "", *say.wrapped(answer["caution"])])


def diagnose(
    file: Annotated[
        Path | None,
        typer.Argument(metavar="[FILE]", help=_("Weld file, if measured.")),
    ] = None,
    process: Annotated[
        str | None,
        typer.Option(help=_("spot, plug, seam, braze or aluminium, without a file.")),
    ] = None,
    sign: Annotated[
        list[str] | None,
        typer.Option("--sign", metavar="ROW", help=_("What is seen, a row such as S1 or P4.")),
    ] = None,
    coupon: CouponsOption = None,
    history: HistoryOption = None,
    meter: MetersOption = None,
    checked: Annotated[
        list[str] | None,
        typer.Option("--checked", metavar="TEXT", help=_("'measure the tip faces: no'.")),
    ] = None,
    joint: JointOption = None,
    number: Annotated[
        int | None, typer.Option("--number", metavar="N", help=_("Coupon of the joint; the last."))
    ] = None,
    record: RecordOption = None,
    signs: Annotated[bool, typer.Option("--signs", help=_("List the signs and end."))] = False,
    json: JsonOption = False,
) -> None:
    """Say why a weld may have failed, what to look at first, and what a remedy would do."""
    from buttonhole.desk.learning_answer import diagnose_answer

    if signs:
        _list_signs(json)
        return
    if joint is not None:
        _diagnosed_joint(joint, number, checked or [], record, json=json)
        return
    if file is None and process is None:
        raise BadInput("--process", _("is missing; give a weld file or the process"))
    case = None if file is None else _case(file, coupon, history, meter, None)
    kind = case.process if case is not None else str(process)
    answer = diagnose_answer(kind, sign or [], checked or [], case)
    if json:
        say.give_json(answer)
        return
    say.give_lines(diagnosed_lines(answer))


def _diagnosed_joint(
    joint: str, number: int | None, checked: list[str], record: Path | None, *, json: bool
) -> None:
    """A failed coupon of the record."""
    from buttonhole.desk.diagnose_coupon import diagnose_coupon

    with reading(record) as desk:
        found = find_joint(desk, joint)
        coupon = find_coupon(found, number)
        answer = diagnose_coupon(desk, found, coupon, checked)
    if answer is None:
        raise BadInput(
            "--number",
            _("coupon {} has not failed, or no model of its weld is learned with").format(
                coupon.number
            ),
        )
    if json:
        say.give_json({"joint": found.name, **answer})
    else:
        say.give_lines(diagnosed_lines(answer))


def _list_signs(json: bool) -> None:
    from buttonhole.learning.faults import signs

    listed = [{"row": s.row, "process": s.process, "words": s.words} for s in signs().values()]
    if json:
        say.give_json({"signs": listed})
        return
    say.give_lines(f"{one['row']:<4} {one['process']:<10} {one['words']}" for one in listed)


def diagnosed_lines(answer: dict[str, Any]) -> list[str]:
    """Causes in words, the likeliest first.

    Parameters
    ----------
    answer : dict
        As the desk gives it.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines = []
    for number, one in enumerate(answer["suspects"], start=1):
        lines.append(f"{number}. {one['words']} ({100 * one['chance']:.0f} %)")
        for words, key in ((_("for"), "for"), (_("against"), "against")):
            if one[key]:
                lines += say.wrapped(f"{words}: {'; '.join(one[key])}", first="   ")
        if one["alike"]:
            other = "; ".join(f"{each['words']} ({each['check']})" for each in one["alike"])
            lines += say.wrapped(_("a coupon can't tell it from: {}").format(other), first="   ")
        lines += say.wrapped(_("do: {}").format(one["correction"]), first="   ")
        if one["remedy"]:
            text = _("size {:.1f} to {:.1f} mm, bad welds {:.0f} to {:.0f} in 100")
            fix = one["remedy"]
            sizes = (fix["size_before_mm"], fix["size_after_mm"])
            bad = (100 * fix["bad_before"], 100 * fix["bad_after"])
            lines.append("   " + text.format(*sizes, *bad))
    text = _("Something else: {:.0f} %. Look first: {} ({:g} min).")
    check = answer["check"]
    said = text.format(100 * answer["something_else"], check["words"], check["minutes"])
    return [*lines, "", *say.wrapped(said), *say.wrapped(answer["caution"])]
