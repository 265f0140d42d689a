"""What is said of a plug weld before an arc is struck.

What the model explains: contact-tube distance and current through the heat left to the arc once the
wire is molten; hole size, arc time and sheet thickness; that beginning in the middle fuses more
than welding the rim; that a small head is what is left when the hole takes the metal.
What it explains in part: a gap, whose lost volume and lost contact are computed, while the share of
the arc that jumps to the rim is an assumption (closure.rim_share); how wide the head is, as no flow
and no surface tension are computed. What it does not explain: arc force, porosity from zinc,
distortion, positions other than flat. A braze fills the hole like a weld, but the sheets are wetted
and must not melt; aluminium has its own properties, a softened zone and no colours.
"""

import math
from collections.abc import Callable
from statistics import NormalDist

import numpy as np

from buttonhole.units import BadInput
from buttonhole.weld.arc.machine_map import OperatingPoint
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.pairing import alloy_objections, gas_objections, sheet_objections
from buttonhole.weld.arc.plug.advice import warnings_of
from buttonhole.weld.arc.plug.ensemble import MEMBERS, members
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.plug.marks import FALLS, PlugMarks, read_marks, transforms_at
from buttonhole.weld.arc.plug.result import PlugInterface, PlugSection, PlugWeld
from buttonhole.weld.arc.plug.simulation import (
    COARSE,
    DEFAULT,
    PlugResolution,
    PlugSimulation,
    simulate,
)
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.estimate import Z90, Estimate
from buttonhole.weld.hardness.peak import Hardening, arc_hardening, hardest

MODEL_VERSION = "plug-2"

# An 8 mm plug should tear 5 mm out of the sheet below (a maker's manual, read).
WANTED_SHARE = 5.0 / 8.0  # -, of the hole
# A brazed face gives way at well under half of what metal fused does, and costs nothing to wet.
WETTED_SHARE = 0.8  # -, of the hole; judged, no source
NO_HOLE = (
    4.0  # -, times the root of the thinner sheet in mm; as is common for spot welds, no source
)
# What the model itself may be off, one standard deviation, beside what its numbers may: no plug has
# been sectioned for it yet. Judged, no source; together about 1.5 mm and 0.5 mm on the two first.
OFF_FUSED, OFF_PENETRATION, OFF_SPOT = 0.9e-3, 0.3e-3, 0.8e-3  # m
OFF_RING, OFF_TINT, OFF_HAZ, OFF_HEAD = 0.4e-3, 0.7e-3, 0.5e-3, 0.7e-3  # m
OFF_HEIGHT, OFF_SAG, OFF_HOLE = 0.4e-3, 0.15e-3, 0.4e-3  # m
OFF_PEAK, OFF_RIM, OFF_TIME = 40.0, 0.2, 0.1  # K, -, -


def predict(
    joint: PlugJoint,
    set_up: ArcSetUp,
    *,
    resolution: PlugResolution = DEFAULT,
    law: MeltingLaw | None = None,
    count: int = MEMBERS,
) -> PlugWeld:
    """Predict a plug weld.

    Parameters
    ----------
    joint : PlugJoint
        Two or three sheets from the side that is welded, with their holes.
    set_up : ArcSetUp
        What is set, with ``arc_time``; the torch is upright over the hole.
    resolution : PlugResolution
        Cells [m] and steps of the solver.
    law : MeltingLaw or None
        This machine's own melting law, as learned; None for what is known of the wire.
    count : int
        Marches over what is doubted.

    Returns
    -------
    PlugWeld
        Figures in SI units with 90 % intervals.

    Raises
    ------
    BadInput
        When the set-up can't be computed or must not be welded.
    PlugFailed
        When the numbers went out of bounds.

    Sources
    -------
    handbook-memory, maker-body-manual (the diameter that counts as fused)
    """
    refuse_pairs(joint, set_up)
    coarse = read_marks(simulate(joint, set_up, COARSE, law=law))
    best = simulate(joint, set_up, resolution, law=law)
    marks = read_marks(best)
    spread = math.log(best.point.current.high / best.point.current.value) / Z90
    doubted = members(joint, set_up, spread, law, count)
    return _weld(joint, set_up, best, marks, _Belief(marks, coarse, doubted))


def refuse_pairs(joint: PlugJoint, set_up: ArcSetUp) -> None:
    """Refuse wire, gas and metals that make no joint.

    Raises
    ------
    BadInput
        Naming what does not go together.
    """
    steels = joint.steels
    sheets = sheet_objections(set_up.wire, steels) if steels else alloy_objections(set_up.wire)
    for objection in (*sheets, *gas_objections(set_up.wire, set_up.gas)):
        if objection.refused:
            raise BadInput(objection.key, objection.text)


def wanted_diameters(joint: PlugJoint, *, brazed: bool) -> tuple[float, ...]:
    """Smallest fused, or wetted, diameter that counts at each interface [m].

    Parameters
    ----------
    joint : PlugJoint
        Sheets and holes.
    brazed : bool
        Whether the wire is one of bronze.

    Sources
    -------
    maker-body-manual (share of the hole); common practice where there is none
    """
    share, sheets, found = WETTED_SHARE if brazed else WANTED_SHARE, joint.stack.sheets, []
    for number, hole in enumerate(joint.hole_diameters):
        thin = min(sheets[number].thickness, sheets[number + 1].thickness)
        found.append(share * hole if hole > 0.0 else NO_HOLE * 1e-3 * math.sqrt(1e3 * thin))
    return tuple(found)


class _Belief:
    """The best march, a coarse one alike, and many coarse ones over what is doubted."""

    def __init__(self, best: PlugMarks, coarse: PlugMarks, doubted: list[PlugMarks]) -> None:
        self.best, self.coarse, self.doubted = best, coarse, doubted

    def of(
        self,
        pick: Callable[[PlugMarks], float],
        off: float,
        low: float = 0.0,
        high: float = math.inf,
    ) -> Estimate:
        """Best figure with its interval; ``off`` [SI] is what the model itself may be off."""
        value, base = pick(self.best), pick(self.coarse)
        picked = np.array([pick(one) for one in self.doubted])
        known = picked[np.isfinite(picked)]  # a time that never comes is told as a chance
        if math.isnan(value) or not len(known):
            return Estimate(value, value, value)
        ends = [float(one) for one in np.quantile(known, (0.05, 0.95))]
        if math.isinf(value):
            return Estimate(value, ends[0], value)
        base = base if math.isfinite(base) else value
        down, up = ends[0] - base, ends[1] - base
        below = math.hypot(min(down, 0.0), Z90 * off)
        above = math.hypot(max(up, 0.0), Z90 * off)
        inside = min(max(value, low), high)
        return Estimate(inside, max(value - below, low), min(value + above, high))

    def share(self, pick: Callable[[PlugMarks], float], off: float, level: float) -> float:
        """Probability [-] that a figure is at ``level`` [SI] or above."""
        shift = pick(self.best) - pick(self.coarse)
        normal = NormalDist(0.0, off)
        return float(np.mean([normal.cdf(pick(one) + shift - level) for one in self.doubted]))


def _weld(
    joint: PlugJoint, set_up: ArcSetUp, best: PlugSimulation, marks: PlugMarks, belief: _Belief
) -> PlugWeld:
    brazed = best.metals.brazed
    wanted = wanted_diameters(joint, brazed=brazed)
    interfaces = tuple(
        _interface(joint, number, belief, wanted[number], brazed=brazed)
        for number in range(len(joint.stack.sheets) - 1)
    )
    hole = joint.hole_diameters[0]
    cooling = _cooling(belief)
    hardening = _hardening(joint, best, cooling) if joint.steels else None
    glows = marks.glows
    return PlugWeld(
        point=best.point,
        arc_energy=_times(best.point, set_up.arc_time or 0.0),
        interfaces=interfaces,
        brazed=brazed,
        fusion_probability=_joined(wanted, belief, brazed=brazed),
        melting_probability=_melts(best, belief) if brazed else None,
        hole_probability=belief.share(
            lambda m: m.back_spot - 2.0 * FALLS * m.fall_radius, OFF_SPOT, 0.0
        ),
        back_mark=marks.back_mark,
        back_peak=belief.of(lambda m: m.back_peak, OFF_PEAK, 20.0),
        back_spot_diameter=belief.of(lambda m: m.back_spot, OFF_SPOT),
        back_sag=belief.of(lambda m: m.back_sag, OFF_SAG),
        zinc_ring_diameter=belief.of(lambda m: m.zinc_ring, OFF_RING) if glows else None,
        tint_diameter=belief.of(lambda m: m.tint, OFF_TINT) if glows else None,
        haz_diameter=tuple(
            belief.of(lambda m, n=number: m.haz_diameter[n], OFF_HAZ)  # type: ignore[misc]  # n is a default, not an argument
            for number in range(len(joint.stack.sheets))
        ),
        head_diameter=belief.of(
            # metal that stands over a full hole is never narrower than the hole
            lambda m: m.head_diameter,
            OFF_HEAD,
            hole if marks.head_diameter > 0.0 else 0.0,
        ),
        head_height=belief.of(lambda m: m.head_height, OFF_HEIGHT),
        rim_fusion=belief.of(lambda m: m.rim_fusion, OFF_RIM, 0.0, 1.0),
        burnt_hole_diameter=belief.of(lambda m: hole + 2.0 * m.melted_back, OFF_HOLE, hole),
        fill_time=belief.of(lambda m: m.fill_time, OFF_TIME * min(marks.fill_time, 20.0)),
        fill_probability=float(np.mean([math.isfinite(m.fill_time) for m in belief.doubted])),
        cooling_t85=cooling,
        peak_hardness=None if hardening is None else hardening.hardness,
        hardening=hardening,
        section=PlugSection(best.layout.r_faces, best.layout.z_faces, best.peak, best.part),
        warnings=warnings_of(joint, set_up, best, marks),
        solver_seconds=best.seconds,
        model_version=MODEL_VERSION,
    )


def _interface(
    joint: PlugJoint, number: int, belief: _Belief, wanted: float, *, brazed: bool
) -> PlugInterface:
    thickness = joint.stack.sheets[number + 1].thickness
    hole = joint.hole_diameters[number]
    most = max(hole, belief.best.wetted_diameter[number]) if hole > 0.0 else math.inf
    return PlugInterface(
        index=number,
        fused_diameter=belief.of(lambda m: m.fused_diameter[number], OFF_FUSED),
        penetration=belief.of(lambda m: m.penetration[number], OFF_PENETRATION, 0.0, thickness),
        wanted_diameter=wanted,
        wetted_diameter=(
            belief.of(lambda m: m.wetted_diameter[number], OFF_FUSED, 0.0, most) if brazed else None
        ),
    )


def _joined(wanted: tuple[float, ...], belief: _Belief, *, brazed: bool) -> float:
    """That every interface is fused, or wetted, as wide as is wanted [-]."""

    def diameter(marks: PlugMarks, number: int) -> float:
        return (marks.wetted_diameter if brazed else marks.fused_diameter)[number]

    return min(
        belief.share(lambda m, n=number: diameter(m, n), OFF_FUSED, level)  # type: ignore[misc]  # n is a default, not an argument
        for number, level in enumerate(wanted)
    )


def _melts(best: PlugSimulation, belief: _Belief) -> float:
    """That a brazed sheet melts somewhere [-]."""
    return max(
        belief.share(lambda m, n=number: m.hottest[n], OFF_PEAK, metal.curves.solidus)  # type: ignore[misc]  # n is a default, not an argument
        for number, metal in enumerate(best.metals.sheets)
    )


def _times(point: OperatingPoint, seconds: float) -> Estimate:
    power = point.arc_power
    return Estimate(power.value * seconds, power.low * seconds, power.high * seconds)


def _cooling(belief: _Belief) -> Estimate:
    """Shortest time from 800 to 500 degC [s] of any sheet; 0 where none came to 1100 degC."""

    def shortest(marks: PlugMarks) -> float:
        known = [one for one in marks.cooling_t85 if not math.isnan(one)]
        return min(known, default=math.nan)

    value = shortest(belief.best)
    if math.isnan(value):
        return Estimate(0.0, 0.0, 0.0)
    return belief.of(shortest, OFF_TIME * value if math.isfinite(value) else 0.0)


def _hardening(joint: PlugJoint, best: PlugSimulation, cooling: Estimate) -> Hardening:
    """The hardest sheet; one that was not heated keeps its own hardness."""
    heated = ((steel, _hardens(best, number)) for number, steel in enumerate(joint.steels))
    return hardest(heated, cooling, arc_hardening)


def _hardens(best: PlugSimulation, number: int) -> bool:
    first, last = best.layout.sheet_rows[number]
    own = best.part[first:last] == number
    hottest = float(best.peak[first:last][own].max())
    return hottest >= transforms_at(best, number, "Ac3")
