"""``buttonhole inside``: what is fused inside a plug or a seam, by what can be seen on it."""

from collections.abc import Callable
from typing import Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.predict import JsonOption, WeldFileArgument
from buttonhole.cli.words import _
from buttonhole.cli.zones_text import figure, row
from buttonhole.units import BadInput

LOOKS = {
    "zinc_ring": _("zinc ring on the back"),
    "back_spot": _("molten spot on the back, 0 mm where there is none"),
    "tint": _("edge of the straw tint on the back"),
    "head_diameter": _("head"),
    "zinc_strip": _("strip without zinc on the back"),
    "back_bead": _("molten width of the back, 0 mm where there is none"),
    "leg": _("leg on the lower sheet"),
    "back_peak": _("how hot the back becomes, by crayons or a pyrometer"),
}


def _asked(name: str, metavar: str, words: str) -> Any:
    return typer.Option(name, metavar=metavar, help=words)


def _length(name: str, words: str) -> Any:
    return _asked(name, "'LENGTH[, OFF]'", words)


def inside(
    file: WeldFileArgument,
    ring: Annotated[str | None, _length("--ring", _("Zinc ring on the back."))] = None,
    spot: Annotated[str | None, _length("--spot", _("Molten spot on the back."))] = None,
    tint: Annotated[str | None, _length("--tint", _("Straw tint on the back."))] = None,
    head: Annotated[str | None, _length("--head", _("Width of the head."))] = None,
    hottest: Annotated[
        str | None, _asked("--hottest", "TEMPERATURE", _("Hottest of the back, by crayons."))
    ] = None,
    mark: Annotated[
        str | None, _asked("--mark", "WORD", _("none, faint, clear, bump, drip or hole."))
    ] = None,
    time_off: Annotated[
        str | None, _asked("--time-off", "TIME", _("How far the arc time may be off."))
    ] = None,
    current: Annotated[
        str | None, _asked("--current", "CURRENT", _("What the machine showed."))
    ] = None,
    strip: Annotated[
        str | None, _length("--strip", _("Strip without zinc on the back of a seam."))
    ] = None,
    bead: Annotated[str | None, _length("--bead", _("Molten width of a seam's back."))] = None,
    leg: Annotated[str | None, _length("--leg", _("A seam's leg on the lower sheet."))] = None,
    json: JsonOption = False,
) -> None:
    """Say what is fused inside a plug or a seam that was welded, by what can be seen on it."""
    from buttonhole.desk.look_inside import Looked, look_inside_plug
    from buttonhole.desk.look_inside_seam import look_inside_seam
    from buttonhole.desk.weld_file import (
        BadFile,
        PlugWeldFile,
        SeamWeldFile,
        named_file,
        read_any_weld_file,
    )

    described = read_any_weld_file(file)
    on_plug = {"zinc_ring": ring, "back_spot": spot, "tint": tint, "head_diameter": head}
    on_seam = {"zinc_strip": strip, "back_bead": bead, "leg": leg}
    if isinstance(described, SeamWeldFile):
        timed = {"mark": mark, "hottest": hottest, "time_off": time_off, "current": current}
        _refuse_others(_("a plug"), {**on_plug, **timed})
        with named_file(file):
            _give(look_inside_seam(described, _readings(on_seam)), _seam_lines, json=json)
        return
    if not isinstance(described, PlugWeldFile):
        raise BadFile(str(file), "process", _("is no arc weld; give a file of a plug or a seam"))
    _refuse_others(_("a seam"), on_seam)
    looked = Looked(
        looks=_readings(on_plug) | _hottest(hottest),
        back_mark=mark,
        arc_time_off=quantity("--time-off", time_off, "time") or 0.0,
        shown_current=quantity("--current", current, "current"),
    )
    with named_file(file):
        answer = look_inside_plug(described, looked)
    _give(answer, _lines, json=json)


def _give(
    answer: dict[str, Any], lines: Callable[[dict[str, Any]], list[str]], *, json: bool
) -> None:
    if json:
        say.give_json(answer)
    else:
        say.give_lines(lines(answer))


def _readings(given: dict[str, str | None]) -> dict[str, tuple[float, float | None]]:
    return {name: _reading(name, text) for name, text in given.items() if text is not None}


def _hottest(text: str | None) -> dict[str, tuple[float, float | None]]:
    return {} if text is None else {"back_peak": (quantity("--hottest", text, "temperature"), None)}


def _refuse_others(of: str, given: dict[str, str | None]) -> None:
    for name, text in given.items():
        if text is not None:
            raise BadInput(name, _("is a mark of {}; the file describes another weld").format(of))


def _reading(name: str, text: str) -> tuple[float, float | None]:
    value, comma, off = text.partition(", ")
    spread = quantity(name, off, "length") if comma else None
    found = quantity(name, value, "length")
    if spread is not None and spread <= 0.0:
        raise BadInput(name, _("may not be off by nothing; give e.g. '8.1 mm, 0.3 mm'"))
    return found, spread


def _lines(answer: dict[str, Any]) -> list[str]:
    lines = []
    for text in answer["alarms"]:
        lines += say.wrapped(text, first="! ")
    if lines:
        return lines
    for one in answer["interfaces"]:
        first, second = one["sheets"]
        low, high = one["fused_interval_mm"]
        lines += [
            _("Interface {}, sheets {} and {}").format(one["index"] + 1, first, second),
            row(_("fused"), f"{one['fused_diameter_mm']:.1f} mm", f"{low:.1f} .. {high:.1f}"),
            *figure(_("depth into sheet {}").format(second), one, "penetration", "mm", digits=2),
            row(_("wanted"), f"{one['wanted_diameter_mm']:.1f} mm", ""),
        ]
    chance = 100 * answer["fusion_probability"]
    lines += ["", _("Fused wide enough everywhere: {:.0f} in 100").format(chance)]
    text = _("Doubt of the fused diameter: {:.1f} mm with nothing seen, {:.1f} mm now.")
    return [*lines, *_doubt_lines(answer, text)]


def _seam_lines(answer: dict[str, Any]) -> list[str]:
    lines = [line for text in answer["alarms"] for line in say.wrapped(text, first="! ")]
    if lines:
        return lines
    for one in answer["sheets"]:
        chance = _("fused: {:.0f} in 100").format(100 * one["fused_probability"])
        lines += [
            f"{one['name']}, {chance}",
            *figure(_("melted depth"), one, "penetration", "mm", digits=2),
            *figure(_("melted width"), one, "fused_width", "mm", digits=1),
        ]
    chance = 100 * answer["fusion_probability"]
    lines += ["", _("All sheets fused: {:.0f} in 100").format(chance)]
    text = _("Doubt of the lower depth: {:.2f} mm with nothing seen, {:.2f} mm now.")
    return [*lines, *_doubt_lines(answer, text)]


def _doubt_lines(answer: dict[str, Any], text: str) -> list[str]:
    lines = [text.format(answer["doubt_before_mm"], answer["doubt_now_mm"])]
    if answer["next_looks"]:
        lines.append(_("What one more look would leave of it:"))
    lines += [
        f"  {one['doubt_left_mm']:.2f} mm  {LOOKS[one['look']]}" for one in answer["next_looks"]
    ]
    text = _(
        "{:.0f} of {} welds that could be still count. Model {}. This does not accept a weld: "
        "section or tear a coupon, and follow the vehicle maker's procedure."
    )
    size = answer["effective_members"], answer["members"]
    return [*lines, "", *say.wrapped(text.format(*size, answer["model_version"]))]
