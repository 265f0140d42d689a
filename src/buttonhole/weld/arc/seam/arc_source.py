"""Compiled kernel: where the heat of the arc goes.

The arc is a beam along the wire with a Gaussian profile. A bare face takes its share by how
squarely it looks at the arc; a part goes deeper along the axis (what the arc's force opens); over
an open gap a part jumps to the edge of the upper sheet. All shares are made whole on the cells as
they are.
Model form: no source; numbers: common practice, no source.
"""

import math

import numba
import numpy as np

from buttonhole.weld.arc.seam.grid import (
    FINGER_DEPTH,
    FINGER_RADIUS,
    FINGER_SHARE,
    SIGMA,
    UPPER,
    VOID,
)

EDGE_DEPTH = 0.8e-3  # m, how far from its edge a sheet takes an arc that jumped there; no source


@numba.njit(cache=True)
def window_of(x, y, reach, xf, yf):
    """Cells within ``reach`` [m] of the axis: first, end in x, first, end in y."""
    nx, ny = xf.shape[0] - 2, yf.shape[0] - 2
    box = np.empty(4, np.int64)
    box[0] = min(max(np.searchsorted(xf[1 : nx + 2], x - reach), 1), nx)
    box[1] = min(max(np.searchsorted(xf[1 : nx + 2], x + reach) + 1, box[0] + 1), nx + 1)
    box[2] = min(max(np.searchsorted(yf[1 : ny + 2], y - reach), 1), ny)
    box[3] = min(max(np.searchsorted(yf[1 : ny + 2], y + reach) + 1, box[2] + 1), ny + 1)
    return box


@numba.njit(cache=True)
def off_axis(rx, ry, rz, axis):
    """Square of the distance from the axis [m2] and depth along it [m]."""
    along = rx * axis[0] + ry * axis[1] + rz * axis[2]
    return rx * rx + ry * ry + rz * rz - along * along, along


@numba.njit(cache=True)
def faces_seen(part, x, z, y, rx, ry, rz, dx, dy, dz, axis, sigma):
    """What the bare faces of one cell take, not yet made whole, and the same times depth [m]."""
    taken, deep = 0.0, 0.0
    for face in range(5):
        if face == 0:
            seen, ux, uy, uz, area = -axis[2], 0.0, 0.0, 0.5 * dz, dx * dy
            open_to = part[x, z + 1, y] == VOID
        elif face == 1:
            seen, ux, uy, uz, area = axis[1], 0.0, -0.5 * dy, 0.0, dx * dz
            open_to = part[x, z, y - 1] == VOID
        elif face == 2:
            seen, ux, uy, uz, area = -axis[1], 0.0, 0.5 * dy, 0.0, dx * dz
            open_to = part[x, z, y + 1] == VOID
        elif face == 3:
            seen, ux, uy, uz, area = axis[0], -0.5 * dx, 0.0, 0.0, dy * dz
            open_to = part[x - 1, z, y] == VOID
        else:
            seen, ux, uy, uz, area = -axis[0], 0.5 * dx, 0.0, 0.0, dy * dz
            open_to = part[x + 1, z, y] == VOID
        if not open_to or seen <= 0.0:
            continue
        square, along = off_axis(rx + ux, ry + uy, rz + uz, axis)
        weight = area * seen * math.exp(-0.5 * square / (sigma * sigma))
        taken += weight
        deep += weight * along
    return taken, deep


@numba.njit(cache=True)
def on_faces(source, box, part, places, sizes, at, axis, sigma):
    """Weight of every cell's bare faces, in place; returns their sum and mean depth [m]."""
    xc, yc, zc = places[0], places[1], places[2]
    dx, dy, dz = sizes[0], sizes[1], sizes[2]
    total, deep = 0.0, 0.0
    for x in range(box[0], box[1]):
        for z in range(1, part.shape[1] - 1):
            for y in range(box[2], box[3]):
                source[x, z, y] = 0.0
                if part[x, z, y] < 0:
                    continue
                taken, d = faces_seen(
                    part, x, z, y, xc[x] - at[0], yc[y] - at[1], zc[z] - at[2],
                    dx[x], dy[y], dz[z], axis, sigma,
                )  # fmt: skip
                source[x, z, y] = taken
                total += taken
                deep += d
    return total, deep / max(total, 1e-300)


@numba.njit(cache=True)
def inside(weights, box, part, places, sizes, at, axis, depth, radius, length):
    """Weight of every cell of what goes deep along the axis, in place; returns their sum."""
    xc, yc, zc = places[0], places[1], places[2]
    total = 0.0
    for x in range(box[0], box[1]):
        for z in range(1, part.shape[1] - 1):
            for y in range(box[2], box[3]):
                w = 0.0
                if part[x, z, y] >= 0:
                    square, along = off_axis(xc[x] - at[0], yc[y] - at[1], zc[z] - at[2], axis)
                    down = (along - depth) / length
                    w = math.exp(-0.5 * square / radius**2 - 0.5 * down * down)
                    w *= sizes[0][x] * sizes[1][y] * sizes[2][z]
                weights[x - box[0], z, y - box[2]] = w
                total += w
    return total


@numba.njit(cache=True)
def on_edge(weights, box, part, places, sizes, at, sigma):
    """Weight of every cell at the upper sheet's edge, in place; returns their sum."""
    xc, yc = places[0], places[1]
    total = 0.0
    for x in range(box[0], box[1]):
        e = (xc[x] - at[0]) / sigma
        for z in range(1, part.shape[1] - 1):
            for y in range(box[2], box[3]):
                w = 0.0
                if part[x, z, y] == UPPER and yc[y] > 0.0:
                    w = math.exp(-0.5 * e * e - 0.5 * (yc[y] / EDGE_DEPTH) ** 2)
                    w *= sizes[0][x] * sizes[1][y] * sizes[2][z]
                weights[x - box[0], z, y - box[2]] = w
                total += w
    return total


@numba.njit(cache=True)
def shine(source, box, part, places, sizes, at, axis, power, numbers, edge_share):
    """Heat [W] into each cell of the box, in place; together ``power`` [W]."""
    share = numbers[FINGER_SHARE]
    total, depth = on_faces(source, box, part, places, sizes, at, axis, numbers[SIGMA])
    if total <= 0.0:
        return 0.0
    shape = (box[1] - box[0], part.shape[1], box[3] - box[2])
    deep, edge = np.zeros(shape), np.zeros(shape)
    deep_sum, edge_sum = 0.0, 0.0
    if share > 0.0:
        deep_sum = inside(deep, box, part, places, sizes, at, axis, depth,
                          numbers[FINGER_RADIUS], numbers[FINGER_DEPTH])  # fmt: skip
    if edge_share > 0.0:
        edge_sum = on_edge(edge, box, part, places, sizes, at, numbers[SIGMA])
    share = share if deep_sum > 0.0 else 0.0
    edge_share = edge_share if edge_sum > 0.0 else 0.0
    a = power * (1.0 - share) * (1.0 - edge_share) / total
    b = power * share * (1.0 - edge_share) / max(deep_sum, 1e-300)
    c = power * edge_share / max(edge_sum, 1e-300)
    for x in range(box[0], box[1]):
        for z in range(1, part.shape[1] - 1):
            for y in range(box[2], box[3]):
                i, k = x - box[0], y - box[2]
                source[x, z, y] = a * source[x, z, y] + b * deep[i, z, k] + c * edge[i, z, k]
    return power
