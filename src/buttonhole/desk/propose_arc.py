"""Propose what to set for the plug or the seam of a file."""

from collections.abc import Callable
from typing import Any

from buttonhole.desk.predict_arc import placed_refusals, refuse_pairs
from buttonhole.desk.seam_piece import piece_of, thicknesses_of
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
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import BRONZE

FEW_PLUGS, FEW_SEAMS = 24, 6  # welds that could be, for a chance while it is searched
CHECKED_SEAMS = 12  # the same for what is taken


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
        Nothing is likely to make a good weld, or the wire does not go with gas or sheets.
    """
    with placed_refusals():
        if isinstance(described, PlugWeldFile):
            found, process = _plug(described, progress), "plug"
        else:
            found, process = _seam(described, progress), "seam"
    return _answer(process, found, brazed=described.set_up.wire.metal in BRONZE)


def _plug(described: PlugWeldFile, progress: Callable[[int, int], None] | None) -> ArcProposal:
    from buttonhole.weld.arc import plug

    law = described.law

    def quickly(joint: Any, set_up: ArcSetUp) -> Chances:
        weld = plug.predict(joint, set_up, resolution=plug.COARSE, law=law, count=FEW_PLUGS)
        return plug_chances(weld)

    def carefully(joint: Any, set_up: ArcSetUp) -> Chances:
        return plug_chances(plug.predict(joint, set_up, law=law))

    joint = described.joint
    candidates = plug_candidates(joint, described.set_up, law)
    return propose(quickly, joint, candidates, progress, carefully, law)


def _seam(described: SeamWeldFile, progress: Callable[[int, int], None] | None) -> ArcProposal:
    from buttonhole.weld.arc import seam
    from buttonhole.weld.arc.seam.ensemble import COARSE

    refuse_pairs(described)
    brazed, law = described.set_up.wire.metal in BRONZE, described.law

    def judged(weld: Any, joint: Any) -> Chances:
        return seam_chances(weld, thicknesses_of(joint), brazed=brazed)

    def quickly(joint: Any, set_up: ArcSetUp) -> Chances:
        piece, moved = piece_of(joint, set_up)
        made = seam.seam_set_up(piece, moved, law=law)
        return judged(seam.predict(piece, made, resolution=COARSE, count=FEW_SEAMS), piece)

    def carefully(joint: Any, set_up: ArcSetUp) -> Chances:
        made = seam.seam_set_up(joint, set_up, law=law)
        return judged(seam.predict(joint, made, count=CHECKED_SEAMS), joint)

    joint = described.joint
    candidates = seam_candidates(joint, described.set_up, law)
    return propose(quickly, joint, candidates, progress, carefully, law)


def _answer(process: str, found: ArcProposal, *, brazed: bool) -> dict[str, Any]:
    set_up = found.set_up
    speed = set_up.travel_speed
    return {
        "process": process,
        "brazed": brazed,  # then "fused" means wetted
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
    return {
        "fusion_probability": found.fused,
        "hole_probability": found.hole,
        "melting_probability": found.melts,
    }
