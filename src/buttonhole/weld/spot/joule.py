"""Compiled kernels: the heat that a current releases in the cells and contacts it runs through.

Derived, no source: Ohm and Joule on the faces between cells.
"""

import numba

# Sums may be taken in any order, for speed; what is not finite stays so.
FAST = {"reassoc", "contract"}


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


@numba.njit(cache=True, fastmath=FAST)
def joule_across(e_z, ends, phi, reach, k, rho, dz, contact_of, rc, hc, heat):
    """Heat of every cell from the faces along z and the end planes at 1 V [W], in place.

    What a face releases goes to its two cells by their half resistances. Returns the sum.
    """
    nz = phi.shape[0]
    total = 0.0
    heat[:, :] = 0.0
    for i in range(phi.shape[1]):
        w = ends[2, i] * (1.0 - phi[0, i]) ** 2
        heat[0, i] += w
        v = ends[3, i] * phi[nz - 1, i] ** 2
        heat[nz - 1, i] += v
        total += w + v
    for j in range(1, nz):
        q, thick_a, thick_b = contact_of[j], 0.5 * dz[j - 1], 0.5 * dz[j]
        heat_a, heat_b, phi_a, phi_b = heat[j - 1], heat[j], phi[j - 1], phi[j]
        rho_a, rho_b, e = rho[j - 1], rho[j], e_z[j]
        nr = min(reach[j - 1], reach[j])
        if q < 0:
            for i in range(nr):
                w = e[i] * (phi_b[i] - phi_a[i]) ** 2
                a, b = thick_a * rho_a[i], thick_b * rho_b[i]
                total += w
                upper = w * a / (a + b)
                heat_a[i] += upper
                heat_b[i] += w - upper
            continue
        for i in range(nr):
            w = e[i] * (phi_b[i] - phi_a[i]) ** 2
            a, b, c = thick_a * rho_a[i], thick_b * rho_b[i], rc[q, i]
            above = share_above(k[j - 1, i] / thick_a, k[j, i] / thick_b, hc[q, i])
            total += w
            upper = w * (a + above * c) / (a + b + c)
            heat_a[i] += upper
            heat_b[i] += w - upper
    return total


@numba.njit(cache=True, fastmath=FAST)
def joule_along(e_r, phi, reach, rho, dr, heat):
    """Heat of every cell from the faces along r at 1 V [W], added in place; returns the sum."""
    total = 0.0
    for j in range(phi.shape[0]):
        heat_j, phi_j, rho_j, e = heat[j], phi[j], rho[j], e_r[j]
        for i in range(1, reach[j]):
            w = e[i] * (phi_j[i] - phi_j[i - 1]) ** 2
            a, b = dr[i - 1] * rho_j[i - 1], dr[i] * rho_j[i]
            total += w
            inner = w * a / (a + b)
            heat_j[i - 1] += inner
            heat_j[i] += w - inner
    return total
