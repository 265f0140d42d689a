"""Compiled kernels: conductances between the cells of a plug weld.

Sources: numerical, our own.
"""

import math

import numba


@numba.njit(cache=True)
def bond(t, part, sheets, solidus, contact_of, bonded):
    """Keep as bonded where melt has touched across a closed interface, in place."""
    nz, nr = t.shape
    for j in range(1, nz):
        q = contact_of[j]
        if q < 0:
            continue
        for i in range(nr):
            above, below = part[j - 1, i], part[j, i]
            if above < 0 or above >= sheets or bonded[q, i] > 0:
                continue
            if t[j - 1, i] > solidus[above] or t[j, i] > solidus[below]:
                bonded[q, i] = 1


@numba.njit(cache=True)
def across(part, k, area, dz, sheets, contact_of, bonded, contact, g_z):
    """Conductances [W/K] along z; ``contact`` [W/m2/K] between sheets that only touch, in place."""
    nz, nr = k.shape
    for j in range(1, nz):
        q = contact_of[j]
        for i in range(nr):
            above, below = part[j - 1, i], part[j, i]
            if above < 0 or below < 0:
                g_z[j, i] = 0.0
                continue
            resistance = 0.5 * (dz[j - 1] / k[j - 1, i] + dz[j] / k[j, i])
            if q >= 0 and above < sheets and below < sheets and bonded[q, i] == 0:
                resistance += 1.0 / contact
            g_z[j, i] = area[i] / resistance


@numba.njit(cache=True)
def along(part, k, r_faces, dz, g_r):
    """Conductances [W/K] along r, in place."""
    nz, nr = k.shape
    for i in range(1, nr):
        inner = 0.5 * (r_faces[i] - r_faces[i - 1])
        outer = 0.5 * (r_faces[i + 1] - r_faces[i])
        around = 2.0 * math.pi * r_faces[i]
        for j in range(nz):
            if part[j, i - 1] < 0 or part[j, i] < 0:
                g_r[j, i] = 0.0
            else:
                g_r[j, i] = around * dz[j] / (inner / k[j, i - 1] + outer / k[j, i])
