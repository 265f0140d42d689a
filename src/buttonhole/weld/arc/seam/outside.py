"""From the outside of a seam to its inside: what is fused, given what can be seen.

Seams that could be, over what is doubted, are weighted by how well their marks fit what was seen;
the hidden fusion is read off the weighted ones. When none of them shows what was seen, that is
said: then something else was welded than was entered.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.arc.seam import grid as g
from buttonhole.weld.arc.seam.constants import SEAM, SeamConstants
from buttonhole.weld.arc.seam.ensemble import Members, members
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint
from buttonhole.weld.arc.seam.prediction import FUSED
from buttonhole.weld.arc.seam.reading import NAMES
from buttonhole.weld.arc.seam.set_up import SeamSetUp
from buttonhole.weld.arc.sighting import Sighting, hidden_estimate
from buttonhole.weld.arc.weighting import (
    effective_size,
    expected_spread,
    log_fit,
    mean_and_spread,
    weights_of,
)
from buttonhole.weld.estimate import Estimate

Array = NDArray[np.float64]

MANY = 240  # seams, numerical: after two readings some tens of them still count
FEWEST = 12.0  # -, effective seams under which the answer is a guess; judged
UNLIKELY = 3.0  # -, standard deviations from every seam: they do not show what was seen


class SeamLook(StrEnum):
    """A mark of a seam that can be measured from outside, in its middle."""

    ZINC_STRIP = "zinc_strip"  # width burnt off the back; a scaled strip on bare steel
    BACK_BEAD = "back_bead"  # molten width of the back; 0 where nothing melted through
    LEG = "leg"  # of the metal on the lower sheet of a lap


@dataclass(frozen=True, slots=True)
class SeamAllowances:
    """What the model itself may be off, standard deviations; none for a twin of the model.

    Engineering judgement, no source: as for plugs, where a section is wanting too.
    """

    zinc_strip: float = 0.4e-3  # m
    back_bead: float = 0.8e-3  # m
    leg: float = 0.4e-3  # m
    fused: float = 0.6e-3  # m
    penetration: float = 0.2e-3  # m


NO_ALLOWANCE = SeamAllowances(0.0, 0.0, 0.0, 0.0, 0.0)

# Standard deviation a look has with a calliper and care [m]; engineering judgement, no source.
USUAL_SPREAD = {
    SeamLook.ZINC_STRIP: 0.3e-3,
    SeamLook.BACK_BEAD: 0.4e-3,
    SeamLook.LEG: 0.3e-3,
}


@dataclass(frozen=True, slots=True)
class SheetInside:
    """What is hidden in one sheet; intervals are 90 %."""

    name: str
    penetration: Estimate  # m; of the upper sheet of a lap: from its edge inwards
    fused_width: Estimate  # m, at the face towards the other sheet
    fused_probability: float  # - that a tenth of its thickness is melted


@dataclass(frozen=True, slots=True)
class SeamWorth:
    """How uncertain the depth in the lower sheet is left by one more look, on average."""

    look: SeamLook
    left: float  # m, standard deviation


@dataclass(frozen=True, slots=True)
class SeamInside:
    """What is hidden in a seam, given what was seen."""

    sheets: tuple[SheetInside, ...]
    fusion_probability: float  # - that all sheets are fused
    effective_members: float  # -
    alarms: tuple[str, ...]
    before: float  # m, standard deviation of the depth in the lower sheet with nothing seen
    now: float  # m, the same with what was seen
    next_looks: tuple[SeamWorth, ...]  # the one that tells most first


def could_be(
    joint: SeamJoint, set_up: SeamSetUp, count: int = MANY, constants: SeamConstants = SEAM
) -> Members:
    """Weld seams that could be; the one as believed stands first.

    Parameters
    ----------
    joint, set_up
        What was welded, and how.
    count : int
        How many [-].
    constants : SeamConstants
        The model's numbers.

    Returns
    -------
    Members
        SI.
    """
    return members(joint, set_up, constants, count)


def marks_of(found: Members) -> dict[SeamLook, Array]:
    """Marks that each seam shows [m], shape (members,)."""
    return {
        SeamLook.ZINC_STRIP: found.zinc_width[:, g.LOWER],
        SeamLook.BACK_BEAD: found.back_melted,
        SeamLook.LEG: found.leg_lower,
    }


def look_inside(
    found: Members,
    joint: SeamJoint,
    seen: Mapping[SeamLook, Sighting],
    allowances: SeamAllowances | None = None,
) -> SeamInside:
    """Say what is fused inside, given what was seen.

    Parameters
    ----------
    found : Members
        Seams that could be.
    joint : SeamJoint
        What was welded.
    seen : mapping of SeamLook to Sighting
        Marks as read, in the middle of the seam.
    allowances : SeamAllowances, optional
        What the model may be off [m]; without it the usual.

    Returns
    -------
    SeamInside
        In SI units, with alarms where the seams that could be do not show what was seen.

    Raises
    ------
    BadInput
        A leg was given for a butt, which has none.

    Sources
    -------
    derived (Bayes' rule over the members)
    """
    if SeamLook.LEG in seen and joint.kind is not JointKind.LAP:
        raise BadInput("leg", "is a fillet's; a butt has none, give zinc_strip or back_bead")
    allowed, marks = allowances or SeamAllowances(), marks_of(found)
    logs = np.zeros(len(found.back_melted))
    for look, one in seen.items():
        logs = logs + log_fit(marks[look], one.value, _spread(look, one, allowed))
    weights = weights_of(logs)
    even = np.full(len(weights), 1.0 / len(weights))
    sheets = tuple(
        _sheet(found, joint, code, weights, allowed) for code in range(len(joint.sheets))
    )
    depth = found.penetration[:, g.LOWER]
    return SeamInside(
        sheets=sheets,
        fusion_probability=float(
            weights @ np.prod([_melted(found, joint, code, allowed) for code in
                               range(len(joint.sheets))], axis=0)
        ),
        effective_members=effective_size(weights),
        alarms=_alarms(marks, seen, weights, allowed),
        before=math.hypot(mean_and_spread(depth, even)[1], allowed.penetration),
        now=math.hypot(mean_and_spread(depth, weights)[1], allowed.penetration),
        next_looks=_worth(depth, marks, seen, weights, allowed, joint),
    )  # fmt: skip


def _spread(look: SeamLook, one: Sighting, allowed: SeamAllowances) -> float:
    return math.hypot(one.spread, getattr(allowed, look.value))


def _melted(found: Members, joint: SeamJoint, code: int, allowed: SeamAllowances) -> Array:
    """Chance of each seam that a sheet is fused [-]."""
    from scipy.special import ndtr

    over = found.penetration[:, code] - FUSED * joint.sheets[code].thickness
    off = allowed.penetration
    chance: Array = ndtr(over / off) if off > 0.0 else (over >= 0.0).astype(float)
    return chance


def _sheet(
    found: Members, joint: SeamJoint, code: int, weights: Array, allowed: SeamAllowances
) -> SheetInside:
    edgeways = joint.kind is JointKind.LAP and code == g.UPPER
    top = math.inf if edgeways else joint.sheets[code].thickness
    return SheetInside(
        name=NAMES[joint.kind][code],
        penetration=hidden_estimate(found.penetration[:, code], weights, allowed.penetration, top),
        fused_width=hidden_estimate(found.fused_width[:, code], weights, allowed.fused, math.inf),
        fused_probability=float(weights @ _melted(found, joint, code, allowed)),
    )


def _alarms(
    marks: Mapping[SeamLook, Array],
    seen: Mapping[SeamLook, Sighting],
    weights: Array,
    allowed: SeamAllowances,
) -> tuple[str, ...]:
    said = []
    for look, one in seen.items():
        off = np.abs(marks[look] - one.value) / _spread(look, one, allowed)
        if float(off.min()) > UNLIKELY:
            low, high = 1e3 * float(marks[look].min()), 1e3 * float(marks[look].max())
            said.append(
                f"{look.value.replace('_', ' ')} of {one.value * 1e3:.1f} mm: no seam with these "
                f"settings shows that ({low:.1f} to {high:.1f} mm). Check the reading, speed, wire "
                "feed, gap and sheets; nothing can be said of the inside."
            )
    if not said and effective_size(weights) < FEWEST:
        said.append(
            "What was seen hardly fits together, or with these settings: too few seams that could "
            "be are left to tell the inside. Read again; section a coupon."
        )
    return tuple(said)


def _worth(
    depth: Array,
    marks: Mapping[SeamLook, Array],
    seen: Mapping[SeamLook, Sighting],
    weights: Array,
    allowed: SeamAllowances,
    joint: SeamJoint,
) -> tuple[SeamWorth, ...]:
    """Looks not taken yet, the one that leaves least doubt first."""
    left = []
    for look, usual in USUAL_SPREAD.items():
        if look in seen or (look is SeamLook.LEG and joint.kind is not JointKind.LAP):
            continue
        if float(np.ptp(marks[look])) == 0.0:  # the same on all: aluminium has no zinc to burn off
            continue
        spread = math.hypot(usual, getattr(allowed, look.value))
        doubt = expected_spread(depth, marks[look], spread, weights)
        left.append(SeamWorth(look, math.hypot(doubt, allowed.penetration)))
    return tuple(sorted(left, key=lambda one: one.left))
