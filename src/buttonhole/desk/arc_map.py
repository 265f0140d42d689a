"""The machine map of an arc weld's file: what feed and distance make of current."""

import math
from typing import Any

from buttonhole.desk.plug_answer import point_answer
from buttonhole.desk.weld_file import PlugWeldFile, SeamWeldFile
from buttonhole.weld.arc.machine_map import free_length, operating_point
from buttonhole.weld.arc.melting import MeltingLaw, current_spread, melting_current, melting_law
from buttonhole.weld.arc.set_up import FEEDS
from buttonhole.weld.estimate import Z90

DISTANCES = (8e-3, 10e-3, 12e-3, 15e-3, 20e-3)  # m
FEED_SHARES = (0.6, 0.8, 1.0, 1.2, 1.4)  # -, of the feed that is set


def arc_map(described: PlugWeldFile | SeamWeldFile) -> dict[str, Any]:
    """Say what the file's wire draws over feed and distance.

    Parameters
    ----------
    described : PlugWeldFile or SeamWeldFile
        With the displayed readings, if there are any.

    Returns
    -------
    dict
        Keys with units, as for JSON: the law as known of the wire and as learned, the point that
        is set, a table of currents.
    """
    set_up, law = described.set_up, described.law
    prior = melting_law(set_up.wire, set_up.wire_diameter)
    used = law or prior
    low, high = FEEDS
    feeds = [set_up.wire_feed_speed * share for share in FEED_SHARES]
    return {
        "wire": set_up.wire.designation,
        "wire_diameter_mm": set_up.wire_diameter * 1e3,
        "gas": set_up.gas.group,
        "readings": [
            {
                "wire_feed_speed_m_per_min": feed * 60.0,
                "contact_tube_distance_mm": distance * 1e3,
                "current_A": current,
                "known_of_wire_A": melting_current(feed, free_length(distance), prior),
                "learned_A": melting_current(feed, free_length(distance), used),
            }
            for feed, distance, current in described.readings
        ],
        "law_of_wire": _law(prior),
        "law_learned": None if law is None else _law(law),
        "as_set": point_answer(operating_point(set_up, law)),
        "currents": [
            {
                "wire_feed_speed_m_per_min": feed * 60.0,
                "contact_tube_distance_mm": distance * 1e3,
                **_current(feed, distance, used),
            }
            for feed in feeds
            if low <= feed <= high
            for distance in DISTANCES
        ],
    }


def _law(law: MeltingLaw) -> dict[str, float]:
    return {
        "alpha_mm_per_A_s": law.alpha * 1e3,
        "alpha_doubt_share": math.sqrt(law.covariance[0]),
        "beta_per_A2_s": law.beta,
        "beta_doubt_share": math.sqrt(max(law.covariance[2], 0.0)),
    }


def _current(feed: float, distance: float, law: MeltingLaw) -> dict[str, Any]:
    """Current with its 90 % interval."""
    length = free_length(distance)
    value, spread = melting_current(feed, length, law), current_spread(feed, length, law)
    low, high = (value * math.exp(sign * Z90 * spread) for sign in (-1.0, 1.0))
    return {"current_A": value, "current_interval_A": [low, high]}
