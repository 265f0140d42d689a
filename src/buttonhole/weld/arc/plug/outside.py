"""From the outside of a plug to its inside: what is fused, given what can be seen.

The ring of burnt-off zinc on the back tells how much heat went in, the molten spot how narrowly.
Where nothing melted through, only how hot the back became still tells that: temperature crayons or
a pyrometer on a coupon. Marches over what is doubted are weighted by how well their marks fit; the
hidden fusion is read off the weighted marches. When the marches can't show what was seen, that is
said, and then something else was welded than was entered.
"""

import dataclasses
import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.plug.ensemble import drawn_closures
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.plug.marks import BackMark, PlugMarks, read_marks
from buttonhole.weld.arc.plug.simulation import COARSE, simulate
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.sighting import Sighting, Warmth, hidden_estimate
from buttonhole.weld.arc.weighting import (
    effective_size,
    expected_spread,
    log_fit,
    mean_and_spread,
    weights_of,
)
from buttonhole.weld.arc.wire import BRONZE
from buttonhole.weld.estimate import Z90, Estimate

Array = NDArray[np.float64]

MEMBERS = 400  # marches, numerical: after two readings some tens of them still count
FEWEST = 12.0  # -, effective members under which the answer is a guess; numerical, judged
UNLIKELY = 3.0  # -, standard deviations from every march: the marches do not show what was seen
DISPLAY_SPREAD = 0.03  # -, of a current that a machine shows, judged
FAR_OFF = 1.5  # -, of the current that is shown to the one these settings make, judged
# A person's class of the back against the right one: the same, next to it, further off. Judged.
CLASS_FIT = (0.8, 0.1, 0.005)  # -
CLASS_ORDER = tuple(BackMark)


class Look(StrEnum):
    """A mark that can be measured from outside."""

    ZINC_RING = "zinc_ring"  # burnt off, on the back; a scaled ring on bare steel
    BACK_SPOT = "back_spot"  # molten, on the back; 0 where nothing melted through
    TINT = "tint"  # edge of the straw colour on the back, bright steel
    HEAD = "head_diameter"
    HOTTEST = "back_peak"  # hottest of the back, by crayons or a pyrometer


# Standard deviation a look has with a calliper and care [m], or with temperature crayons some 50 K
# apart [K]; engineering judgement, no source.
USUAL_SPREAD = {
    Look.ZINC_RING: 0.3e-3,
    Look.BACK_SPOT: 0.4e-3,
    Look.TINT: 0.7e-3,
    Look.HEAD: 0.3e-3,
    Look.HOTTEST: 30.0,
}


@dataclass(frozen=True, slots=True)
class Allowances:
    """What the model itself may be off, standard deviations; none for a twin of the model.

    The same as the prediction takes for marks; for what is hidden less than there, as a mark that
    was seen takes part of it away (arc-physics: 0.8 and 0.3 mm after one look at the back, judged,
    no source).
    """

    zinc_ring: float = 0.4e-3  # m
    back_spot: float = 0.8e-3  # m
    tint: float = 0.7e-3  # m
    head_diameter: float = 0.7e-3  # m
    back_peak: float = 40.0  # K
    fused: float = 0.8e-3  # m
    penetration: float = 0.3e-3  # m


NO_ALLOWANCE = Allowances(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def sighting(look: Look, value: float, spread: float | None = None) -> Sighting | Warmth:
    """One mark as read.

    Parameters
    ----------
    look : Look
        Which.
    value : float
        As measured [m], of the hottest place [degC].
    spread : float or None
        How far it may be off, one standard deviation [m], [K]; None for the usual.

    Returns
    -------
    Sighting or Warmth
        Checked.

    Raises
    ------
    BadInput
        A reading that can't be.
    """
    off = USUAL_SPREAD[look] if spread is None else spread
    return Warmth(value, off) if look is Look.HOTTEST else Sighting(value, off)


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen on one plug; whatever was not looked at is left out."""

    readings: Mapping[Look, Sighting | Warmth]
    back_mark: BackMark | None = None


@dataclass(frozen=True, slots=True)
class PlugEnsemble:
    """Welds that could be: one entry for each march."""

    looks: Mapping[Look, Array]  # (n,), m, of the hottest place degC
    classes: NDArray[np.int64]  # - (n,), place in the order of the marks of the back
    fused: Array  # (n, interfaces), m; wetted where it is brazed
    penetration: Array  # (n, interfaces), m
    thicknesses: tuple[float, ...]  # m, of the sheet under each interface

    @property
    def size(self) -> int:
        """How many marches there are."""
        return len(self.classes)


@dataclass(frozen=True, slots=True)
class Worth:
    """What one more look would tell: how uncertain the fused diameter is left [m], on average."""

    look: Look
    left: float  # m, standard deviation


@dataclass(frozen=True, slots=True)
class Inside:
    """What is hidden, given what was seen; intervals are 90 %, counted per interface."""

    fused: tuple[Estimate, ...]  # m
    penetration: tuple[Estimate, ...]  # m
    fusion_probability: float  # -, that every interface is as wide as was asked
    effective_members: float  # -
    alarms: tuple[str, ...]
    before: float  # m, standard deviation of the least sure fused diameter with nothing seen
    now: float  # m, the same with what was seen
    next_looks: tuple[Worth, ...]  # the one that tells most first


def ensemble(
    joint: PlugJoint,
    set_up: ArcSetUp,
    rng: np.random.Generator,
    *,
    count: int = MEMBERS,
    time_spread: float = 0.0,
    shown_current: float | None = None,
    law: MeltingLaw | None = None,
) -> PlugEnsemble:
    """March welds that could be over what is doubted, coarsely.

    Parameters
    ----------
    joint : PlugJoint
        Sheets, holes, path.
    set_up : ArcSetUp
        What was set, with the arc time as it was taken.
    rng : numpy.random.Generator
        Draws the arc times.
    count : int
        How many marches.
    time_spread : float
        Standard deviation of the arc time [s]; 0 where the machine recorded it.
    shown_current : float or None
        What the machine showed while the arc burnt [A]; None for what is known without.
    law : MeltingLaw or None
        This machine's own melting law.

    Returns
    -------
    PlugEnsemble
        Marks and what is hidden, SI.

    Raises
    ------
    BadInput
        No arc time, a spread of it that is no number, or a current these settings can't make.
    """
    if set_up.arc_time is None:
        raise BadInput("arc_time", "is missing; say how long the arc burnt")
    if not 0.0 <= time_spread <= set_up.arc_time / 2.0:
        raise BadInput("arc_time", "may be off by at most half of itself; time it again")
    current = operating_point(set_up, law=law).current
    doubt, ratio = math.log(current.high / current.value) / Z90, 1.0
    if shown_current is not None:
        ratio, doubt = shown_current / current.value, DISPLAY_SPREAD
        if not 1.0 / FAR_OFF <= ratio <= FAR_OFF:  # also catches NaN
            raise BadInput(
                "current",
                f"is {shown_current:g} A, but these settings make about {current.value:.0f} A; "
                "check wire, wire feed and contact-tube distance",
            )
    shifts = time_spread * np.clip(rng.standard_normal(count), -1.9, 1.9)
    found = []
    for closure, shift in zip(drawn_closures(doubt, count), shifts, strict=True):
        one = dataclasses.replace(set_up, arc_time=max(set_up.arc_time + float(shift), 0.05))
        shown = dataclasses.replace(closure, current_factor=ratio * closure.current_factor)
        found.append(read_marks(simulate(joint, one, COARSE, shown, law)))
    return from_marks(found, joint, brazed=set_up.wire.metal in BRONZE)


def from_marks(found: list[PlugMarks], joint: PlugJoint, *, brazed: bool = False) -> PlugEnsemble:
    """Gather what marches show and hide: what is fused, or in a braze what is wetted."""
    return PlugEnsemble(
        looks={
            Look.ZINC_RING: np.array([one.zinc_ring for one in found]),
            Look.BACK_SPOT: np.array([one.back_spot for one in found]),
            Look.TINT: np.array([one.tint for one in found]),
            Look.HEAD: np.array([one.head_diameter for one in found]),
            Look.HOTTEST: np.array([one.back_peak for one in found]),
        },
        classes=np.array([CLASS_ORDER.index(one.back_mark) for one in found]),
        fused=np.array([one.wetted_diameter if brazed else one.fused_diameter for one in found]),
        penetration=np.array([one.penetration for one in found]),
        thicknesses=tuple(one.thickness for one in joint.stack.sheets[1:]),
    )


def look_inside(
    members: PlugEnsemble,
    seen: Seen,
    wanted: tuple[float, ...],
    allowances: Allowances | None = None,
) -> Inside:
    """Say what is fused inside, given what was seen.

    Parameters
    ----------
    members : PlugEnsemble
        Welds that could be.
    seen : Seen
        Marks as read.
    wanted : tuple of float
        Smallest fused diameter that counts at each interface [m].
    allowances : Allowances or None
        What the model may be off [m]; None for the usual.

    Returns
    -------
    Inside
        In SI units, with alarms where the welds that could be do not show what was seen.

    Sources
    -------
    derived (Bayes' rule over the members)
    """
    allowed = allowances or Allowances()
    weights = fit(members, seen, allowed)
    even = np.full(members.size, 1.0 / members.size)
    fused = tuple(
        hidden_estimate(members.fused[:, k], weights, allowed.fused, math.inf)
        for k in range(len(wanted))
    )
    depth = tuple(
        hidden_estimate(members.penetration[:, k], weights, allowed.penetration, thickness)
        for k, thickness in enumerate(members.thicknesses)
    )
    return Inside(
        fused=fused,
        penetration=depth,
        fusion_probability=_chance(members, weights, wanted, allowed.fused),
        effective_members=effective_size(weights),
        alarms=_alarms(members, seen, weights, allowed),
        before=_least_sure(members, even, allowed),
        now=_least_sure(members, weights, allowed),
        next_looks=_worth(members, seen, weights, allowed),
    )


def fit(members: PlugEnsemble, seen: Seen, allowed: Allowances) -> Array:
    """Weight of each member [-], shape (n,), given what was seen."""
    logs = np.zeros(members.size)
    for look, reading in seen.readings.items():
        spread = math.hypot(reading.spread, getattr(allowed, look.value))
        logs = logs + log_fit(members.looks[look], reading.value, spread)
    if seen.back_mark is not None:
        apart = np.abs(members.classes - CLASS_ORDER.index(seen.back_mark))
        logs = logs + np.log(np.array(CLASS_FIT))[np.minimum(apart, 2)]
    return weights_of(logs)


def _chance(members: PlugEnsemble, weights: Array, wanted: tuple[float, ...], off: float) -> float:
    """That every interface is fused as wide as wanted [-]; the least sure one decides."""
    from scipy.special import ndtr

    least = members.fused - np.array(wanted)
    margin = least.min(axis=1)
    each = ndtr(margin / off) if off > 0.0 else (margin >= 0.0).astype(float)
    return float(weights @ each)


def _alarms(
    members: PlugEnsemble, seen: Seen, weights: Array, allowed: Allowances
) -> tuple[str, ...]:
    said = []
    for look, reading in seen.readings.items():
        spread = math.hypot(reading.spread, getattr(allowed, look.value))
        off = np.abs(members.looks[look] - reading.value) / spread
        if float(np.nanmin(off)) > UNLIKELY:
            ends = np.quantile(members.looks[look], (0.0, 1.0))
            said.append(
                f"{look.value.replace('_', ' ')} of {_shown(look, reading.value)}: no weld with "
                f"these settings shows that ({_shown(look, ends[0])} to {_shown(look, ends[1])}). "
                "Check the reading, arc time, wire feed, gap and sheets; nothing can be said of "
                "the inside."
            )
    if seen.back_mark is not None:
        place = CLASS_ORDER.index(seen.back_mark)
        if int(np.abs(members.classes - place).min()) > 1:
            said.append(
                f"A back that looks like '{seen.back_mark.value}' does not go with these settings. "
                "Check them; nothing can be said of the inside."
            )
    if not said and effective_size(weights) < FEWEST:
        said.append(
            "What was seen hardly fits together, or with these settings: too few welds that could "
            "be are left to tell the inside. Read again; section a coupon."
        )
    return tuple(said)


def _shown(look: Look, value: float) -> str:
    """A reading [SI] as people say it."""
    return f"{value:.0f} degC" if look is Look.HOTTEST else f"{value * 1e3:.1f} mm"


def _least_sure(members: PlugEnsemble, weights: Array, allowed: Allowances) -> float:
    return max(
        math.hypot(mean_and_spread(members.fused[:, k], weights)[1], allowed.fused)
        for k in range(members.fused.shape[1])
    )


def _worth(
    members: PlugEnsemble, seen: Seen, weights: Array, allowed: Allowances
) -> tuple[Worth, ...]:
    """Looks not taken yet, the one that leaves least doubt first."""
    found = []
    for look, usual in USUAL_SPREAD.items():
        if look in seen.readings:
            continue
        spread = math.hypot(usual, getattr(allowed, look.value))
        left = max(
            expected_spread(members.fused[:, k], members.looks[look], spread, weights)
            for k in range(members.fused.shape[1])
        )
        found.append(Worth(look, math.hypot(left, allowed.fused)))
    return tuple(sorted(found, key=lambda one: one.left))
