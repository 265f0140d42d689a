"""A predicted plug weld in plain words, for a terminal."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.metal_text import metal_lines
from buttonhole.cli.words import _
from buttonhole.cli.zones_text import figure, row

LOOKS = {
    "none": _("nothing to see"),
    "faint": _("a tint"),
    "clear": _("scaled or burnt off, not molten"),
    "bump": _("a raised mark: molten through and held"),
    "drip": _("hangs through, near to falling"),
    "hole": _("a hole"),
}
LINKS = {
    "faying_fusion": _("fused face"),
    "base_pull_out": _("button of sheet below"),
    "upper_pull_out": _("button of upper sheet"),
    "rim_or_head_tear_out": _("rim or head of plug"),
    "brazed_face": _("brazed face"),
    "brazed_rim_or_head": _("brazed rim or head"),
    "middle_sheet_ring": _("ring of middle sheet"),
    "base_sheet_tear": _("tear of sheet below"),
    "upper_sheet_tear": _("tear of upper sheet"),
}
PULLS = {"lap_shear": _("lap shear"), "cross_tension": _("cross tension")}


def plug_lines(answer: dict[str, Any]) -> list[str]:
    """A plug weld's answer in words.

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
    for one in answer["interfaces"]:
        lines += ["", *_interface_lines(one)]
    lines += ["", *_chance_lines(answer)]
    lines += ["", *_outside_lines(answer)]
    lines += ["", *arc_lines(answer), *_heat_lines(answer)]
    lines += metal_lines(answer["metallurgy"])
    lines += strength_lines(answer["strength"])
    return [*lines, *mind_lines(answer), "", *origin_lines(answer)]


def _chance_lines(answer: dict[str, Any]) -> list[str]:
    if not answer["brazed"]:
        chance = 100 * answer["fusion_probability"]
        return ["  " + _("=> fused wide enough everywhere: {:.0f} in 100").format(chance)]
    wetted, melts = 100 * answer["wetting_probability"], 100 * answer["melting_probability"]
    return [
        "  " + _("=> wetted wide enough everywhere: {:.0f} in 100").format(wetted),
        "  " + _("=> a sheet melts, which it must not: {:.0f} in 100").format(melts),
    ]


def _interface_lines(one: dict[str, Any]) -> list[str]:
    first, second = one["sheets"]
    name, key, interval = _("fused"), "fused_diameter_mm", "fused_interval_mm"
    if one["wetted_diameter_mm"] is not None:
        name, key = _("wetted"), "wetted_diameter_mm"
        interval = "wetted_diameter_interval_mm"
    low, high = one[interval]
    value = f"{one[key]:.1f} mm"
    return [
        _("Interface {}, sheets {} and {}").format(one["index"] + 1, first, second),
        row(name, value, f"{low:.1f} .. {high:.1f}"),
        *figure(_("depth into sheet {}").format(second), one, "penetration", "mm", digits=2),
        row(_("wanted"), f"{one['wanted_diameter_mm']:.1f} mm", ""),
    ]


def _outside_lines(answer: dict[str, Any]) -> list[str]:
    lines = [_("What can be seen"), row(_("back"), LOOKS[answer["back_mark"]], "")]
    for name, key in (
        (_("molten spot, back"), "back_spot_diameter"),
        (_("zinc ring, back"), "zinc_ring_diameter"),
        (_("tint, back"), "tint_diameter"),
        (_("head"), "head_diameter"),
        (_("head height"), "head_height"),
        (_("hole burnt back to"), "burnt_hole_diameter"),
    ):
        lines += figure(name, answer, key, "mm")
    low, high = (100 * one for one in answer["rim_fusion_interval_share"])
    value = f"{100 * answer['rim_fusion_share']:.0f} %"
    lines.append(row(_("edge of hole fused"), value, f"{low:.0f} .. {high:.0f}"))
    filled = figure(_("hole full after"), answer, "fill_time", "s")
    lines += filled or [row(_("hole full after"), _("never"), "")]
    if 0.0 < answer["fill_probability"] < 1.0:
        lines.append(
            row(_("chance of a full hole"), f"{100 * answer['fill_probability']:.0f} %", "")
        )
    lines.append(row(_("chance of a hole"), f"{100 * answer['hole_probability']:.0f} %", ""))
    return lines


def arc_lines(answer: dict[str, Any]) -> list[str]:
    """What the machine's settings come to.

    Parameters
    ----------
    answer : dict
        Of any arc weld.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    return [
        _("The arc"),
        *figure(_("current"), answer, "welding_current", "A", digits=0),
        *figure(_("arc power"), answer, "arc_power", "W", digits=0),
        *figure(_("of it in the drops"), answer, "droplet_power", "W", digits=0),
        row(_("arc"), answer["arc_state"], ""),
    ]


def _heat_lines(answer: dict[str, Any]) -> list[str]:
    lines = figure(_("arc energy"), answer, "arc_energy", "kJ")
    for one in answer["sheets"]:
        lines += figure(_("heat zone, sheet {}").format(one["sheet"]), one, "haz_diameter", "mm")
    lines += figure(_("800 to 500 °C in"), answer, "cooling_t85", "s")
    return lines + figure(_("hardest place"), answer, "peak_hardness", "HV", digits=0)


def strength_lines(held: list[dict[str, Any]] | None) -> list[str]:
    """What a weld holds, and what lets go first.

    Parameters
    ----------
    held : list of dict or None
        As for JSON; None where a steel is not known.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    if held is None:
        text = _("What it holds can't be said: the strength of a sheet is not known.")
        return ["", *say.wrapped(text)]
    lines = ["", _("What it holds (guide values, no weld was pulled for them)")]
    for one in held:
        low, high = (1e-3 * each for each in one["load_interval_N"])
        beside = f"{low:.1f} .. {high:.1f}  {LINKS[one['weakest']]}"
        pair = one["interface"] + 1, one["interface"] + 2
        name = _("{}, {} to {}").format(PULLS[one["pull"]], *pair)
        lines.append(row(name, f"{1e-3 * one['load_N']:.1f} kN", beside))
    for why in dict.fromkeys(one["why"] for one in held):
        lines += say.wrapped(why, first="  => ", rest="     ")
    text = _("Peeled, a flange holds a third to a half of the cross tension.")
    return lines + say.wrapped(text, first="  ")


def mind_lines(answer: dict[str, Any]) -> list[str]:
    """Warnings of the weld, then dangers of the work.

    Parameters
    ----------
    answer : dict
        Of any arc weld.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines = []
    if answer["warnings"]:
        lines += ["", _("Mind")]
        for text in answer["warnings"]:
            lines += say.wrapped(text, first="  - ")
    lines += ["", _("Before you strike an arc")]
    for one in answer["cautions"]:
        lines += say.wrapped(one["text"], first="  ! ")
    return lines


def origin_lines(answer: dict[str, Any]) -> list[str]:
    """Who says so, and what it is worth.

    Parameters
    ----------
    answer : dict
        Of any arc weld.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    text = _(
        "Computed by model {}; behind a value stands the range that should hold it nine times in "
        "ten. What is fused inside is far less sure than what shows outside: weld a coupon, look "
        "at its back, tear or section it. What the model explains of what the trade looks for, "
        "what only in part and what not: `buttonhole cues`. A prediction releases nothing; follow "
        "the vehicle maker's procedure."
    )
    return say.wrapped(text.format(answer["model_version"]))
