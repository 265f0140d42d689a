"""A surrogate of plug welds of one joint, fitted to runs of the solver.

What reaches the weld: logarithms of wire feed, voltage, arc time, contact-tube distance and
efficiency, and the gap, each relative to what is set. Ranges are judged, no source.
"""

import dataclasses
import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.coating import ZINC
from buttonhole.learning.surrogate import Runs, Surrogate, fitted, spread_points
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug import DEFAULT, PlugFailed, PlugJoint, PlugResolution
from buttonhole.weld.arc.plug.closure import CLOSURE
from buttonhole.weld.arc.plug.marks import FALLS, PlugMarks, read_marks
from buttonhole.weld.arc.plug.simulation import PlugSimulation, simulate
from buttonhole.weld.arc.set_up import ArcSetUp

Array = NDArray[np.float64]

OTHERS = ("back", "crown", "ring")
INPUTS = ("feed", "voltage", "time", "distance", "efficiency", "gap")
LOW = (-0.28, -0.14, -0.34, -0.34, -0.12, 0.0)  # -, -, -, -, -, m
HIGH = (0.28, 0.14, 0.34, 0.34, 0.12, 0.6e-3)  # -, -, -, -, -, m
RUNS = 400
MELT_SPREAD = 0.2  # -, in millimetres of the fused diameter, which begins from nothing
SPOT_SCATTER = 0.4e-3  # m, of the molten spot on the back from weld to weld; judged, no source
SURE = 6.0  # -, score of falling through beyond which it only counts as a bound
MM = 1e-3  # m


def plug_point(joint: PlugJoint, set_up: ArcSetUp, about_set_up: ArcSetUp) -> Array:
    """A set-up as inputs of a surrogate that was fitted round another one.

    Parameters
    ----------
    joint : PlugJoint
        For its gap.
    set_up : ArcSetUp
        What is set, with ``arc_time``.
    about_set_up : ArcSetUp
        The one the surrogate was fitted round.

    Returns
    -------
    Array
        (inputs,) [SI].
    """
    time = (set_up.arc_time or 0.0) / (about_set_up.arc_time or 1.0)
    return np.array(
        [
            math.log(set_up.wire_feed_speed / about_set_up.wire_feed_speed),
            math.log(set_up.arc_voltage / about_set_up.arc_voltage),
            math.log(time),
            math.log(set_up.contact_tube_distance / about_set_up.contact_tube_distance),
            0.0,
            joint.stack.gap,
        ]
    )


def plug_surrogate(
    joint: PlugJoint,
    set_up: ArcSetUp,
    runs: int = RUNS,
    *,
    resolution: PlugResolution = DEFAULT,
    progress: Callable[[float], None] | None = None,
) -> Surrogate:
    """Fit a surrogate of plug welds round a set-up; takes some ten seconds.

    Parameters
    ----------
    joint : PlugJoint
        Sheets, holes, path; its gap is not looked at.
    set_up : ArcSetUp
        One that welds, with ``arc_time``.
    runs : int
        How many runs of the solver.
    resolution : PlugResolution
        Of the solver.
    progress : callable, optional
        Told the share done [-].

    Returns
    -------
    Surrogate
        Inputs ``INPUTS``; spoiling is falling through, the other figures are the hottest place of
        the back, ``back`` [degC], the metal over the sheet spread over the hole, ``crown`` [m], and
        the diameter of what was tinted or lost its zinc on the back, ``ring`` [m].

    Raises
    ------
    BadInput
        The set-up can't be welded, or too few welds round it fuse.
    """
    x = spread_points(runs, LOW, HIGH)
    marks = []
    for i, one in enumerate(x):
        marks.append(_marks(joint, set_up, one, resolution))
        if progress is not None:
            progress((i + 1) / runs)
    welded = [i for i, one in enumerate(marks) if one is not None]
    count = len(joint.stack.sheets) - 1
    welds = [one for one in marks if one is not None]
    zinc = joint.stack.sheets[-1].coating in ZINC
    rows = [_row(one, crown, count, zinc) for one, crown in welds]
    if not rows or max(row[0] for row in rows) <= 0.0:
        raise BadInput("set_up", "nothing round this set-up fuses; choose one that welds")
    values, most, least = _bounded(np.array(rows), [one for one, _ in welds], count)
    return fitted(
        INPUTS, LOW, HIGH, count,
        Runs(x[welded], values, most, least),
        others=OTHERS,
        squared=True,
        melt_spread=lambda error: np.hypot(error, MELT_SPREAD),
    )  # fmt: skip


def _marks(
    joint: PlugJoint, set_up: ArcSetUp, x: Array, resolution: PlugResolution
) -> tuple[PlugMarks, float] | None:
    """What one run leaves, and its crown [m]; None where the solver gives none."""
    moved = dataclasses.replace(
        set_up,
        wire_feed_speed=set_up.wire_feed_speed * math.exp(x[0]),
        arc_voltage=set_up.arc_voltage * math.exp(x[1]),
        arc_time=(set_up.arc_time or 0.0) * math.exp(x[2]),
        contact_tube_distance=set_up.contact_tube_distance * math.exp(x[3]),
    )
    closure = dataclasses.replace(CLOSURE, efficiency=CLOSURE.efficiency * math.exp(x[4]))
    opened = dataclasses.replace(joint, stack=dataclasses.replace(joint.stack, gap=float(x[5])))
    try:
        found = simulate(opened, moved, resolution, closure)
        return read_marks(found), _crown(found)
    except (BadInput, PlugFailed):  # a corner of the box that can't be welded
        return None


def _bounded(
    values: Array, welds: list[PlugMarks], count: int
) -> tuple[Array, NDArray[np.bool_], NDArray[np.bool_]]:
    """What is only a bound: what did not fuse, and the score far on either side."""
    through, most = 2 * count, np.zeros_like(values, bool)
    most[:, :through] = values[:, :through] <= 0.0
    # far on either side the score itself does not matter, and would bend the fit where it does
    most[:, through] = [one.back_spot <= 0.0 for one in welds]
    most[:, through] |= values[:, through] <= -SURE
    least = np.zeros_like(most)
    least[:, through] = values[:, through] >= SURE
    values[:, through] = np.clip(values[:, through], -SURE, SURE)
    most[:, -1] = values[:, -1] <= 0.0  # nothing came so hot
    return values, most, least


def _crown(found: PlugSimulation) -> float:
    """Metal over the face of the first sheet, spread over the hole [m]; below it less than 0."""
    layout = found.layout
    over = layout.z_faces[layout.rim_row] - layout.z_faces[found.level]
    hole = float(layout.area[: layout.inside].sum())
    inside = float((over * layout.area)[: layout.inside].sum())
    outside = float((np.maximum(over, 0.0) * layout.area)[layout.inside :].sum())
    return (inside + outside) / hole


def _row(marks: PlugMarks, crown: float, count: int, zinc: bool) -> list[float]:
    size = [marks.fused_diameter[i] for i in range(count)]
    ring = marks.zinc_ring if zinc else marks.tint
    through = (marks.back_spot - 2.0 * FALLS * marks.fall_radius) / SPOT_SCATTER
    return [*size, *(one / MM for one in size), through, marks.back_peak, crown, ring]
