"""Compiled kernel: the electric potential between the caps.

Conjugate gradients, preconditioned by one cycle over coarser and coarser sections: neighbouring
columns are joined in threes, and on each level the columns along z are solved exactly, contacts
included. A column alone knows nothing of its neighbours; sheets beyond a contact, which only their
neighbours feed, would take as many rounds as there are cells across.

They stop on the energy norm: the unit-voltage power, and with it the resistance, is then accurate
to the square of the tolerance. A stop on the residual would be ruled by the stiff copper and let
the sheets drift. Numerical, our own.
"""

import numba
import numpy as np

# Sums may be taken in any order, for speed; what is not finite stays so.
FAST = {"reassoc", "contract"}
MAX_ITERATIONS = 200
LEVELS = 4
JOINED = 3  # columns that are one on the next level
DAMPING = 0.7  # - of what the columns alone would correct
# fields of a level, shape (FIELDS, nz, nr)
DIAGONAL, LOWER, PIVOT, RESIDUAL, FOUND, SPARE, DIRECTION = range(7)
FIELDS = 7


@numba.njit(cache=True, fastmath=FAST)
def apply(diagonal, e_z, e_r, x, out):
    """Conductance matrix times ``x``, in place; returns x.(A x)."""
    nz, nr = x.shape
    total = 0.0
    for j in range(nz):
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
def solve_columns(e_z, fields, share, residual, z):
    """Solve the columns along z exactly for a ``share`` [-] of the residual, in place."""
    nz, nr = residual.shape
    lower, pivot = fields[LOWER], fields[PIVOT]
    for i in range(nr):
        z[0, i] = share * residual[0, i]
    for j in range(1, nz):
        before, here, low, r = z[j - 1], z[j], lower[j], residual[j]
        for i in range(nr):
            here[i] = share * r[i] + low[i] * before[i]
    for i in range(nr):
        z[nz - 1, i] *= pivot[nz - 1, i]
    for j in range(nz - 2, -1, -1):
        after, here, down, d = z[j + 1], z[j], e_z[j + 1], pivot[j]
        for i in range(nr):
            here[i] = (here[i] + down[i] * after[i]) * d[i]


@numba.njit(cache=True, fastmath=FAST)
def factor(e_z, e_r, e_top, e_bottom, fields):
    """Diagonal of the conductance matrix and the factors of its columns, in place."""
    _, nz, nr = fields.shape
    for j in range(nz):
        up, down, aside, diagonal = e_z[j], e_z[j + 1], e_r[j], fields[DIAGONAL, j]
        if j == 0:
            up = e_top
        if j == nz - 1:
            down = e_bottom
        for i in range(nr):
            s = up[i] + down[i] + aside[i] + aside[i + 1]
            diagonal[i] = s if s > 0.0 else 1.0  # air: decoupled
    for i in range(nr):
        fields[PIVOT, 0, i] = 1.0 / fields[DIAGONAL, 0, i]
        fields[LOWER, 0, i] = 0.0
    for j in range(1, nz):
        up, diagonal, before = e_z[j], fields[DIAGONAL, j], fields[PIVOT, j - 1]
        low, here = fields[LOWER, j], fields[PIVOT, j]
        for i in range(nr):
            low[i] = up[i] * before[i]
            here[i] = 1.0 / (diagonal[i] - up[i] * low[i])


@numba.njit(cache=True)
def join_columns(e_z, e_r, e_top, e_bottom, nr):
    """Conductances of the section in which ``JOINED`` neighbouring columns of ``nr`` are one."""
    nz, wide = e_r.shape[0], (nr + JOINED - 1) // JOINED
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
def coarsen(e_z, e_r, e_top, e_bottom):
    """Next coarser level, factored: conductances along z and r, those of its ends, its fields."""
    nz, nr = e_r.shape[0], e_top.shape[0]
    z, r, top, bottom = join_columns(e_z, e_r, e_top, e_bottom, nr)
    fields = np.zeros((FIELDS, nz, top.shape[0]))
    factor(z, r, top, bottom, fields)
    return z, r, top, bottom, fields


@numba.njit(cache=True, fastmath=FAST)
def go_down(e_r, fields, below):
    """Sum what the columns left over into the joined columns ``below``, in place."""
    _, nz, nr = fields.shape
    kept = 1.0 - DAMPING
    for j in range(nz):
        aside, r, z = e_r[j], fields[RESIDUAL, j], fields[FOUND, j]
        left, to = fields[SPARE, j], below[RESIDUAL, j]
        for i in range(nr):
            left[i] = kept * r[i]
        for i in range(1, nr):
            left[i] += aside[i] * z[i - 1]
        for i in range(nr - 1):
            left[i] += aside[i + 1] * z[i + 1]
        for i in range(to.shape[0]):
            s = 0.0
            for n in range(i * JOINED, min((i + 1) * JOINED, nr)):
                s += left[n]
            to[i] = s


@numba.njit(cache=True, fastmath=FAST)
def come_up(e_z, e_r, fields, below):
    """Add what the joined columns ``below`` found, and let the columns correct it, in place."""
    _, nz, nr = fields.shape
    residual, z, spare = fields[RESIDUAL], fields[FOUND], fields[SPARE]
    for j in range(nz):
        here, found = z[j], below[FOUND, j]
        for i in range(found.shape[0]):
            for n in range(i * JOINED, min((i + 1) * JOINED, nr)):
                here[n] += found[i]
    apply(fields[DIAGONAL], e_z, e_r, z, spare)
    for j in range(nz):
        left, r = spare[j], residual[j]
        for i in range(nr):
            left[i] = r[i] - left[i]
    solve_columns(e_z, fields, DAMPING, spare, spare)
    for j in range(nz):
        here, more = z[j], spare[j]
        for i in range(nr):
            here[i] += more[i]


@numba.njit(cache=True, fastmath=FAST)
def precondition(levels):
    """One symmetric cycle over the levels; returns residual.found of the finest."""
    last = len(levels) - 1
    for n in range(last):
        e_z, e_r, fields = levels[n]
        solve_columns(e_z, fields, DAMPING, fields[RESIDUAL], fields[FOUND])
        go_down(e_r, fields, levels[n + 1][2])
    e_z, e_r, fields = levels[last]
    solve_columns(e_z, fields, 1.0, fields[RESIDUAL], fields[FOUND])
    for n in range(last - 1, -1, -1):
        e_z, e_r, fields = levels[n]
        come_up(e_z, e_r, fields, levels[n + 1][2])
    fields = levels[0][2]
    total = 0.0
    for j in range(fields.shape[1]):
        r, z = fields[RESIDUAL, j], fields[FOUND, j]
        for i in range(fields.shape[2]):
            total += r[i] * z[i]
    return total


@numba.njit(cache=True, fastmath=FAST)
def solve_potential(e_z, e_r, e_top, e_bottom, phi, tolerance, work):
    """Potential with 1 V on the top plane and 0 V on the bottom plane, in place.

    ``work`` has shape (FIELDS, nz, nr). Returns the number of iterations.
    """
    nz, nr = phi.shape
    factor(e_z, e_r, e_top, e_bottom, work)
    z1, r1, top1, bottom1, fields1 = coarsen(e_z, e_r, e_top, e_bottom)
    z2, r2, top2, bottom2, fields2 = coarsen(z1, r1, top1, bottom1)
    z3, r3, _, _, fields3 = coarsen(z2, r2, top2, bottom2)
    levels = ((e_z, e_r, work), (z1, r1, fields1), (z2, r2, fields2), (z3, r3, fields3))
    residual, z, p, image = work[RESIDUAL], work[FOUND], work[DIRECTION], work[SPARE]
    apply(work[DIAGONAL], e_z, e_r, phi, residual)
    power = 0.0
    for j in range(nz):
        for i in range(nr):
            source = e_top[i] if j == 0 else 0.0
            residual[j, i] = source - residual[j, i]
            p[j, i] = 0.0
    for i in range(nr):
        power += e_top[i] * (1.0 - phi[0, i])
    floor = tolerance * tolerance * max(power, 1.0)
    old = 1.0
    for iteration in range(MAX_ITERATIONS):
        rz = precondition(levels)
        if rz <= floor:
            return iteration
        beta = rz / old if iteration > 0 else 0.0
        for j in range(nz):
            for i in range(nr):
                p[j, i] = z[j, i] + beta * p[j, i]
        old = rz
        alpha = rz / apply(work[DIAGONAL], e_z, e_r, p, image)
        for j in range(nz):
            for i in range(nr):
                phi[j, i] += alpha * p[j, i]
                residual[j, i] -= alpha * image[j, i]
    return MAX_ITERATIONS
