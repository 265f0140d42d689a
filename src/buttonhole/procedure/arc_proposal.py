"""A set-up to begin with for a plug or a seam: tried on the model, the surest one taken.

The wire feed is tried over the usable currents of the wire, the voltage follows the current, the
time of a plug follows from the metal that fills hole and head, the travel of a seam is tried too.
The surest is the one with the best chance that all is fused and nothing falls through; of those
alike the one with least heat. What a person holds (path, distance, angles, aim) is left as entered.
A proposal releases nothing: weld a coupon, look at its back, section it.
"""

import dataclasses
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from buttonhole.units import BadInput
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.plug.result import PlugWeld
from buttonhole.weld.arc.seam.joint import SeamJoint
from buttonhole.weld.arc.seam.result import SeamWeld
from buttonhole.weld.arc.set_up import FEEDS, ArcSetUp
from buttonhole.weld.arc.transfer import ArcState, short_arc_voltage, usable_current

Progress = Callable[[int, int], None]

CURRENTS = 6  # tried over the usable range
HEAD_WIDER, HEAD_HIGH = 2e-3, 1.2e-3  # m: cap over the hole, common practice, no source
TIME_FACTORS = (0.85, 1.0, 1.2)  # -, of the time that hole and head take to fill
SPEEDS = (6e-3, 8e-3, 10e-3)  # m/s; published lap settings lie at 7.5 to 9 (arc-manual-a)
ALIKE = 0.05  # -, chances nearer than that are alike; the model knows them no better, judged
STRAY = 0.10  # -, of the wire feed, for the margins; common practice, no source
GOOD = 0.5  # -, chance under which nothing is proposed; judged


@dataclass(frozen=True, slots=True)
class Chances:
    """Of one set-up: that all is fused wide or deep enough, and that the pool falls through."""

    fused: float  # -
    hole: float  # -

    @property
    def good(self) -> float:
        """That it is fused and holds [-]."""
        return self.fused * (1.0 - self.hole)


@dataclass(frozen=True, slots=True)
class ArcProposal:
    """What to set, why, and how far it may stray."""

    set_up: ArcSetUp
    current: float  # A
    chances: Chances
    with_less_feed: Chances  # a tenth less wire feed
    with_more_feed: Chances  # a tenth more
    reasons: tuple[str, ...]
    tried: int


def plug_chances(weld: PlugWeld) -> Chances:
    """Chances of a predicted plug."""
    return Chances(weld.fusion_probability, weld.hole_probability)


def seam_chances(weld: SeamWeld) -> Chances:
    """Chances of a predicted seam."""
    return Chances(weld.fusion_probability, weld.burn_through_probability)


def with_current(set_up: ArcSetUp, current: float) -> ArcSetUp:
    """The same torch and wire at another current: wire feed and voltage follow.

    Parameters
    ----------
    set_up : ArcSetUp
        Wire, gas, distance.
    current : float
        Wanted [A].

    Returns
    -------
    ArcSetUp
        With the wire feed [m/s] that makes the current, and the voltage of a short arc.
    """
    low, high = FEEDS
    voltage = short_arc_voltage(current, set_up.wire.metal)
    for _ in range(40):  # more feed makes more current, always
        middle = 0.5 * (low + high)
        tried = dataclasses.replace(set_up, wire_feed_speed=middle, arc_voltage=voltage)
        if operating_point(tried).current.value < current:
            low = middle
        else:
            high = middle
    return dataclasses.replace(set_up, wire_feed_speed=0.5 * (low + high), arc_voltage=voltage)


def plug_candidates(joint: PlugJoint, set_up: ArcSetUp) -> list[ArcSetUp]:
    """Set-ups to try for a plug: currents, and times that fill hole and head."""
    foot = joint.hole_diameters[0] + HEAD_WIDER
    head = math.pi * HEAD_HIGH * (3.0 * (foot / 2.0) ** 2 + HEAD_HIGH**2) / 6.0
    found = []
    for one in _currents(set_up):
        seconds = (joint.hole_volume + head) / operating_point(one).fill_rate
        found += [dataclasses.replace(one, arc_time=seconds * each) for each in TIME_FACTORS]
    return found


def seam_candidates(joint: SeamJoint, set_up: ArcSetUp) -> list[ArcSetUp]:
    """Set-ups to try for a seam: currents and travel speeds; ``joint`` is welded in one go."""
    del joint  # it bears on the answer through the prediction alone
    return [
        dataclasses.replace(one, travel_speed=speed, arc_time=None)
        for one in _currents(set_up)
        for speed in SPEEDS
    ]


def propose(
    chances: Callable[[Any, ArcSetUp], Chances],
    joint: PlugJoint | SeamJoint,
    candidates: Iterable[ArcSetUp],
    progress: Progress | None = None,
) -> ArcProposal:
    """Take the surest of some set-ups.

    Parameters
    ----------
    chances : callable
        Of a joint and a set-up.
    joint, candidates
        What is welded, and the set-ups to try.
    progress : callable, optional
        Told how many of how many are tried.

    Returns
    -------
    ArcProposal
        With reasons and margins.

    Raises
    ------
    BadInput
        None of them is likely to make a good weld.
    """
    listed = list(candidates)
    tried: list[tuple[Chances, ArcSetUp]] = []
    for done, one in enumerate(listed, start=1):
        try:
            tried.append((chances(joint, one), one))
        except (BadInput, ArithmeticError):
            continue  # a set-up that can't be computed is none to propose
        finally:
            if progress is not None:
                progress(done, len(listed))
    best = max((found.good for found, _one in tried), default=0.0)
    if best < GOOD:
        raise BadInput(
            "set_up",
            f"nothing that was tried is likely to fuse and hold (at best {100 * best:.0f} in 100); "
            "change hole, wire diameter, contact-tube distance or aim, or ask the maker",
        )
    alike = [one for one in tried if one[0].good >= best - ALIKE]
    found, chosen = min(alike, key=lambda one: _heat(one[1]))
    less, more = (
        dataclasses.replace(chosen, wire_feed_speed=chosen.wire_feed_speed * factor)
        for factor in (1.0 - STRAY, 1.0 + STRAY)
    )
    return ArcProposal(
        set_up=chosen,
        current=operating_point(chosen).current.value,
        chances=found,
        with_less_feed=chances(joint, less),
        with_more_feed=chances(joint, more),
        reasons=_reasons(chosen, found, len(alike), len(tried)),
        tried=len(tried),
    )


def _currents(set_up: ArcSetUp) -> list[ArcSetUp]:
    """The set-up at currents over the usable range at which the arc is steady."""
    low, high = usable_current(set_up.wire_diameter)
    found = []
    for i in range(CURRENTS):
        one = with_current(set_up, low + (high - low) * (i + 1.0) / (CURRENTS + 1.0))
        if operating_point(one).state in (ArcState.STEADY, ArcState.NOT_KNOWN):
            found.append(one)
    return found


def _heat(set_up: ArcSetUp) -> float:
    """Energy of the arc [J], or [J/m] of a seam."""
    power = operating_point(set_up).arc_power.value
    if set_up.travel_speed is not None:
        return power / set_up.travel_speed
    return power * (set_up.arc_time or 0.0)


def _reasons(set_up: ArcSetUp, found: Chances, alike: int, tried: int) -> tuple[str, ...]:
    low, high = usable_current(set_up.wire_diameter)
    current = operating_point(set_up).current.value
    said = [
        f"Of {tried} set-ups tried this is among the {alike} surest, and of those the one with "
        f"least heat: {100 * found.fused:.0f} in 100 that all is fused, {100 * found.hole:.0f} in "
        "100 that the pool falls through.",
        f"{current:.0f} A lies in the usable range of {set_up.wire_diameter * 1e3:g} mm wire "
        f"({low:.0f} to {high:.0f} A); {set_up.arc_voltage:.1f} V is what a short arc takes there.",
    ]
    if set_up.travel_speed is not None:
        said.append(
            f"Travel {set_up.travel_speed * 1e3:g} mm/s: take the time of the whole seam, it is "
            "easier to keep than a speed. Aim into the joint; aim counts for more than the angle."
        )
    else:
        said.append(
            f"{set_up.arc_time or 0.0:.1f} s fill hole and head (2 mm wider than the hole, 1.2 mm "
            "high, common practice). Torch upright both ways; begin in the middle, wash out to "
            "the rim without stopping."
        )
    return tuple(said)
