"""Compiled kernels: state from enthalpy, and one implicit step of conduction with melting.

Alternating directions in delta form (Douglas), so that what leaves a cell enters its neighbour to
rounding. The heat capacity is the secant over the step, found in a second pass: the tangent alone
overshoots where a cell leaves the melting range.

``reach`` is how many rings are worked in each row; where it is less than all, conductances beyond
it are zero and capacities are not. Numerical, no source.
"""

import math

import numba
import numpy as np

MIN_CAPACITY = 2e6  # J/m3/K; keeps a secant over a tiny change finite
MAX_CAPACITY = 1e11  # J/m3/K
SMALL_CHANGE = 0.5  # K; below it the tangent is as good as the secant


@numba.njit(cache=True)
def look_up(enthalpy, part, reach, step, t_table, k_table, rho_table, t, k, rho):
    """Temperature [degC], conductivity [W/m/K] and resistivity [ohm m] of every cell, in place."""
    last = t_table.shape[1] - 2
    for j in range(enthalpy.shape[0]):
        for i in range(reach[j]):
            m = part[j, i]
            if m < 0:
                continue
            x = enthalpy[j, i] / step[m]
            x = min(max(x, 0.0), last + 0.999)  # both ends: a wild index would end the process
            n = int(x)
            f = x - n
            t[j, i] = t_table[m, n] + f * (t_table[m, n + 1] - t_table[m, n])
            k[j, i] = k_table[m, n] + f * (k_table[m, n + 1] - k_table[m, n])
            rho[j, i] = rho_table[m, n] + f * (rho_table[m, n + 1] - rho_table[m, n])


@numba.njit(cache=True)
def enthalpy_at(t, h_row):
    """Volumetric enthalpy [J/m3] at a temperature [degC] from a row spaced 1 K from 20 degC."""
    x = min(max(t - 20.0, 0.0), h_row.shape[0] - 1.001)
    n = int(x)
    return h_row[n] + (x - n) * (h_row[n + 1] - h_row[n])


@numba.njit(cache=True)
def tangent_capacity(enthalpy, part, reach, step, t_table, capacity):
    """Heat capacity [J/m3/K] at the present state, in place."""
    last = t_table.shape[1] - 2
    for j in range(enthalpy.shape[0]):
        for i in range(reach[j]):
            m = part[j, i]
            if m < 0:
                capacity[j, i] = 1.0
                continue
            n = int(min(max(enthalpy[j, i] / step[m], 0.0), last + 0.999))
            rise = t_table[m, n + 1] - t_table[m, n]
            capacity[j, i] = min(step[m] / max(rise, 1e-12), MAX_CAPACITY)


@numba.njit(cache=True)
def secant_capacity(enthalpy, t, change, part, reach, h_table, capacity):
    """Heat capacity [J/m3/K] over the change [K] that the first pass found, in place."""
    for j in range(enthalpy.shape[0]):
        for i in range(reach[j]):
            m = part[j, i]
            d = change[j, i]
            if m < 0 or abs(d) < SMALL_CHANGE:
                continue
            c = (enthalpy_at(t[j, i] + d, h_table[m]) - enthalpy[j, i]) / d
            capacity[j, i] = min(max(c, MIN_CAPACITY), MAX_CAPACITY)


@numba.njit(cache=True)
def heat_gain(t, reach, heat, g_z, g_r, g_top, g_bottom, outside, dt, gain):
    """Heat each cell gains [J] in a step at the present temperatures, in place."""
    nz, nr = t.shape
    for j in range(nz):
        for i in range(reach[j]):
            s = heat[j, i]
            if j > 0:
                s += g_z[j, i] * (t[j - 1, i] - t[j, i])
            else:
                s += g_top[i] * (outside - t[j, i])
            if j < nz - 1:
                s += g_z[j + 1, i] * (t[j + 1, i] - t[j, i])
            else:
                s += g_bottom[i] * (outside - t[j, i])
            if i > 0:
                s += g_r[j, i] * (t[j, i - 1] - t[j, i])
            if i < nr - 1:
                s += g_r[j, i + 1] * (t[j, i + 1] - t[j, i])
            gain[j, i] = s * dt


@numba.njit(cache=True)
def sweep_r(capacity, volume, reach, g_r, gain, dt, ratio, first):
    """First half of the step: implicit along r; ``first`` is the trial change [K], in place.

    Rows go in fours: each division waits for the one before it in its row, not for other rows'.
    ``ratio`` has shape (nr, 4).
    """
    nz = gain.shape[0]
    for start in range(0, nz, 4):
        begin = max(min(start, nz - 4), 0)  # the last four may overlap: the same is found again
        rows = min(4, nz)
        nr = reach[begin : begin + rows].max()
        for q in range(rows):
            j = begin + q
            c = dt * g_r[j, 1]
            b = capacity[j, 0] * volume[j, 0] + c
            ratio[0, q] = c / b
            first[j, 0] = gain[j, 0] / b
        for i in range(1, nr):
            for q in range(rows):
                j = begin + q
                a = dt * g_r[j, i]
                c = dt * g_r[j, i + 1]
                b = 1.0 / (capacity[j, i] * volume[j, i] + a + c - a * ratio[i - 1, q])
                ratio[i, q] = c * b
                first[j, i] = (gain[j, i] + a * first[j, i - 1]) * b
        for i in range(nr - 2, -1, -1):
            for q in range(rows):
                first[begin + q, i] += ratio[i, q] * first[begin + q, i + 1]


@numba.njit(cache=True)
def sweep_z(capacity, volume, reach, g_z, g_top, g_bottom, first, dt, ratio, change):
    """Second half of the step: implicit along z; ``change`` [K] in place."""
    nz = first.shape[0]
    for i in range(reach[0]):
        heat = capacity[0, i] * volume[0, i]
        b = heat + dt * (g_z[1, i] + g_top[i])
        ratio[0, i] = dt * g_z[1, i] / b
        change[0, i] = heat * first[0, i] / b
    for j in range(1, nz):
        for i in range(reach[j]):
            heat = capacity[j, i] * volume[j, i]
            a = dt * g_z[j, i]
            c = dt * g_z[j + 1, i] if j < nz - 1 else dt * g_bottom[i]
            b = heat + a + c - a * ratio[j - 1, i]
            ratio[j, i] = dt * g_z[j + 1, i] / b if j < nz - 1 else 0.0
            change[j, i] = (heat * first[j, i] + a * change[j - 1, i]) / b
    for j in range(nz - 2, -1, -1):
        for i in range(reach[j]):
            change[j, i] += ratio[j, i] * change[j + 1, i]


@numba.njit(cache=True)
def conduct(
    enthalpy, t, part, reach, volume, g_z, g_r, g_top, g_bottom, outside, heat, dt,
    step, t_table, h_table, capacity, gain, first, change, ratio_r, ratio_z, implicit=1.0,
):  # fmt: skip
    """One step of conduction; ``enthalpy`` [J/m3] moves on in place.

    ``implicit`` [-] is how much the end of the step counts: 1 damps everything, 0.5 is of second
    order in time.

    Returns the largest temperature change [K] of a cell that does not boil (NaN where the state was
    not finite) and the heat [J] that crossed the outer planes inwards, less what left as vapour.
    """
    nz = enthalpy.shape[0]
    heat_gain(t, reach, heat, g_z, g_r, g_top, g_bottom, outside, dt, gain)
    tangent_capacity(enthalpy, part, reach, step, t_table, capacity)
    weighed = implicit * dt
    for attempt in range(2):
        if attempt == 1:
            secant_capacity(enthalpy, t, change, part, reach, h_table, capacity)
        sweep_r(capacity, volume, reach, g_r, gain, weighed, ratio_r, first)
        sweep_z(capacity, volume, reach, g_z, g_top, g_bottom, first, weighed, ratio_z, change)
    largest = 0.0
    crossed = 0.0
    for i in range(reach[0]):
        crossed += dt * g_top[i] * (outside - t[0, i] - implicit * change[0, i])
    for i in range(reach[nz - 1]):
        crossed += dt * g_bottom[i] * (outside - t[nz - 1, i] - implicit * change[nz - 1, i])
    for j in range(nz):
        for i in range(reach[j]):
            if part[j, i] < 0:
                continue
            if not math.isfinite(change[j, i]):
                return np.nan, crossed
            enthalpy[j, i] += capacity[j, i] * change[j, i]
            # the tables end where metal boils; left in, the rest would heat the weld long after
            boiling = h_table[part[j, i], h_table.shape[1] - 1]
            if enthalpy[j, i] > boiling:
                crossed -= (enthalpy[j, i] - boiling) * volume[j, i]
                enthalpy[j, i] = boiling
            else:
                largest = max(largest, abs(change[j, i]))
    return largest, crossed
