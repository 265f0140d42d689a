"""``buttonhole arc-map``: current by wire feed and distance, learned from displayed readings."""

from typing import Any

from buttonhole.cli import say
from buttonhole.cli.verbs.predict import JsonOption, WeldFileArgument
from buttonhole.cli.words import _


def arc_map(file: WeldFileArgument, json: JsonOption = False) -> None:
    """Say what wire feed and contact-tube distance make of current on this machine.

    Two readings at one feed, one near and one far, settle it: write what the machine displayed
    into the weld file as [[reading]] tables with wire_feed_speed, contact_tube_distance, current.
    """
    from buttonhole.desk.arc_map import arc_map as answered
    from buttonhole.desk.weld_file import BadFile, WeldFile, named_file, read_any_weld_file

    described = read_any_weld_file(file)
    if isinstance(described, WeldFile):
        raise BadFile(str(file), "process", _("is a spot weld; give a plug or a seam"))
    with named_file(file):
        answer = answered(described)
    if json:
        say.give_json(answer)
        return
    say.give_lines(_lines(answer))


def _lines(answer: dict[str, Any]) -> list[str]:
    wire = answer["wire"], answer["wire_diameter_mm"]
    lines = [_("Current in A of {} wire, {:g} mm, at a distance of").format(*wire)]
    distances = sorted({one["contact_tube_distance_mm"] for one in answer["currents"]})
    lines.append(f"{_('feed'):<12}" + "".join(f"{f'{one:g} mm':>9}" for one in distances))
    feeds = sorted({one["wire_feed_speed_m_per_min"] for one in answer["currents"]})
    for feed in feeds:
        row = [one for one in answer["currents"] if one["wire_feed_speed_m_per_min"] == feed]
        name = f"{feed:.1f} m/min"
        lines.append(f"{name:<12}" + "".join(f"{one['current_A']:9.0f}" for one in row))
    point = answer["as_set"]
    low, high = point["welding_current_interval_A"]
    text = _("As set: {:.0f} A ({:.0f} to {:.0f}), {}.")
    lines += ["", text.format(point["welding_current_A"], low, high, point["arc_state"])]
    lines += [*_learned(answer), ""]
    text = _(
        "The conventional load voltage of IEC 60974-1 at that current is {:.1f} V: a line of the "
        "test bench, no setting."
    )
    return [*lines, *say.wrapped(text.format(point["conventional_load_voltage_V"]))]


def _learned(answer: dict[str, Any]) -> list[str]:
    law = answer["law_learned"]
    if law is None:
        text = _(
            "Nothing is known of this machine. Weld at this feed with the tube near (8 mm) and far "
            "(18 mm), and write what it displays into the file as [[reading]] tables."
        )
        return ["", *say.wrapped(text)]
    lines = ["", _("Learned from {} displayed readings").format(len(answer["readings"]))]
    for one in answer["readings"]:
        text = _("  {:.1f} m/min, {:g} mm: displayed {:.0f} A, wire alone {:.0f} A, now {:.0f} A")
        lines.append(
            text.format(
                one["wire_feed_speed_m_per_min"],
                one["contact_tube_distance_mm"],
                one["current_A"],
                one["known_of_wire_A"],
                one["learned_A"],
            )
        )
    before = answer["law_of_wire"]
    text = _("  alpha {:.3f} mm/(A s), was {:.3f}; beta {:.2e} 1/(A2 s), was {:.2e}")
    figures = law["alpha_mm_per_A_s"], before["alpha_mm_per_A_s"]
    return [*lines, text.format(*figures, law["beta_per_A2_s"], before["beta_per_A2_s"])]
