"""The steel book in plain words for the terminal."""

from collections.abc import Iterable
from typing import Any

from buttonhole.cli import say
from buttonhole.cli.words import _

Answer = dict[str, Any]
WORDS = 22  # columns of the words before a figure
UNITS = {
    "W_per_m_K": "W/m/K",
    "J_per_kg_K": "J/kg/K",
    "uohm_cm": "uohm cm",
    "MPa": "MPa",
}
MOST_NAMES = 60  # designations shown of a long list


def list_lines(answer: Answer) -> list[str]:
    """One line for each steel; what is not verified has a mark."""
    rows = answer["steels"]
    wide = max((len(one["designation"]) for one in rows), default=0)
    lines = [
        f"{'  ' if one['verified'] else '? '}{one['designation']:<{wide}}  {one['standard']:<14}"
        f"  {one['kind']:<30}  {span(one['tensile_range_MPa'])} MPa"
        for one in rows
    ]
    note = _("{} steels. The figure is the tensile strength; ? means from memory, unverified.")
    alloys = ", ".join(one["designation"] for one in answer["aluminium"])
    also = say.wrapped(_("Aluminium, no steel: {}").format(alloys))
    return [*lines, "", *say.wrapped(note.format(len(rows))), *also]


def span(pair: list[float | None]) -> str:
    """A range of figures in words."""
    low, high = pair
    if low is None and high is None:
        return _("no limit")
    if high is None:
        return _("at least {:.4g}").format(low)
    if low is None:
        return _("at most {:.4g}").format(high)
    return _("{:.4g} to {:.4g}").format(low, high)


def found_lines(answer: Answer) -> list[str]:
    """What a designation means."""
    lines = []
    if answer["aluminium"] is not None:
        return aluminium_lines(answer["aluminium"])
    if answer["unknown"]:
        lines += say.wrapped(
            _("Nobody knows the steel: every limit is the strictest. See: buttonhole steel unknown")
        )
    else:
        lines += steel_lines(answer["steel"])
    coating = answer["coating"]
    if coating is not None:
        lines += ["", *coating_lines(coating)]
    if answer["surface"]:
        lines += _row(_("surface"), "; ".join(answer["surface"]))
    return lines


def aluminium_lines(alloy: Answer) -> list[str]:
    """All the book says of an aluminium alloy."""
    lines = [f"{alloy['designation']}  ({alloy['chemical']})  {alloy['temper']}"]
    for note in alloy["notes"]:
        lines += say.wrapped(note, first="! ")
    lines += _row(_("yield strength"), f"{span(alloy['yield_range_MPa'])} MPa")
    lines += _row(_("tensile strength"), f"{span(alloy['tensile_range_MPa'])} MPa")
    lines += _row(_("elongation"), _("at least {:.3g} %").format(alloy["elongation_percent"]))
    lines += _row(_("at most, %"), _elements(alloy["composition_limits_percent"]))
    usual = span(alloy["thickness_usual_mm"])
    lines += _row(_("usual"), f"{usual} mm; {', '.join(alloy['places'])}")
    return lines + _row(_("from"), f"{alloy['source_text']} ({alloy['status']})")


def coating_lines(coating: Answer) -> list[str]:
    """What a coating's name means."""
    lines = _row(_("coating"), f"{coating['coating']}: {coating['meaning']}")
    if "name" not in coating:
        return lines
    mass, thickness = coating["mass_per_side_g_per_m2"], coating["thickness_per_side_um"]
    if mass is not None:
        sides = " / ".join(f"{side:.4g}" for side in mass)
        lines += _row(_("mass of each side"), f"{sides} g/m2")
        sides = " / ".join(f"{side:.3g}" for side in thickness)
        low, high = coating["thickness_interval_um"]
        lines += _row(_("thickness"), f"{sides} um ({low:.3g} to {high:.3g})")
    lines += _row(_("from"), f"{coating['standard']}, {coating['status']}")
    for hint in coating["hints"]:
        lines += say.wrapped(hint, first="- ")
    return lines


def steel_lines(steel: Answer) -> list[str]:
    """All the book says of one steel."""
    number = f", {steel['material_number']}" if steel["material_number"] else ""
    lines = [f"{steel['designation']}  ({steel['standard']}{number})  {steel['kind']}"]
    for note in steel["notes"]:
        lines += say.wrapped(note, first="! ")
    lines += _row(_("other names"), ", ".join(steel["names"]) or _("none"))
    lines += _row(_("yield strength"), f"{span(steel['yield_range_MPa'])} MPa")
    lines += _row(_("tensile strength"), f"{span(steel['tensile_range_MPa'])} MPa")
    lines += _row(_("from"), f"{steel['source_text']} ({steel['status']})")
    stretch = steel["elongation_percent"]
    if stretch is not None:
        words = _("at least {:.3g} % ({}, {})")
        lines += _row(
            _("elongation"),
            words.format(stretch, steel["elongation_test_piece"], steel["elongation_status"]),
        )
    low, high = steel["hardness_interval_HV"]
    words = _("{:.3g} HV ({:.3g} to {:.3g}) at the least tensile strength, converted")
    lines += _row(_("hardness"), words.format(steel["hardness_HV"], low, high))
    lines += _composition(steel)
    lines += _habits(steel)
    lines += _relatives(steel["relatives"])
    return lines


def _composition(steel: Answer) -> list[str]:
    limits = _elements(steel["composition_limits_percent"]) or _("none known")
    status = steel["composition_limits_status"] or _("not known")
    lines = _row(_("at most, %"), f"{limits} ({status})")
    lines += _row(
        _("typical, %"), f"{_elements(steel['composition_typical_percent'])} ({_('judged')})"
    )
    span_of_casts = steel["carbon_equivalent_IIW_interval_percent"]
    if span_of_casts is None:  # it means nothing for stainless steel
        return lines
    return lines + _row(_("carbon equivalent"), _("IIW {:.2f} to {:.2f} %").format(*span_of_casts))


def _elements(content: dict[str, float]) -> str:
    return ", ".join(f"{element} {share:.3g}" for element, share in content.items())


def _habits(steel: Answer) -> list[str]:
    usual, made = span(steel["thickness_usual_mm"]), span(steel["thickness_made_mm"])
    words = _("{} mm in bodies (made {} mm); {}; habit, not a limit")
    places = ", ".join(steel["places"])
    lines = _row(_("usual"), words.format(usual, made, places))
    if steel["sensitive_to_heat"]:
        lines += _row(_("heat"), _("hardens or loses strength where it is heated"))
    return lines


def _relatives(relatives: Iterable[Answer]) -> list[str]:
    lines: list[str] = []
    for one in relatives:
        words = f"{one['designation']} ({one['standard']}): {one['kinship']}, {one['status']}"
        lines += _row(_("beside it") if not lines else "", words)
    if lines:
        note = _("Never a reason to put one in place of another without the vehicle maker's word.")
        lines += say.wrapped(note)
    return lines


def _row(words: str, said: str) -> list[str]:
    return say.wrapped(said, first=f"{words:<{WORDS}}")


def curve_lines(answer: Answer) -> list[str]:
    """The property curves as a table for each property."""
    lines = []
    for name, curve in answer["curves"].items():
        (key,) = (one for one in curve if one.startswith("value_"))
        unit = UNITS[key.removeprefix("value_")]
        rows = zip(
            curve["temperature_C"],
            curve[key],
            curve[key.replace("value", "low")],
            curve[key.replace("value", "high")],
            strict=True,
        )
        lines += ["", f"{name.replace('_', ' ')} [{unit}]"]
        lines += [f"{t:7.0f} degC {v:10.4g}   ({lo:.4g} to {hi:.4g})" for t, v, lo, hi in rows]
        lines += say.wrapped(
            f"{curve['status']}: {curve['source_text'].rstrip('.')}. {_('Made by')}: "
            f"{curve['made_by']}. {_('Uncertainty')}: {curve['uncertainty']}.",
            first="  ",
        )
    return lines


def unknown_lines(answer: Answer) -> list[str]:
    """What an unknown sheet may be."""
    lines = say.wrapped(
        _("The steel stays unknown for every rule: the strictest. What follows bounds what it is.")
    )
    lines += _row(_("possible"), _("{} steels of the book").format(answer["possible_count"]))
    if answer["may_be_aluminium"]:
        lines += _row("", _("or aluminium, if no magnet pulls"))
    lines += _row(_("kinds"), ", ".join(answer["families"]) or _("none"))
    for key, words, unit in (
        ("tensile_interval_MPa", _("tensile strength"), "MPa"),
        ("carbon_interval_percent", _("carbon"), "%"),
        ("carbon_equivalent_IIW_interval_percent", _("carbon equivalent"), "%"),
    ):
        if answer[key] is not None:
            low, high = answer[key]
            digits = ".0f" if unit == "MPa" else ".2g"
            lines += _row(words, f"{low:{digits}} to {high:{digits}} {unit}")
    for one in answer["taken_out"]:
        lines += _row(_("taken out"), _("{} by {}").format(one["steels"], one["by"]))
    if answer["coatings_that_look_so"]:
        lines += _row(_("looks like"), ", ".join(answer["coatings_that_look_so"]))
    lines += _row(_("usual so"), _few(answer["usual"]))
    lines += _row(
        _("possible too"), _few([n for n in answer["possible"] if n not in answer["usual"]])
    )
    for note in answer["notes"]:
        lines += say.wrapped(note, first="! ")
    lines += ["", _("What would settle it:")]
    for one in answer["would_settle"]:
        lines += say.wrapped(one, first="- ")
    return lines


def _few(names: list[str]) -> str:
    shown = ", ".join(names[:MOST_NAMES])
    more = len(names) - MOST_NAMES
    return (shown + _(" and {} more").format(more) if more > 0 else shown) or _("none")
