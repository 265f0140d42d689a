"""The grid of a spot weld: caps and sheets as cells of an axisymmetric section.

Sizes of caps are common practice, no source.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.set_up import ElectrodeCap

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

CAP_LENGTH = 10e-3  # m from the face to the water
SHEET_RADIUS = 16e-3  # m; further out nothing warms within a weld
CONE = math.radians(30.0)  # between the face plane and the flank of the cap
CAP_GROWTH = 2.0  # - from row to row away from the face; 1.6 moves no nugget by 0.1 %
CAP_ROW = 3e-3  # m, at most
SHEET_ROW = 1.2  # - of the cell: rows at the faces of a sheet; 1.0 moves no nugget by 0.1 %
SHEET_GROWTH = 1.3  # - from row to row towards the middle of a sheet, nowhere steep
# A faying contact ends a little outside the caps' own, and farther out as it gets hot. The nugget
# hangs on how its edge is resolved and on little else: half the cell there takes two thirds of
# the error away, half the cell everywhere else a tenth of it.
EDGE_CELL = 0.6  # - of the cell, across the edge of the contacts
EDGE_BEFORE = 0.1e-3  # m inside the narrowest cap contact
EDGE_BEYOND = 0.6e-3  # m outside the widest face, and half a sheet more
EDGE_WIDE = 2e-3  # m; a wider stretch takes larger cells: an edge that moves far meets many
INWARD, OUTWARD = 1.3, 1.4  # - from ring to ring away from there
LARGEST_INSIDE = 3.0  # - of the cell
LARGEST_OUTSIDE = 4e-3  # m
DOME_START = 3e-3  # m, radius for which a dome's flank is drawn to begin


@dataclass(frozen=True, slots=True)
class Layout:
    """Cells of the section; rows run from side A to side B."""

    r_faces: Array  # (nr + 1,), m
    z_faces: Array  # (nz + 1,), m, 0 at the outer face of the first sheet
    part: Indices  # (nz, nr): -1 air, 0 cap A, 1..n sheets, n + 1 cap B
    contact_of: Indices  # (nz + 1,): number of the contact on the plane above row j, else -1

    @property
    def contact_rows(self) -> Indices:
        """Row just below each contact plane, from side A."""
        rows: Indices = np.flatnonzero(self.contact_of >= 0)
        return rows


def flank_start(cap: ElectrodeCap) -> float:
    """Radius [m] at which the flank of a cap leaves the face plane."""
    if cap.face_diameter is not None:
        return cap.face_diameter / 2
    return min(DOME_START, cap.body_diameter / 2)


def _growing(first: float, ratio: float, length: float, largest: float) -> Array:
    faces, step = [0.0], first
    while faces[-1] < length:
        faces.append(faces[-1] + step)
        step = min(step * ratio, largest)
    found = np.array(faces)
    scaled: Array = found * (length / found[-1])
    return scaled


def _radial_faces(narrowest: float, widest: float, thickest: float, cell: float) -> Array:
    low = max(narrowest - EDGE_BEFORE, 0.0)
    high = widest + EDGE_BEYOND + 0.5 * thickest
    fine = cell * min(EDGE_CELL * max((high - low) / EDGE_WIDE, 1.0), 1.0)
    edge = np.linspace(low, high, max(round((high - low) / fine), 1) + 1)
    inside = low - _growing(fine * INWARD, INWARD, low, LARGEST_INSIDE * cell)
    beyond = SHEET_RADIUS - high
    outside = high + _growing(fine * OUTWARD, OUTWARD, beyond, LARGEST_OUTSIDE)
    return np.concatenate([inside[:0:-1], edge, outside[1:]])


def _sheet_faces(thickness: float, cell: float) -> Array:
    """Planes of a sheet, the same from either face, so that a mirror may run through its middle.

    The two rows at a face are equal: the temperature of the face is drawn from them.
    """
    half, rows = 0.5 * thickness, [SHEET_ROW * cell] * 2
    while sum(rows) < half:
        rows.append(rows[-1] * SHEET_GROWTH)
    without = sum(rows[:-1])
    if len(rows) > 2 and half / without < sum(rows) / half:  # nearer to the size asked for
        rows.pop()
    sizes = np.array(rows + rows[::-1])
    faces: Array = np.concatenate([[0.0], np.cumsum(sizes)]) * (thickness / sizes.sum())
    return faces


@lru_cache(maxsize=64)  # a window or a sweep welds one joint many times; nobody writes into it
def lay_out(
    stack: StackUp,
    cap_a: ElectrodeCap,
    cap_b: ElectrodeCap,
    cell: float,
    narrowest: float | None = None,
) -> Layout:
    """Cut a stack-up and its caps into cells.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    cap_a, cap_b : ElectrodeCap
        The caps on the first and on the last sheet.
    cell : float
        Cell size near the weld [m].
    narrowest : float, optional
        Radius of the narrower contact under a cap when the current comes on [m]; else that of
        the smaller face.

    Returns
    -------
    Layout
        Lengths in [m].
    """
    starts = (flank_start(cap_a), flank_start(cap_b))
    thickest = max(sheet.thickness for sheet in stack.sheets)
    first = min(starts) if narrowest is None else min(narrowest, *starts)
    r_faces = _radial_faces(first, max(starts), thickest, cell)
    cap = _growing(SHEET_ROW * cell, CAP_GROWTH, CAP_LENGTH, CAP_ROW)
    pieces, rows, contacts = [-cap[::-1]], [0] * (len(cap) - 1), {len(cap) - 1: 0}
    depth, number = 0.0, len(stack.sheets)
    for index, sheet in enumerate(stack.sheets):
        planes = _sheet_faces(sheet.thickness, cell)
        pieces.append(depth + planes[1:])
        rows += [index + 1] * (len(planes) - 1)
        depth += sheet.thickness
        contacts[len(rows)] = index + 1
    pieces.append(depth + cap[1:])
    rows += [number + 1] * (len(cap) - 1)
    z_faces = np.concatenate(pieces)
    part = np.repeat(np.array(rows, dtype=np.int64)[:, None], len(r_faces) - 1, axis=1)
    _cut_caps(part, r_faces, z_faces, depth, (cap_a, cap_b), starts, thickest)
    contact_of = np.full(len(z_faces), -1, dtype=np.int64)
    for row, contact in contacts.items():
        contact_of[row] = contact
    return Layout(r_faces, z_faces, part, contact_of)


def mirrored(layout: Layout) -> Layout:
    """Return the first half of a layout that is its own mirror image.

    Parameters
    ----------
    layout : Layout
        Of a symmetric stack-up.

    Returns
    -------
    Layout
        Rows down to the middle [m]. With an even number of sheets the last contact lies on the
        bottom plane, with an odd one the middle of a sheet does.
    """
    rows = layout.part.shape[0] // 2
    return Layout(
        layout.r_faces,
        layout.z_faces[: rows + 1],
        np.ascontiguousarray(layout.part[:rows]),
        layout.contact_of[: rows + 1].copy(),
    )


def _cut_caps(
    part: Indices,
    r_faces: Array,
    z_faces: Array,
    depth: float,
    caps: tuple[ElectrodeCap, ElectrodeCap],
    starts: tuple[float, float],
    thickest: float,
) -> None:
    """Turn what lies outside a cap's flank into air.

    The first rows reach further out than the flank, so that a cap that sinks finds copper above.
    """
    middle_r = (r_faces[1:] + r_faces[:-1]) / 2
    middle_z = (z_faces[1:] + z_faces[:-1]) / 2
    last = int(part.max())
    for j, z in enumerate(middle_z):
        if 0.0 < z < depth:
            continue
        side = 0 if z <= 0.0 else 1
        height = -z if side == 0 else z - depth
        body = caps[side].body_diameter / 2
        outer = starts[side] + height / math.tan(CONE)
        if height < 0.5e-3:
            outer = max(outer, starts[side] + 1.2 * thickest)
        part[j, middle_r > min(outer, body)] = -1
        part[j, middle_r <= min(outer, body)] = 0 if side == 0 else last
