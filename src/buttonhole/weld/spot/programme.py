"""The programme of the set current, and what of a set-up can be computed.

Numbers without a source beside them are common practice, no source.
"""

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, SpotSetUp

Array = NDArray[np.float64]

MAX_TIME = 6.0  # s from first current on to the end of hold
FREQUENCY = {CurrentType.MFDC: 0.0, CurrentType.AC50: 50.0, CurrentType.AC60: 60.0}  # Hz


def programme(set_up: SpotSetUp) -> tuple[Array, Array]:
    """Return break points of the set current: times [s] and rms values [A], straight in between."""
    times, amps, now = [], [], 0.0
    for pulse in set_up.pulses:
        level_from = now + pulse.up_slope
        level_to = max(now + pulse.time - pulse.down_slope, level_from)
        end = now + pulse.time
        times += [now, level_from, level_to, end]
        first = 0.0 if pulse.up_slope > 0.0 else pulse.current
        last = 0.0 if pulse.down_slope > 0.0 else pulse.current
        amps += [first, pulse.current, pulse.current, last]
        if pulse.cool_time > 0.0 and pulse is not set_up.pulses[-1]:
            times += [end, end + pulse.cool_time]
            amps += [0.0, 0.0]
        now = end + pulse.cool_time
    return np.array(times), np.array(amps)


def check_set_up(set_up: SpotSetUp) -> None:
    """Refuse a set-up that can't be set or can't be computed.

    Raises
    ------
    BadInput
        Naming the key of the weld file.
    """
    if not set_up.pulses:
        raise BadInput("pulse", "none given; a spot weld needs at least one pulse of current")
    for pulse in set_up.pulses:
        if not 100.0 <= pulse.current <= 60e3:
            raise BadInput("welding_current", f"is {pulse.current:g} A; give 0.1 to 60 kA rms")
        if not 1e-3 <= pulse.time <= 5.0:
            raise BadInput("weld_time", f"is {1e3 * pulse.time:g} ms; give 1 ms to 5 s")
        if not (pulse.up_slope >= 0.0 <= pulse.down_slope and pulse.cool_time >= 0.0):
            raise BadInput("pulse", "a slope or cool time is negative; give 0 ms or more")
        if pulse.up_slope + pulse.down_slope > pulse.time + 1e-9:
            raise BadInput("pulse", "the slopes are longer than the pulse they are part of")
    if not 100.0 <= set_up.electrode_force <= 50e3:
        raise BadInput("electrode_force", f"is {set_up.electrode_force:g} N; give 0.1 to 50 kN")
    if not (set_up.hold_time >= 0.0 and set_up.weld_time + set_up.hold_time <= MAX_TIME):
        raise BadInput("hold_time", f"current and hold may last {MAX_TIME:g} s together at most")
    for cap in (set_up.cap_a, set_up.cap_b):
        _check_cap(cap)


def _check_cap(cap: ElectrodeCap) -> None:
    if cap.face_diameter is None and cap.radius is None:
        raise BadInput("electrode_face", "give electrode_face, electrode_radius or both")
    if cap.face_diameter is not None and not 1e-3 <= cap.face_diameter <= cap.body_diameter:
        raise BadInput(
            "electrode_face",
            f"is {1e3 * cap.face_diameter:g} mm; give 1 mm to the body diameter, "
            f"{1e3 * cap.body_diameter:g} mm",
        )
    if cap.radius is not None and not 2e-3 <= cap.radius <= 1.0:
        raise BadInput("electrode_radius", f"is {1e3 * cap.radius:g} mm; give 2 to 1000 mm")


def segments(set_up: SpotSetUp, after_hold: float) -> Array:
    """Straight pieces of the current programme, hold and cooling last.

    Parameters
    ----------
    set_up : SpotSetUp
        What is set.
    after_hold : float
        Cooling in air after the hold [s].

    Returns
    -------
    Array
        (pieces, 4): begin [s], end [s], first and last current [A].
    """
    times, amps = programme(set_up)
    pieces = [
        (a, b, first, last)
        for a, b, first, last in zip(times, times[1:], amps, amps[1:], strict=False)
        if b - a > 1e-9
    ]
    end = float(times[-1])
    pieces.append((end, end + set_up.hold_time + after_hold, 0.0, 0.0))
    return np.array(pieces, dtype=np.float64)
