"""What welds hold, in plain words."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.plug_text import LINKS as PLUG_LINKS
from buttonhole.cli.seam_text import LINKS as SEAM_LINKS
from buttonhole.cli.words import _
from buttonhole.cli.zones_text import row

SPOT_LINKS = {
    "nugget": _("through the nugget"),
    "button_of_side_a": _("button of side A"),
    "button_of_side_b": _("button of side B"),
}
WORDS = {**PLUG_LINKS, **SEAM_LINKS, **SPOT_LINKS}
PULLED = {
    "lap_shear": _("lap shear"),
    "cross_tension": _("cross tension"),
    "peel": _("peel"),
    "torsion": _("twist"),
}
HELD = {
    "yes": _("held"),
    "open": _("open: only a pull tells"),
    "no": _("NOT held"),
    None: _("not for this sheet"),
}
NOMINAL = {**HELD, "yes": _("over it"), "no": _("below it; it is no minimum")}


def joint_lines(answer: dict[str, Any]) -> list[str]:
    """Tell what the welds of a joint hold.

    Parameters
    ----------
    answer : dict
        As for JSON.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines: list[str] = []
    for weld in answer["welds"]:
        lines += ["", _("{}: {}").format(weld["process"].capitalize(), weld["name"])]
        lines += holding_lines(weld["strength"])
        lines += failure_lines(weld.get("failure"))
        for face in weld.get("least_loads", ()):
            lines += _least_lines(face)
    lines += ["", *_weakest_lines(answer)]
    lines += _count_lines(answer["count"])
    warnings = list(dict.fromkeys(text for weld in answer["welds"] for text in weld["warnings"]))
    if warnings:
        lines += ["", _("Mind")]
    for text in warnings:
        lines += say.wrapped(text, first="  - ")
    return [*lines[1:], "", *say.wrapped(answer["prevails"])]


def holding_lines(held: list[dict[str, Any]] | None) -> list[str]:
    """Loads by interface and way of pulling, each with what gives way.

    Parameters
    ----------
    held : list of dict or None
        As for JSON; None where a strength is not known.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    if held is None:
        text = _("What it holds is not known for this joint or metal.")
        return say.wrapped(text, first="  ")
    lines = []
    for one in held:
        name = PULLED[one["pull"]] + _(", {} to {}").format(
            one["interface"] + 1, one["interface"] + 2
        )
        lines.append(row(name, *_load_words(one)))
    return lines


def _load_words(one: dict[str, Any]) -> tuple[str, str]:
    if "torque_Nm" in one:
        value, (low, high), unit, scale = one["torque_Nm"], one["torque_interval_Nm"], "N m", 1.0
    elif "load_N" in one:
        value, (low, high), unit, scale = one["load_N"], one["load_interval_N"], "kN", 1e3
    else:
        value, (low, high) = one["load_N_per_mm"], one["load_interval_N_per_mm"]
        return f"{value:.0f} N/mm", f"{low:.0f} .. {high:.0f}  {WORDS[one['weakest']]}"
    beside = f"{low / scale:.1f} .. {high / scale:.1f}  {WORDS[one['weakest']]}"
    return f"{value / scale:.1f} {unit}", beside


def failure_lines(failures: list[dict[str, Any]] | None) -> list[str]:
    """How each interface of a spot weld lets go.

    Parameters
    ----------
    failures : list of dict or None
        As for JSON.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines: list[str] = []
    for one in failures or ():
        mode = one["mode"] if one["sure"] else _("{}, not sure").format(one["mode"])
        low, high = one["critical_diameter_interval_mm"]
        lines.append(row(_("lets go, {} to {}").format(
            one["interface"] + 1, one["interface"] + 2), "", mode))  # fmt: skip
        value = f"{one['critical_diameter_mm']:.1f} mm"
        beside = _("{:.1f} .. {:.1f} by model, unverified").format(low, high)
        lines.append(row(_("  button from"), value, beside))
        lines += say.wrapped(one["weak_reason"], first="  => ", rest="     ")
    return lines


def _least_lines(face: dict[str, Any]) -> list[str]:
    lines = ["  " + _("Published loads in shear, interface {}").format(face["interface"] + 1)]
    for one in face["loads"]:
        told = (HELD if one["is_minimum"] else NOMINAL)[one["held"]]
        if one["unverified"]:
            told = _("{} (unverified)").format(told)
        lines.append(row(f"  {one['name']}", f"{one['load_N'] / 1e3:.2f} kN", told))
    return lines


def _weakest_lines(answer: dict[str, Any]) -> list[str]:
    found = answer["weakest"]
    way = PULLED[answer["pull"]]
    if found is None:
        return say.wrapped(_("Weakest link in {}: not known.").format(way))
    value, beside = _load_words({**found, "weakest": found["link"]})
    head = _("Weakest link in {}: {}, {} ({})").format(way, found["weld"], value, beside.strip())
    if not found["sure"]:
        head += _("; by the intervals another may be weaker")
    return [*say.wrapped(f"{head}."), *say.wrapped(found["reason"], first="  => ", rest="     ")]


def _count_lines(found: dict[str, Any] | None) -> list[str]:
    if found is None:
        return []
    if found["load_is_met"]:
        lines = ["", _("Welds needed: {}").format(found["number"])]
    elif found["number"] is None:
        lines = ["", _("Welds needed: not known")]
    else:
        text = _("Welds by the maker: {}; whether they hold the load is not sure")
        lines = ["", text.format(found["number"])]
    lines += say.wrapped(f"{found['reason']}.", first="  => ", rest="     ")
    if found["by_load"] is not None:
        text = _("By load: {:.1f} kN over {:.1f} kN of one weld at its lower end, of which a row "
                 "makes use of {:.0f} %{}.")  # fmt: skip
        judged = _(" (judged, not measured)") if found["efficiency_is_default"] else ""
        lines += say.wrapped(
            text.format(
                found["required_load_N"] / 1e3,
                found["one_weld_at_least_N"] / 1e3,
                100 * found["efficiency_share"],
                judged,
            ),
            first="     ",
        )
    return lines
