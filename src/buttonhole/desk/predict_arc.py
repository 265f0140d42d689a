"""Predict the arc weld of a weld file."""

from typing import Any

from buttonhole.desk.plug_answer import plug_answer
from buttonhole.desk.weld_file import PlugWeldFile
from buttonhole.desk.weld_file.arc_schema import process_number
from buttonhole.units import BadInput


def predict_arc(described: PlugWeldFile) -> dict[str, Any]:
    """Predict an arc weld and say all of it.

    Parameters
    ----------
    described : PlugWeldFile
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
    from buttonhole.weld.arc import plug

    joint, set_up = described.joint, described.set_up
    number = process_number(set_up.wire, set_up.gas)
    try:
        weld = plug.predict(joint, set_up)
    except plug.PlugFailed as failed:
        raise BadInput(
            "set_up",
            f"the solver can't follow this weld ({failed}); give feed, voltage and time nearer to "
            "what such sheets are welded with",
        ) from failed
    except BadInput as bad:
        raise BadInput(_place(bad.key), bad.message) from bad
    return plug_answer(weld, joint, set_up, number)


def _place(key: str) -> str:
    """Where a key of the model stands in the file."""
    if key in ("gas", "wire", "wire_diameter", "wire_feed_speed", "arc_voltage", "arc_time"):
        return f"set_up {key}"
    return key
