"""The lobe in letters: a map of current and weld time for each force, its limits and its room."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.robust_text import robust_lines
from buttonhole.cli.window_text import map_lines
from buttonhole.cli.words import _


def lobe_lines(answer: dict[str, Any]) -> list[str]:
    """Tell a lobe.

    Parameters
    ----------
    answer : dict
        As `lobe_answer` gives it, with `model_version`.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    rule = _("rule {} ({}); second force {}")
    lines = say.wrapped(
        rule.format(answer["minimum_name"], answer["minimum_source"], answer["second_force"])
    )
    for level in answer["forces"]:
        lines += ["", _("Electrode force {:.2f} kN").format(level["electrode_force_kN"])]
        lines += map_lines(level["window"])
        lines += ["", *_limits(level), *_room(level)]
        if level["robust"] is not None:
            lines += ["", *_robust(level["robust"])]
    closing = _("Splash counts from a chance of {:.0f} %, a dent from {:.0f} % of the sheet. {} {}")
    limit = answer["forces"][0]["window"]["expulsion_limit"]
    model = _("Model {}. Weld and tear a coupon.").format(answer["model_version"])
    text = closing.format(100 * limit, 100 * answer["indentation_limit"], answer["prevails"], model)
    return [*lines, "", *say.wrapped(text)]


def _limits(level: dict[str, Any]) -> list[str]:
    """One line for each limit, one column for each of five weld times."""
    times = level["window"]["times_ms"]
    shown = sorted({round(k * (len(times) - 1) / 4) for k in range(5)})
    head = "".join(f"{times[k]:7.0f}" for k in shown)
    lines = [_("limit in kA, at ms").ljust(34) + head]
    for one in level["limits"]:
        if all(current is None for current in one["from_kA"]):
            continue
        cells = "".join(_cell(one, k) for k in shown)
        lines.append("  " + _name(one).ljust(32) + cells)
    lines.append("  " + _("* ends the usable currents there"))
    return lines


def _cell(one: dict[str, Any], k: int) -> str:
    current = one["from_kA"][k]
    if current is None:
        return "      -"
    return f"{current:6.2f}" + ("*" if one["binds"][k] else " ")


def _name(one: dict[str, Any]) -> str:
    if one["kind"] == "least weld":
        return f"{one['place']}: {one['diameter_mm']:.2f} mm ({one['rule']})"
    return f"{one['kind']}, {one['place']}"


def _room(level: dict[str, Any]) -> list[str]:
    if level["widest_at_ms"] is None:
        return [_("  no usable current at any weld time looked at")]
    at = level["window"]["times_ms"].index(level["widest_at_ms"])
    text = _("widest for its current at {:.0f} ms: {:.2f} to {:.2f} kA; area {:.0f} kA ms")
    return say.wrapped(
        text.format(
            level["widest_at_ms"],
            level["usable_from_kA"][at],
            level["usable_to_kA"][at],
            level["area_kA_ms"],
        ),
        first="  ",
    )


def _robust(best: dict[str, Any]) -> list[str]:
    text = _("most likely good: {:.1f} kA for {:.0f} ms").format(
        best["welding_current_kA"], best["weld_time_ms"]
    )
    return ["  " + text, *robust_lines(best)]
