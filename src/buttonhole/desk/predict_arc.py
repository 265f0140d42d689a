"""Predict the arc weld of a weld file."""

from typing import Any

from buttonhole.desk.plug_answer import plug_answer
from buttonhole.desk.seam_answer import seam_answer
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile
from buttonhole.desk.weld_file.process import process_number
from buttonhole.units import BadInput

SET_KEYS = frozenset(
    {"gas", "wire", "wire_diameter", "wire_feed_speed", "arc_voltage", "contact_tube_distance"}
    | {"arc_time", "travel_speed", "work_angle", "travel_angle", "aim_offset"}
)


def predict_arc(described: PlugWeldFile | SeamWeldFile) -> dict[str, Any]:
    """Predict an arc weld and say all of it.

    Parameters
    ----------
    described : PlugWeldFile or SeamWeldFile
        As read from a file.

    Returns
    -------
    dict
        Keys with units, as for JSON.

    Raises
    ------
    BadInput
        The set-up can't be computed or must not be welded.
    """
    from buttonhole.weld.arc.plug import PlugFailed
    from buttonhole.weld.arc.seam import SeamFailed

    try:
        return _plug(described) if isinstance(described, PlugWeldFile) else _seam(described)
    except (PlugFailed, SeamFailed) as failed:
        raise BadInput(
            "set_up",
            f"the solver can't follow this weld ({failed}); give feed, voltage and time nearer to "
            "what such sheets are welded with",
        ) from failed
    except BadInput as bad:
        key = f"set_up {bad.key}" if bad.key in SET_KEYS else bad.key
        raise BadInput(key, bad.message) from bad


def _plug(described: PlugWeldFile) -> dict[str, Any]:
    from buttonhole.weld.arc import plug

    joint, set_up = described.joint, described.set_up
    number = process_number(set_up.wire, set_up.gas)
    return plug_answer(plug.predict(joint, set_up), joint, set_up, number)


def _seam(described: SeamWeldFile) -> dict[str, Any]:
    from buttonhole.weld.arc import seam
    from buttonhole.weld.arc.machine_map import operating_point
    from buttonhole.weld.arc.seam.machine import speed_of

    refuse_pairs(described)
    joint, set_up = described.joint, described.set_up
    weld = seam.predict_set_up(joint, set_up, described.runs)
    number = process_number(set_up.wire, set_up.gas)
    return seam_answer(weld, described, operating_point(set_up), speed_of(joint, set_up), number)


def refuse_pairs(described: SeamWeldFile) -> None:
    """Refuse wire, gas and metals that make no joint."""
    from buttonhole.weld.arc.pairing import gas_objections, sheet_objections
    from buttonhole.weld.arc.wire import WireMetal

    set_up, joint = described.set_up, described.joint
    steels = tuple(one.metal.steel for one in joint.sheets if one.metal.steel is not None)
    if steels and len(steels) < len(joint.sheets):
        raise BadInput(
            "sheet", "mixes steel and aluminium; an arc does not join them, ask the maker"
        )
    if not steels and set_up.wire.metal is not WireMetal.ALUMINIUM:
        raise BadInput(
            "wire", f"{set_up.wire.designation} does not join aluminium; give a wire of ISO 18273"
        )
    said = gas_objections(set_up.wire, set_up.gas)
    if steels:
        said = (*said, *sheet_objections(set_up.wire, steels))
    for one in said:
        if one.refused:
            raise BadInput(one.key, one.text)
