"""What a section, a rule and a look at the back would show of a computed seam.

Numbers without a source beside them: common practice, no source.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.metal import ThermalMetal
from buttonhole.weld.arc.seam import grid as g
from buttonhole.weld.arc.seam.joint import JointKind
from buttonhole.weld.arc.seam.simulation import Simulation, wet_temperature
from buttonhole.weld.arc.seam.tables import AMBIENT
from buttonhole.weld.heat.tables import TOP

Array = NDArray[np.float64]

ZINC_BOILS = 907.0  # degC, handbook-memory
NO_TRANSFORMATION = 900.0  # degC; bound of the zone drawn where a metal has no Ac1, from memory
OFF_ENDS = 0.25  # -, of a run at each end that the middle leaves out
ARCH_POINTS = 41
NAMES = {
    JointKind.LAP: ("lower", "upper"),
    JointKind.BUTT_BACKED: ("backing", "left", "right"),
}


@dataclass(frozen=True, slots=True)
class SheetReading:
    """One sheet along the seam; every array has shape (slices,), rim left out."""

    penetration: Array  # m, melted depth; of the upper sheet of a lap: from its edge inwards
    fused_width: Array  # m, melted width at the face towards the other sheet
    haz_edge: Array  # m, how far from the joint the metal came over Ac1
    haz_band: Array  # m, from the edge of what melted to there
    haz_width: Array  # m, whole width over Ac1, melted part included
    zinc_width: Array  # m, burnt off the outer face
    wetted_width: Array  # m, of the face towards the deposit over the wetting temperature
    outer_peak: Array  # degC, hottest point of the outer face
    outer_melted: Array  # m, melted width of the outer face


@dataclass(frozen=True, slots=True)
class SeamReading:
    """A computed seam, read slice by slice; every array has shape (slices,)."""

    x: Array  # m, middles of the slices
    sheets: tuple[SheetReading, ...]
    leg_lower: Array  # m, on the lower sheet of a lap; half the width of a butt
    leg_upper: Array  # m
    throat: Array  # m; 0 where the metal does not tie the sheets together
    crown: Array  # m
    cold_lap: Array  # m of surface that the metal covers without wetting it
    cooling_t85: Array  # s; NaN where no unmelted metal came over Ac3
    middle: NDArray[np.bool_]  # - slices that are far enough from starts and stops


def read(sim: Simulation) -> SeamReading:
    """Read every slice of a computed seam."""
    inside = slice(1, -1)
    x = sim.x[inside]
    legs = _outlines(sim)
    sheets = tuple(_sheet(sim, code) for code in range(len(sim.joint.sheets)))
    wetted = np.logical_and.reduce([sheet.wetted_width > 0.0 for sheet in sheets])
    tied = wetted if sim.joint.kind is JointKind.LAP else np.ones(len(x), bool)
    return SeamReading(
        x=x,
        sheets=sheets,
        leg_lower=legs[0],
        leg_upper=legs[1],
        throat=np.where(tied, legs[2], 0.0),
        crown=sim.shapes[inside, g.CROWN],
        cold_lap=_cold_lap(sim),
        cooling_t85=_cooling(sim),
        middle=_middle(sim, x),
    )


def _middle(sim: Simulation, x: Array) -> NDArray[np.bool_]:
    found = np.zeros(len(x), bool)
    for run in sim.set_up.runs:
        low, high = min(run.start, run.end), max(run.start, run.end)
        off = OFF_ENDS * (high - low)
        found |= (x >= low + off) & (x <= high - off)
    return found


def rows_of(sim: Simulation, code: int) -> slice:
    """Rows of one sheet."""
    rows = np.flatnonzero((sim.layout.part[1] == code).any(axis=1))
    return slice(int(rows[0]), int(rows[-1]) + 1)


def columns_of(sim: Simulation, code: int) -> slice:
    """Columns of one sheet."""
    columns = np.flatnonzero((sim.layout.part[1] == code).any(axis=0))
    return slice(int(columns[0]), int(columns[-1]) + 1)


def melting(sim: Simulation, code: int) -> float:
    """Middle of a sheet's melting range [degC]: where it counts as melted."""
    metal = sim.joint.sheets[code].metal.curves
    return 0.5 * (metal.solidus + metal.liquidus)


def zone_level(metal: ThermalMetal) -> float:
    """Peak from which a metal counts as changed by the heat [degC]: Ac1, or where it softens."""
    if math.isfinite(metal.curves.ac1):
        return metal.curves.ac1
    if metal.softens_over is not None:
        return metal.softens_over
    return min(NO_TRANSFORMATION, metal.curves.solidus - 1.0)


def _profile(sim: Simulation, code: int) -> tuple[Array, Array]:
    """Depths from the top face [m], and peaks there (slices, depths, columns) [degC].

    The faces are extrapolated: straight from two cells at the top, level at the outer one.
    """
    rows, columns = rows_of(sim, code), columns_of(sim, code)
    peaks = sim.peak[1:-1, rows, columns][:, ::-1]
    t = sim.joint.sheets[code].thickness
    count = peaks.shape[1]
    depths = (np.arange(count) + 0.5) * t / count
    if count == 1:
        top, bottom = peaks[:, 0], peaks[:, 0]
    else:
        top = np.clip(peaks[:, 0] + 0.5 * (peaks[:, 0] - peaks[:, 1]), AMBIENT, TOP)
        bottom = (9.0 * peaks[:, -1] - peaks[:, -2]) / 8.0
    values = np.concatenate([top[:, None], peaks, bottom[:, None]], axis=1)
    return np.concatenate([[0.0], depths, [t]]), values


def reached(depths: Array, values: Array, level: float, axis: int = 1) -> Array:
    """How far from the first point on ``values`` [SI] stay at or over a ``level`` [SI].

    ``depths`` [m] are where they stand along ``axis``.

    Straight lines between the points; 0 where the first is below, the last of ``depths`` where all
    are over.
    """
    values = np.moveaxis(values, axis, 0)
    found = np.zeros(values.shape[1:])
    over = values[0] >= level
    for i in range(len(depths) - 1):
        a, b = values[i], values[i + 1]
        with np.errstate(divide="ignore", invalid="ignore"):
            part = np.clip((a - level) / (a - b), 0.0, 1.0)
        ends = over & (b < level)
        found = np.where(ends, depths[i] + part * (depths[i + 1] - depths[i]), found)
        over = over & (b >= level)
    return np.where(over, depths[-1], found)


def over_width(y: Array, values: Array, level: float) -> tuple[Array, Array]:
    """Lowest and highest ``y`` [m] where ``values`` [SI] (slices, columns) reach a ``level`` [SI].

    NaN where they don't.
    """
    low, high = np.full(len(values), math.nan), np.full(len(values), math.nan)
    for n, row in enumerate(values):
        over = np.flatnonzero(row >= level)
        if not len(over):
            continue
        i, j = int(over[0]), int(over[-1])
        low[n], high[n] = y[i], y[j]
        if i > 0:
            low[n] -= (row[i] - level) / (row[i] - row[i - 1]) * (y[i] - y[i - 1])
        if j < len(row) - 1:
            high[n] += (row[j] - level) / (row[j] - row[j + 1]) * (y[j + 1] - y[j])
    return low, high


def _width(y: Array, values: Array, level: float) -> Array:
    low, high = over_width(y, values, level)
    return np.nan_to_num(high - low)


def _sheet(sim: Simulation, code: int) -> SheetReading:
    y = sim.y[columns_of(sim, code)]
    depths, values = _profile(sim, code)
    melt = melting(sim, code)
    ac1 = zone_level(sim.joint.sheets[code].metal)
    hottest = values.max(axis=1)
    lap = sim.joint.kind is JointKind.LAP
    # the face away from the other sheet
    outer, inner = (
        (values[:, -1], values[:, 0]) if code == g.LOWER else (values[:, 0], values[:, -1])
    )
    sides = _side(sim, code, y, hottest, ac1), _side(sim, code, y, hottest, melt)
    if lap and code == g.UPPER:
        penetration = _from_edge(y, values[:, 1:-1], melt).max(axis=1)
    else:
        near = np.abs(y) <= 12e-3
        penetration = reached(depths, values[:, :, near], melt).max(axis=1)
    wet = wet_temperature(sim.joint, sim.set_up.filler, sim.constants)
    face = inner if code == g.LOWER or not lap else hottest
    return SheetReading(
        penetration=penetration,
        fused_width=_width(y, inner, melt),
        haz_edge=sides[0],
        haz_band=np.maximum(sides[0] - sides[1], 0.0),
        haz_width=_width(y, hottest, ac1),
        zinc_width=_width(y, outer, ZINC_BOILS),
        wetted_width=_width(y, face, wet),
        outer_peak=outer.max(axis=1),
        outer_melted=_width(y, outer, melt),
    )


def _side(sim: Simulation, code: int, y: Array, hottest: Array, level: float) -> Array:
    """How far from the joint a sheet reached a level [m], on the side that carries the weld."""
    low, high = over_width(y, hottest, level)
    if sim.joint.kind is JointKind.LAP:
        return np.maximum(np.nan_to_num(-low if code == g.LOWER else high), 0.0)
    if code == g.LOWER:
        return np.nan_to_num(0.5 * (high - low))
    return np.maximum(np.nan_to_num(-low if code == g.UPPER else high), 0.0)


def _from_edge(y: Array, values: Array, level: float) -> Array:
    """How far each row is melted from the edge at y = 0 inwards [m], (slices, rows)."""
    face = values[:, :, 0] + 0.5 * (values[:, :, 0] - values[:, :, 1])
    all_values = np.concatenate([face[:, :, None], values], axis=2)
    return reached(np.concatenate([[0.0], y]), all_values, level, axis=2)


def _cooling(sim: Simulation) -> Array:
    """Time from 800 to 500 degC [s] of the hottest unmelted metal of each slice."""
    found = np.full(sim.part.shape[0] - 2, math.nan)
    codes = list(range(len(sim.joint.sheets)))
    for n in range(len(found)):
        for code in codes:
            metal = sim.joint.sheets[code].metal.curves
            level = metal.ac3 if math.isfinite(metal.ac3) else 801.0
            peak, took = sim.peak[n + 1], sim.cooling[n + 1]
            fit = (sim.part[n + 1] == code) & (peak >= level) & (peak < metal.solidus)
            fit &= np.isfinite(took)
            if fit.any():
                found[n] = took[fit][int(np.argmax(peak[fit]))]
                break
    return found


def _outlines(sim: Simulation) -> tuple[Array, Array, Array]:
    """Legs and throat [m] of every slice."""
    joint, shapes = sim.joint, sim.shapes[1:-1]
    base = joint.lower.thickness
    y_left, z_left = shapes[:, g.Y_LEFT], shapes[:, g.Z_LEFT]
    y_right, z_right = shapes[:, g.Y_RIGHT], shapes[:, g.Z_RIGHT]
    laid = sim.deposit[1:-1] > 0.05 * max(float(sim.deposit.max()), 1e-12)
    if joint.kind is not JointKind.LAP:
        half = np.where(laid, 0.5 * (y_right - y_left), 0.0)
        through = base + joint.upper.thickness + shapes[:, g.CROWN] - base
        return half, half, np.where(laid, np.maximum(through, 0.0), 0.0)
    corner = base + joint.gap
    lower = np.where(laid, np.maximum(-y_left, 0.0) * (z_left <= base + 1e-9), 0.0)
    climbed = np.clip(z_right - corner, 0.0, joint.upper.thickness)
    upper = np.where(laid & (y_right > -1e-9), climbed, 0.0)
    throat = np.zeros(len(shapes))
    for n in np.flatnonzero((lower > 0.0) & (upper > 0.0)):
        u = np.linspace(0.0, 1.0, ARCH_POINTS)
        yy = y_left[n] + u * (y_right[n] - y_left[n])
        zz = z_left[n] + u * (z_right[n] - z_left[n])
        zz = zz + np.minimum(4.0 * shapes[n, g.CROWN] * u * (1.0 - u), 0.0)
        throat[n] = min(float(np.hypot(yy, zz - root).min()) for root in (base, corner))
    return lower, upper, throat


def _cold_lap(sim: Simulation) -> Array:
    """Length across the seam of sheet face that metal covers and never wetted [m]."""
    wet = wet_temperature(sim.joint, sim.set_up.filler, sim.constants)
    found = np.zeros(sim.part.shape[0] - 2)
    for code in range(len(sim.joint.sheets)):
        columns = columns_of(sim, code)
        rows = rows_of(sim, code)
        top = rows.stop - 1
        covered = sim.part[1:-1, top + 1, columns] == g.DEPOSIT
        peak = sim.peak[1:-1, top, columns]
        if rows.stop - rows.start > 1:
            peak = peak + 0.5 * (peak - sim.peak[1:-1, top - 1, columns])
        found += ((covered & (peak < wet)) * sim.layout.dy[columns]).sum(axis=1)
    if sim.joint.kind is JointKind.LAP:
        edge, rows = columns_of(sim, g.UPPER).start, rows_of(sim, g.UPPER)
        covered = sim.part[1:-1, rows, edge - 1] == g.DEPOSIT
        cold = sim.peak[1:-1, rows, edge] < wet
        found += ((covered & cold) * sim.layout.dz[rows]).sum(axis=1)
    return found
