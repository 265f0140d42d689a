"""``buttonhole predict``: what one spot weld will be."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.solving import solving
from buttonhole.cli.words import _

if TYPE_CHECKING:
    from buttonhole.coupon.criterion import Criterion
    from buttonhole.joint.stack_up import StackUp
    from buttonhole.weld.spot.result import SpotWeld
    from buttonhole.weld.spot.set_up import SpotSetUp

WeldFileArgument = Annotated[
    Path, typer.Argument(metavar="FILE", help=_("Weld file (TOML), see the folder examples."))
]
JsonOption = Annotated[
    bool, typer.Option("--json", help=_("Print one JSON object with units in the key names."))
]
RuleOption = Annotated[
    str | None,
    typer.Option("--rule", metavar="KEY", help=_("Rule for the minimum diameter.")),
]


def predict(file: WeldFileArgument, json: JsonOption = False, rule: RuleOption = None) -> None:
    """Predict the weld at each faying interface, with 90 % intervals."""
    from buttonhole.desk.rules import rule_for
    from buttonhole.desk.weld_file import read_weld_file

    described = read_weld_file(file)
    criterion = rule_for(described.stack, rule or described.minimum_rule)
    with solving(file):
        from buttonhole.weld import spot

        weld = spot.predict(described.stack, described.set_up)
        tell(described.stack, described.set_up, weld, criterion, json=json)


def tell(
    stack: "StackUp", set_up: "SpotSetUp", weld: "SpotWeld", rule: "Criterion", *, json: bool
) -> None:
    """Give a prediction as JSON or in words with a picture."""
    from buttonhole.desk.rules import listed_rules
    from buttonhole.desk.spot_answer import spot_answer

    answer = spot_answer(weld, stack, rule, listed_rules())
    if json:
        say.give_json(answer)
        return
    from buttonhole.cli.picture import BLOCKS, PLAIN, cut_through

    letters = BLOCKS if say.draws_blocks() else PLAIN
    say.give_lines(cut_through(stack, set_up, weld, letters))
    say.give_lines(_told(answer))


SPLASHES = 0.10  # -, chance from which a window ends


def _told(answer: dict[str, Any]) -> list[str]:
    lines = []
    for one in answer["interfaces"]:
        lines += ["", *_interface_lines(one)]
    lines += ["", _("The weld as a whole")]
    chance, low, high = (
        100 * one for one in (answer["expulsion_probability"], *answer["expulsion_interval"])
    )
    lines.append(_row(_("expulsion"), f"{chance:.0f} %", f"{low:.0f} .. {high:.0f}"))
    for name, key, interval, unit, digits in _FIGURES:
        value = f"{answer[key]:.{digits}f} {unit}"
        low, high = answer[interval]
        lines.append(_row(name, value, f"{low:.{digits}f} .. {high:.{digits}f}"))
    if answer["expulsion_probability"] >= SPLASHES:
        lines += ["  " + _("=> it may splash: see what `buttonhole window` leaves you")]
    if answer["warnings"]:
        lines += ["", _("Mind")]
        for text in answer["warnings"]:
            lines += say.wrapped(text, first="  - ")
    return [*lines, "", *_origin(answer)]


_FIGURES = (
    (_("indentation"), "indentation_mm", "indentation_interval_mm", "mm", 2),
    (_("heat-affected zone"), "haz_diameter_mm", "haz_interval_mm", "mm", 1),
    (_("800 to 500 °C in"), "cooling_t85_s", "cooling_t85_interval_s", "s", 3),
    (_("heat"), "heat_J", "heat_interval_J", "J", 0),
    (_("hardest place"), "peak_hardness_HV", "peak_hardness_interval_HV", "HV", 0),
)


def _interface_lines(one: dict[str, Any]) -> list[str]:
    first, second = one["sheets"]
    lines = [
        _("Interface {}, sheets {} and {}").format(one["index"] + 1, first, second),
        _mm_row(_("nugget"), one["nugget_diameter_mm"], one["nugget_interval_mm"]),
        _mm_row(_("button"), one["button_diameter_mm"], one["button_interval_mm"]),
        _row(_("must reach"), f"{one['minimum_diameter_mm']:.2f} mm", _rule_words(one)),
    ]
    others = [each for each in one["limits"] if each["rule"] != one["minimum_rule"]]
    lines += [_row("", f"{each['diameter_mm']:.2f} mm", each["name"]) for each in others]
    lines.append("  " + _judged(one))
    return lines


def _rule_words(one: dict[str, Any]) -> str:
    return f"{one['minimum_name']} ({one['minimum_source']})"


def _judged(one: dict[str, Any]) -> str:
    low, high = one["button_interval_mm"]
    limit = one["minimum_diameter_mm"]
    if low >= limit:
        return _("=> the whole interval is over the limit")
    if high < limit:
        return _("=> the whole interval is under the limit: this set-up makes no good weld")
    return _("=> the limit is inside the interval: only a coupon can tell")


def _mm_row(name: str, value: float, interval: list[float]) -> str:
    return _row(name, f"{value:.1f} mm", f"{interval[0]:.1f} .. {interval[1]:.1f}")


def _row(name: str, value: str, beside: str) -> str:
    number, _blank, unit = value.partition(" ")
    return f"  {name:<20}{number:>7} {unit:<4} {beside}"


def _origin(answer: dict[str, Any]) -> list[str]:
    text = _(
        "Computed in {:.0f} ms by model {}; behind a value stands the range that should hold it "
        "nine times in ten. A prediction releases nothing: weld and tear a coupon, and follow the "
        "vehicle maker's procedure."
    )
    return say.wrapped(text.format(1e3 * answer["solver_seconds"], answer["model_version"]))
