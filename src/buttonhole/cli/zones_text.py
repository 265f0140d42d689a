"""The zones of a predicted weld in plain words: sheets, corona, times, thermal cycles."""

from typing import Any

from buttonhole.cli.words import _

LABEL = 22  # letters of the column of names


def row(name: str, value: str, beside: str) -> str:
    """One line: name, number with its unit, what stands beside it."""
    number, _blank, unit = value.partition(" ")
    return f"  {name:<{LABEL}}{number:>7} {unit:<4} {beside}".rstrip()


def figure(
    name: str, table: dict[str, Any], key: str, unit: str, shown: str = "", digits: int = 1
) -> list[str]:
    """A figure of the answer with its interval; no line where it did not come to pass."""
    value = table[f"{key}_{unit}"]
    if value is None:
        return []
    low, high = table[f"{key}_interval_{unit}"]
    said = f"{value:.{digits}f} {shown or unit}"
    return [row(name, said, f"{low:.{digits}f} .. {high:.{digits}f}")]


def milliseconds(name: str, table: dict[str, Any], key: str) -> list[str]:
    """A time of the answer in ms with its interval; no line where it did not come to pass."""
    value = table[f"{key}_s"]
    if value is None:
        return []
    low, high = (1e3 * one for one in table[f"{key}_interval_s"])
    if high >= 5e3 * value:  # nobody watched it to its end
        return [row(name, f"{1e3 * value:.0f} ms", _("or longer"))]
    return [row(name, f"{1e3 * value:.0f} ms", f"{low:.0f} .. {high:.0f}")]


def interface_lines(one: dict[str, Any]) -> list[str]:
    """When one interface melts and freezes, how it cools, and its corona."""
    lines = milliseconds(_("melts from"), one, "melting_began")
    if one["began_as_ring"]:
        lines += milliseconds(_("as a ring; centre from"), one, "centre_melted")
        if one["centre_melted_s"] is None:
            lines.append(row(_("as a ring"), "", _("its centre stays solid")))
    lines += milliseconds(_("solid after current"), one, "solid_after_current")
    lines += milliseconds(_("800 to 500 °C in"), one, "cooling_t85")
    lines += figure(_("joined but not melted"), one, "corona_area", "mm2", "mm²")
    if one["corona_area_mm2"]:
        inner, outer = one["corona_inner_diameter_mm"], one["corona_outer_diameter_mm"]
        edge = _("{:.1f} mm wide: a stuck weld, no weld").format(outer)
        if inner > 0.0:
            edge = _("ring {:.1f} to {:.1f} mm, no part of nugget").format(inner, outer)
        lines.append(row("", "", edge))
    return lines


def sheet_lines(sheets: list[dict[str, Any]]) -> list[str]:
    """The zones of every sheet, widest diameters."""
    lines: list[str] = []
    for one in sheets:
        lines += [
            "",
            _("Sheet {}, {}: widest over its thickness").format(one["sheet"], one["steel"]),
        ]
        lines += figure(_("fully austenitised"), one, "austenitised_diameter", "mm")
        named = _("heated over Ac1") if one["ac1_degC"] is not None else _("heated over 900 °C")
        lines += figure(named, one, "haz_diameter", "mm")
        lines += figure(_("softened ring out to"), one, "softened_diameter", "mm")
        if one["ac1_degC"] is not None and one["heating_rate_K_per_s"] is not None:
            levels = _("Ac1 {:.0f} °C, Ac3 {:.0f} °C at {:.0f} K/s").format(
                one["ac1_degC"], one["ac3_degC"], one["heating_rate_K_per_s"]
            )
            lines.append(row("", "", levels))
        lines += figure(_("dent"), one, "indentation", "mm", digits=2)
    return lines


def hold_lines(hold: dict[str, Any] | None) -> list[str]:
    """What the hold time does."""
    if hold is None:
        return []
    lines = ["", _("Hold of {:.0f} ms").format(1e3 * hold["hold_time_s"])]
    lines += figure(
        _("hottest as caps open"), hold, "temperature_at_release", "degC", "°C", digits=0
    )
    lines += milliseconds(_("800 to 500, no hold"), hold, "cooling_t85_without_hold")
    return lines


def cycle_lines(cycles: list[dict[str, Any]]) -> list[str]:
    """The thermal cycle at each point somebody asked for."""
    lines: list[str] = []
    for one in cycles:
        if one["interface"] is not None:
            continue
        where = _("Point {:g} mm from the axis, {:g} mm below side A")
        lines += ["", where.format(one["radius_mm"], one["depth_mm"])]
        lines += figure(_("hottest"), one, "peak_temperature", "degC", "°C", digits=0)
        lines += milliseconds(_("800 to 500 °C in"), one, "cooling_t85")
        lines += figure(_("heated at"), one, "heating_rate", "K_per_s", "K/s", digits=0)
        if one["cooling_t85_s"] is None:
            lines.append(row("", "", _("never as hot as 800 °C")))
    return lines
