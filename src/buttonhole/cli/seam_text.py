"""A predicted seam in plain words, for a terminal."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.metal_text import metal_lines
from buttonhole.cli.plug_text import LOOKS, arc_lines, mind_lines, origin_lines
from buttonhole.cli.words import _
from buttonhole.cli.zones_text import figure, row

LINKS = {
    "throat": _("throat"),
    "lower_sheet_fusion": _("fused face, lower"),
    "upper_sheet_fusion": _("fused edge, upper"),
    "lower_brazed_face": _("brazed face, lower"),
    "upper_brazed_face": _("brazed face, upper"),
    "upper_sheet": _("upper sheet"),
    "lower_sheet": _("lower sheet"),
}


def seam_lines(answer: dict[str, Any]) -> list[str]:
    """A seam's answer in words.

    Parameters
    ----------
    answer : dict
        As for JSON.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines = []
    for one in answer["sheets"]:
        lines += ["", *_sheet_lines(one, brazed=answer["brazed"])]
    if not answer["brazed"]:
        chance = 100 * answer["fusion_probability"]
        lines += ["", "  " + _("=> all sheets fused: {:.0f} in 100").format(chance)]
    lines += ["", *_shape_lines(answer), "", *arc_lines(answer), *_heat_lines(answer)]
    lines += metal_lines(answer["metallurgy"])
    lines += _strength_lines(answer["strength"])
    return [*lines, *mind_lines(answer), "", *origin_lines(answer)]


def _sheet_lines(one: dict[str, Any], *, brazed: bool) -> list[str]:
    lines = [_("Sheet: {}").format(one["name"])]
    if brazed:
        lines += figure(_("wetted"), one, "wetted_width", "mm")
        lines += figure(_("melted, should be 0"), one, "penetration", "mm", digits=2)
        lines.append(row(_("chance it melts"), f"{100 * one['melting_probability']:.0f} %", ""))
    else:
        lines += figure(_("depth of fusion"), one, "penetration", "mm", digits=2)
        lines += figure(_("fused width"), one, "fused_width", "mm")
        lines.append(row(_("chance it is fused"), f"{100 * one['fused_probability']:.0f} %", ""))
    lines += figure(_("heat zone from joint"), one, "haz_width", "mm")
    lines += figure(_("softened width"), one, "softened_width", "mm")
    return lines + figure(_("zinc burnt off, back"), one, "zinc_width", "mm")


def _shape_lines(answer: dict[str, Any]) -> list[str]:
    start = answer["cold_start_mm"]
    return [
        _("The seam in its middle"),
        *figure(_("leg, lower sheet"), answer, "leg_lower", "mm"),
        *figure(_("leg, upper sheet"), answer, "leg_upper", "mm"),
        *figure(_("throat"), answer, "throat", "mm", digits=2),
        *([] if start is None else [row(_("cold start"), f"{start:.0f} mm", "")]),
        row(_("back"), LOOKS[answer["back_mark"]], ""),
        row(_("chance of a hole"), f"{100 * answer['burn_through_probability']:.0f} %", ""),
    ]


def _heat_lines(answer: dict[str, Any]) -> list[str]:
    lines = [
        *figure(_("arc energy"), answer, "arc_energy", "J_per_mm", "J/mm", digits=0),
        *figure(_("heat input, k 0.8"), answer, "heat_input", "J_per_mm", "J/mm", digits=0),
        *figure(_("800 to 500 °C in"), answer, "cooling_t85", "s"),
    ]
    if answer["long_seam_t85_s"] is not None:
        long = f"{answer['long_seam_t85_s']:.1f} s"
        lines.append(row(_("EN 1011-2 says"), long, _("for a long seam; reference only")))
    return lines + figure(_("hardest place"), answer, "peak_hardness", "HV", digits=0)


def _strength_lines(held: list[dict[str, Any]] | None) -> list[str]:
    if held is None:
        return ["", *say.wrapped(_("What it holds is not said for this joint or metal."))]
    (one,) = held
    low, high = one["load_interval_N_per_mm"]
    beside = f"{low:.0f} .. {high:.0f}  {LINKS[one['weakest']]}"
    return [
        "",
        _("What it holds in lap shear (guide values, no weld was pulled for them)"),
        row(_("per length"), f"{one['load_N_per_mm']:.0f} N/mm", beside),
        *say.wrapped(one["why"], first="  => ", rest="     "),
    ]
