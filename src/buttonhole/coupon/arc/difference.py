"""What is not the same on a coupon of an arc weld as on the vehicle.

Every rule here is common practice, no source.
"""

import math

from buttonhole.coupon.arc.piece import ArcForm, ArcPiece, ArcSettings
from buttonhole.coupon.difference import (
    FACES,
    SUPPLY,
    Compared,
    Difference,
    Level,
    ReadBack,
    Surroundings,
    gap_difference,
    red_first,
    set_differences,
    sheet_differences,
    shown_difference,
    surroundings_differences,
)
from buttonhole.weld.estimate import Estimate

SAME_HOLE = 0.1e-3  # m; what a calliper can tell apart in a drilled hole
NEAR_HOLE = 0.5e-3  # m; the next drill of a usual set
ARC_ITEMS = (
    Compared("machine", "machine", Level.RED, "Weld it with the machine of the job."),
    Compared("program version", "program_version", Level.RED, "Another program, another arc."),
    Compared("outlet", "outlet", Level.RED, SUPPLY),
    Compared("lead", "lead", Level.RED, SUPPLY),
    Compared("welder", "welder", Level.AMBER, "A release holds for who welded."),
    *FACES,
    Compared(
        "torch", "torch", Level.RED, "Another torch or earth changes the voltage.", optional=True
    ),
    Compared(
        "liner", "liner", Level.AMBER, "Another liner may feed otherwise: look.", optional=True
    ),
    Compared(
        "wire spool", "wire_batch", Level.AMBER, "Another spool: look at the label.", optional=True
    ),
    Compared(
        "gas cylinder",
        "gas_batch",
        Level.AMBER,
        "Another cylinder: look at label and flow.",
        optional=True,
    ),
)

Welded = tuple[ArcPiece, ArcSettings, Surroundings]


def arc_differences(
    joint: Welded,
    coupon: Welded,
    read_back: ReadBack | None = None,
    *,
    expected_current: Estimate | None = None,
) -> tuple[Difference, ...]:
    """
    Compare a coupon of an arc weld with the joint it stands for.

    Parameters
    ----------
    joint : tuple of ArcPiece, ArcSettings, Surroundings
        What is to be welded on the vehicle.
    coupon : tuple of ArcPiece, ArcSettings, Surroundings
        What was welded.
    read_back : ReadBack, optional
        What the machine showed.
    expected_current : Estimate, optional
        Current that wire feed and distance of the coupon should give [A]; a machine with constant
        voltage has none set.

    Returns
    -------
    tuple of Difference
        Red ones first; what is the same comes last.

    Sources
    -------
    common-practice: which differences make a coupon worthless.
    """
    return red_first(
        [
            *_pieces(joint[0], coupon[0]),
            *_settings(joint[1], coupon[1]),
            *surroundings_differences(joint[2], coupon[2], ARC_ITEMS),
            *_shown(coupon[1], read_back or ReadBack(), expected_current),
        ]
    )


def _pieces(joint: ArcPiece, coupon: ArcPiece) -> list[Difference]:
    found = set_differences([("form of the weld", joint.form.words, coupon.form.words)])
    found += sheet_differences(joint.sheets, coupon.sheets)
    if len(joint.sheets) != len(coupon.sheets) or joint.form is not coupon.form:
        return found
    found.append(gap_difference("gap", joint.gap, coupon.gap))
    if joint.form is ArcForm.BUTT_BACKED:
        found.append(gap_difference("root gap", joint.root_gap, coupon.root_gap))
    pairs = zip(joint.holes, coupon.holes, strict=False)
    found += [_hole(place, *pair) for place, pair in enumerate(pairs, start=1)]
    if joint.backing != coupon.backing:
        advice = "Copper, magnet or clamp on the back takes heat: press on the coupon the same."
        words = (joint.backing, coupon.backing)
        found.append(Difference("on the back", *words, Level.RED, advice))
    else:
        found.append(Difference("on the back", joint.backing, coupon.backing, Level.GREEN))
    return found


def _hole(place: int, joint: float, coupon: float) -> Difference:
    away = abs(joint - coupon)
    level, advice = Level.GREEN, ""
    if away > NEAR_HOLE * (1 + 1e-9):
        level, advice = Level.RED, "Drill the hole of the coupon as that of the joint."
    elif away > SAME_HOLE * (1 + 1e-9):
        level, advice = Level.AMBER, "Nearly the same hole; use the same drill."
    return Difference(f"hole in sheet {place}", _hole_words(joint), _hole_words(coupon), level,
                      advice)  # fmt: skip


def _settings(joint: ArcSettings, coupon: ArcSettings) -> list[Difference]:
    pairs = list(zip(set_words(joint), set_words(coupon), strict=True))
    found = [(name, one, other) for (name, one), (_, other) in pairs if one != "–" or other != "–"]
    return [
        *set_differences(found),
        *surroundings_differences(
            Surroundings("", position=joint.position),
            Surroundings("", position=coupon.position),
            (Compared("position", "position", Level.RED, "Weld it as the car stands."),),
        ),
    ]


def set_words(settings: ArcSettings) -> tuple[tuple[str, str], ...]:
    """Say what is set, each with its name; a dash where it is not set.

    Parameters
    ----------
    settings : ArcSettings
        What is set.

    Returns
    -------
    tuple of (str, str)
        In the order of the machine's panel; the position is not among them.
    """
    one = settings
    return (
        ("wire", f"{one.wire} {one.wire_diameter * 1e3:g} mm"),
        ("gas", one.gas),
        ("gas flow", _or_dash(one.gas_flow, 6e4, ".3g", "l/min")),
        ("wire feed", f"{one.wire_feed_speed * 60.0:.2f} m/min"),
        ("arc voltage", f"{one.arc_voltage:.1f} V"),
        ("contact tube to work", f"{one.contact_tube_distance * 1e3:.1f} mm"),
        ("arc time", _or_dash(one.arc_time, 1.0, ".2f", "s")),
        ("travel speed", _or_dash(one.travel_speed, 1e3, ".1f", "mm/s")),
        ("path of the arc", one.path or "–"),
        ("work angle", "–" if one.path else f"{math.degrees(one.work_angle):.0f} deg"),
        ("travel angle", "–" if one.path else f"{math.degrees(one.travel_angle):.0f} deg"),
        ("aim", "–" if one.path else f"{one.aim_offset * 1e3:.1f} mm"),
        ("polarity", one.polarity or "–"),
        ("parts of the seam", one.parts or "–"),
    )


def _shown(settings: ArcSettings, shown: ReadBack, expected: Estimate | None) -> list[Difference]:
    found = [
        *shown_difference("voltage shown", settings.arc_voltage, shown.voltage, _volts),
        *shown_difference(
            "wire feed shown", settings.wire_feed_speed, shown.wire_feed_speed, _feed
        ),
    ]
    if settings.arc_time is not None:
        found += shown_difference("arc time shown", settings.arc_time, shown.arc_time, _seconds)
    if expected is not None and shown.current is not None:
        found.append(_current(expected, shown.current))
    return found


def _current(expected: Estimate, shown: float) -> Difference:
    """The current follows from feed and distance: off its interval, something else feeds it."""
    due = f"{expected.low:.0f} to {expected.high:.0f} A"
    if expected.low <= shown <= expected.high:
        return Difference("current shown", due, f"{shown:.0f} A", Level.GREEN)
    advice = "Not what this wire feed gives at this distance: look at distance, tip, earth, feed."
    return Difference("current shown", due, f"{shown:.0f} A", Level.AMBER, advice)


def _or_dash(value: float | None, factor: float, form: str, unit: str) -> str:
    return "–" if value is None else f"{value * factor:{form}} {unit}"


def _hole_words(hole: float) -> str:
    return f"{hole * 1e3:.1f} mm" if hole > 0.0 else "none"


def _volts(value: float) -> str:
    return f"{value:.1f} V"


def _feed(value: float) -> str:
    return f"{value * 60.0:.2f} m/min"


def _seconds(value: float) -> str:
    return f"{value:.2f} s"
