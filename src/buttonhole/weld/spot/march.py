"""Compiled kernel: one spot weld through squeeze contact, current, hold and cooling."""

import math

import numba
import numpy as np

from buttonhole.weld.heat.conduction import conduct, enthalpy_at, look_up
from buttonhole.weld.spot.conductances import conductances
from buttonhole.weld.spot.contact_law import conductance, pressure, resistance
from buttonhole.weld.spot.contact_mechanics import (
    cap_radius,
    faying_radius,
    first_depth,
    sinking_rate,
)
from buttonhole.weld.spot.potential import TOLERANCE, joule_heat, solve_potential

DONE, NOT_FINITE, TOO_MANY_STEPS = 0, 1, 2
FIRST_STEP = 1e-4  # s
SHORTEST_STEP = 2e-5  # s
WATER = 20.0  # degC
WATER_FILM = 3e4  # W/m2/K
WATER_RADIUS = 5e-3  # m
COLD_ENOUGH = 450.0  # degC; the 8/5 time is known below it


@numba.njit(cache=True)
def current_at(t, times, amps):
    """Set current [A rms] at ``t`` [s]: straight lines between the break points."""
    for n in range(times.shape[0] - 1):
        if t < times[n + 1]:
            width = times[n + 1] - times[n]
            x = (t - times[n]) / width if width > 0.0 else 1.0
            return amps[n] + x * (amps[n + 1] - amps[n])
    return 0.0


@numba.njit(cache=True)
def mean_square(t, dt, times, amps, frequency):
    """Mean of the squared current [A2] over a step; with a frequency [Hz] that of its sine wave."""
    rms = current_at(t + 0.5 * dt, times, amps)
    if frequency <= 0.0:
        return rms * rms
    w = 4.0 * math.pi * frequency
    return rms * rms * (1.0 - (math.sin(w * (t + dt)) - math.sin(w * t)) / (w * dt))


@numba.njit(cache=True)
def skin_strength(t_row, share, area, stress_row):
    """Mean flow stress [Pa] of the skin under a cap."""
    total, weight = 0.0, 1e-30
    for i in range(t_row.shape[0]):
        w = share[i] * area[i]
        if w > 0.0:
            total += w * enthalpy_at(t_row[i], stress_row)
            weight += w
    return total / weight


@numba.njit(cache=True)
def set_share(share, r_faces, radius):
    """Part of each ring's area inside ``radius`` [m], in place."""
    for i in range(share.shape[0]):
        inner, outer = r_faces[i], r_faces[i + 1]
        reach = min(max(radius, inner), outer)
        share[i] = (reach**2 - inner**2) / (outer**2 - inner**2)


@numba.njit(cache=True)
def melted_share(t, m, solidus, liquidus):
    """Liquid fraction at ``t`` [degC]."""
    return min(max((t - solidus[m]) / (liquidus[m] - solidus[m]), 0.0), 1.0)


@numba.njit(cache=True)
def nugget_area(t, part, row, area, solidus, liquidus):
    """Melted area [m2] of the plane above ``row``, and the liquid fraction on the axis."""
    total, axis = 0.0, 0.0
    for i in range(t.shape[1]):
        f = 0.5 * (
            melted_share(t[row - 1, i], part[row - 1, i], solidus, liquidus)
            + melted_share(t[row, i], part[row, i], solidus, liquidus)
        )
        total += f * area[i]
        if i == 0:
            axis = f
    return total, axis


@numba.njit(cache=True)
def melt_depth(t, part, first, last, dz, solidus, liquidus):
    """Deepest melt [m] in the rows ``first`` up to ``last``, over all columns."""
    deepest = 0.0
    for i in range(t.shape[1]):
        depth = 0.0
        for j in range(first, last):
            depth += dz[j] * melted_share(t[j, i], part[j, i], solidus, liquidus)
        deepest = max(deepest, depth)
    return deepest


@numba.njit(cache=True)
def set_contacts(
    t, part, rows, r_faces, radius, force, film, law, shape, hottest, share, rc, hc
):  # fmt: skip
    """Share, resistance and conductance of every contact, in place.

    ``law`` is (film exponent, faying conductance, cap conductance, conductance exponent).
    """
    last = rows.shape[0] - 1
    for q in range(rows.shape[0]):
        j = rows[q]
        set_share(share[q], r_faces, radius[q])
        cap = q == 0 or q == last
        h = law[2] if cap else law[1]
        for i in range(share.shape[1]):
            middle = 0.5 * (t[j - 1, i] + t[j, i])
            hottest[q, i] = max(hottest[q, i], middle)
            r = 0.5 * (r_faces[i] + r_faces[i + 1])
            p = pressure(min(r, 0.98 * radius[q]), radius[q], force[q], 0.0 if cap else shape)
            rc[q, i] = resistance(film[q], law[0], p, hottest[q, i])
            hc[q, i] = conductance(h, law[3], p, middle, rc[q, i])


@numba.njit(cache=True, nogil=True)
def march(
    r_faces, z_faces, part, contact_of, rows,
    step, t_table, k_table, rho_table, h_table, stress_table, solidus, liquidus,
    times, amps, frequency, hold_until, end,
    force, film, widen, radius_factor, caps, thickness,
    law, shape, spread, sinking, t_step_target, longest_step, start_temperature,
    peak, at_off, record, summary,
):  # fmt: skip
    """March one weld; results in place. Returns (status, number of recorded steps).

    ``caps`` (2, 3): face radius, dome radius, body radius [m]. ``force`` (contacts,) [N];
    ``widen`` (contacts,) [m]. ``record`` (steps, 3 + interfaces): time [s], current [A],
    resistance [ohm], nugget diameters [m]. ``summary``: see ``predict``.
    """
    nz, nr = part.shape
    contacts = rows.shape[0]
    faces = contacts - 2
    dz = np.diff(z_faces)
    dr = np.diff(r_faces)
    area = math.pi * (r_faces[1:] ** 2 - r_faces[:-1] ** 2)
    volume = np.empty((nz, nr))
    enthalpy = np.zeros((nz, nr))
    t = np.full((nz, nr), WATER)
    k = np.ones((nz, nr))
    rho = np.ones((nz, nr))
    phi = np.zeros((nz, nr))
    for j in range(nz):
        for i in range(nr):
            volume[j, i] = area[i] * dz[j]
            phi[j, i] = 1.0 - (j + 0.5) / nz
            m = part[j, i]
            if m >= 0:
                enthalpy[j, i] = enthalpy_at(start_temperature[m], h_table[m])
    g_z, e_z = np.zeros((nz + 1, nr)), np.zeros((nz + 1, nr))
    g_r, e_r = np.zeros((nz, nr + 1)), np.zeros((nz, nr + 1))
    g_top, g_bottom = np.zeros(nr), np.zeros(nr)
    e_top, e_bottom = np.zeros(nr), np.zeros(nr)
    heat, gain, first = np.zeros((nz, nr)), np.zeros((nz, nr)), np.zeros((nz, nr))
    change, capacity = np.zeros((nz, nr)), np.ones((nz, nr))
    ratio_r, ratio_z = np.zeros(nr), np.zeros((nz, nr))
    work = np.zeros((6, nz, nr))
    share, rc = np.zeros((contacts, nr)), np.ones((contacts, nr))
    hc = np.ones((contacts, nr))
    hottest = np.full((contacts, nr), WATER)
    radius = np.zeros(contacts)
    depth = np.zeros(2)
    skin = np.array([rows[0], rows[contacts - 1] - 1])
    outer = np.array([0, contacts - 1])
    for side in range(2):
        stress = stress_table[part[skin[side], 0], 0]
        depth[side] = first_depth(force[outer[side]], stress, caps[side, 0], caps[side, 1])
    total_depth = z_faces[rows[contacts - 1]]
    weld_end = times[times.shape[0] - 1]
    now, dt, n, powered = 0.0, FIRST_STEP, 0, True
    stored = 0.0
    for j in range(nz):
        for i in range(nr):
            if part[j, i] >= 0:
                stored -= enthalpy[j, i] * volume[j, i]
    while now < end - 1e-9:
        if n >= record.shape[0]:
            return TOO_MANY_STEPS, n
        powered = now < weld_end - 1e-9
        dt = min(dt, longest_step if powered else 4.0 * longest_step)
        for b in range(times.shape[0]):  # a step never runs over a change of the set current
            if now < times[b] - 1e-9 < now + dt - 2e-9:
                dt = times[b] - now
        if now < hold_until - 1e-9 < now + dt - 2e-9:
            dt = hold_until - now
        look_up(enthalpy, part, step, t_table, k_table, rho_table, t, k, rho)
        for side in range(2):
            q = outer[side]
            a = cap_radius(depth[side], caps[side, 0], caps[side, 1], caps[side, 2])
            melted_coat = min(max((hottest[q, 0] - 420.0) / 100.0, 0.0), 1.0)
            radius[q] = min(max(a + widen[q] * melted_coat, 0.3e-3), r_faces[nr] * 0.9)
            if now >= hold_until - 1e-9:
                radius[q] = 0.0
        if now < hold_until - 1e-9:
            for q in range(1, contacts - 1):
                z = z_faces[rows[q]]
                a = faying_radius(radius[0], radius[contacts - 1], z, total_depth - z, spread)
                radius[q] = max(a * radius_factor, radius[q] if now > 0.0 else 0.0)
            set_contacts(t, part, rows, r_faces, radius, force, film, law, shape, hottest,
                         share, rc, hc)  # fmt: skip
        else:
            share[0, :] = 0.0
            share[contacts - 1, :] = 0.0
        if powered:
            for side in range(2):
                q = outer[side]
                stress = skin_strength(t[skin[side]], share[q], area,
                                       stress_table[part[skin[side], 0]])  # fmt: skip
                depth[side] += dt * sinking_rate(force[q], radius[q], stress, thickness[side],
                                                 depth[side], sinking[0], sinking[1],
                                                 sinking[2])  # fmt: skip
        conductances(part, k, rho, r_faces, dz, contact_of, share, rc, hc, g_z, g_r, e_z, e_r)
        for i in range(nr):
            wet = r_faces[i + 1] <= WATER_RADIUS
            top = wet and part[0, i] >= 0
            bottom = wet and part[nz - 1, i] >= 0
            g_top[i] = area[i] / (1.0 / WATER_FILM + 0.5 * dz[0] / k[0, i]) if top else 0.0
            below = 1.0 / WATER_FILM + 0.5 * dz[nz - 1] / k[nz - 1, i]
            g_bottom[i] = area[i] / below if bottom else 0.0
            e_top[i] = area[i] / (0.5 * dz[0] * rho[0, i]) if part[0, i] >= 0 else 0.0
            low = part[nz - 1, i] >= 0
            e_bottom[i] = area[i] / (0.5 * dz[nz - 1] * rho[nz - 1, i]) if low else 0.0
        square, resist = 0.0, 0.0
        if powered:
            square = mean_square(now, dt, times, amps, frequency)
        if square > 0.0:
            solve_potential(e_z, e_r, e_top, e_bottom, phi, TOLERANCE, work)
            power = joule_heat(e_z, e_r, e_top, e_bottom, phi, rho, dr, dz, contact_of, rc, heat)
            resist = 1.0 / power
            for j in range(nz):
                for i in range(nr):
                    heat[j, i] *= square * resist * resist
            summary[0] += square * resist * dt
        else:
            heat[:, :] = 0.0
        largest, crossed = conduct(
            enthalpy, t, part, volume, g_z, g_r, g_top, g_bottom, WATER, heat, dt,
            step, t_table, h_table, capacity, gain, first, change, ratio_r, ratio_z,
        )  # fmt: skip
        if not math.isfinite(largest):
            return NOT_FINITE, n
        summary[1] += crossed
        now += dt
        if powered:
            look_up(enthalpy, part, step, t_table, k_table, rho_table, t, k, rho)
            for j in range(nz):
                for i in range(nr):
                    peak[j, i] = max(peak[j, i], t[j, i])
            record[n, 0] = now
            record[n, 1] = math.sqrt(square)
            record[n, 2] = resist
            for f in range(faces):
                melted, axis = nugget_area(t, part, rows[f + 1], area, solidus, liquidus)
                d = 2.0 * math.sqrt(melted / math.pi)
                record[n, 3 + f] = d
                base = 8 + 6 * f
                if d > summary[base]:
                    summary[base] = d
                    summary[base + 1] = axis
                a = melt_depth(t, part, rows[f], rows[f + 1], dz, solidus, liquidus)
                b = melt_depth(t, part, rows[f + 1], rows[f + 2], dz, solidus, liquidus)
                summary[base + 2] = max(summary[base + 2], a)
                summary[base + 3] = max(summary[base + 3], b)
            n += 1
            if now >= weld_end - 1e-9:
                at_off[:, :] = t
        else:
            cold = True
            for f in range(faces):
                j = rows[f + 1]
                middle = 0.5 * (t[j - 1, 0] + t[j, 0])
                later = middle + 0.5 * (change[j - 1, 0] + change[j, 0])
                for mark in range(2):
                    level = 800.0 if mark == 0 else 500.0
                    if middle >= level > later:
                        x = (middle - level) / (middle - later)
                        summary[8 + 6 * f + 4 + mark] = now - dt + x * dt
                cold = cold and later < COLD_ENOUGH
            if cold and now >= hold_until:
                break
        dt *= min(max(t_step_target / max(largest, 1.0), 0.5), 1.4)
        dt = max(dt, SHORTEST_STEP)
    for j in range(nz):
        for i in range(nr):
            if part[j, i] >= 0:
                stored += enthalpy[j, i] * volume[j, i]
    summary[2] = stored
    summary[3] = depth[0]
    summary[4] = depth[1]
    for q in range(contacts):
        summary[8 + 6 * faces + q] = 0.0
    for f in range(faces):
        summary[8 + 6 * faces + f] = radius[f + 1]
    return DONE, n
