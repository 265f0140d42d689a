"""Compiled kernels: how deposited metal lies in a slice across the seam, and which cells it fills.

The wetting rule: metal spreads along the surface of the joint from where it lands as far as that
surface is hot enough to be wetted. Its free surface is an arch between the two ends, which holds
the metal deposited so far. Where the arch meets cold surface at a steeper angle than a freezing
front comes to rest at, the metal runs on over it (a cold lap, unless it melts the surface later);
where it would hang, the ends draw in. At a sharp edge the front waits until the angle to the face
behind the edge is steep enough. Surface tension rules at this size: the capillary length of molten
steel is about 4 mm. Model form: our own.

Sources
-------
schiaffino-sonin-1997 (a front of melt on its own cold solid stops at an angle; from memory).
"""

import math

import numba
import numpy as np

from buttonhole.weld.arc.seam.diffusion import ACROSS, ALONG, UP
from buttonhole.weld.arc.seam.grid import (
    CROWN,
    DEPOSIT,
    ENCLOSED,
    FLATTEST,
    RESTS_AT,
    SIGMA,
    SPLAT,
    VOID,
    WAY_LEFT,
    WAY_RIGHT,
    WET_TEMPERATURE,
    Y_LEFT,
    Y_RIGHT,
    Z_LEFT,
    Z_RIGHT,
)

MOVE = 0.1e-3  # m, by which an end of the arch is moved at a time
SAME = 1e-9  # m, below which two lengths are the same
DROP = 0.5e-3  # m, half of what a drop covers where it lands; about a wire's diameter in all
MOST_MOVES = 200
MOST_NODES = 512
EQUAL = 1e-6  # cells, by which two columns may differ and still be equally low
LEAST_POOL = 0.05  # -, of the metal; with less on hot ground there is no pool yet
REACHING = 3.5  # standard deviations of the splat; beyond it a slice gets no metal


@numba.njit(cache=True)
def outline(x, part, t, ground, yc, zc, yf, zf, fine, nodes):
    """Surface of the joint in a slice, from left to right; returns how many nodes.

    ``nodes`` rows: y, z [m], temperature of the face [degC], way along [m].
    """
    n = 0
    for j in range(fine[0], fine[1]):
        if j > fine[0] and ground[j] != ground[j - 1]:
            up = ground[j] > ground[j - 1]
            low, high = min(ground[j], ground[j - 1]) + 1, max(ground[j], ground[j - 1])
            metal, air = (j, j - 1) if up else (j - 1, j)
            root = face_temperature(t, part, x, ground[air], air)
            for i in range(high - low + 1):
                k = low + i if up else high - i
                nodes[n, 0], nodes[n, 1] = yf[j], zc[k]
                # the mouth of a gap: metal passes where the root is hot
                nodes[n, 2] = t[x, k, metal] if part[x, k, metal] >= 0 else root
                n += 1
        nodes[n, 0], nodes[n, 1] = yc[j], zf[ground[j] + 1]
        nodes[n, 2] = face_temperature(t, part, x, ground[j], j)
        n += 1
    nodes[0, 3] = 0.0
    for i in range(1, n):
        way = math.hypot(nodes[i, 0] - nodes[i - 1, 0], nodes[i, 1] - nodes[i - 1, 1])
        nodes[i, 3] = nodes[i - 1, 3] + way
    return n


@numba.njit(cache=True)
def face_temperature(t, part, x, z, y):
    """Temperature [degC] of a sheet's upper face, straight on from its two uppermost cells."""
    here = t[x, z, y]
    if part[x, z - 1, y] == part[x, z, y]:
        return here + 0.5 * (here - t[x, z - 1, y])
    return here


@numba.njit(cache=True)
def wetted(nodes, n, at_y, at_z, wet, shape):
    """Ends of the wetted stretch and where the metal lands, as ways along the surface [m].

    What was covered before (``shape``) stays covered.
    """
    seed, at = landing_way(nodes, n, at_y, at_z)
    before, after = shape[WAY_LEFT], shape[WAY_RIGHT]
    if after <= before:  # nothing yet
        before = after = at
    ends = np.empty(3)
    ends[0], ends[1], ends[2] = min(before, at - DROP), max(after, at + DROP), at
    i = seed
    while i >= 0 and takes_metal(nodes, i, wet, before, after):
        i -= 1
    if i < seed:
        ends[0] = min(ends[0], reach_of(nodes, i + 1, i, n, wet))
    i = seed + 1
    while i < n and takes_metal(nodes, i, wet, before, after):
        i += 1
    if i > seed + 1:
        ends[1] = max(ends[1], reach_of(nodes, i - 1, i, n, wet))
    ends[0], ends[1] = max(ends[0], 0.0), min(ends[1], nodes[n - 1, 3])
    return ends


@numba.njit(cache=True)
def landing_way(nodes, n, at_y, at_z):
    """Node before the place on the surface that is nearest to a point, and the way there [m]."""
    seed, nearest, way = 0, 1e9, 0.0
    for i in range(n - 1):
        ay, az = nodes[i + 1, 0] - nodes[i, 0], nodes[i + 1, 1] - nodes[i, 1]
        by, bz = at_y - nodes[i, 0], at_z - nodes[i, 1]
        f = min(max((ay * by + az * bz) / max(ay * ay + az * az, 1e-18), 0.0), 1.0)
        d = math.hypot(by - f * ay, bz - f * az)
        if d < nearest:
            seed, nearest = i, d
            way = nodes[i, 3] + f * (nodes[i + 1, 3] - nodes[i, 3])
    return seed, way


@numba.njit(cache=True)
def hot_there(nodes, n, at_y, at_z, wet):
    """Whether any surface within a drop's size of where the metal lands is hot enough."""
    for i in range(n):
        near = math.hypot(nodes[i, 0] - at_y, nodes[i, 1] - at_z) < 2.0 * DROP
        if near and nodes[i, 2] >= wet:
            return True
    return False


@numba.njit(cache=True)
def takes_metal(nodes, i, wet, before, after):
    """Whether metal lies on a node or would run on to it."""
    return nodes[i, 2] >= wet or before <= nodes[i, 3] <= after


@numba.njit(cache=True)
def reach_of(nodes, inside, outside, n, wet):
    """Way [m] to where the surface comes below the wetting temperature."""
    if outside < 0 or outside >= n or nodes[inside, 2] < wet:
        return nodes[inside, 3]
    share = (nodes[inside, 2] - wet) / max(nodes[inside, 2] - nodes[outside, 2], 1.0)
    return nodes[inside, 3] + min(share, 1.0) * (nodes[outside, 3] - nodes[inside, 3])


@numba.njit(cache=True)
def place(nodes, way):
    """Point (y, z) [m] at a way along the surface [m]."""
    n = nodes.shape[0]
    i = np.searchsorted(nodes[1:n, 3], way)
    i = min(i, n - 2)
    span = nodes[i + 1, 3] - nodes[i, 3]
    f = min(max((way - nodes[i, 3]) / max(span, 1e-12), 0.0), 1.0)
    return (
        nodes[i, 0] + f * (nodes[i + 1, 0] - nodes[i, 0]),
        nodes[i, 1] + f * (nodes[i + 1, 1] - nodes[i, 1]),
    )


@numba.njit(cache=True)
def under_chord(yl, zl, yr, zr, ground, yf, zf, fine):
    """Area [m2] between the surface and the straight line from end to end."""
    area = 0.0
    slope = (zr - zl) / (yr - yl) if yr > yl else 0.0
    for j in range(fine[0], fine[1]):
        a, b = max(yl, yf[j]), min(yr, yf[j + 1])
        if b > a:
            area += (b - a) * (zl + slope * (0.5 * (a + b) - yl) - zf[ground[j] + 1])
    return area


@numba.njit(cache=True)
def meets(nodes, way, step, slope):
    """Angle of the melt [rad] at an end of the free surface, to the face it would run on to.

    ``slope`` is that of the free surface there; ``step`` [m] below zero looks to the left. Below
    zero at the brink of a face that falls off: the melt would have to hang over.
    """
    y, z = place(nodes, way)
    on_y, on_z = place(nodes, way + step)
    side = 1.0 if step < 0.0 else -1.0
    return math.atan(side * slope) - math.atan2(z - on_z, side * (y - on_y))


@numba.njit(cache=True)
def foot(nodes, way, step):
    """Way [m] to where melt on an upright face that falls off to one side runs down to."""
    while 0.0 < way + step < nodes[-1, 3]:
        here = place(nodes, way)[1]
        falls = place(nodes, way + step)[1] < here - 0.5 * MOVE
        if not falls or place(nodes, way - step)[1] < here + 0.5 * MOVE:  # at the brink it waits
            break
        way += step
    return way


@numba.njit(cache=True)
def arch(nodes, n, ends, area, ground, yf, zf, fine, rests_at, flattest, least_width, shape):
    """Find the free surface that holds ``area`` [m2]; ``shape`` is filled in place."""
    nodes, last = nodes[:n], nodes[n - 1, 3]
    left, right = foot(nodes, ends[0], -MOVE), foot(nodes, ends[1], MOVE)
    yl, zl, yr, zr, crown = 0.0, 0.0, 0.0, 0.0, 0.0
    for _ in range(MOST_MOVES):
        yl, zl = place(nodes, left)
        yr, zr = place(nodes, right)
        width = yr - yl
        if width < least_width:
            # a stretch of upright edge alone holds nothing; the lower end moves out
            if zl <= zr and left > 0.0:
                left = max(left - MOVE, 0.0)
                continue
            if zr < zl and right < last:
                right = min(right + MOVE, last)
                continue
            width = least_width
        crown = 1.5 * (area - under_chord(yl, zl, yr, zr, ground, yf, zf, fine)) / width
        chord, bulge = (zr - zl) / width, 4.0 * crown / width
        at_left = meets(nodes, left, -MOVE, chord + bulge) if left > 0.0 else 0.0
        at_right = meets(nodes, right, MOVE, chord - bulge) if right < last else 0.0
        steepest = max(at_left, at_right)
        if steepest > rests_at:
            if at_left >= steepest - SAME:
                left = max(left - MOVE, 0.0)
            if at_right >= steepest - SAME:
                right = min(right + MOVE, last)
        elif crown < -flattest * width and width > 2.0 * least_width:
            further = (ends[2] - left) - (right - ends[2])
            if further > -SAME:
                left += MOVE
            if further < SAME:
                right -= MOVE
        else:
            break
    shape[Y_LEFT], shape[Z_LEFT], shape[Y_RIGHT], shape[Z_RIGHT] = yl, zl, yr, zr
    shape[CROWN] = crown
    shape[WAY_LEFT], shape[WAY_RIGHT] = left, right


@numba.njit(cache=True)
def lowest(x, shape, top, yc, dy, dz, zf, fine, nz):
    """First and last of the columns farthest below the arch, in cells; -1 where all are full.

    They differ where both sides of a symmetric joint are equally low.
    """
    first, last, most = -1, -1, -1e9
    yl, yr = shape[Y_LEFT], shape[Y_RIGHT]
    width = max(yr - yl, 1e-9)
    for j in range(fine[0], fine[1]):
        off = max(yl - yc[j], yc[j] - yr, 0.0)
        if top[x, j] >= nz:
            continue
        u = min(max((yc[j] - yl) / width, 0.0), 1.0)
        level = shape[Z_LEFT] + u * (shape[Z_RIGHT] - shape[Z_LEFT])
        level += 4.0 * shape[CROWN] * u * (1.0 - u)
        missing = (level - zf[top[x, j] + 1]) / dz[top[x, j] + 1]
        missing -= 100.0 * off / dy[j]  # a column that is mostly outside only when no other is left
        if missing > most + EQUAL:
            first, last, most = j, j, missing
        elif missing > most - EQUAL:
            last = j
    return first, last


@numba.njit(cache=True)
def tie(kind, x, z, y, couplings, part, material, area, distance):
    """Couple a new cell of deposit at the face below ``(x, z, y)`` in x, z or y."""
    xb, zb, yb = x - (kind == ALONG), z - (kind == UP), y - (kind == ACROSS)
    if part[x, z, y] < 0 or part[xb, zb, yb] < 0:
        return
    like = material[x, z, y] == material[xb, zb, yb]
    g = area / distance if like else -area / distance
    if kind == ALONG:
        couplings[0][x, z, y] = g
    elif kind == ACROSS:
        couplings[1][x, z, y] = g
    else:
        couplings[2][x, z, y] = g
    links, count = couplings[4], couplings[5]
    if not like and count[0] < links.shape[0]:
        links[count[0], 0], links[count[0], 1] = kind, x
        links[count[0], 2], links[count[0], 3] = z, y
        count[0] += 1


@numba.njit(cache=True)
def join(x, z, y, h, enthalpy, filler, cells, couplings, sizes, columns, gap_row):
    """Put one cell of deposit down, at an enthalpy [J/m3], and tie it to what it touches."""
    part, material, bare = cells[0], cells[1], cells[2]
    dx, dy, dz = sizes[0], sizes[1], sizes[2]
    part[x, z, y] = DEPOSIT
    material[x, z, y] = filler
    h[x, z, y] = enthalpy
    columns[0][z], columns[1][z] = min(columns[0][z], y), max(columns[1][z], y + 1)
    for k in (x, x + 1):
        distance = 0.5 * (dx[k] + dx[k - 1])
        tie(ALONG, k, z, y, couplings, part, material, dy[y] * dz[z], distance)
    for k in (z, z + 1):
        distance = 0.5 * (dz[k] + dz[k - 1])
        tie(UP, x, k, y, couplings, part, material, dx[x] * dy[y], distance)
    for k in (y, y + 1):
        distance = 0.5 * (dy[k] + dy[k - 1])
        tie(ACROSS, x, z, k, couplings, part, material, dx[x] * dz[z], distance)
    if z == gap_row:
        couplings[3][x, y] = 0.0
    bare[x, z, y] = open_area(x, z, y, part, dx, dy, dz)
    for a, b, c in ((x - 1, z, y), (x + 1, z, y), (x, z - 1, y), (x, z + 1, y)):
        if part[a, b, c] >= 0:
            bare[a, b, c] = open_area(a, b, c, part, dx, dy, dz)
    for c in (y - 1, y + 1):
        if part[x, z, c] >= 0:
            bare[x, z, c] = open_area(x, z, c, part, dx, dy, dz)


@numba.njit(cache=True)
def open_area(x, z, y, part, dx, dy, dz):
    """Area of a cell's faces that lie open to the air [m2]."""
    area = 0.0
    area += dy[y] * dz[z] * ((part[x - 1, z, y] == VOID) + (part[x + 1, z, y] == VOID))
    area += dx[x] * dz[z] * ((part[x, z, y - 1] == VOID) + (part[x, z, y + 1] == VOID))
    area += dx[x] * dy[y] * ((part[x, z - 1, y] == VOID) + (part[x, z + 1, y] == VOID))
    return area


@numba.njit(cache=True)
def gap_cell(x, part, gap_row, gap_columns):
    """Column under the sheet's edge that the metal runs into next; -1 where there is none."""
    if gap_row == 0:
        return -1
    for j in range(gap_columns[0], gap_columns[1]):
        if part[x, gap_row, j] == ENCLOSED and part[x, gap_row, j - 1] == DEPOSIT:
            return j
    return -1


@numba.njit(cache=True)
def fill(x, waiting, shape, h, t_was, enthalpy, filler, cells, couplings, places, sizes, columns,
         fine, rim, filled):  # fmt: skip
    """Turn the metal that waits in a slice into cells, lowest first; returns their heat [J]."""
    part, top = cells[0], cells[4]
    dx, dy, dz = sizes[0], sizes[1], sizes[2]
    heat = 0.0
    while True:
        j = gap_cell(x, part, rim[0], rim[1:])
        under = j >= 0
        other = j
        if not under:
            j, other = lowest(x, shape, top, places[1], dy, dz, places[5], fine, part.shape[1] - 2)
        if j < 0:
            return heat
        k = rim[0] if under else top[x, j] + 1
        k_other = rim[0] if under else top[x, other] + 1
        area = dy[j] * dz[k] + (dy[other] * dz[k_other] if other != j else 0.0)
        if waiting[x] < area:
            return heat
        waiting[x] -= area
        if under:
            filled[x] += area
        else:
            top[x, j], top[x, other] = k, k_other
        join(x, k, j, h, enthalpy, filler, cells, couplings, sizes, columns, rim[0])
        t_was[x, k, j] = 0.0
        if other != j:
            join(x, k_other, other, h, enthalpy, filler, cells, couplings, sizes, columns, rim[0])
            t_was[x, k_other, other] = 0.0
        heat += area * dx[x] * enthalpy


@numba.njit(cache=True)
def settle(begin, end, waiting, enthalpy, h, cells, sizes, places, fine, at, numbers):
    """Share out what is less than a cell in slices that get no more; returns its heat [J]."""
    part, top, yc = cells[0], cells[4], places[1]
    dx, dy, dz = sizes[0], sizes[1], sizes[2]
    total = 0.0
    for x in range(begin, end):
        if waiting[x] <= 0.0:
            continue
        heat = waiting[x] * dx[x] * enthalpy
        waiting[x] = 0.0
        own, volume = True, 0.0
        for attempt in range(2):  # on the slice's deposit; where there is none, where it landed
            own = attempt == 0
            for j in range(fine[0], fine[1]):
                if takes(x, j, own, part, top, yc, at, numbers):
                    volume += dx[x] * dz[top[x, j]] * dy[j]
            if volume > 0.0:
                break
        if volume > 0.0:
            for j in range(fine[0], fine[1]):
                if takes(x, j, own, part, top, yc, at, numbers):
                    h[x, top[x, j], j] += heat / volume
            total += heat
    return total


@numba.njit(cache=True)
def takes(x, j, own, part, top, yc, at, numbers):
    """Whether a column takes part in sharing out a rest."""
    if own:
        return part[x, top[x, j], j] == DEPOSIT
    return abs(yc[j] - at[1]) < numbers[SIGMA] and part[x, top[x, j], j] >= 0


@numba.njit(cache=True)
def lay(
    dt, heat, at, numbers, waiting, landing, h, t, t_was, cells, couplings, places, sizes,
    columns, records, fine, rim, filler,
):  # fmt: skip
    """Metal of one step: share it over the slices, find each arch, fill cells. Returns heat [J]."""
    part, ground = cells[0], cells[3]
    xc, yc, zc, yf, zf = places[0], places[1], places[2], places[4], places[5]
    shapes, laid, filled = records[2], records[3], records[4]
    nodes, wets = np.empty((MOST_NODES, 4)), np.zeros(part.shape[0], np.int64)
    nx, splat = part.shape[0] - 2, numbers[SPLAT]
    total, warmth = 0.0, 0.0
    if heat[1] <= 0.0:
        return 0.0
    hot = 0.0
    for x in range(1, nx + 1):
        d = (xc[x] - at[0]) / splat
        landing[x] = math.exp(-0.5 * d * d) * sizes[0][x] if abs(d) < REACHING else 0.0
        total += landing[x]
        wets[x] = 0
        if landing[x] > 0.0:
            n = outline(x, part, t, ground, yc, zc, yf, zf, fine, nodes)
            if hot_there(nodes, n, at[1], at[2], numbers[WET_TEMPERATURE]):
                wets[x] = 1
                hot += landing[x]
    # metal stays in the pool: it goes where the joint is hot; only where none is it lies cold
    pooled = hot > LEAST_POOL * total
    for x in range(1, nx + 1):
        if landing[x] == 0.0:
            if waiting[x] > 0.0:
                warmth += settle(
                    x, x + 1, waiting, heat[2], h, cells, sizes, places, fine, at, numbers
                )
            continue
        if pooled and wets[x] == 0:
            continue
        more = heat[1] * dt * landing[x] / (hot if pooled else total) / sizes[0][x]
        waiting[x] += more
        laid[x] += more
        n = outline(x, part, t, ground, yc, zc, yf, zf, fine, nodes)
        ends = wetted(nodes, n, at[1], at[2], numbers[WET_TEMPERATURE], shapes[x])
        arch(
            nodes, n, ends, laid[x] - filled[x], ground, yf, zf, fine,
            numbers[RESTS_AT], numbers[FLATTEST], sizes[1][fine[0]], shapes[x],
        )  # fmt: skip
        warmth += fill(
            x, waiting, shapes[x], h, t_was, heat[2], filler, cells, couplings, places, sizes,
            columns, fine, rim, filled,
        )  # fmt: skip
    return warmth
