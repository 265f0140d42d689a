"""Puts an arc weld back into the text of a weld file."""

from typing import Any

from buttonhole.desk.weld_file.arc_keys import BACKINGS
from buttonhole.desk.weld_file.arc_schema import PlugWeldFile
from buttonhole.desk.weld_file.seam_schema import SeamWeldFile
from buttonhole.desk.weld_file.write import arc_weld_file_text, quantity_text
from buttonhole.joint.coating import Coating
from buttonhole.weld.arc.plug.alloy_stack import AlloyStack
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint
from buttonhole.weld.arc.set_up import ArcSetUp


def arc_keys(weld: PlugWeldFile | SeamWeldFile) -> dict[str, Any]:
    """The keys of an arc weld's file, as in a JSON body; reading them gives the same weld.

    Parameters
    ----------
    weld : PlugWeldFile or SeamWeldFile
        As read.

    Returns
    -------
    dict
        Texts with their unit; ``sheet`` holds a list of tables.
    """
    keys = _plug(weld) if isinstance(weld, PlugWeldFile) else _seam(weld)
    if weld.readings:
        keys["reading"] = [
            {
                "wire_feed_speed": quantity_text(feed, "speed"),
                "contact_tube_distance": _length(distance),
                "current": quantity_text(current, "current"),
            }
            for feed, distance, current in weld.readings
        ]
    return keys


def arc_file_text(weld: PlugWeldFile | SeamWeldFile) -> str:
    """The TOML text of an arc weld; reading it gives the same weld again."""
    return arc_weld_file_text(arc_keys(weld))


def _length(value: float) -> str:
    return quantity_text(value, "length")


def _plug(weld: PlugWeldFile) -> dict[str, Any]:
    joint = weld.joint
    sheets: list[dict[str, str]] = []
    if isinstance(joint.stack, AlloyStack):
        sheets = [
            {"alloy": one.alloy, "thickness": _length(one.thickness)} for one in joint.stack.sheets
        ]
    else:
        sheets = [
            _steel(one.steel.designation, one.thickness, one.coating) for one in joint.stack.sheets
        ]
    for sheet, hole in zip(sheets, joint.hole_diameters, strict=False):
        sheet["hole_diameter"] = _length(hole)
    keys: dict[str, Any] = {"process": "plug", "gap": _length(joint.stack.gap), "sheet": sheets}
    set_up = weld.set_up
    keys["set_up"] = _set_up(set_up) | {"torch_path": joint.path.value}
    if weld.piece is not None:
        keys["coupon"] = {
            "width": _length(weld.piece[0]),
            "length": _length(weld.piece[1]),
            "backing": _backing(joint.back_film),
        }
    return keys


def _seam(weld: SeamWeldFile) -> dict[str, Any]:
    joint = weld.joint
    keys: dict[str, Any] = {
        "process": "seam",
        "joint": joint.kind.value,
        "length": _length(joint.length),
        "gap": _length(joint.gap),
        "root_gap": _length(joint.root_opening),
        "sheet": _seam_sheets(joint, weld.coatings),
        "set_up": _set_up(weld.set_up)
        | {
            "work_angle": quantity_text(weld.set_up.work_angle, "angle"),
            "travel_angle": quantity_text(weld.set_up.travel_angle, "angle"),
            "aim_offset": _length(weld.set_up.aim_offset),
        },
        "coupon": {
            "width": _length(joint.width),
            "overlap": _length(joint.overlap),
            "overhang": _length(joint.overhang),
            "backing": _backing(joint.bar.conductance if joint.bar else 0.0),
        },
    }
    if weld.stitch is not None:
        length, space, pause = weld.stitch
        keys["set_up"] |= {
            "stitch_length": _length(length),
            "stitch_space": _length(space),
            "stitch_pause": quantity_text(pause, "time"),
        }
    return keys


def _seam_sheets(joint: SeamJoint, coatings: tuple[Coating, ...]) -> list[dict[str, str]]:
    sheets = [joint.upper, joint.lower]
    if joint.kind is not JointKind.LAP and joint.right is not None:
        sheets.insert(1, joint.right)
    left = iter(coatings)
    found = []
    for one in sheets:
        if one.metal.steel is not None:
            found.append(_steel(one.metal.steel.designation, one.thickness, next(left)))
        else:
            found.append({"alloy": one.metal.curves.name, "thickness": _length(one.thickness)})
    return found


def _steel(designation: str, thickness: float, coating: Coating) -> dict[str, str]:
    return {"steel": designation, "thickness": _length(thickness), "coating": coating.value}


def _backing(film: float) -> str:
    return next(name for name, value in BACKINGS.items() if value == film)


def _set_up(set_up: ArcSetUp) -> dict[str, str]:
    keys = {
        "wire": set_up.wire.designation,
        "wire_diameter": _length(set_up.wire_diameter),
        "gas": _gas(set_up),
        "wire_feed_speed": quantity_text(set_up.wire_feed_speed, "speed"),
        "arc_voltage": quantity_text(set_up.arc_voltage, "voltage"),
        "contact_tube_distance": _length(set_up.contact_tube_distance),
        "polarity": set_up.polarity.value,
        "position": set_up.position.value,
    }
    if set_up.gas_flow is not None:
        keys["gas_flow"] = quantity_text(set_up.gas_flow, "flow")
    if set_up.arc_time is not None:
        keys["arc_time"] = quantity_text(set_up.arc_time, "time")
    if set_up.travel_speed is not None:
        keys["travel_speed"] = quantity_text(set_up.travel_speed, "travel_speed")
    return keys


def _gas(set_up: ArcSetUp) -> str:
    """The mixture where it is known, else its group."""
    parts = set_up.gas.parts
    if not parts:
        return set_up.gas.group
    return " + ".join(f"{share!r} {formula}" for formula, share in parts.items())
