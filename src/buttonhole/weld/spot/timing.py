"""When the weld melts, where first, and when it is solid again; what holding it does."""

import math
from dataclasses import dataclass

import numpy as np

from buttonhole.weld.estimate import Z90, Estimate
from buttonhole.weld.spot.simulation import AFTER_HOLD, Simulation

OWN_SPREAD = 0.15  # - of a time, standard deviation of the model itself; judged, no source
COOLING_SPREAD = 0.10  # - of the cooling time, the same; judged, no source
RING_SEEN = 0.25e-3  # m; a solid core narrower than twice this is not seen in a section; judged
RING_LASTS = 5e-3  # s; a ring that closes sooner is not told from melting all over; judged
TEMPERATURE_SPREAD = 0.10  # - of the rise when the caps open, standard deviation; judged, no source

Pairs = list[tuple[Simulation, Simulation]]


@dataclass(frozen=True, slots=True)
class Melting:
    """When one interface melted [s from first current on] and was solid again [s from current off].

    ``began_as_ring``: it melted off the axis first, its centre later or never.
    """

    began_as_ring: bool
    began: Estimate | None  # s; None: nothing melts
    centre_melted: Estimate | None  # s; None: the centre stays solid
    solid_after: Estimate | None  # s after current off; None: nothing melts, or it stays molten


@dataclass(frozen=True, slots=True)
class HoldEffect:
    """What the hold time does to a weld."""

    temperature_at_release: Estimate  # degC, hottest interface on the axis when the caps open
    cooling_t85_without_hold: Estimate | None  # s; None: no interface comes to 800 degC
    solid_before_release: bool  # the whole interval of the freezing time lies inside the hold


def melting(weld: Simulation, doubted: Pairs, index: int, current_off: float) -> Melting:
    """Say when one interface melted, where first, and when it froze.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    doubted : list of pairs of Simulation
        As believed, and with one doubted number moved by a standard deviation.
    index : int
        Which interface.
    current_off : float
        When the last current ends [s].

    Returns
    -------
    Melting
        Times [s] with 90 % intervals.
    """
    if weld.nugget[index] == 0.0:
        return Melting(False, None, None, None)
    began, centre = _began(weld, index), _centre(weld, index)
    r = (weld.layout.r_faces[1:] + weld.layout.r_faces[:-1]) / 2
    ring = False
    if math.isfinite(began):
        first = float(r[int(np.nanargmin(weld.faces.melted_at[index]))])
        ring = first > RING_SEEN and not centre - began < RING_LASTS  # NaN: it never melts
    return Melting(
        began_as_ring=ring,
        began=interval(began, [(_began(a, index), _began(b, index)) for a, b in doubted]),
        centre_melted=interval(
            centre, [(_centre(a, index), _centre(b, index)) for a, b in doubted]
        ),
        solid_after=interval(
            _frozen(weld, index) - current_off,
            [(_frozen(a, index), _frozen(b, index)) for a, b in doubted],
        ),
    )


def _began(weld: Simulation, index: int) -> float:
    times = weld.faces.melted_at[index]
    return float(np.nanmin(times)) if np.isfinite(times).any() else math.nan


def _centre(weld: Simulation, index: int) -> float:
    return float(weld.faces.melted_at[index, 0])


def _frozen(weld: Simulation, index: int) -> float:
    """Last time [s] a ring of the interface froze; NaN where none melted or one never froze."""
    times = weld.faces.frozen_at[index][np.isfinite(weld.faces.melted_at[index])]
    return float(times.max()) if len(times) else math.nan  # NaN among them stays NaN


def interval(
    value: float, moved: list[tuple[float, float]], own: float = OWN_SPREAD
) -> Estimate | None:
    """Give a figure its interval; doubts under which it does not come to pass are left out.

    Parameters
    ----------
    value : float
        The figure [unit of moved]; NaN where it never came to pass.
    moved : list of pairs of float
        As believed, and with one doubted number moved by a standard deviation [unit of value].
    own : float
        Standard deviation of the model itself, as a share of the figure [-].

    Returns
    -------
    Estimate or None
        With its 90 % interval; None for NaN. Infinite: the march ended first, so it is at least
        the time that was marched.
    """
    if math.isnan(value):
        return None
    if math.isinf(value):  # the march ended first: it takes at least so long
        return Estimate(AFTER_HOLD, AFTER_HOLD, 10.0 * AFTER_HOLD)
    known = [b - a for a, b in moved if math.isfinite(b - a)]
    spread = Z90 * math.hypot(own * value, *known)
    return Estimate(value, max(0.0, value - spread), value + spread)


def cooling_estimate(weld: Simulation, doubted: Pairs, index: int) -> Estimate | None:
    """Time from 800 to 500 degC on the axis of one interface.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    doubted : list of pairs of Simulation
        As believed, and with one doubted number moved by a standard deviation.
    index : int
        Which interface.

    Returns
    -------
    Estimate or None
        [s] with its 90 % interval; None where it never came to 800 degC.
    """
    value = float(weld.cooling_t85[index])
    moved = [(float(a.cooling_t85[index]), float(b.cooling_t85[index])) for a, b in doubted]
    return interval(value, moved, COOLING_SPREAD)


def hold_effect(
    unheld: float,
    at_release: float,
    melted: tuple[Melting, ...],
    hold_time: float,
) -> HoldEffect:
    """Say what the hold does.

    Parameters
    ----------
    unheld : float
        Longest cooling time without any hold [s]; NaN where none comes to 800 degC.
    at_release : float
        Hottest interface on the axis when the caps open [degC].
    melted : tuple of Melting
        Of every interface.
    hold_time : float
        As set [s].

    Returns
    -------
    HoldEffect
        With 90 % intervals.
    """
    spread = Z90 * TEMPERATURE_SPREAD * (at_release - 20.0)
    without = interval(unheld, [], COOLING_SPREAD)
    solid = all(
        one.began is None or (one.solid_after is not None and one.solid_after.high <= hold_time)
        for one in melted
    )
    return HoldEffect(
        temperature_at_release=Estimate(at_release, at_release - spread, at_release + spread),
        cooling_t85_without_hold=without,
        solid_before_release=solid,
    )
