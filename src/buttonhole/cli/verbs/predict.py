"""``buttonhole predict``: what one weld will be."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.metal_text import metal_lines
from buttonhole.cli.quantities import quantity
from buttonhole.cli.solving import solving
from buttonhole.cli.strength_text import failure_lines, holding_lines
from buttonhole.cli.words import _
from buttonhole.cli.zones_text import cycle_lines, hold_lines, interface_lines, row, sheet_lines
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.coupon.criterion import Criterion
    from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile, WeldFile
    from buttonhole.joint.stack_up import StackUp
    from buttonhole.weld.hardness.of_spot import SpotMetal
    from buttonhole.weld.spot.cycle import Point
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


def predict(
    file: WeldFileArgument,
    json: JsonOption = False,
    rule: RuleOption = None,
    at: Annotated[
        list[str] | None,
        typer.Option(
            "--at",
            metavar="'RADIUS, DEPTH'",
            help=_("Thermal cycle there: from the axis, below side A; again for each more."),
        ),
    ] = None,
    cycle: Annotated[
        Path | None,
        typer.Option(
            "--cycle", metavar="FILE", help=_("Draw the thermal cycles into an SVG file.")
        ),
    ] = None,
    section: Annotated[
        Path | None,
        typer.Option("--section", metavar="FILE", help=_("Draw the section into an SVG file.")),
    ] = None,
    quick: Annotated[
        bool,
        typer.Option(
            "--quick",
            help=_("Answer at once, a little less exact; where it can't, the solver does."),
        ),
    ] = False,
) -> None:
    """Predict the weld at each faying interface, with 90 % intervals."""
    from buttonhole.desk.rules import rule_for
    from buttonhole.desk.weld_file import WeldFile, read_any_weld_file

    described = read_any_weld_file(file)
    if not isinstance(described, WeldFile):
        _refuse_for_an_arc(
            {"--rule": rule, "--at": at, "--cycle": cycle, "--section": section, "--quick": quick}
        )
        tell_arc(file, described, json=json)
        return
    criterion = rule_for(described.stack, rule or described.minimum_rule)
    points = (*described.points, *(_point(one) for one in at or ()))
    for drawn in (cycle, section):
        if drawn is not None and drawn.exists():
            raise BadInput(str(drawn), _("is there already; give another name"))
    with solving(file):
        if quick and not (points or cycle or section):
            tell_quick(described, criterion, json=json)
            return
        from buttonhole.desk.spot_weld import predict_spot

        made = predict_spot(
            described.stack, described.set_up, points=points, condition=described.condition
        )
        _draw(made[0], described.stack, criterion, cycle, section)
        tell(described.stack, described.set_up, made, criterion, json=json)


def _refuse_for_an_arc(options: dict[str, object]) -> None:
    for name, given in options.items():
        if given:
            raise BadInput(name, _("is for spot welds only; leave it out for an arc weld"))


def tell_arc(file: Path, described: "PlugWeldFile | SeamWeldFile", *, json: bool) -> None:
    """Predict an arc weld, and give it as JSON or in words."""
    from buttonhole.desk.predict_arc import predict_arc
    from buttonhole.desk.weld_file import named_file

    with named_file(file):
        answer = predict_arc(described)
    give_arc(answer, json=json)


def give_arc(answer: dict[str, Any], *, json: bool) -> None:
    """Give the answer about an arc weld as JSON or in words."""
    from buttonhole.cli.plug_text import plug_lines
    from buttonhole.cli.seam_text import seam_lines

    if json:
        say.give_json(answer)
        return
    say.give_lines(seam_lines(answer) if answer["process"] == "seam" else plug_lines(answer))


def _point(text: str) -> "Point":
    from buttonhole.weld.spot.cycle import Point

    parts = [one.strip() for one in text.split(",")]
    if len(parts) != 2:
        raise BadInput(
            "--at", _("is '{}'; give radius and depth, e.g. '2 mm, 0.4 mm'").format(text)
        )
    return Point(quantity("--at", parts[0], "length"), quantity("--at", parts[1], "length"))


def _draw(
    weld: "SpotWeld",
    stack: "StackUp",
    rule: "Criterion",
    cycle: Path | None,
    section: Path | None,
) -> None:
    """Write the drawings somebody asked for."""
    if cycle is None and section is None:
        return
    from buttonhole.desk.weld_drawings import cycle_drawing, section_drawing

    if cycle is not None:
        cycle.write_text(cycle_drawing(weld, stack), encoding="utf-8")
    if section is not None:
        section.write_text(section_drawing(weld, stack, rule), encoding="utf-8")


def tell(
    stack: "StackUp",
    set_up: "SpotSetUp",
    made: "tuple[SpotWeld, SpotMetal]",
    rule: "Criterion",
    *,
    json: bool,
) -> None:
    """Give a prediction as JSON or in words with a picture."""
    from buttonhole.desk.rules import listed_rules
    from buttonhole.desk.spot_answer import spot_answer

    weld, metal = made
    answer = spot_answer(weld, metal, stack, rule, listed_rules())
    if json:
        say.give_json(answer)
        return
    from buttonhole.cli.picture import BLOCKS, PLAIN, cut_through

    letters = BLOCKS if say.draws_blocks() else PLAIN
    say.give_lines(cut_through(stack, set_up, weld, letters))
    say.give_lines([*_condition_lines(weld), *_told(answer)])


def _condition_lines(weld: "SpotWeld") -> list[str]:
    """What the weld file says of gun, caps, mains and the last weld, in its own keys."""
    from buttonhole.desk.weld_file.condition_keys import condition_keys
    from buttonhole.units import show

    told = []
    for key, value in condition_keys(weld.condition).items():
        if isinstance(value, str):
            told.append(f"{key} {value}")
        elif key == "lead_length":
            told.append(f"{key} {value[0]:.4g} m")
        else:
            told.append(f"{key} {show(*value)}")
    return ["", *say.wrapped(_("Made in: {}").format(", ".join(told)))] if told else []


def tell_quick(described: "WeldFile", rule: "Criterion", *, json: bool) -> None:
    """Give a quick answer, or why it is the solver's."""
    from buttonhole.desk.quick_answer import quick_answer
    from buttonhole.desk.rules import listed_rules

    answer = quick_answer(
        described.stack, described.set_up, rule, listed_rules(), described.condition
    )
    if json:
        say.give_json(answer)
        return
    found = answer["quick"]
    if not found["is_quick"]:
        say.give_lines(say.wrapped(_("No quick answer: {}.").format(found["why_not"])))
        say.give_lines(_told(answer))
        return
    lines = [line for one in answer["interfaces"] for line in ["", *_size_lines(one)]]
    say.give_lines(_whole_lines(answer, lines))
    errors = ", ".join(f"{one:.2f}" for one in found["nugget_error_mm"])
    text = _(
        "A quick answer by {}: the nugget may be {} mm from what the solver says, and that is in "
        "the ranges. Without --quick the solver answers. A prediction releases nothing: weld and "
        "tear a coupon, and follow the vehicle maker's procedure."
    )
    say.give_lines(["", *say.wrapped(text.format(answer["model_version"], errors))])


SPLASHES = 0.10  # -, chance from which a window ends


def _told(answer: dict[str, Any]) -> list[str]:
    lines = []
    for one in answer["interfaces"]:
        lines += ["", *_interface_lines(one)]
    lines += sheet_lines(answer["sheets"])
    lines += metal_lines(answer["metallurgy"])
    lines += ["", _("What it holds (guide values, no weld was pulled for them)")]
    lines += [*holding_lines(answer["strength"]), *failure_lines(answer["failure"])]
    lines += hold_lines(answer["hold"])
    lines += cycle_lines(answer["thermal_cycles"])
    return [*_whole_lines(answer, lines), "", *_origin(answer)]


def _whole_lines(answer: dict[str, Any], before: list[str]) -> list[str]:
    lines = list(before)
    lines += ["", _("The weld as a whole")]
    chance, low, high = (
        100 * one for one in (answer["expulsion_probability"], *answer["expulsion_interval"])
    )
    lines.append(row(_("expulsion"), f"{chance:.0f} %", f"{low:.0f} .. {high:.0f}"))
    for name, key, interval, unit, digits in _FIGURES:
        if key not in answer:  # not all of them are known at once
            continue
        value = f"{answer[key]:.{digits}f} {unit}"
        low, high = answer[interval]
        lines.append(row(name, value, f"{low:.{digits}f} .. {high:.{digits}f}"))
    if answer["expulsion_probability"] >= SPLASHES:
        lines += ["  " + _("=> it may splash: see what `buttonhole window` leaves you")]
    if answer["warnings"]:
        lines += ["", _("Mind")]
        for text in answer["warnings"]:
            lines += say.wrapped(text, first="  - ")
    return lines


_FIGURES = (
    (_("indentation"), "indentation_mm", "indentation_interval_mm", "mm", 2),
    (_("heat-affected zone"), "haz_diameter_mm", "haz_interval_mm", "mm", 1),
    (_("heat"), "heat_J", "heat_interval_J", "J", 0),
    (_("hardest place"), "peak_hardness_HV", "peak_hardness_interval_HV", "HV", 0),
)


def _interface_lines(one: dict[str, Any]) -> list[str]:
    return _size_lines(one) + interface_lines(one)


def _size_lines(one: dict[str, Any]) -> list[str]:
    first, second = one["sheets"]
    lines = [
        _("Interface {}, sheets {} and {}").format(one["index"] + 1, first, second),
        _mm_row(_("nugget"), one["nugget_diameter_mm"], one["nugget_interval_mm"]),
        _mm_row(_("button"), one["button_diameter_mm"], one["button_interval_mm"]),
        row(_("must reach"), f"{one['minimum_diameter_mm']:.2f} mm", _rule_words(one)),
    ]
    if one["minimum_mark"]:
        lines.append(row("", "", one["minimum_mark"]))
    others = [each for each in one["limits"] if each["rule"] != one["minimum_rule"]]
    lines += [row("", f"{each['diameter_mm']:.2f} mm", each["name"]) for each in others]
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
    return row(name, f"{value:.1f} mm", f"{interval[0]:.1f} .. {interval[1]:.1f}")


def _origin(answer: dict[str, Any]) -> list[str]:
    text = _(
        "Computed in {:.0f} ms by model {}; behind a value stands the range that should hold it "
        "nine times in ten. A prediction releases nothing: weld and tear a coupon, and follow the "
        "vehicle maker's procedure."
    )
    return say.wrapped(text.format(1e3 * answer["solver_seconds"], answer["model_version"]))
