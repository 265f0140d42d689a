"""What the heat leaves of the steel, in plain words: hardness and what it rests on, softening."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.words import _
from buttonhole.cli.zones_text import figure, row


def metal_lines(metal: dict[str, Any]) -> list[str]:
    """Tell of every sheet what it was and how soft it gets, and how the hardest place is known.

    Parameters
    ----------
    metal : dict
        As ``metal_answer`` gives it.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines: list[str] = []
    for one in metal["sheets"]:
        if one["steel"] is None:
            continue
        named = one.get("name") or one["sheet"]
        lines += ["", _("Sheet {}, {}: hardness").format(named, one["steel"])]
        lines += figure(_("as delivered"), one, "base_hardness", "HV", digits=0)
        lines += _softening(one)
    peak = metal["peak_hardness"]
    if peak is None:
        return lines
    known = _("How the hardest place is known: {}").format(peak["relation"])
    if peak["remark"]:
        known += f"; {peak['remark']}"
    lines += ["", *say.wrapped(f"{known}.")]
    if peak["formulas"]:
        said = ", ".join(f"{each['name']} {each['hardness_HV']:.0f}" for each in peak["formulas"])
        lines += say.wrapped(_("Formulas say: {} HV.").format(said), first="  ")
    return lines


def _softening(one: dict[str, Any]) -> list[str]:
    if not one["softens"]:
        return []
    if not one["softening_known"]:
        low, high = one["softest_hardness_interval_HV"]
        lines = [row(_("softest"), _("not known"), f"{low:.0f} .. {high:.0f} HV")]
        return lines + say.wrapped(one["softening_remark"], first="    ")
    loss = _("{:.0f} % of the sheet's lost").format(100 * one["softening_loss_share"])
    lines = figure(_("softest"), one, "softest_hardness", "HV", digits=0)
    lines += figure(_("  at, from the middle"), one, "softest_at", "mm")
    lines += figure(_("  band to half the loss"), one, "softened_band", "mm")
    return [*lines, row("", "", loss)]
