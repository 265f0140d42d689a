"""The cells of a seam: where they lie, what they are, how heat gets from one to the next.

Sizes of cells: numerical, no source.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.seam.constants import SeamConstants
from buttonhole.weld.arc.seam.diffusion import AIR
from buttonhole.weld.arc.seam.grid import ENCLOSED, LOWER, RIGHT, UPPER, VOID
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint

Array = NDArray[np.float64]
Codes = NDArray[np.int64]

STRETCH = 1.25  # -, from one cell to the next away from the seam
WIDEST = 3.5e-3  # m
FINE_LOWER, FINE_UPPER = 6.5e-3, 5e-3  # m of small cells on each side of the joint, at least
BESIDE = 2.5e-3  # m of small cells beyond the toes of a large deposit
# of the root of the deposit's section: how far it may lie to one side, and how high
FAR, HIGH = 1.7, 0.75  # -
FINE_ENDS = 2.5e-3  # m of small cells beyond start and stop
CROWN_ROWS = 4  # rows above the highest sheet, for the deposit, at least
TALLEST_ROW = 0.75e-3  # m; thick sheet gets more rows
CONTACT_CONDUCTIVITY = 30.0  # W/m/K at which a contact is turned into a length of metal


@dataclass(frozen=True, slots=True)
class Resolution:
    """How finely a seam is resolved in space and time; numerical, no source."""

    cell: float = 0.35e-3  # m, along and across near the seam
    rows: int = 2  # cells a sheet, at least
    travel: float = 0.35  # -, cells the arc goes in a step
    longest_arc_step: float = 15e-3  # s
    cooling_growth: float = 0.05  # -, step over the time since the arc went out
    longest_step: float = 0.15  # s


DEFAULT = Resolution()
FINE = Resolution(rows=3)
PREVIEW = Resolution(cell=0.8e-3, rows=1, longest_arc_step=30e-3, cooling_growth=0.05)


@dataclass(frozen=True, slots=True)
class Layout:
    """Faces without the empty rim [m]; arrays with it, shape (nx + 2, nz + 2, ny + 2)."""

    x_faces: Array  # (nx + 1,), m
    y_faces: Array  # (ny + 1,), m
    z_faces: Array  # (nz + 1,), m
    part: Codes  # - codes of ``grid``
    gx: Array  # m, area over distance of the face below in x
    gy: Array  # m
    gz: Array  # m
    bare: Array  # m2, area open to the air
    bar: Array  # (ny + 2,), W/m2/K
    gap_flow: Array  # (nx + 2, ny + 2), W/K, across an open gap
    ground: Codes  # - (ny + 2,), row of the uppermost sheet
    gap_row: int
    gap_columns: Codes  # - (2,), columns under the edge that metal runs into
    fine: Codes  # - (2,), first column of small cells and the one behind the last
    low: Codes  # - (nz + 2,), columns in use, per row
    high: Codes  # - (nz + 2,)
    links: Codes  # - (faces, 4), kind and cell of faces that pass their heat apart

    @property
    def dx(self) -> Array:
        """Cell sizes with the rim, whose cells are as large as their neighbours [m]."""
        return rimmed(np.diff(self.x_faces))

    @property
    def dy(self) -> Array:
        """Cell sizes with the rim [m]."""
        return rimmed(np.diff(self.y_faces))

    @property
    def dz(self) -> Array:
        """Cell sizes with the rim [m]."""
        return rimmed(np.diff(self.z_faces))

    @property
    def volume(self) -> Array:
        """Volumes of all cells, shape of ``part`` [m3]."""
        return self.dx[:, None, None] * self.dz[None, :, None] * self.dy[None, None, :]


def rimmed(sizes: Array) -> Array:
    """Repeat the outer ones of ``sizes`` [SI] once."""
    return np.concatenate([sizes[:1], sizes, sizes[-1:]])


def rimmed_faces(faces: Array) -> Array:
    """Put face i of ``faces`` [m] at index i + 1, which is where cell i + 1 begins."""
    return np.concatenate([[2 * faces[0] - faces[1]], faces])


def centres(faces: Array) -> Array:
    """Middles of the cells between ``faces`` [m], rim included."""
    size = rimmed(np.diff(faces))
    middle = 0.5 * (faces[1:] + faces[:-1])
    return np.concatenate([[middle[0] - size[0]], middle, [middle[-1] + size[-1]]])


def outwards(fine: float, cell: float, end: float) -> Array:
    """Distances of faces from an edge [m]: ``fine`` [m] in cells, then stretched to ``end`` [m].

    ``cell`` [m] is the size of the small ones.
    """
    if end - fine < 0.4 * cell:  # nor a sliver behind the small ones
        fine = end
    count = max(1, round(fine / cell))
    faces = list(np.linspace(0.0, fine, count + 1))
    size = fine / count
    while faces[-1] < end - 1e-9:
        size = min(size * STRETCH, WIDEST)
        faces.append(min(faces[-1] + size, end))
        if end - faces[-1] < 0.4 * size:
            faces[-1] = end
    return np.array(faces[1:])


def _y_faces(
    joint: SeamJoint, cell: float, aim: float, section: float
) -> tuple[Array, tuple[float, float]]:
    """Faces across, and between which y the small cells lie [m]."""
    more = max(abs(aim) - 0.5e-3, 0.0)
    half = 0.5 * joint.root_opening
    least = FAR * math.sqrt(section) + BESIDE
    low_side, high_side = max(FINE_LOWER, least), max(FINE_UPPER, least - 1.5e-3)
    if joint.kind is JointKind.LAP:
        left = low_side + (more if aim > 0 else 0.0)
        right = high_side + (more if aim < 0 else 0.0)
    else:
        left = right = high_side + more
    left, right = (math.ceil(each / cell - 1e-9) * cell for each in (left, right))
    inner = np.zeros(1)
    if half > 0.0:
        count = max(2, 2 * math.ceil(half / cell - 0.25))
        inner = np.linspace(-half, half, count + 1)
    minus = outwards(left, cell, joint.width)
    plus = outwards(right, cell, joint.width)
    faces = np.concatenate([-half - minus[::-1], inner, half + plus])
    return faces, (-half - left, half + right)


def _rows(thickness: float, resolution: Resolution) -> int:
    return max(resolution.rows, math.ceil(thickness / TALLEST_ROW - 1e-9))


def _z_faces(joint: SeamJoint, resolution: Resolution, section: float) -> tuple[Array, int, int]:
    """Faces upwards [m], rows of the lower sheet, and rows up to the top of the upper one."""
    n_low, n_up = (_rows(s.thickness, resolution) for s in (joint.lower, joint.upper))
    top = joint.lower.thickness
    faces = list(np.linspace(0.0, top, n_low + 1))
    count = n_low
    if joint.gap > 0.0:
        top += joint.gap
        faces.append(top)
        count += 1
    faces += list(np.linspace(top, top + joint.upper.thickness, n_up + 1))[1:]
    count += n_up
    height = min(resolution.cell, 0.5e-3)
    crown = max(CROWN_ROWS, math.ceil(HIGH * math.sqrt(section) / height))
    faces += [faces[-1] + height * (i + 1) for i in range(crown)]
    return np.array(faces), n_low, count


def _parts(joint: SeamJoint, y: Array, shape: tuple[int, int, int], n_low: int, top: int) -> Codes:
    part = np.full(shape, VOID, dtype=np.int64)
    inside = slice(1, shape[0] - 1)
    half = 0.5 * joint.root_opening
    first = n_low + 1 + (joint.gap > 0.0)
    upper = np.flatnonzero(y > half)
    if joint.kind is JointKind.LAP:
        under = np.flatnonzero(y < joint.overlap)
        part[inside, 1 : n_low + 1, 1 : min(under[-1], shape[2] - 2) + 1] = LOWER
        part[inside, first : top + 1, upper[0] : shape[2] - 1] = UPPER
        if joint.gap > 0.0:
            part[inside, first - 1, upper[0] : min(under[-1], shape[2] - 2) + 1] = ENCLOSED
    else:
        under = np.flatnonzero(np.abs(y) < joint.overlap)
        part[inside, 1 : n_low + 1, max(under[0], 1) : min(under[-1], shape[2] - 2) + 1] = LOWER
        part[inside, first : top + 1, 1 : np.flatnonzero(y < -half)[-1] + 1] = UPPER
        part[inside, first : top + 1, upper[0] : shape[2] - 1] = RIGHT
    return part


def _couplings(
    part: Codes, material: Codes, sizes: tuple[Array, Array, Array], contact: float
) -> list[Array]:
    """Area over distance [m] of the faces below each cell in x, z, y; negative: unlike metals."""
    cells = np.meshgrid(*sizes, indexing="ij")
    length = CONTACT_CONDUCTIVITY / contact
    found = []
    for direction, size in enumerate(cells):
        before, after = np.roll(part, 1, direction), part
        distance = 0.5 * (size + np.roll(size, 1, direction))
        area = cells[(direction + 1) % 3] * cells[(direction + 2) % 3]
        unlike = (before != after).astype(float)
        joined = (before >= 0) & (after >= 0)
        sign = np.where(np.roll(material, 1, direction) == material, 1.0, -1.0)
        found.append(np.where(joined, sign * area / (distance + unlike * length), 0.0))
    return found


def _bare(part: Codes, sizes: tuple[Array, Array, Array]) -> Array:
    cells = np.meshgrid(*sizes, indexing="ij")
    area = np.zeros(part.shape)
    for direction in range(3):
        face = cells[(direction + 1) % 3] * cells[(direction + 2) % 3]
        for shift in (1, -1):
            area += face * (np.roll(part, shift, direction) == VOID)
    bare: Array = np.where(part >= 0, area, 0.0)
    return bare


def _links(couplings: tuple[Array, Array, Array], gap_flow: Array, gap_row: int) -> Codes:
    """Faces between unlike metals and across the gap, as kind, x, z, y."""
    found = []
    for kind, g in enumerate(couplings):
        cells = np.argwhere(g < 0.0)
        found.append(np.insert(cells, 0, kind, axis=1))
    for x, y in np.argwhere(gap_flow > 0.0):
        found.append(np.array([[AIR, x, gap_row + 1, y]]))
    return np.concatenate(found).astype(np.int64)


def lay_out(
    joint: SeamJoint,
    resolution: Resolution,
    constants: SeamConstants,
    of_part: Sequence[int] = (0, 0, 0, 0),
    aim: float = 0.0,
    section: float = 0.0,
) -> Layout:
    """Cut a joint into cells, finer near the seam.

    ``of_part`` says which metal each sheet and the deposit are of, ``aim`` [m] where the wire
    points at most, ``section`` [m2] how much metal is laid down.
    """
    cell = resolution.cell
    ends = outwards(FINE_ENDS, cell, max(joint.overhang, FINE_ENDS))
    along = np.linspace(0.0, joint.length, round(joint.length / cell) + 1)
    x_faces = np.concatenate([-ends[::-1], along, joint.length + ends])
    y_faces, near = _y_faces(joint, cell, aim, section)
    z_faces, n_low, top = _z_faces(joint, resolution, section)
    y = centres(y_faces)
    sizes = (rimmed(np.diff(x_faces)), rimmed(np.diff(z_faces)), rimmed(np.diff(y_faces)))
    shape = (len(sizes[0]), len(sizes[1]), len(sizes[2]))
    part = _parts(joint, y, shape, n_low, top)
    material = np.array([*of_part, 0])[np.clip(part, -1, 3)]
    gx, gz, gy = _couplings(part, material, sizes, constants.contact)
    rows = np.arange(shape[1])[:, None]
    metal = (part[1] >= 0) | (part[1] == ENCLOSED)
    columns = np.arange(shape[2])[None, :]
    fine = np.clip(np.searchsorted(y, near), 1, shape[2] - 1)
    gap_row = n_low + 1 if joint.gap > 0.0 else 0
    gap_flow = np.zeros((shape[0], shape[2]))
    if gap_row:
        spots = part[:, gap_row] == ENCLOSED
        areas = sizes[0][:, None] * sizes[2][None, :]
        gap_flow = np.where(spots, areas * constants.gap_air / joint.gap, 0.0)
    # metal runs under the edge by 0.7 of the gap, and into one column at least
    under = np.flatnonzero((y > 0.0) & (y <= max(0.7 * joint.gap, 1.001 * y[y > 0.0].min())))
    bar = np.zeros(shape[2])
    if joint.bar is not None:
        reached = (np.abs(y) <= 0.5 * joint.bar.width) & (part[1, 1] >= 0)
        bar = np.where(reached, joint.bar.conductance, 0.0)
    return Layout(
        x_faces=x_faces,
        y_faces=y_faces,
        z_faces=z_faces,
        part=part,
        gx=gx,
        gy=gy,
        gz=gz,
        bare=_bare(part, sizes),
        bar=bar,
        gap_flow=gap_flow,
        ground=np.where(part[1] >= 0, rows, 0).max(axis=0),
        gap_row=gap_row,
        gap_columns=np.array([under[0], under[-1] + 1]) if gap_row else np.zeros(2, np.int64),
        fine=fine,
        low=np.where(metal, columns, shape[2]).min(axis=1),
        high=np.where(metal, columns + 1, 0).max(axis=1),
        links=_links((gx, gz, gy), gap_flow, gap_row),
    )


def fastest_rate(layout: Layout, diffusivity: float) -> float:
    """Fastest exchange of any cell with its neighbours [1/s] at a ``diffusivity`` [m2/s]."""
    total = 0.0
    for size in (layout.dx, layout.dy, layout.dz):
        inner = size[1:-1]
        below, above = 0.5 * (inner + size[:-2]), 0.5 * (inner + size[2:])
        total += float((1.0 / (inner * below) + 1.0 / (inner * above)).max())
    return total * diffusivity
