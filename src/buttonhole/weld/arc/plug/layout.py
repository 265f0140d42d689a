"""Cells of a plug weld: rings round the axis, rows through head, sheets and gaps."""

import itertools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.plug.joint import PlugJoint

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

FINE_BEYOND = 6e-3  # m of even rings outside the hole; numerical
FINE_SPOT = 10e-3  # m the same where there is no hole
STRETCH = 1.15  # - from ring to ring beyond; numerical
FEWEST_ROWS = 3  # in a sheet
POCKET = 0.7  # -, of the gap's width the melt runs into it beyond the hole; from memory
SPOT_FOOT = 5e-3  # m, least diameter a head on a whole sheet stands on; numerical
MOST_FLAT = 12e-3  # m, of that
HEAD_ROOM = 1.5e-3  # m over what the metal would stand if it stayed over the hole
CLOSED = 0.05e-3  # m; sheets clamped together lie no nearer than that, judged
MOST_HEAD = 12e-3  # m


@dataclass(frozen=True, slots=True)
class PlugLayout:
    """Cells before the first drop; z grows downwards from the upper face of the first sheet."""

    r_faces: Array  # (nr + 1,), m
    z_faces: Array  # (nz + 1,), m
    part: Indices  # (nz, nr), -: -1 empty, 0.. sheets, the weld metal is the number of sheets
    level: Indices  # (nr,), -: first row that is not empty
    rim_row: int
    inside: int  # columns over the first hole; the middle one where there is none
    walls: Indices  # (holes, 3), -: first column beside a hole, its first and past its last row
    gaps: Array  # (gaps, 5), - and m: rows above and below, width, columns metal may run into
    contact_of: Indices  # (nz + 1,), -: closed interface at this face, else -1
    sheet_rows: Indices  # (sheets, 2), -: first and past the last row

    @property
    def r(self) -> Array:
        """Middles of the rings [m]."""
        middles: Array = (self.r_faces[1:] + self.r_faces[:-1]) / 2
        return middles

    @property
    def area(self) -> Array:
        """Areas of the rings [m2]."""
        areas: Array = math.pi * np.diff(self.r_faces**2)
        return areas

    @property
    def dz(self) -> Array:
        """Heights of the rows [m]."""
        heights: Array = np.diff(self.z_faces)
        return heights


def _rings(joint: PlugJoint, cell: float) -> Array:
    """Faces of the rings [m]: one on every hole's edge, even near the weld, then stretched."""
    radii = sorted({hole / 2 for hole in joint.hole_diameters if hole > 0.0})
    marks = [0.0, *radii, radii[-1] + FINE_BEYOND if radii else FINE_SPOT]
    faces = [0.0]
    for low, high in itertools.pairwise(marks):
        count = max(round((high - low) / cell), 1)
        faces += [low + (high - low) * (n + 1) / count for n in range(count)]
    width = cell
    while faces[-1] < joint.piece_radius - 1e-9:
        width *= STRETCH
        rest = joint.piece_radius - faces[-1]
        faces.append(joint.piece_radius if rest < 1.6 * width else faces[-1] + width)
    return np.array(faces)


Pairs = list[tuple[int, int]]


def _rows(joint: PlugJoint, cell: float, head: int) -> tuple[list[float], Pairs, Pairs]:
    """Heights of the rows [m], first and past the last row of each sheet, rows beside each gap."""
    stack = joint.stack
    heights = [cell] * head
    rows: Pairs = []
    between: Pairs = []
    for number, thickness in enumerate(joint.thicknesses):
        if number and stack.gap > CLOSED:
            count = max(round(stack.gap / cell), 1)
            between.append((len(heights) - 1, len(heights) + count))
            heights += [stack.gap / count] * count
        count = max(round(thickness / cell), FEWEST_ROWS)
        rows.append((len(heights), len(heights) + count))
        heights += [thickness / count] * count
    return heights, rows, between


def lay_out(
    joint: PlugJoint, cell: float, metal_volume: float, head_room: float = HEAD_ROOM
) -> PlugLayout:
    """Divide a joint into cells.

    Parameters
    ----------
    joint : PlugJoint
        Sheets, holes, piece.
    cell : float
        Width of the rings and about the height of the rows [m].
    metal_volume : float
        What will be laid down [m3]; it decides how much room there is for the head.
    head_room : float
        Further room for a head that does not lie flat [m].

    Returns
    -------
    PlugLayout
        Lengths in [m].
    """
    r_faces = _rings(joint, cell)
    foot = math.pi / 4 * (joint.hole_diameters[0] or SPOT_FOOT) ** 2
    over = max(metal_volume - joint.hole_volume, 0.0) / foot
    head = math.ceil((min(over, MOST_FLAT) + head_room) / cell)
    heights, rows, between = _rows(joint, cell, head)
    z_faces = np.concatenate([[0.0], np.cumsum(heights)])
    z_faces -= z_faces[head]
    middles = (r_faces[1:] + r_faces[:-1]) / 2
    part = np.full((len(heights), len(middles)), -1, dtype=np.int64)
    walls = []
    for number, (first, last) in enumerate(rows):
        hole = joint.hole_diameters[number] / 2 if number < len(rows) - 1 else 0.0
        part[first:last, middles > hole] = number
        if hole > 0.0:
            walls.append((int((middles <= hole).sum()), first, last))
    contact_of = np.full(len(heights) + 1, -1, dtype=np.int64)
    if joint.stack.gap <= CLOSED:
        for number, (first, _) in enumerate(rows[1:]):
            contact_of[first] = number
    return PlugLayout(
        r_faces=r_faces,
        z_faces=z_faces,
        part=part,
        level=(part >= 0).argmax(axis=0).astype(np.int64),
        rim_row=head,
        inside=walls[0][0] if walls else 1,
        walls=np.array(walls, dtype=np.int64).reshape(-1, 3),
        gaps=_gaps(joint, between, middles),
        contact_of=contact_of,
        sheet_rows=np.array(rows, dtype=np.int64),
    )


def _gaps(joint: PlugJoint, between: list[tuple[int, int]], middles: Array) -> Array:
    """Open gaps with the columns beside the hole that the melt runs into."""
    gap, found = joint.stack.gap, []
    for number, (above, below) in enumerate(between):
        hole = joint.hole_diameters[number] / 2
        first = int((middles <= hole).sum())
        last = int((middles <= hole + POCKET * gap).sum()) if hole > 0.0 else first
        found.append((above, below, gap, first, last))
    return np.array(found, dtype=np.float64).reshape(-1, 5)
