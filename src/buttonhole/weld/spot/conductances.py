"""Compiled kernels: thermal and electric conductances between neighbouring cells.

``reach`` is how many rings are worked in each row; faces beyond that of either cell are left zero.

Sources: numerical.
"""

import math

import numba

from buttonhole.weld.spot.contact_law import AIR

WATER_RADIUS = 5e-3  # m of the bore in a cap; from memory


@numba.njit(cache=True)
def across(part, reach, k, rho, r_faces, dz, contact_of, share, rc, hc, g_z, e_z):
    """Set the conductances along z, ``g_z`` [W/K] and ``e_z`` [S], in place.

    ``contact_of[j]`` numbers the contact on the plane above row j, -1 where there is none;
    ``share``, ``rc`` [ohm m2] and ``hc`` [W/m2/K] have shape (contacts, nr). ``share`` is the part
    of a ring that touches: where none does no current flows; ``rc`` and ``hc`` are of whole rings.
    """
    nz = part.shape[0]
    area = math.pi * (r_faces[1:] ** 2 - r_faces[:-1] ** 2)
    for j in range(1, nz):
        q, thick_a, thick_b = contact_of[j], 0.5 * dz[j - 1], 0.5 * dz[j]
        part_a, part_b, to, e_to = part[j - 1], part[j], g_z[j], e_z[j]
        k_a, k_b, rho_a, rho_b = k[j - 1], k[j], rho[j - 1], rho[j]
        nr = min(reach[j - 1], reach[j])
        if q < 0:
            for i in range(nr):
                solid = area[i] if min(part_a[i], part_b[i]) >= 0 else 0.0
                to[i] = solid * k_a[i] * k_b[i] / (thick_a * k_b[i] + thick_b * k_a[i])
                e_to[i] = solid / (thick_a * rho_a[i] + thick_b * rho_b[i])
            continue
        for i in range(nr):
            solid = area[i] if min(part_a[i], part_b[i]) >= 0 else 0.0
            thermal = thick_a / k_a[i] + thick_b / k_b[i]
            electric = thick_a * rho_a[i] + thick_b * rho_b[i]
            to[i] = solid / (thermal + 1.0 / (hc[q, i] + AIR))
            e_to[i] = solid / (electric + rc[q, i]) if share[q, i] > 0.0 else 0.0


@numba.njit(cache=True)
def along(part, reach, k, rho, r_faces, dz, g_r, e_r):
    """Set the conductances along r, ``g_r`` [W/K] and ``e_r`` [S], in place."""
    nz = part.shape[0]
    dr = r_faces[1:] - r_faces[:-1]
    for j in range(nz):
        here, to, e_to, k_j, rho_j = part[j], g_r[j], e_r[j], k[j], rho[j]
        twice = 4.0 * math.pi * dz[j]
        for i in range(1, reach[j]):
            a, b = dr[i - 1], dr[i]
            solid = twice * r_faces[i] if min(here[i - 1], here[i]) >= 0 else 0.0
            to[i] = solid * k_j[i - 1] * k_j[i] / (a * k_j[i] + b * k_j[i - 1])
            e_to[i] = solid / (a * rho_j[i - 1] + b * rho_j[i])


@numba.njit(cache=True)
def end_planes(part, reach, k, rho, r_faces, dz, contact_of, water, half, share, rc, ends):
    """Set the conductances to what lies beyond the first and last row, in place.

    ``ends`` has the rows: thermal top [W/K], thermal bottom, electric top [S], electric bottom.
    ``half``: the section is mirrored at the bottom plane, which is then the last contact or, with
    ``contact_of[nz]`` -1, the middle of a sheet.
    """
    nz, nr = part.shape
    q = share.shape[0] - 1
    for i in range(nr):
        area = math.pi * (r_faces[i + 1] ** 2 - r_faces[i] ** 2)
        wet = 0.5 * (r_faces[i] + r_faces[i + 1]) < WATER_RADIUS
        for end in range(2):
            j = 0 if end == 0 else nz - 1
            ends[end, i] = 0.0
            ends[2 + end, i] = 0.0
            if part[j, i] < 0 or i >= reach[j]:
                continue
            if end == 1 and half:
                if contact_of[nz] < 0:
                    ends[3, i] = area / (0.5 * dz[j] * rho[j, i])
                elif share[q, i] > 0.0:
                    ends[3, i] = area / (0.5 * dz[j] * rho[j, i] + 0.5 * rc[q, i])
                continue
            if wet:
                ends[end, i] = area / (0.5 * dz[j] / k[j, i] + 1.0 / water)
            ends[2 + end, i] = area / (0.5 * dz[j] * rho[j, i])
