"""The next plug that is to be welded and torn, by what its feeder can be set to."""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from buttonhole.desk.decision_answer import next_keys
from buttonhole.desk.learning_answer import setting_keys
from buttonhole.learning.case import Case
from buttonhole.units import BadInput
from buttonhole.weld.arc.set_up import ArcSetUp

if TYPE_CHECKING:
    from buttonhole.learning.posterior import Posterior

FEED_STEP, VOLTAGE_STEP, TIME_STEP = 0.1, 0.1, 0.1  # m/min, V, s: what a feeder can be set to


def next_plug(
    set_up: ArcSetUp, case: Case, posterior: "Posterior", *, moved: bool
) -> Mapping[str, Any] | None:
    """Propose the set-up of the next plug.

    Parameters
    ----------
    set_up : ArcSetUp
        As it is set now.
    case : Case
        What is asked.
    posterior : Posterior
        What is believed of its feeder.
    moved : bool
        Not the setting as it is.

    Returns
    -------
    mapping or None
        Keys with units; None where nothing near can be set.
    """
    from buttonhole.learning.next_coupon import candidates, choose

    try:
        tried = candidates("plug", case.of, case.point)
    except BadInput:
        return None
    kept = [one for one in tried if not (moved and one.point == case.point)]
    if not kept:
        return None
    chosen = choose(posterior, case.joint, kept)
    change = [one - now for one, now in zip(chosen.candidate.point, case.point, strict=True)]
    feed = _stepped(60.0 * set_up.wire_feed_speed * math.exp(change[0]), FEED_STEP)
    voltage = _stepped(set_up.arc_voltage * math.exp(change[1]), VOLTAGE_STEP)
    seconds = _stepped((set_up.arc_time or 0.0) * math.exp(change[2]), TIME_STEP)
    said = f"{feed:.1f} m/min, {voltage:.1f} V, {seconds:.1f} s"
    as_set = all(abs(one) < 0.005 for one in change[:3])
    keys = setting_keys(replace(chosen.candidate, point=tuple(change)), "plug")
    return {
        **next_keys(chosen, said, keys, as_set=as_set),
        "wire_feed_speed_m_per_min": feed,
        "arc_voltage_V": voltage,
        "arc_time_s": seconds,
    }


def _stepped(value: float, step: float) -> float:
    return round(round(value / step) * step, 6)
