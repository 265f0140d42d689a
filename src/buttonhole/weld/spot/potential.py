"""Compiled kernel: the electric potential between the caps.

Few rows are eliminated directly, ring by ring from the axis; the work for a cell grows with the
square of the rows. Many rows are left to iterations, whose work for a cell hardly grows.

These are conjugate gradients, preconditioned by one cycle over coarser and coarser sections:
neighbouring columns are joined in threes, and on each level the columns along z are solved exactly,
contacts included. A column alone knows nothing of its neighbours; sheets beyond a contact, which
only their neighbours feed, would take as many rounds as there are cells across.

They stop on the energy norm: the unit-voltage power, and with it the resistance, is then accurate
to the square of the tolerance. A stop on the residual would be ruled by the stiff copper and let
the sheets drift.

``reach`` is how many rings are worked in each row; conductances beyond are zero. Numerical, our
own.
"""

import numba
import numpy as np

# Sums may be taken in any order, for speed; what is not finite stays so.
FAST = {"reassoc", "contract"}
DIRECT_ROWS = 30  # up to which elimination is the quicker way, by timing both
TOGETHER = 4  # cells eliminated at a time; ``eliminate`` is written for four
MAX_ITERATIONS = 200
LEVELS = 4
JOINED = 3  # columns that are one on the next level
DAMPING = 0.7  # - of what the columns alone would correct
# fields of a level, shape (FIELDS, nz, nr)
DIAGONAL, LOWER, PIVOT, RESIDUAL, FOUND, SPARE, DIRECTION = range(7)
FIELDS = 7


@numba.njit(cache=True, fastmath=FAST)
def apply(diagonal, e_z, e_r, reach, x, out):
    """Conductance matrix times ``x``, in place; returns x.(A x)."""
    nz = x.shape[0]
    total = 0.0
    for j in range(nz):
        nr = reach[j]
        above, row, below = x[max(j - 1, 0)], x[j], x[min(j + 1, nz - 1)]
        up, down, aside, d, to = e_z[j], e_z[j + 1], e_r[j], diagonal[j], out[j]
        for i in range(nr):
            to[i] = d[i] * row[i]
        if j > 0:
            for i in range(nr):
                to[i] -= up[i] * above[i]
        if j < nz - 1:
            for i in range(nr):
                to[i] -= down[i] * below[i]
        for i in range(1, nr):
            to[i] -= aside[i] * row[i - 1]
        for i in range(nr - 1):
            to[i] -= aside[i + 1] * row[i + 1]
        for i in range(nr):
            total += to[i] * row[i]
    return total


@numba.njit(cache=True, fastmath=FAST)
def solve_columns(e_z, fields, reach, share, residual, z):
    """Solve the columns along z exactly for a ``share`` [-] of the residual, in place."""
    nz = residual.shape[0]
    lower, pivot = fields[LOWER], fields[PIVOT]
    for i in range(reach[0]):
        z[0, i] = share * residual[0, i]
    for j in range(1, nz):
        before, here, low, r = z[j - 1], z[j], lower[j], residual[j]
        for i in range(reach[j]):
            here[i] = share * r[i] + low[i] * before[i]
    for i in range(reach[nz - 1]):
        z[nz - 1, i] *= pivot[nz - 1, i]
    for j in range(nz - 2, -1, -1):
        after, here, down, d = z[j + 1], z[j], e_z[j + 1], pivot[j]
        for i in range(reach[j]):
            here[i] = (here[i] + down[i] * after[i]) * d[i]


@numba.njit(cache=True, fastmath=FAST)
def factor(e_z, e_r, e_top, e_bottom, reach, fields):
    """Diagonal of the conductance matrix and the factors of its columns, in place."""
    nz = fields.shape[1]
    for j in range(nz):
        up, down, aside, diagonal = e_z[j], e_z[j + 1], e_r[j], fields[DIAGONAL, j]
        if j == 0:
            up = e_top
        if j == nz - 1:
            down = e_bottom
        for i in range(reach[j]):
            s = up[i] + down[i] + aside[i] + aside[i + 1]
            diagonal[i] = s if s > 0.0 else 1.0  # air: decoupled
    for i in range(reach[0]):
        fields[PIVOT, 0, i] = 1.0 / fields[DIAGONAL, 0, i]
        fields[LOWER, 0, i] = 0.0
    for j in range(1, nz):
        up, diagonal, before = e_z[j], fields[DIAGONAL, j], fields[PIVOT, j - 1]
        low, here = fields[LOWER, j], fields[PIVOT, j]
        for i in range(reach[j]):
            low[i] = up[i] * before[i]
            here[i] = 1.0 / (diagonal[i] - up[i] * low[i])


@numba.njit(cache=True)
def join_columns(e_z, e_r, e_top, e_bottom, nz, nr):
    """Conductances of the section in which ``JOINED`` neighbouring columns of ``nr`` are one."""
    wide = (nr + JOINED - 1) // JOINED
    z, r = np.zeros((nz + 1, wide)), np.zeros((nz, wide + 1))
    top, bottom = np.zeros(wide), np.zeros(wide)
    for i in range(nr):
        top[i // JOINED] += e_top[i]
        bottom[i // JOINED] += e_bottom[i]
    for j in range(nz):
        for i in range(wide):
            for n in range(i * JOINED, min((i + 1) * JOINED, nr)):
                z[j, i] += e_z[j, n]
            r[j, i] = e_r[j, i * JOINED]
    return z, r, top, bottom


@numba.njit(cache=True)
def coarsen(e_z, e_r, e_top, e_bottom, reach):
    """Next coarser level, factored: conductances along z and r and of its ends, reach, fields."""
    nz, nr = reach.shape[0], e_top.shape[0]
    z, r, top, bottom = join_columns(e_z, e_r, e_top, e_bottom, nz, nr)
    joined = (reach + JOINED - 1) // JOINED
    fields = np.zeros((FIELDS, nz, top.shape[0]))
    factor(z, r, top, bottom, joined, fields)
    return z, r, top, bottom, joined, fields


@numba.njit(cache=True, fastmath=FAST)
def go_down(e_r, fields, reach, below):
    """Sum what the columns left over into the joined columns ``below``, in place."""
    kept = 1.0 - DAMPING
    for j in range(fields.shape[1]):
        nr = reach[j]
        aside, r, z = e_r[j], fields[RESIDUAL, j], fields[FOUND, j]
        left, to = fields[SPARE, j], below[RESIDUAL, j]
        for i in range(nr):
            left[i] = kept * r[i]
        for i in range(1, nr):
            left[i] += aside[i] * z[i - 1]
        for i in range(nr - 1):
            left[i] += aside[i + 1] * z[i + 1]
        for i in range((nr + JOINED - 1) // JOINED):
            s = 0.0
            for n in range(i * JOINED, min((i + 1) * JOINED, nr)):
                s += left[n]
            to[i] = s


@numba.njit(cache=True, fastmath=FAST)
def come_up(e_z, e_r, fields, reach, below):
    """Add what the joined columns ``below`` found, and let the columns correct it, in place."""
    nz = fields.shape[1]
    residual, z, spare = fields[RESIDUAL], fields[FOUND], fields[SPARE]
    for j in range(nz):
        here, found, nr = z[j], below[FOUND, j], reach[j]
        for i in range((nr + JOINED - 1) // JOINED):
            for n in range(i * JOINED, min((i + 1) * JOINED, nr)):
                here[n] += found[i]
    apply(fields[DIAGONAL], e_z, e_r, reach, z, spare)
    for j in range(nz):
        left, r = spare[j], residual[j]
        for i in range(reach[j]):
            left[i] = r[i] - left[i]
    solve_columns(e_z, fields, reach, DAMPING, spare, spare)
    for j in range(nz):
        here, more = z[j], spare[j]
        for i in range(reach[j]):
            here[i] += more[i]


@numba.njit(cache=True, fastmath=FAST)
def precondition(levels):
    """One symmetric cycle over the levels; returns residual.found of the finest."""
    last = len(levels) - 1
    for n in range(last):
        e_z, e_r, reach, fields = levels[n]
        solve_columns(e_z, fields, reach, DAMPING, fields[RESIDUAL], fields[FOUND])
        go_down(e_r, fields, reach, levels[n + 1][3])
    e_z, e_r, reach, fields = levels[last]
    solve_columns(e_z, fields, reach, 1.0, fields[RESIDUAL], fields[FOUND])
    for n in range(last - 1, -1, -1):
        e_z, e_r, reach, fields = levels[n]
        come_up(e_z, e_r, fields, reach, levels[n + 1][3])
    _, _, reach, fields = levels[0]
    total = 0.0
    for j in range(fields.shape[1]):
        r, z = fields[RESIDUAL, j], fields[FOUND, j]
        for i in range(reach[j]):
            total += r[i] * z[i]
    return total


@numba.njit(cache=True)
def number_cells(reach, nr, number, ends):
    """Count the worked cells ring by ring into ``number``, -1 elsewhere; return how many there are.

    ``ends`` takes for each cell the number after the last one that it is joined to, once those
    before it are eliminated.
    """
    nz, count = reach.shape[0], 0
    for i in range(nr):
        for j in range(nz):
            number[j, i] = -1
            if i < reach[j]:
                number[j, i] = count
                count += 1
    after = 0
    for i in range(nr):
        for j in range(nz):
            p = number[j, i]
            if p < 0:
                continue
            if j < nz - 1 and number[j + 1, i] >= 0:
                after = max(after, p + 2)
            if i < nr - 1 and number[j, i + 1] >= 0:
                after = max(after, number[j, i + 1] + 1)
            after = max(after, p + 1)
            ends[p] = after
    return count


@numba.njit(cache=True, fastmath=FAST)
def fill_band(e_z, e_r, e_top, e_bottom, number, band, x):
    """Upper band of the conductance matrix of the numbered cells, and its right-hand side.

    ``band`` has shape (rows, nz + TOGETHER): what joins a cell to itself and to the nz cells after
    it, then zeros. The rows go on to the next multiple of ``TOGETHER``.
    """
    nz, nr = number.shape
    band[:, :] = 0.0
    for i in range(nr):
        for j in range(nz):
            p = number[j, i]
            if p < 0:
                continue
            row = band[p]
            up = e_z[j, i] if j > 0 else e_top[i]
            down = e_z[j + 1, i] if j < nz - 1 else e_bottom[i]
            s = up + down + e_r[j, i] + e_r[j, i + 1]
            row[0] = s if s > 0.0 else 1.0  # air: decoupled
            if j < nz - 1 and number[j + 1, i] >= 0:
                row[1] = -down
            if i < nr - 1 and number[j, i + 1] >= 0:
                row[number[j, i + 1] - p] = -e_r[j, i + 1]
            x[p] = e_top[i] if j == 0 else 0.0


@numba.njit(cache=True, fastmath=FAST)
def eliminate_among(band, x, p):
    """Eliminate cells ``p`` to ``p + TOGETHER - 1`` from each other; their pivots inverted."""
    for q in range(p, p + TOGETHER):
        row = band[q]
        inverse = 1.0 / row[0]
        for k in range(1, p + TOGETHER - q):
            share, below, source = row[k] * inverse, band[q + k], row[k:]
            for m in range(source.shape[0]):
                below[m] -= share * source[m]
            x[q + k] -= share * x[q]
        row[0] = inverse


@numba.njit(cache=True, fastmath=FAST)
def eliminate(e_z, e_r, e_top, e_bottom, reach, phi):
    """Potential with 1 V on the top plane and 0 V on the bottom plane by elimination, in place.

    Cells are eliminated by fours: each row after them is then fetched once, not four times.
    """
    nz, nr = phi.shape
    number, ends = np.empty((nz, nr), np.int64), np.empty(nz * nr + TOGETHER, np.int64)
    count = number_cells(reach, nr, number, ends)
    rows = -(-count // TOGETHER) * TOGETHER
    band, x = np.empty((rows, nz + TOGETHER)), np.empty(rows)
    fill_band(e_z, e_r, e_top, e_bottom, number, band, x)
    for p in range(count, rows):
        band[p, 0], x[p], ends[p] = 1.0, 0.0, p + 1
    for p in range(0, rows, TOGETHER):
        eliminate_among(band, x, p)
        a, b, c, d = band[p], band[p + 1], band[p + 2], band[p + 3]
        wide = min(ends[min(p + TOGETHER, count) - 1], count) - p  # of the first of the four
        for k in range(TOGETHER, wide):
            u, v, w, y = a[k] * a[0], b[k - 1] * b[0], c[k - 2] * c[0], d[k - 3] * d[0]
            if u == 0.0 and v == 0.0 and w == 0.0 and y == 0.0:  # air
                continue
            # from slices, so that the compiler sees that no index is negative
            below = band[p + k]
            aa, bb, cc, dd = a[k:wide], b[k - 1 : wide], c[k - 2 : wide], d[k - 3 : wide]
            for m in range(aa.shape[0]):
                below[m] -= u * aa[m] + v * bb[m] + w * cc[m] + y * dd[m]
            x[p + k] -= u * x[p] + v * x[p + 1] + w * x[p + 2] + y * x[p + 3]
    for p in range(rows - 1, -1, -1):
        row, after, s = band[p], x[p : ends[p]], x[p]
        for k in range(1, after.shape[0]):
            s -= row[k] * after[k]
        x[p] = s * row[0]
    for i in range(nr):
        for j in range(nz):
            if number[j, i] >= 0:
                phi[j, i] = x[number[j, i]]


@numba.njit(cache=True, fastmath=FAST)
def iterate(e_z, e_r, e_top, e_bottom, reach, phi, tolerance, work):
    """Potential as ``eliminate`` finds it, to a ``tolerance`` [-], from the one there is, in place.

    ``work`` has shape (FIELDS, nz, nr). Returns the number of iterations.
    """
    nz = phi.shape[0]
    factor(e_z, e_r, e_top, e_bottom, reach, work)
    z1, r1, top1, bottom1, reach1, fields1 = coarsen(e_z, e_r, e_top, e_bottom, reach)
    z2, r2, top2, bottom2, reach2, fields2 = coarsen(z1, r1, top1, bottom1, reach1)
    z3, r3, _, _, reach3, fields3 = coarsen(z2, r2, top2, bottom2, reach2)
    levels = (
        (e_z, e_r, reach, work), (z1, r1, reach1, fields1), (z2, r2, reach2, fields2),
        (z3, r3, reach3, fields3),
    )  # fmt: skip
    residual, z, p, image = work[RESIDUAL], work[FOUND], work[DIRECTION], work[SPARE]
    apply(work[DIAGONAL], e_z, e_r, reach, phi, residual)
    power = 0.0
    for j in range(nz):
        for i in range(reach[j]):
            source = e_top[i] if j == 0 else 0.0
            residual[j, i] = source - residual[j, i]
            p[j, i] = 0.0
    for i in range(reach[0]):
        power += e_top[i] * (1.0 - phi[0, i])
    floor = tolerance * tolerance * max(power, 1.0)
    old = 1.0
    for iteration in range(MAX_ITERATIONS):
        rz = precondition(levels)
        if rz <= floor:
            return iteration
        beta = rz / old if iteration > 0 else 0.0
        for j in range(nz):
            for i in range(reach[j]):
                p[j, i] = z[j, i] + beta * p[j, i]
        old = rz
        alpha = rz / apply(work[DIAGONAL], e_z, e_r, reach, p, image)
        for j in range(nz):
            for i in range(reach[j]):
                phi[j, i] += alpha * p[j, i]
                residual[j, i] -= alpha * image[j, i]
    return MAX_ITERATIONS


@numba.njit(cache=True)
def solve_potential(e_z, e_r, e_top, e_bottom, reach, phi, tolerance, work):
    """Potential with 1 V on the top plane and 0 V on the bottom plane, in place.

    Beyond its reach a row has the potential of its last worked cell. ``work`` has shape
    (FIELDS, nz, nr). Returns the number of iterations, 0 where none are needed.
    """
    nz, nr = phi.shape
    found = 0
    if nz <= DIRECT_ROWS:
        eliminate(e_z, e_r, e_top, e_bottom, reach, phi)
    else:
        found = iterate(e_z, e_r, e_top, e_bottom, reach, phi, tolerance, work)
    for j in range(nz):
        if reach[j] > 0:
            for i in range(reach[j], nr):
                phi[j, i] = phi[j, reach[j] - 1]
    return found
