"""From a joint and a set-up to one march through a plug weld.

Numbers without a source beside them are numerical, no source.
"""

import math
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput
from buttonhole.weld.arc.machine_map import (
    OperatingPoint,
    droplet_heat,
    droplet_temperature,
    operating_point,
)
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.plug import fields as f
from buttonhole.weld.arc.plug.closure import CLOSURE, PlugClosure
from buttonhole.weld.arc.plug.joint import PlugJoint, TorchPath
from buttonhole.weld.arc.plug.layout import HEAD_ROOM, PlugLayout, lay_out
from buttonhole.weld.arc.plug.metals import PlugMetals, metals_of
from buttonhole.weld.arc.set_up import ArcSetUp

Array = NDArray[np.float64]

ROOM = 20.0  # degC
LONGEST_WATCH = 120.0  # s from first drop; what is still over 450 degC then is told as not known
FROM_RIM = 0.8e-3  # m the arc keeps off the rim when it is led along it; common practice
# Shares of the arc time: held in the middle until the base melts, then washed out to the rim.
IN_THE_MIDDLE, AT_THE_RIM = 1.0 / 3.0, 0.8  # -, common practice, no source
ROOMS = (HEAD_ROOM, 4 * HEAD_ROOM, 16 * HEAD_ROOM)  # m; cold wire piles up high, a weld does not
# Metal beyond so much is a lump of cold wire, no weld: nothing about it can be computed.
MOST_FILLS, MOST_OVER = 5.0, 1e-6  # -, of the volume of the holes, and m3 over that
SPREAD_AT, SPREAD_GROWTH = 100.0, 0.294  # A, -: how the arc widens with current (lee-na-1996)


@dataclass(frozen=True, slots=True)
class PlugResolution:
    """How finely a plug weld is resolved."""

    cell: float = 0.25e-3  # m
    arc_step: float = 4e-3  # s, longest with the arc on
    cooling_step: float = 0.1  # s, longest after it
    change: float = 150.0  # K, aim of the step control


DEFAULT = PlugResolution()
COARSE = PlugResolution(cell=0.5e-3, arc_step=8e-3, cooling_step=0.2)


class PlugFailed(ArithmeticError):
    """The solver met a state that is not finite, a pile too high, or too many steps."""


class NoRoom(PlugFailed):
    """The metal piled up to the upper edge of the grid; a higher grid takes it."""


@dataclass(frozen=True, slots=True)
class PlugSimulation:
    """What one march left behind; SI units."""

    joint: PlugJoint
    layout: PlugLayout  # before the weld
    part: NDArray[np.int64]  # -, (nz, nr), as welded
    level: NDArray[np.int64]  # -, (nr,), as welded
    metals: PlugMetals
    peak: Array  # (nz, nr), degC
    cooling_t85: Array  # (nz, nr), s; NaN: never above 800 degC, inf: over 500 degC at the end
    heating_rate: Array  # (nz, nr), K/s from 500 to 700 degC; NaN: never so hot
    point: OperatingPoint
    net_power: float  # W, as used
    current: float  # A, as used
    heat: float  # J, from arc and drops
    laid: float  # m3, metal laid down
    fill_time: float | None  # s until the hole was full; None: never
    imbalance: float  # -, of the energy books
    steps: int
    seconds: float  # s, in the compiled solver


def torch_radii(joint: PlugJoint, arc_time: float) -> tuple[Array, Array]:
    """Radius of the circle the arc is led on: times [s] and radii [m], straight in between.

    Parameters
    ----------
    joint : PlugJoint
        Hole and path.
    arc_time : float
        Arc on [s].
    """
    outer = max(joint.hole_diameters[0] / 2 - FROM_RIM, 0.0)
    times = arc_time * np.array([0.0, IN_THE_MIDDLE, AT_THE_RIM, 1.0])
    if joint.path is TorchPath.SPIRAL:
        return times, np.array([0.0, 0.0, outer, outer])
    return times, np.full(4, outer if joint.path is TorchPath.RIM else 0.0)


def check_set_up(set_up: ArcSetUp) -> float:
    """Refuse a set-up a plug can't be computed for; returns the arc time [s].

    Raises
    ------
    BadInput
        Naming the key of the weld file.
    """
    if set_up.arc_time is None:
        raise BadInput("arc_time", "is missing; a plug weld needs the time the arc burns, as 1.8 s")
    if set_up.arc_time > 20.0:
        raise BadInput("arc_time", f"is {set_up.arc_time:g} s; a plug takes 0.05 to 20 s")
    return set_up.arc_time


def _check_volume(joint: PlugJoint, volume: float) -> None:
    room = joint.hole_volume + joint.stack.gap * math.pi / 4.0 * joint.hole_diameters[0] ** 2
    if volume > MOST_FILLS * room + MOST_OVER:
        raise BadInput(
            "arc_time",
            f"lays down {volume * 1e9:.0f} mm3 of wire where the hole takes {room * 1e9:.0f} mm3; "
            "weld for less time or feed less wire",
        )


def _closure_array(
    joint: PlugJoint, closure: PlugClosure, arc_heat: float, current: float, wets: float
) -> Array:
    found = np.zeros(f.CLOSURE)
    found[f.ARC_HEAT] = arc_heat
    found[f.SPREAD] = closure.spread * (current / SPREAD_AT) ** SPREAD_GROWTH
    found[f.SPREAD_RISE] = closure.spread_rise
    found[f.RIM_SHARE], found[f.RIM_LENGTH] = closure.rim_share, closure.rim_length
    found[f.CONTACT], found[f.WETS] = closure.contact, wets + closure.wetting_shift
    found[f.SPLAT], found[f.PILE] = closure.splat, closure.pile
    found[f.LOSSES], found[f.BACK_FILM] = 1.0, joint.back_film
    return found


def simulate(
    joint: PlugJoint,
    set_up: ArcSetUp,
    resolution: PlugResolution = DEFAULT,
    closure: PlugClosure = CLOSURE,
    law: MeltingLaw | None = None,
) -> PlugSimulation:
    """March one plug weld.

    Parameters
    ----------
    joint : PlugJoint
        Sheets, holes, path.
    set_up : ArcSetUp
        What is set; with ``arc_time``.
    resolution : PlugResolution
        Cells [m] and steps [K, s].
    closure : PlugClosure
        The model's own numbers.
    law : MeltingLaw or None
        This machine's own melting law; None for what is known of the wire.

    Returns
    -------
    PlugSimulation
        Fields and figures in SI units.

    Raises
    ------
    BadInput
        When the set-up can't be computed.
    PlugFailed
        When the numbers went out of bounds.
    """
    arc_time = check_set_up(set_up)
    point = operating_point(set_up, law)
    _check_volume(joint, point.fill_rate * arc_time)
    current = point.current.value * closure.current_factor
    net = closure.efficiency * current * max(point.voltage + closure.voltage_shift, 1.0)
    hot = droplet_temperature(set_up.wire).value + closure.droplet_shift
    per_volume = droplet_heat(set_up.wire, hot) * set_up.wire.density
    # drops can't carry more than there is: then nothing is left for the arc
    per_volume = min(per_volume, net / point.fill_rate)
    arc_heat = net - per_volume * point.fill_rate
    metals = metals_of(joint, set_up.wire, closure.pool_mixing)
    drop = np.array([per_volume, hot, point.fill_rate, arc_time, float(len(joint.stack.sheets))])
    started = time.perf_counter()
    numbers = _closure_array(joint, closure, arc_heat, current, metals.wets)
    for room in ROOMS:
        layout = lay_out(joint, resolution.cell, point.fill_rate * arc_time, room)
        try:
            left = _march(layout, metals, torch_radii(joint, arc_time), numbers, drop, resolution)
        except NoRoom:
            continue
        break
    else:
        raise PlugFailed("plug weld: the wire piles up higher than can be computed")
    return _simulation(joint, layout, metals, left, (point, net, current), started)


@dataclass(frozen=True, slots=True)
class _Left:
    """What the kernel left behind; SI units."""

    cells: Array  # (fields, nz, nr), SI
    part: NDArray[np.int64]  # -
    level: NDArray[np.int64]  # -
    sums: Array  # SI
    steps: int


def _cells(layout: PlugLayout) -> Array:
    """Fields at the start: everything at room temperature, where enthalpy is counted from."""
    cells = np.zeros((f.CELL_FIELDS, *layout.part.shape))
    for field in (f.TEMPERATURE, f.PEAK, f.BEFORE):
        cells[field] = ROOM
    for field in (f.CONDUCTIVITY, f.RESISTIVITY, f.CAPACITY):
        cells[field] = 1.0  # in an empty cell nothing flows, but nothing may be divided by zero
    cells[f.VOLUME] = layout.dz[:, None] * layout.area[None, :]
    return cells


def _march(
    layout: PlugLayout,
    metals: PlugMetals,
    torch: tuple[Array, Array],
    closure: Array,
    drop: Array,
    resolution: PlugResolution,
) -> _Left:
    """Lay out the arrays, run the kernel, and hand back what it filled."""
    # Only here are compiled kernels needed; importing them costs more than the rest together.
    from buttonhole.weld.arc.plug import march as kernel

    nz, nr = layout.part.shape
    cells, part, level = _cells(layout), layout.part.copy(), layout.level.copy()
    sheets, sums, tables = len(layout.sheet_rows), np.zeros(f.SUMS), metals.tables
    by_enthalpy = np.stack([tables.temperature, tables.conductivity, tables.resistivity])
    bonded = np.zeros((sheets, nr), dtype=np.int64)
    limits = np.array(
        [resolution.arc_step, resolution.cooling_step, resolution.change, LONGEST_WATCH]
    )
    status, steps = kernel.march(
        cells,
        (part, layout.r_faces, layout.z_faces, layout.dz, layout.area, layout.r, layout.rim_row,
         layout.inside),
        (sheets, layout.contact_of, layout.walls, layout.gaps),
        (tables.enthalpy_step, by_enthalpy, tables.enthalpy, tables.solidus, metals.losses),
        torch, closure,
        (level, bonded, np.zeros((nz + 1, nr)), np.zeros((nz, nr + 1)), np.zeros((2, nr)),
         np.zeros((nr, 4))),
        drop, limits, sums,
    )  # fmt: skip
    if status == f.NO_ROOM:
        raise NoRoom(f"plug weld: no room for the head after {steps} steps")
    if status != f.DONE:
        why = {f.NOT_FINITE: "not finite"}
        raise PlugFailed(f"plug weld: {why.get(status, 'too many steps')} after {steps} steps")
    return _Left(cells, part, level, sums, int(steps))


def _simulation(
    joint: PlugJoint,
    layout: PlugLayout,
    metals: PlugMetals,
    left: _Left,
    burnt: tuple[OperatingPoint, float, float],
    started: float,
) -> PlugSimulation:
    cells, sums = left.cells, left.sums
    at_800, at_500 = cells[f.AT_800], cells[f.AT_500]
    unknown = np.where(cells[f.TEMPERATURE] > 500.0, np.inf, np.nan)
    cooling = np.where((at_800 > 0.0) & (at_500 > at_800), at_500 - at_800, unknown)
    cooling[left.part < 0] = np.nan
    rise = cells[f.UP_700] - cells[f.UP_500]
    rate = np.full_like(rise, np.nan)
    np.divide(200.0, rise, out=rate, where=rise > 0.0)
    peak = cells[f.PEAK].copy()
    peak[left.part < 0] = np.nan
    filled = left.part >= 0
    stored = float((cells[f.ENTHALPY] * cells[f.VOLUME])[filled].sum())
    heat = float(sums[f.FROM_ARC] + sums[f.FROM_DROPS])
    kept = heat - sums[f.LOST] + sums[f.CROSSED] - stored
    point, net, current = burnt
    return PlugSimulation(
        joint=joint,
        layout=layout,
        part=left.part,
        level=left.level,
        metals=metals,
        peak=peak,
        cooling_t85=cooling,
        heating_rate=rate,
        point=point,
        net_power=net,
        current=current,
        heat=heat,
        laid=float(sums[f.LAID]),
        fill_time=float(sums[f.FILLED_AT]) or None,
        imbalance=float(kept / max(heat, 1e-9)),
        steps=left.steps,
        seconds=time.perf_counter() - started,
    )
