"""Compiled kernels: how wide and how deep the melt is, finer than a cell.

Sources: numerical; the fusion line is taken at the mean of solidus and liquidus (from memory).
"""

import numba


@numba.njit(cache=True)
def face_temperature(t, j, i, step):
    """Temperature [degC] on the face of a sheet whose first row is ``j``, the next ``j + step``."""
    return 1.125 * t[j, i] - 0.125 * t[j + step, i]


@numba.njit(cache=True)
def molten(t, solidus, liquidus):
    """Liquid share [-]."""
    return min(max((t - solidus) / (liquidus - solidus), 0.0), 1.0)


@numba.njit(cache=True)
def interface_excess(t, part, row, half, solidus, liquidus, excess):
    """How far both faces of an interface are over the fusion temperature [K], in place.

    ``row`` is just below the interface; with ``half`` the section is mirrored there.
    """
    for i in range(excess.shape[0]):
        m = part[row - 1, i]
        x = face_temperature(t, row - 1, i, -1) - 0.5 * (solidus[m] + liquidus[m])
        if not half:
            m = part[row, i]
            x += face_temperature(t, row, i, 1) - 0.5 * (solidus[m] + liquidus[m])
            x *= 0.5
        excess[i] = x


@numba.njit(cache=True)
def melted_rim(excess, r_faces):
    """Outer and inner radius [m] of the melt on an interface, 0 where there is none.

    Between the outermost molten cell and the next the temperature is taken as linear; the inner
    radius is that of a solid centre, so that it is above zero for a ring.
    """
    nr = excess.shape[0]
    outer, inner = 0.0, 0.0
    for i in range(nr - 2, -1, -1):
        if excess[i] >= 0.0 and outer == 0.0:
            outer = _crossing(excess, r_faces, i)
        if outer > 0.0 and excess[i] < 0.0:
            inner = _crossing(excess, r_faces, i)
            break
    return outer, inner


@numba.njit(cache=True)
def _crossing(excess, r_faces, i):
    here = 0.5 * (r_faces[i] + r_faces[i + 1])
    there = 0.5 * (r_faces[i + 1] + r_faces[i + 2])
    return here + (there - here) * excess[i] / (excess[i] - excess[i + 1])


@numba.njit(cache=True)
def melt_depth(t, part, row, step, solidus, liquidus, dz):
    """Greatest depth of melt [m] in the sheet on one side of an interface, summed over rows."""
    nz, nr = t.shape
    sheet = part[row, 0]
    deepest = 0.0
    for i in range(nr):
        total = 0.0
        j = row
        while 0 <= j < nz and part[j, i] == sheet:
            total += molten(t[j, i], solidus[sheet], liquidus[sheet]) * dz[j]
            j += step
        deepest = max(deepest, total)
    return deepest


@numba.njit(cache=True)
def liquid_volume(t, part, volume, solidus, liquidus):
    """Volume of molten sheet [m3]; parts 1 to the last but one are sheets."""
    nz, nr = t.shape
    last = solidus.shape[0] - 1
    total = 0.0
    for j in range(nz):
        for i in range(nr):
            m = part[j, i]
            if 0 < m < last:
                total += molten(t[j, i], solidus[m], liquidus[m]) * volume[j, i]
    return total
