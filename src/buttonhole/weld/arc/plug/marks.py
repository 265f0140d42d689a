"""What a marched plug weld looks like: fused, melted, heated, and what shows from outside.

Temperatures of tint and zinc and pressure of the arc on the pool are from memory; the rest is
geometry.

Sources: handbook-memory
"""

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.metal import NO_TRANSFORMATION
from buttonhole.weld.arc.plug.simulation import PlugSimulation
from buttonhole.weld.metallurgy import transformation_line

Array = NDArray[np.float64]

TINT = 300.0  # degC, straw colour begins on bright steel
ZINC_BOILS = 907.0  # degC
RATE_FROM = 750.0  # degC; places that came so far say how fast the zone's edge was heated; judged
COOLING_AT = 1100.0  # degC; the 8/5 time is told of the place that came to this
GRAVITY = 9.81  # m/s2
ARC_PRESSURE = 0.03  # Pa/A2, order of magnitude
FUSED_DEPTH = 0.1e-3  # m; fused is what melted at least so deep into the sheet below; our own
WETTED_OVER = 50.0  # K of face temperature over which wetted goes from no to yes; numerical
DRIPS, FALLS = 0.6, 1.0  # -, of the radius at which surface tension gives way; judged


class BackMark(StrEnum):
    """What shows on the back of the last sheet."""

    NONE = "none"
    FAINT = "faint"  # a tint, straw to blue
    CLEAR = "clear"  # scaled, zinc burnt off, not molten
    BUMP = "bump"  # molten through, held up: a raised mark
    DRIP = "drip"  # hangs through, near to falling
    HOLE = "hole"


@dataclass(frozen=True, slots=True)
class PlugMarks:
    """Figures read off one march; SI units, tuples from the side that is welded."""

    fused_diameter: tuple[float, ...]  # m, at each faying interface
    wetted_diameter: tuple[float, ...]  # m, under weld metal and hot enough to be taken up by it
    penetration: tuple[float, ...]  # m, into the sheet under each interface
    rim_fusion: float  # -, share of the height of the first hole's wall that melted, brazed: wetted
    melted_back: float  # m, how far the edge of the first hole melted, mean over its height
    haz_diameter: tuple[float, ...]  # m, peak over Ac1, each sheet
    cooling_t85: tuple[float, ...]  # s, each sheet; NaN where none came to 1100 degC
    hottest: tuple[float, ...]  # degC, of each sheet
    back_peak: float  # degC
    back_spot: float  # m, diameter molten on the back
    back_sag: float  # m
    fall_radius: float  # m, of a molten spot that can't hold itself up
    glows: bool  # the back shows by its colours how hot it was
    zinc_ring: float  # m, diameter over 907 degC on the back
    tint: float  # m, diameter over 300 degC on the back
    head_diameter: float  # m; 0 where the hole is not full
    head_height: float  # m, as a cap
    fill_time: float  # s; infinite: never

    @property
    def back_mark(self) -> BackMark:
        """Class of what shows on the back."""
        share = self.back_spot / 2.0 / self.fall_radius
        if share >= DRIPS:
            return BackMark.HOLE if share >= FALLS else BackMark.DRIP
        if self.back_spot > 0.0:
            return BackMark.BUMP
        if not self.glows:
            return BackMark.NONE
        if self.back_peak >= ZINC_BOILS:
            return BackMark.CLEAR
        return BackMark.FAINT if self.back_peak >= TINT else BackMark.NONE


def isotherm(r: Array, peak: Array, level: float) -> float:
    """Diameter out to which a row came over a temperature.

    Parameters
    ----------
    r : Array
        (nr,) middles of the rings [m].
    peak : Array
        (nr,) hottest temperatures [degC]; NaN where there is no metal.
    level : float
        Temperature [degC].

    Returns
    -------
    float
        Diameter [m], 0 where nothing came to it.
    """
    over = np.flatnonzero(peak >= level)  # never so where NaN
    if not len(over):
        return 0.0
    i = int(over[-1])
    edge = float(r[i])
    if i + 1 < len(r) and math.isfinite(peak[i + 1]):
        fall = (peak[i] - level) / (peak[i] - peak[i + 1])
        edge += float(fall * (r[i + 1] - r[i]))
    return 2.0 * edge


def cap_height(volume: float, diameter: float) -> float:
    """Height [m] of a spherical cap.

    Parameters
    ----------
    volume : float
        Of the cap [m3].
    diameter : float
        Of its foot [m].
    """
    if volume <= 0.0 or diameter <= 0.0:
        return 0.0
    a = diameter / 2.0
    height = 2.0 * volume / (math.pi * a * a)
    for _ in range(40):  # Newton on volume = pi h (3 a^2 + h^2) / 6, which rises with h
        off = math.pi * height * (3.0 * a * a + height * height) / 6.0 - volume
        height -= off / (math.pi * (a * a + height * height) / 2.0)
    return height


def read_marks(found: PlugSimulation) -> PlugMarks:
    """Read all figures off one march.

    Parameters
    ----------
    found : PlugSimulation
        Of any resolution.

    Returns
    -------
    PlugMarks
        In SI units.
    """
    layout, count = found.layout, len(found.layout.sheet_rows)
    spot = _molten_diameter(found, _to_face(found.peak[-1], found.peak[-2]), count - 1)
    head, height = _head(found)
    sag, fall = _held_up(found, spot / 2.0, height)
    back = _to_face(found.peak[-1], found.peak[-2])
    melted, extent = _rim(found)
    lowers = range(1, count)
    return PlugMarks(
        fused_diameter=tuple(_fused(found, number) for number in lowers),
        wetted_diameter=tuple(_wetted(found, number) for number in lowers),
        penetration=tuple(_penetration(found, number) for number in lowers),
        rim_fusion=melted,
        melted_back=extent,
        haz_diameter=tuple(_haz(found, number) for number in range(count)),
        cooling_t85=tuple(_cooling(found, number) for number in range(count)),
        hottest=tuple(_hottest(found, number) for number in range(count)),
        back_peak=float(np.nanmax(back)),
        back_spot=spot,
        back_sag=sag,
        fall_radius=fall,
        glows=found.metals.sheets[-1].glows,
        zinc_ring=isotherm(layout.r, back, ZINC_BOILS),
        tint=isotherm(layout.r, back, TINT),
        head_diameter=head,
        head_height=height,
        fill_time=found.fill_time if found.fill_time is not None else math.inf,
    )


def _to_face(first: Array, second: Array) -> Array:
    """Carry the peaks of two rows on to the face beside the first, half a cell away."""
    carried: Array = 1.5 * first - 0.5 * second
    return carried


def _melted(found: PlugSimulation, peak: Array, number: int) -> Array:
    """Share molten [-] of cells of one sheet by their hottest temperature."""
    tables = found.metals.tables
    low, high = float(tables.solidus[number]), float(tables.liquidus[number])
    share: Array = np.clip((np.nan_to_num(peak, nan=0.0) - low) / (high - low), 0.0, 1.0)
    return share


def _molten_diameter(found: PlugSimulation, peak: Array, number: int) -> float:
    area = float((_melted(found, peak, number) * found.layout.area).sum())
    return 2.0 * math.sqrt(area / math.pi)


def _fused(found: PlugSimulation, number: int) -> float:
    """Diameter of what melted 0.1 mm deep or more into a sheet [m]."""
    first, last = found.layout.sheet_rows[number]
    own = found.layout.part[first] == number  # a drilled sheet has no face over its hole
    upper, lower = found.peak[first], found.peak[min(first + 1, last - 1)]
    height = float(found.layout.dz[first])
    peak = upper + (upper - lower) * (0.5 - FUSED_DEPTH / height)
    melt = _melted(found, np.where(own, peak, np.nan), number)
    area = float((melt * found.layout.area).sum())
    if not own[0] and area > 0.0:  # what was drilled away is weld metal: it counts as fused
        area += float(found.layout.area[~own].sum())
    return 2.0 * math.sqrt(area / math.pi)


def _taken_up(found: PlugSimulation, peak: Array) -> Array:
    """Share [-] of faces of one row hot enough to be taken up by the melt on them."""
    over = (np.nan_to_num(peak, nan=0.0) - found.metals.wets) / WETTED_OVER
    share: Array = np.clip(over + 0.5, 0.0, 1.0)
    return share


def _wetted(found: PlugSimulation, number: int) -> float:
    """Diameter of what lies under weld metal on a sheet and was hot enough for it [m]."""
    first, last = found.layout.sheet_rows[number]
    own = found.layout.part[first] == number
    covered = found.part[first - 1] == len(found.layout.sheet_rows)
    face = _to_face(found.peak[first], found.peak[min(first + 1, last - 1)])
    wet = np.where(own & covered, _taken_up(found, face), 0.0)
    area = float((wet * found.layout.area).sum())
    if not own[0] and area > 0.0:
        area += float(found.layout.area[~own].sum())
    return 2.0 * math.sqrt(area / math.pi)


def _penetration(found: PlugSimulation, number: int) -> float:
    """Deepest melt in a sheet [m], by columns."""
    first, last = found.layout.sheet_rows[number]
    own = found.layout.part[first:last] == number
    melt = _melted(found, np.where(own, found.peak[first:last], np.nan), number)
    return float((melt * found.layout.dz[first:last, None]).sum(axis=0).max())


def _rim(found: PlugSimulation) -> tuple[float, float]:
    """Share of the first hole's wall that melted, or is wetted where it is brazed [-].

    And how far beyond the wall it melted on the mean [m].
    """
    first, last = found.layout.sheet_rows[0]
    wall, heights = found.layout.inside, found.layout.dz[first:last]
    melt = _melted(found, found.peak[first:last, wall:], 0)
    melt = np.minimum.accumulate(melt, axis=1)  # only what hangs together with the edge
    extent = (melt * np.diff(found.layout.r_faces)[wall:]).sum(axis=1)
    total = heights.sum()
    held = melt[:, 0]
    if found.metals.brazed:
        covered = found.part[first:last, wall - 1] == len(found.layout.sheet_rows)
        face = _to_face(found.peak[first:last, wall], found.peak[first:last, wall + 1])
        held = np.where(covered, _taken_up(found, face), 0.0)
    return float((held * heights).sum() / total), float((extent * heights).sum() / total)


def transforms_at(found: PlugSimulation, number: int, line: str) -> float:
    """Temperature at which a sheet transforms, as fast as it was heated.

    Parameters
    ----------
    found : PlugSimulation
        The march.
    number : int
        Of the sheet, from 0.
    line : str
        "Ac1" or "Ac3".

    Returns
    -------
    float
        Temperature [degC]; 900 for a steel that does not transform, of aluminium where it softens.
    """
    steels = found.joint.steels
    if not steels:
        return found.metals.sheets[number].changes_at
    first, last = found.layout.sheet_rows[number]
    rates = []
    for j in range(first, last):
        over = np.flatnonzero(found.peak[j] >= RATE_FROM)
        if len(over) and found.layout.part[j, over[-1]] == number:
            rates.append(float(found.heating_rate[j, over[-1]]))
    rate = float(np.median(rates)) if rates else math.nan
    level = transformation_line(steels[number], line, rate)
    return level.value if level is not None else NO_TRANSFORMATION


def _haz(found: PlugSimulation, number: int) -> float:
    """Diameter over Ac1, as fast as it was heated, in a sheet [m], where it is widest."""
    first, last = found.layout.sheet_rows[number]
    level = transforms_at(found, number, "Ac1")
    return max(isotherm(found.layout.r, found.peak[j], level) for j in range(first, last))


def _hottest(found: PlugSimulation, number: int) -> float:
    first, last = found.layout.sheet_rows[number]
    own = found.layout.part[first:last] == number
    return float(found.peak[first:last][own].max())


def _cooling(found: PlugSimulation, number: int) -> float:
    """Time from 800 to 500 degC [s] where a sheet just came to 1100 degC, mean over its rows."""
    first, last = found.layout.sheet_rows[number]
    times = []
    for j in range(first, last):
        over = np.flatnonzero(found.peak[j] >= COOLING_AT)
        if not len(over) or found.layout.part[j, over[-1]] != number:
            continue
        i = int(over[-1])
        times.append(float(found.cooling_t85[j, i]))
    return float(np.mean(times)) if times else math.nan


def _head(found: PlugSimulation) -> tuple[float, float]:
    """Diameter and height of the head [m]; zero where the hole is not full."""
    layout = found.layout
    if found.fill_time is None:
        return 0.0, 0.0
    above = layout.z_faces[layout.rim_row] - layout.z_faces[found.level]
    covered = np.flatnonzero(above > 0.0)
    edge = max(int(covered[-1]) + 1 if len(covered) else 0, layout.inside)
    diameter = 2.0 * float(layout.r_faces[edge])
    volume = float((np.maximum(above, 0.0) * layout.area).sum())
    return diameter, cap_height(volume, diameter)


def _held_up(found: PlugSimulation, radius: float, head: float) -> tuple[float, float]:
    """Sag of a molten spot on the back, and the radius at which it falls through [m]."""
    column = found.joint.stack.total_thickness + head
    metal = found.metals.sheets[-1]
    pressure = metal.melt_density * GRAVITY * column + ARC_PRESSURE * found.current**2
    tension = metal.surface_tension
    return radius**2 * pressure / (4.0 * tension), 2.0 * tension / pressure
