"""A surrogate of seams of one joint, welded or brazed, fitted to coarse runs of the solver.

What reaches the weld: logarithms of wire feed, voltage, travel speed, contact-tube distance and
efficiency, the gap (of a butt the root opening), and how far the hand strays from the joint. What
is learned of a weld is the fused width of the lower sheet (of a butt the backing) and how deep it
is melted; of a braze how wide the lower sheet is wetted. Ranges are judged, no source.
"""

import dataclasses
import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from buttonhole.learning.surrogate import Runs, Surrogate, fitted, spread_points
from buttonhole.units import BadInput
from buttonhole.weld.arc.seam import (
    PREVIEW,
    JointKind,
    SeamFailed,
    SeamJoint,
    SeamSetUp,
    seam_set_up,
    simulate,
)
from buttonhole.weld.arc.seam import grid as g
from buttonhole.weld.arc.seam.ensemble import AFTERWARDS, PIECE, middle
from buttonhole.weld.arc.seam.machine import speed_of
from buttonhole.weld.arc.seam.prediction import HOLE_SPREAD, SURFACE_TENSION, pool_pressure
from buttonhole.weld.arc.seam.reading import SeamReading, read
from buttonhole.weld.arc.seam.simulation import Simulation
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import BRONZE

Array = NDArray[np.float64]

INPUTS = ("feed", "voltage", "speed", "distance", "efficiency", "gap", "stray")
LOW = (-0.25, -0.12, -0.30, -0.30, -0.12, 0.0, -1.1e-3)  # -, -, -, -, -, m, m
HIGH = (0.25, 0.12, 0.30, 0.30, 0.12, 0.8e-3, 1.1e-3)  # -, -, -, -, -, m, m
OTHERS = ("back",)
RUNS = 240
MELT_SPREAD = 0.2  # -, in millimetres of a width, which begins from nothing
GRID_DOUBT = 0.15e-3  # m, of a width on coarse cells against fine ones; measured on a lap
SURE = 6.0  # -, score of falling through beyond which it only counts as a bound
SHEET_MELTS = 80.0  # K, of the sheet's peak under a braze from weld to weld; judged, no source
MM = 1e-3  # m


def seam_point(joint: SeamJoint, set_up: ArcSetUp, about_set_up: ArcSetUp) -> Array:
    """A set-up as inputs of a surrogate that was fitted round another one.

    Parameters
    ----------
    joint : SeamJoint
        For its gap.
    set_up : ArcSetUp
        What is set.
    about_set_up : ArcSetUp
        The one the surrogate was fitted round.

    Returns
    -------
    Array
        (inputs,) [SI].
    """
    return np.array(
        [
            math.log(set_up.wire_feed_speed / about_set_up.wire_feed_speed),
            math.log(set_up.arc_voltage / about_set_up.arc_voltage),
            math.log(speed_of(joint, set_up) / speed_of(joint, about_set_up)),
            math.log(set_up.contact_tube_distance / about_set_up.contact_tube_distance),
            0.0,
            _gap(joint),
            set_up.aim_offset - about_set_up.aim_offset,
        ]
    )


def _gap(joint: SeamJoint) -> float:
    return joint.gap if joint.kind is JointKind.LAP else joint.root_opening


def brazes(set_up: ArcSetUp) -> bool:
    """Whether the wire brazes: then no sheet may melt."""
    return set_up.wire.metal in BRONZE


def seam_surrogate(
    joint: SeamJoint,
    set_up: ArcSetUp,
    runs: int = RUNS,
    *,
    progress: Callable[[float], None] | None = None,
) -> Surrogate:
    """Fit a surrogate of seams round a set-up; takes some ten seconds.

    Parameters
    ----------
    joint : SeamJoint
        Lap or backed butt; its gap and its length are not looked at.
    set_up : ArcSetUp
        One that welds, or brazes.
    runs : int
        How many runs of the solver.
    progress : callable, optional
        Told the share done [-].

    Returns
    -------
    Surrogate
        Inputs ``INPUTS``; sizes are fused width and depth, of a braze the wetted width; spoiling is
        falling through, of a braze that a sheet melts; ``back`` is the back's hottest place [degC].

    Raises
    ------
    BadInput
        The set-up can't be welded, or too few seams round it fuse.
    """
    x, braze = spread_points(runs, LOW, HIGH), brazes(set_up)
    rows = []
    for i, one in enumerate(x):
        rows.append(_row(joint, set_up, one, braze))
        if progress is not None:
            progress((i + 1) / runs)
    welded = [i for i, row in enumerate(rows) if row is not None]
    values = np.array([row for row in rows if row is not None])
    if not len(values) or values[:, 0].max() <= 0.0:
        raise BadInput("set_up", "nothing round this set-up fuses; choose one that welds")
    count = 1 if braze else 2
    most, least = np.zeros_like(values, bool), np.zeros_like(values, bool)
    most[:, : 2 * count] = values[:, : 2 * count] <= 0.0
    if not braze:  # what is molten through may have gone deeper
        through = values[:, 1] >= 0.999 * joint.lower.thickness
        least[:, 1] = least[:, 3] = through
    most[:, 2 * count], least[:, 2 * count] = (
        values[:, 2 * count] <= -SURE, values[:, 2 * count] >= SURE
    )  # fmt: skip
    values[:, 2 * count] = np.clip(values[:, 2 * count], -SURE, SURE)
    return fitted(
        INPUTS, LOW, HIGH, count,
        Runs(x[welded], values, most, least),
        others=OTHERS,
        size_doubt=GRID_DOUBT,
        squared=True,
        degree=2,  # the coarse cells are rougher than what a cubic would follow
        melt_spread=lambda error: np.hypot(error, MELT_SPREAD),
    )  # fmt: skip


def _row(joint: SeamJoint, set_up: ArcSetUp, x: Array, braze: bool) -> list[float] | None:
    """Sizes, melts, spoil and back of one run; None where the solver gives none."""
    try:
        found = simulate(*_moved(joint, set_up, x), PREVIEW, cooling=AFTERWARDS)
    except (BadInput, SeamFailed):  # a corner of the box that can't be welded
        return None
    seen = read(found)
    lower = seen.sheets[0]
    back = middle(seen, lower.outer_peak)
    if braze:
        width = middle(seen, lower.wetted_width)
        return [width, width / MM, _melts(found, seen), back]
    size = [middle(seen, lower.fused_width), middle(seen, lower.penetration)]
    return [*size, *(one / MM for one in size), _through(found, seen), back]


def _moved(joint: SeamJoint, set_up: ArcSetUp, x: Array) -> tuple[SeamJoint, SeamSetUp]:
    """One run of the solver: a short piece of the seam with everything moved."""
    moved = dataclasses.replace(
        set_up,
        wire_feed_speed=set_up.wire_feed_speed * math.exp(x[0]),
        arc_voltage=set_up.arc_voltage * math.exp(x[1]),
        travel_speed=speed_of(joint, set_up) * math.exp(x[2]),
        arc_time=None,
        contact_tube_distance=set_up.contact_tube_distance * math.exp(x[3]),
    )
    piece = dataclasses.replace(joint, length=PIECE)
    if joint.kind is JointKind.LAP:
        piece = dataclasses.replace(piece, gap=float(x[5]))
    else:
        piece = dataclasses.replace(piece, root_opening=float(x[5]))
    own = seam_set_up(piece, moved)
    torch = dataclasses.replace(own.torch, stray=own.torch.stray + float(x[6]))
    heat = own.heat.scaled(math.exp(x[4]))
    return piece, dataclasses.replace(own, heat=heat, torch=torch)


def _through(found: Simulation, seen: SeamReading) -> float:
    """Score of falling through: width molten at the back over what tension holds, as predicted."""
    melted = middle(seen, seen.sheets[0].outer_melted)
    if found.joint.bar is not None or melted <= 0.0:
        return -SURE
    critical = 2.0 * SURFACE_TENSION / pool_pressure(found, seen)
    return math.log(melted / critical) / HOLE_SPREAD


def _melts(found: Simulation, seen: SeamReading) -> float:
    """Score of a sheet that melts under a braze: its hottest place over where it begins to."""
    worst = -math.inf
    inside = found.part[1:-1][seen.middle]
    peak = found.peak[1:-1][seen.middle]
    for code, sheet in zip((g.LOWER, g.UPPER, g.RIGHT), found.joint.sheets, strict=False):
        hottest = float(peak[inside == code].max())
        worst = max(worst, (hottest - sheet.metal.curves.solidus) / SHEET_MELTS)
    return worst
