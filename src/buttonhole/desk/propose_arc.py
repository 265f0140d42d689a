"""Propose what to set for the plug or the seam of a file."""

from collections.abc import Callable
from typing import Any

from buttonhole.desk.predict_arc import refuse_pairs
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile
from buttonhole.procedure.arc_proposal import (
    ArcProposal,
    Chances,
    plug_candidates,
    plug_chances,
    propose,
    seam_candidates,
    seam_chances,
)
from buttonhole.units import BadInput
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import WireMetal

FEW = 24  # marches for a chance of a plug while it is searched


def propose_arc(
    described: PlugWeldFile | SeamWeldFile, progress: Callable[[int, int], None] | None = None
) -> dict[str, Any]:
    """Propose a set-up and say it.

    Parameters
    ----------
    described : PlugWeldFile or SeamWeldFile
        As read from a file; its wire, gas and torch are kept, feed, voltage and time are not.
    progress : callable, optional
        Told how many of how many are tried.

    Returns
    -------
    dict
        Keys with units, as for JSON.

    Raises
    ------
    BadInput
        Nothing is likely to make a good weld, or it is a braze or aluminium.
    """
    if described.set_up.wire.metal is not WireMetal.STEEL:
        raise BadInput("set_up wire", "is not of steel; a proposal is made for steel wire only")
    if isinstance(described, PlugWeldFile):
        return _answer("plug", _plug(described, progress))
    return _answer("seam", _seam(described, progress))


def _plug(described: PlugWeldFile, progress: Callable[[int, int], None] | None) -> ArcProposal:
    from buttonhole.weld.arc import plug

    def chances(joint: Any, set_up: ArcSetUp) -> Chances:
        return plug_chances(plug.predict(joint, set_up, count=FEW))

    joint = described.joint
    return propose(chances, joint, plug_candidates(joint, described.set_up), progress)


def _seam(described: SeamWeldFile, progress: Callable[[int, int], None] | None) -> ArcProposal:
    from buttonhole.weld.arc import seam

    refuse_pairs(described)

    def chances(joint: Any, set_up: ArcSetUp) -> Chances:
        return seam_chances(seam.predict_set_up(joint, set_up))

    joint = described.joint
    return propose(chances, joint, seam_candidates(joint, described.set_up), progress)


def _answer(process: str, found: ArcProposal) -> dict[str, Any]:
    set_up = found.set_up
    speed = set_up.travel_speed
    return {
        "process": process,
        "wire_feed_speed_m_per_min": set_up.wire_feed_speed * 60.0,
        "arc_voltage_V": set_up.arc_voltage,
        "arc_time_s": set_up.arc_time,
        "travel_speed_mm_per_s": None if speed is None else speed * 1e3,
        "welding_current_A": found.current,
        **_chances(found.chances),
        "margins": {
            "wire_feed_10_percent_less": _chances(found.with_less_feed),
            "wire_feed_10_percent_more": _chances(found.with_more_feed),
        },
        "reasons": list(found.reasons),
        "tried": found.tried,
    }


def _chances(found: Chances) -> dict[str, float]:
    return {"fusion_probability": found.fused, "hole_probability": found.hole}
