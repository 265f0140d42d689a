"""Compiled kernels: the electric potential between the caps and the heat it releases.

Conjugate gradients with the columns along z as preconditioner. They stop on the energy norm: the
unit-voltage power, and with it the resistance, is then accurate to the square of the tolerance. A
stop on the residual would be ruled by the stiff copper and let the sheets drift.
Numerical, our own.
"""

import numba

TOLERANCE = 1e-3
MAX_ITERATIONS = 400


@numba.njit(cache=True)
def apply(diagonal, e_z, e_r, x, out):
    """Conductance matrix times ``x``, in place; returns x.(A x)."""
    nz, nr = x.shape
    total = 0.0
    for j in range(nz):
        for i in range(nr):
            s = diagonal[j, i] * x[j, i]
            if j > 0:
                s -= e_z[j, i] * x[j - 1, i]
            if j < nz - 1:
                s -= e_z[j + 1, i] * x[j + 1, i]
            if i > 0:
                s -= e_r[j, i] * x[j, i - 1]
            if i < nr - 1:
                s -= e_r[j, i + 1] * x[j, i + 1]
            out[j, i] = s
            total += s * x[j, i]
    return total


@numba.njit(cache=True)
def precondition(e_z, lower, pivot, residual, z):
    """Solve the columns along z exactly, in place; returns residual.z."""
    nz, nr = residual.shape
    for i in range(nr):
        z[0, i] = residual[0, i]
    for j in range(1, nz):
        for i in range(nr):
            z[j, i] = residual[j, i] + lower[j, i] * z[j - 1, i]
    for i in range(nr):
        z[nz - 1, i] *= pivot[nz - 1, i]
    for j in range(nz - 2, -1, -1):
        for i in range(nr):
            z[j, i] = (z[j, i] + e_z[j + 1, i] * z[j + 1, i]) * pivot[j, i]
    total = 0.0
    for j in range(nz):
        for i in range(nr):
            total += residual[j, i] * z[j, i]
    return total


@numba.njit(cache=True)
def factor(e_z, e_r, e_top, e_bottom, diagonal, lower, pivot):
    """Diagonal of the conductance matrix and the factors of its columns, in place."""
    nz, nr = diagonal.shape
    for j in range(nz):
        for i in range(nr):
            s = e_z[j, i] if j > 0 else e_top[i]
            s += e_z[j + 1, i] if j < nz - 1 else e_bottom[i]
            s += e_r[j, i] + e_r[j, i + 1]
            diagonal[j, i] = s if s > 0.0 else 1.0  # air: decoupled
    for i in range(nr):
        pivot[0, i] = 1.0 / diagonal[0, i]
        lower[0, i] = 0.0
    for j in range(1, nz):
        for i in range(nr):
            lower[j, i] = e_z[j, i] * pivot[j - 1, i]
            pivot[j, i] = 1.0 / (diagonal[j, i] - e_z[j, i] * lower[j, i])


@numba.njit(cache=True)
def solve_potential(e_z, e_r, e_top, e_bottom, phi, tolerance, work):
    """Potential with 1 V on the top plane and 0 V on the bottom plane, in place.

    ``work`` has shape (6, nz, nr). Returns the number of iterations.
    """
    nz, nr = phi.shape
    diagonal, lower, pivot = work[0], work[1], work[2]
    residual, z, p = work[3], work[4], work[5]
    factor(e_z, e_r, e_top, e_bottom, diagonal, lower, pivot)
    apply(diagonal, e_z, e_r, phi, residual)
    power = 0.0
    for j in range(nz):
        for i in range(nr):
            source = e_top[i] if j == 0 else 0.0
            residual[j, i] = source - residual[j, i]
    for i in range(nr):
        power += e_top[i] * (1.0 - phi[0, i])
    floor = tolerance * tolerance * max(power, 1.0)
    old = 1.0
    image = z  # z is spent once p is updated
    for iteration in range(MAX_ITERATIONS):
        rz = precondition(e_z, lower, pivot, residual, z)
        if rz <= floor:
            return iteration
        beta = rz / old if iteration > 0 else 0.0
        for j in range(nz):
            for i in range(nr):
                p[j, i] = z[j, i] + beta * p[j, i] if iteration > 0 else z[j, i]
        old = rz
        alpha = rz / apply(diagonal, e_z, e_r, p, image)
        for j in range(nz):
            for i in range(nr):
                phi[j, i] += alpha * p[j, i]
                residual[j, i] -= alpha * image[j, i]
    return MAX_ITERATIONS


@numba.njit(cache=True)
def share_above(g_a, g_b, h):
    """Share [-] of a contact's heat that reaches the cell above it.

    Half of the heat arises on either face. From there it goes to the near cell, or across the
    contact to the far one, by the conductances [W/m2/K] ``g_a``, ``g_b`` of the half cells and
    ``h`` of the contact. Putting it into the cells in halves would be an error of first order.
    """
    near_a = g_a / (g_a + h * g_b / (h + g_b))
    near_b = g_b / (g_b + h * g_a / (h + g_a))
    return 0.5 * (near_a + 1.0 - near_b)


@numba.njit(cache=True)
def joule_across(e_z, ends, phi, k, rho, dz, contact_of, rc, hc, heat):
    """Heat of every cell from the faces along z and the end planes at 1 V [W], in place.

    What a face releases goes to its two cells by their half resistances. Returns the sum.
    """
    nz, nr = phi.shape
    total = 0.0
    for j in range(nz):
        for i in range(nr):
            heat[j, i] = 0.0
    for i in range(nr):
        w = ends[2, i] * (1.0 - phi[0, i]) ** 2
        heat[0, i] += w
        v = ends[3, i] * phi[nz - 1, i] ** 2
        heat[nz - 1, i] += v
        total += w + v
    for j in range(1, nz):
        q = contact_of[j]
        for i in range(nr):
            w = e_z[j, i] * (phi[j, i] - phi[j - 1, i]) ** 2
            a = 0.5 * dz[j - 1] * rho[j - 1, i]
            b = 0.5 * dz[j] * rho[j, i]
            total += w
            if q < 0:
                heat[j - 1, i] += w * a / (a + b)
                heat[j, i] += w * b / (a + b)
                continue
            c = rc[q, i]
            above = share_above(2.0 * k[j - 1, i] / dz[j - 1], 2.0 * k[j, i] / dz[j], hc[q, i])
            heat[j - 1, i] += w * (a + above * c) / (a + b + c)
            heat[j, i] += w * (b + (1.0 - above) * c) / (a + b + c)
    return total


@numba.njit(cache=True)
def joule_along(e_r, phi, rho, dr, heat):
    """Heat of every cell from the faces along r at 1 V [W], added in place; returns the sum."""
    nz, nr = phi.shape
    total = 0.0
    for j in range(nz):
        for i in range(1, nr):
            w = e_r[j, i] * (phi[j, i] - phi[j, i - 1]) ** 2
            a = dr[i - 1] * rho[j, i - 1]
            b = dr[i] * rho[j, i]
            heat[j, i - 1] += w * a / (a + b)
            heat[j, i] += w * b / (a + b)
            total += w
    return total
