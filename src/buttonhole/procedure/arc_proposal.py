"""A set-up to begin with for a plug or a seam, welded or brazed: tried, the surest one taken.

The wire feed is tried over the usable currents of the wire, the voltage follows the current, the
time of a plug follows from the metal that fills hole and head, the travel of a seam is tried too.
The surest is the one with the best chance that all is fused (in a braze: wetted, and no sheet
melted) and nothing falls through; of those alike the one with least heat. They are tried on coarse
cells; what is taken is checked on fine ones before it is said. What a person holds (path, distance,
angles, aim) is left as entered. A proposal releases nothing: weld a coupon, look at its back,
section it.
"""

import dataclasses
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Any

from buttonhole.units import BadInput
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.plug.result import PlugWeld
from buttonhole.weld.arc.seam.joint import SeamJoint
from buttonhole.weld.arc.seam.result import SeamWeld
from buttonhole.weld.arc.set_up import FEEDS, ArcSetUp
from buttonhole.weld.arc.transfer import ArcState, short_arc_voltage, usable_current
from buttonhole.weld.arc.wire import BRONZE, WireMetal
from buttonhole.weld.estimate import Z90, Estimate

Progress = Callable[[int, int], None]
Judged = Callable[[Any, ArcSetUp], "Chances"]

CURRENTS = 6  # tried over the usable range
HEAD_WIDER, HEAD_HIGH = 2e-3, 1.2e-3  # m: cap over the hole, common practice, no source
TIME_FACTORS = (0.85, 1.0, 1.2, 1.45)  # -, of the time that hole and head take to fill
SPOT_TIMES = (0.6, 1.0, 1.5)  # s, where there is no hole: as published arc spots (arc-manual-h)
# m/s; published lap settings of steel lie at 7.5 to 9, of aluminium at 10 to 13 (arc-manual-a); a
# braze at 13 (read)
SPEEDS = {
    WireMetal.STEEL: (6e-3, 8e-3, 10e-3),
    WireMetal.CUSI: (6e-3, 9e-3, 13e-3),
    WireMetal.CUAL: (6e-3, 9e-3, 13e-3),
    WireMetal.ALUMINIUM: (8e-3, 11e-3, 14e-3),
}
ALIKE = 0.05  # -, chances nearer than that are alike; the model knows them no better, judged
STRAY = 0.10  # -, of the wire feed, for the margins; common practice, no source
# -, chance under which nothing is proposed; judged. Between wetting and melting lies little, and
# what a bronze wire draws is known to a quarter only: a braze is begun with less.
GOOD, GOOD_BRAZE = 0.5, 0.35
CHECKS = 3  # of the surest are checked on fine cells at most


@dataclass(frozen=True, slots=True)
class Chances:
    """Of one set-up: all fused (brazed: wetted) enough, the pool falls, a brazed sheet melts."""

    fused: float  # -
    hole: float  # -
    melts: float = 0.0  # -

    @property
    def good(self) -> float:
        """That it is joined and holds [-]."""
        return self.fused * (1.0 - self.hole) * (1.0 - self.melts)


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
    return Chances(weld.fusion_probability, weld.hole_probability, weld.melting_probability or 0.0)


def seam_chances(weld: SeamWeld, thicknesses: Sequence[float], *, brazed: bool) -> Chances:
    """Chances of a predicted seam.

    Parameters
    ----------
    weld : SeamWeld
        The prediction.
    thicknesses : sequence of float
        Of the sheets, in the order of the prediction [m]; a braze should wet each as wide.
    brazed : bool
        Whether the wire is one of bronze.
    """
    if not brazed:
        return Chances(weld.fusion_probability, weld.burn_through_probability)
    pairs = zip(weld.sheets, thicknesses, strict=True)
    wetted = min(_chance_over(sheet.wetted_width, wanted) for sheet, wanted in pairs)
    melts = max(sheet.melting_probability for sheet in weld.sheets)
    return Chances(wetted, weld.burn_through_probability, melts)


def _chance_over(estimate: Estimate, level: float) -> float:
    """That a figure is over a level [SI], its interval taken as two halves of bell curves [-]."""
    off = level - estimate.value
    spread = (estimate.high - estimate.value) if off > 0.0 else (estimate.value - estimate.low)
    if spread <= 0.0:
        return float(off <= 0.0)
    return 1.0 - NormalDist().cdf(off * Z90 / spread)


def with_current(set_up: ArcSetUp, current: float, law: MeltingLaw | None = None) -> ArcSetUp:
    """The same torch and wire at another current: wire feed and voltage follow.

    Parameters
    ----------
    set_up : ArcSetUp
        Wire, gas, distance.
    current : float
        Wanted [A].
    law : MeltingLaw or None
        This machine's own; None for what is known of the wire.

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
        if operating_point(tried, law).current.value < current:
            low = middle
        else:
            high = middle
    return dataclasses.replace(set_up, wire_feed_speed=0.5 * (low + high), arc_voltage=voltage)


def plug_candidates(
    joint: PlugJoint, set_up: ArcSetUp, law: MeltingLaw | None = None
) -> list[ArcSetUp]:
    """Set-ups to try for a plug: currents, and times that fill hole and head."""
    foot = joint.hole_diameters[0] + HEAD_WIDER
    head = math.pi * HEAD_HIGH * (3.0 * (foot / 2.0) ** 2 + HEAD_HIGH**2) / 6.0
    found = []
    for one in _currents(set_up, law):
        filled = (joint.hole_volume + head) / operating_point(one).fill_rate
        times = [filled * each for each in TIME_FACTORS] if joint.hole_diameters[0] else SPOT_TIMES
        found += [dataclasses.replace(one, arc_time=each) for each in times]
    return found


def seam_candidates(
    joint: SeamJoint, set_up: ArcSetUp, law: MeltingLaw | None = None
) -> list[ArcSetUp]:
    """Set-ups to try for a seam: currents and travel speeds; ``joint`` is welded in one go."""
    del joint  # it bears on the answer through the prediction alone
    return [
        dataclasses.replace(one, travel_speed=speed, arc_time=None)
        for one in _currents(set_up, law)
        for speed in SPEEDS[set_up.wire.metal]
    ]


def propose(
    chances: Judged,
    joint: PlugJoint | SeamJoint,
    candidates: Iterable[ArcSetUp],
    progress: Progress | None = None,
    check: Judged | None = None,
    law: MeltingLaw | None = None,
) -> ArcProposal:
    """Take the surest of some set-ups.

    Parameters
    ----------
    chances : callable
        Of a joint and a set-up, quickly.
    joint, candidates
        What is welded, and the set-ups to try.
    progress : callable, optional
        Told how many of how many are tried.
    check : callable, optional
        Chances of a joint and a set-up, carefully; of what is about to be said only.
    law : MeltingLaw, optional
        This machine's own.

    Returns
    -------
    ArcProposal
        With reasons and margins.

    Raises
    ------
    BadInput
        None of them is likely to make a good weld.
    """
    tried, refused = _tried(chances, joint, list(candidates), progress)
    if not tried and refused is not None:
        raise refused  # every one for the same reason: say that one
    best = max((found.good for found, _one in tried), default=0.0)
    least = min((_least(one) for _found, one in tried), default=GOOD)
    if best < least:
        raise _nothing(best)
    alike = [one for one in tried if one[0].good >= best - ALIKE]
    found, chosen = _checked(sorted(alike, key=lambda one: _heat(one[1])), joint, check)
    if found.good < least:
        raise _nothing(found.good)
    less, more = (
        dataclasses.replace(chosen, wire_feed_speed=chosen.wire_feed_speed * factor)
        for factor in (1.0 - STRAY, 1.0 + STRAY)
    )
    return ArcProposal(
        set_up=chosen,
        current=operating_point(chosen, law).current.value,
        chances=found,
        with_less_feed=(check or chances)(joint, less),  # on the same cells as the middle one
        with_more_feed=(check or chances)(joint, more),
        reasons=_reasons(chosen, found, len(alike), len(tried), law),
        tried=len(tried),
    )


def _tried(
    chances: Judged,
    joint: PlugJoint | SeamJoint,
    listed: list[ArcSetUp],
    progress: Progress | None,
) -> tuple[list[tuple[Chances, ArcSetUp]], BadInput | None]:
    tried: list[tuple[Chances, ArcSetUp]] = []
    refused: BadInput | None = None
    for done, one in enumerate(listed, start=1):
        try:
            tried.append((chances(joint, one), one))
        except BadInput as bad:
            refused = bad
        except ArithmeticError:
            pass  # a set-up that can't be computed is none to propose
        if progress is not None:
            progress(done, len(listed))
    return tried, refused


def _checked(
    alike: list[tuple[Chances, ArcSetUp]], joint: PlugJoint | SeamJoint, check: Judged | None
) -> tuple[Chances, ArcSetUp]:
    """The first that a careful look leaves likely, or the best of those looked at."""
    if check is None:
        return alike[0]
    looked: list[tuple[Chances, ArcSetUp]] = []
    for _found, one in alike[:CHECKS]:
        looked.append((check(joint, one), one))
        if looked[-1][0].good >= _least(one):
            return looked[-1]
    return max(looked, key=lambda one: one[0].good)


def _least(set_up: ArcSetUp) -> float:
    """Chance [-] a set-up must have to be proposed."""
    return GOOD_BRAZE if set_up.wire.metal in BRONZE else GOOD


def _nothing(best: float) -> BadInput:
    return BadInput(
        "set_up",
        f"nothing that was tried is likely to join and hold (at best {100 * best:.0f} in 100); "
        "change hole, wire diameter, contact-tube distance or aim, or ask the maker",
    )


def _currents(set_up: ArcSetUp, law: MeltingLaw | None) -> list[ArcSetUp]:
    """The set-up at currents over the usable range at which the arc is steady."""
    low, high = usable_current(set_up.wire_diameter, set_up.wire.metal)
    found = []
    for i in range(CURRENTS):
        one = with_current(set_up, low + (high - low) * (i + 1.0) / (CURRENTS + 1.0), law)
        if operating_point(one, law).state in (ArcState.STEADY, ArcState.NOT_KNOWN):
            found.append(one)
    return found


def _heat(set_up: ArcSetUp) -> float:
    """Energy of the arc [J], or [J/m] of a seam."""
    power = operating_point(set_up).arc_power.value
    if set_up.travel_speed is not None:
        return power / set_up.travel_speed
    return power * (set_up.arc_time or 0.0)


def _reasons(
    set_up: ArcSetUp, found: Chances, alike: int, tried: int, law: MeltingLaw | None
) -> tuple[str, ...]:
    low, high = usable_current(set_up.wire_diameter, set_up.wire.metal)
    current = operating_point(set_up, law).current.value
    brazed = set_up.wire.metal in BRONZE
    joined = "wetted wide enough" if brazed else "fused"
    among = "this is the surest:"
    if alike > 1:
        among = f"{alike} are about as sure, and of those this has least heat:"
    spoilt = f"{100 * found.hole:.0f} in 100 that the pool falls through"
    if brazed:
        spoilt += f", {100 * found.melts:.0f} in 100 that a sheet melts, which a braze must not"
    said = [
        f"Of {tried} set-ups tried {among} {100 * found.fused:.0f} in 100 that all is {joined}, "
        f"{spoilt}.",
        f"{current:.0f} A lies in the usable range of {set_up.wire_diameter * 1e3:g} mm wire "
        f"({low:.0f} to {high:.0f} A); {set_up.arc_voltage:.1f} V is what a short arc takes there.",
        _held(set_up),
    ]
    if set_up.wire.metal is not WireMetal.STEEL and law is None:
        said.append(
            "The range of current of this wire is from memory and the melting of it is known to a "
            "quarter only: give what the machine shows as [[reading]] tables of the weld file."
        )
    if found.good < GOOD:
        said.append(
            "Between wetting and melting lies little: try it on a coupon, and go up or down by "
            "what its back shows."
        )
    return tuple(said)


def _held(set_up: ArcSetUp) -> str:
    """What the hand has to do with it."""
    if set_up.travel_speed is not None:
        return (
            f"Travel {set_up.travel_speed * 1e3:g} mm/s: take the time of the whole seam, it is "
            "easier to keep than a speed. Aim into the joint; aim counts for more than the angle."
        )
    return (
        f"{set_up.arc_time or 0.0:.1f} s: tried from a little less to half more than hole and head "
        "(2 mm wider than the hole, 1.2 mm high, common practice) take to fill. Torch upright both "
        "ways; begin in the middle, wash out to the rim without stopping."
    )
