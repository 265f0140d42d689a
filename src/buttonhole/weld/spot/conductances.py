"""Compiled kernel: thermal and electric conductances between neighbouring cells."""

import math

import numba

from buttonhole.weld.spot.contact_law import AIR


@numba.njit(cache=True)
def conductances(part, k, rho, r_faces, dz, contact_of, share, rc, hc, g_z, g_r, e_z, e_r):
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
                f = share[q, i]
                g_z[j, i] = f * area / (thermal + 1.0 / hc[q, i])
                g_z[j, i] += (1.0 - f) * area / (thermal + 1.0 / AIR)
                e_z[j, i] = f * area / (electric + rc[q, i])
    for j in range(nz):
        for i in range(1, nr):
            if part[j, i] < 0 or part[j, i - 1] < 0:
                g_r[j, i] = 0.0
                e_r[j, i] = 0.0
                continue
            area = 2.0 * math.pi * r_faces[i] * dz[j]
            a = r_faces[i] - r_faces[i - 1]
            b = r_faces[i + 1] - r_faces[i]
            g_r[j, i] = 2.0 * area / (a / k[j, i - 1] + b / k[j, i])
            e_r[j, i] = 2.0 * area / (a * rho[j, i - 1] + b * rho[j, i])
