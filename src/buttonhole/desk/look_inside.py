"""What is fused inside a plug that was welded, by what can be seen on it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from buttonhole.desk.figures import figure_answer
from buttonhole.desk.predict_arc import placed_refusals
from buttonhole.desk.weld_file import PlugWeldFile
from buttonhole.units import BadInput
from buttonhole.weld.arc.wire import BRONZE

if TYPE_CHECKING:
    from buttonhole.weld.arc.plug.outside import Inside, PlugEnsemble, Seen

# The same input gives the same figures: the arc times of the welds that could be are drawn by it.
SEED = 20
STEPS = 41  # places at which the hidden fusion is told; numerical


@dataclass(frozen=True, slots=True)
class Looked:
    """What somebody saw and measured on one plug; lengths [m] as (value, how far it may be off).

    ``arc_time_off`` [s]; ``shown_current`` [A].
    """

    looks: Mapping[str, tuple[float, float | None]]
    back_mark: str | None = None
    arc_time_off: float = 0.0
    shown_current: float | None = None


def look_inside_plug(described: PlugWeldFile, looked: Looked) -> dict[str, Any]:
    """Say what is fused inside, with intervals, and what to look at next.

    Parameters
    ----------
    described : PlugWeldFile
        What was welded, and how.
    looked : Looked
        What was seen.

    Returns
    -------
    dict
        Keys with units, as for JSON.

    Raises
    ------
    BadInput
        A mark that is none, or a reading that can't be.
    """
    from buttonhole.weld.arc import plug
    from buttonhole.weld.arc.plug.outside import look_inside
    from buttonhole.weld.arc.plug.prediction import wanted_diameters

    seen, joint = _seen(looked), described.joint
    _refuse_colours(described, looked)
    brazed = described.set_up.wire.metal in BRONZE
    wanted = wanted_diameters(joint, brazed=brazed)
    members = welds_that_could_be(described, looked.arc_time_off, looked.shown_current)
    found = look_inside(members, seen, wanted)
    return {
        "process": "plug",
        "brazed": brazed,  # then the diameters are those wetted, none is fused
        "interfaces": [] if found.alarms else _interfaces(found, members, seen, wanted),
        # an alarm means that none of the welds is the one that was made: no figure is given then
        "fusion_probability": None if found.alarms else found.fusion_probability,
        "doubt_before_mm": found.before * 1e3,
        "doubt_now_mm": None if found.alarms else found.now * 1e3,
        "members": members.size,
        "effective_members": found.effective_members,
        "alarms": list(found.alarms),
        "next_looks": [
            {"look": one.look.value, "doubt_left_mm": one.left * 1e3}
            for one in found.next_looks
            if not found.alarms
        ],
        "model_version": plug.MODEL_VERSION,
    }


@lru_cache(maxsize=8)
def welds_that_could_be(
    described: PlugWeldFile, arc_time_off: float = 0.0, shown_current: float | None = None
) -> "PlugEnsemble":
    """March the welds that could be; kept for the next look at the same plug.

    Parameters
    ----------
    described : PlugWeldFile
        What was welded, and how.
    arc_time_off : float
        Standard deviation of the arc time [s].
    shown_current : float or None
        What the machine showed [A].

    Returns
    -------
    PlugEnsemble
        Marks and what is hidden, SI.

    Raises
    ------
    BadInput
        Wire, gas and sheets that make no joint, a spread or a current that can't be.
    """
    import numpy as np

    from buttonhole.weld.arc import plug
    from buttonhole.weld.arc.plug.outside import ensemble

    with placed_refusals():
        plug.refuse_pairs(described.joint, described.set_up)
        return ensemble(
            described.joint,
            described.set_up,
            np.random.default_rng(SEED),
            time_spread=arc_time_off,
            shown_current=shown_current,
            law=described.law,
        )


def _refuse_colours(described: PlugWeldFile, looked: Looked) -> None:
    """Aluminium burns off no zinc and takes no tint: such a reading is a mistake."""
    if described.joint.steels:
        return
    for name in ("zinc_ring", "tint"):
        if name in looked.looks:
            raise BadInput(name, "is not seen on aluminium; give the molten spot or the head")
    if looked.back_mark is not None and looked.back_mark.strip().casefold() in ("faint", "clear"):
        raise BadInput("mark", "of colour is not seen on aluminium; give none, bump, drip or hole")


def _seen(looked: Looked) -> "Seen":
    """The marks as the model takes them; a doubt that was not given is the usual one."""
    from buttonhole.weld.arc.plug.marks import BackMark
    from buttonhole.weld.arc.plug.outside import Look, Seen, sighting

    readings = {}
    for name, (value, off) in looked.looks.items():
        try:
            readings[Look(name)] = sighting(Look(name), value, off)
        except BadInput as bad:
            raise BadInput(name, bad.message) from bad
    if looked.back_mark is None:
        return Seen(readings)
    for one in BackMark:
        if looked.back_mark.strip().casefold() == one.value:
            return Seen(readings, one)
    listed = ", ".join(one.value for one in BackMark)
    raise BadInput("mark", f"is '{looked.back_mark[:40]}'; give one of {listed}")


def _interfaces(
    found: "Inside", members: "PlugEnsemble", seen: "Seen", wanted: tuple[float, ...]
) -> list[dict[str, Any]]:
    """Fused diameter and depth at each interface; ``wanted`` [m]."""
    pairs = zip(found.fused, found.penetration, strict=True)
    return [
        {
            "index": index,
            "sheets": [index + 1, index + 2],
            **figure_answer("fused_diameter", "mm", fused, 1e3, interval="fused"),
            **figure_answer("penetration", "mm", depth, 1e3),
            "wanted_diameter_mm": wanted[index] * 1e3,
            "fused_out_to": _out_to(members, seen, index),
        }
        for index, (fused, depth) in enumerate(pairs)
    ]


def _out_to(members: "PlugEnsemble", seen: "Seen", index: int) -> dict[str, Any]:
    """How likely an interface is fused out to a diameter, with nothing seen and with what was."""
    import numpy as np
    from scipy.special import ndtr

    from buttonhole.weld.arc.plug.outside import Allowances, fit

    allowed = Allowances()
    fused = members.fused[:, index]
    steps = np.linspace(0.0, float(fused.max()) + 2.0 * allowed.fused, STEPS)
    # a negative diameter is none: what lies below nought counts as not fused at all
    shares = ndtr((fused[None, :] - steps[:, None]) / allowed.fused)
    weights = fit(members, seen, allowed)
    return {
        "diameter_mm": (1e3 * steps).tolist(),
        "before": shares.mean(axis=1).tolist(),
        "now": (shares @ weights).tolist(),
    }
