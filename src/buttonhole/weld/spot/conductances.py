"""Compiled kernels: thermal and electric conductances between neighbouring cells.

Sources: numerical.
"""

import math

import numba

from buttonhole.weld.spot.contact_law import AIR

WATER_RADIUS = 5e-3  # m of the bore in a cap; from memory


@numba.njit(cache=True)
def across(part, k, rho, r_faces, dz, contact_of, share, rc, hc, g_z, e_z):
    """Set the conductances along z, ``g_z`` [W/K] and ``e_z`` [S], in place.

    ``contact_of[j]`` numbers the contact on the plane above row j, -1 where there is none;
    ``share``, ``rc`` [ohm m2] and ``hc`` [W/m2/K] have shape (contacts, nr). ``share`` is the part
    of a ring that touches: where none does no current flows; ``rc`` and ``hc`` are of whole rings.
    """
    nz, nr = part.shape
    for j in range(1, nz):
        q = contact_of[j]
        for i in range(nr):
            if part[j, i] < 0 or part[j - 1, i] < 0:
                g_z[j, i] = 0.0
                e_z[j, i] = 0.0
                continue
            area = math.pi * (r_faces[i + 1] ** 2 - r_faces[i] ** 2)
            thermal = 0.5 * (dz[j - 1] / k[j - 1, i] + dz[j] / k[j, i])
            electric = 0.5 * (dz[j - 1] * rho[j - 1, i] + dz[j] * rho[j, i])
            if q < 0:
                g_z[j, i] = area / thermal
                e_z[j, i] = area / electric
            else:
                g_z[j, i] = area / (thermal + 1.0 / (hc[q, i] + AIR))
                e_z[j, i] = area / (electric + rc[q, i]) if share[q, i] > 0.0 else 0.0


@numba.njit(cache=True)
def along(part, k, rho, r_faces, dz, g_r, e_r):
    """Set the conductances along r, ``g_r`` [W/K] and ``e_r`` [S], in place."""
    nz, nr = part.shape
    for i in range(1, nr):
        a = r_faces[i] - r_faces[i - 1]
        b = r_faces[i + 1] - r_faces[i]
        for j in range(nz):
            if part[j, i] < 0 or part[j, i - 1] < 0:
                g_r[j, i] = 0.0
                e_r[j, i] = 0.0
                continue
            area = 2.0 * math.pi * r_faces[i] * dz[j]
            g_r[j, i] = 2.0 * area / (a / k[j, i - 1] + b / k[j, i])
            e_r[j, i] = 2.0 * area / (a * rho[j, i - 1] + b * rho[j, i])


@numba.njit(cache=True)
def end_planes(part, k, rho, r_faces, dz, water, half, share, rc, ends):
    """Set the conductances to what lies beyond the first and last row, in place.

    ``ends`` has the rows: thermal top [W/K], thermal bottom, electric top [S], electric bottom.
    ``half``: the section is mirrored at the bottom plane, which is then the last contact.
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
            if part[j, i] < 0:
                continue
            if end == 1 and half:
                if share[q, i] > 0.0:
                    ends[3, i] = area / (0.5 * dz[j] * rho[j, i] + 0.5 * rc[q, i])
                continue
            if wet:
                ends[end, i] = area / (0.5 * dz[j] / k[j, i] + 1.0 / water)
            ends[2 + end, i] = area / (0.5 * dz[j] * rho[j, i])
