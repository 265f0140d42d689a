"""Compiled kernel: one plug weld from the first drop until every sheet has cooled.

The arrays travel in bundles: ``grid`` is (part, r_faces, z_faces, dz, area, r, rim_row, inside),
``joint`` (sheets, contact_of, walls, gaps), ``material`` (step, tables by enthalpy, enthalpy,
solidus, losses by temperature), ``torch`` (times, radii of the circle), ``work`` (level, bonded,
g_z, g_r, ends, ratio_r).

Sources: numerical, our own.
"""

import math

import numba
import numpy as np

from buttonhole.weld.arc.plug import deposit, faces, source
from buttonhole.weld.arc.plug.fields import (
    AT_500,
    AT_800,
    BEFORE,
    CAPACITY,
    CHANGE,
    CONDUCTIVITY,
    CONTACT,
    CROSSED,
    DONE,
    ENTHALPY,
    FILLED_AT,
    FROM_ARC,
    GAIN,
    HEAT,
    LOST,
    NO_ROOM,
    NOT_FINITE,
    PEAK,
    RATIO,
    RESISTIVITY,
    TEMPERATURE,
    TOO_MANY_STEPS,
    TRIAL,
    UP_500,
    UP_700,
    VOLUME,
)
from buttonhole.weld.heat.conduction import conduct, look_up
from buttonhole.weld.heat.surface import ROOM

COLD_ENOUGH = 450.0  # degC; every 8/5 time is known below it
GROWTH = 1.3  # - of a step, at most
SHORTEST = 1e-4  # s
MOST_STEPS = 60_000


@numba.njit(cache=True)
def watch(cells, part, before, dt):
    """Keep how hot each cell was, when it rose to 500 and 700 and fell to 800 and 500 degC.

    Returns the hottest temperature now [degC]. ``before`` [s] is when the step began.
    """
    t, peak, was = cells[TEMPERATURE], cells[PEAK], cells[BEFORE]
    nz, nr = t.shape
    hottest = ROOM
    for j in range(nz):
        for i in range(nr):
            m = part[j, i]
            if m < 0:
                continue
            now = t[j, i]
            peak[j, i] = max(peak[j, i], now)
            hottest = max(hottest, now)
            if now >= 500.0 > was[j, i]:
                cells[UP_500, j, i] = before + dt * (500.0 - was[j, i]) / (now - was[j, i])
            if now >= 700.0 > was[j, i]:
                cells[UP_700, j, i] = before + dt * (700.0 - was[j, i]) / (now - was[j, i])
            if was[j, i] >= 800.0 > now:
                cells[AT_800, j, i] = before + dt * (was[j, i] - 800.0) / (was[j, i] - now)
            if was[j, i] >= 500.0 > now:
                cells[AT_500, j, i] = before + dt * (was[j, i] - 500.0) / (was[j, i] - now)
            was[j, i] = now
    return hottest


@numba.njit(cache=True)
def prepare(cells, grid, joint, material, closure, work):
    """Bring properties, bonds and conductances to the present state, in place."""
    part, r_faces, _, dz, area, _, _, _ = grid
    sheets, contact_of, _, _ = joint
    step, tables, _, solidus, _ = material
    _, bonded, g_z, g_r, _, _ = work
    t, k = cells[TEMPERATURE], cells[CONDUCTIVITY]
    reach = np.full(part.shape[0], part.shape[1])
    look_up(
        cells[ENTHALPY], part, reach, step, tables[0], tables[1], tables[2], t, k,
        cells[RESISTIVITY],
    )  # fmt: skip
    faces.bond(t, part, sheets, solidus, contact_of, bonded)
    faces.across(part, k, area, dz, sheets, contact_of, bonded, closure[CONTACT], g_z)
    faces.along(part, k, r_faces, dz, g_r)


@numba.njit(cache=True)
def one_step(cells, grid, joint, material, closure, work, sums, rho, arc_on, dt):
    """Advance by ``dt`` [s]; returns the largest change [K], NaN where it went wrong."""
    _, _, walls, gaps = joint
    step, tables, h_table, _, losses = material
    level, _, g_z, g_r, ends, ratio_r = work
    cells[HEAT, :, :] = 0.0
    if arc_on:
        sums[FROM_ARC] += dt * source.heat_arc(cells, grid, level, walls, closure, rho)
    sums[LOST] += dt * source.lose(cells, grid, level, closure, losses, ends[1])
    source.cross_gaps(cells, grid, gaps)
    reach = np.full(cells.shape[1], cells.shape[2])
    largest, crossed = conduct(
        cells[ENTHALPY], cells[TEMPERATURE], grid[0], reach, cells[VOLUME], g_z, g_r, ends[0],
        ends[1], ROOM, cells[HEAT], dt, step, tables[0], h_table, cells[CAPACITY], cells[GAIN],
        cells[TRIAL], cells[CHANGE], ratio_r, cells[RATIO],
    )  # fmt: skip
    sums[CROSSED] += crossed
    return largest


@numba.njit(cache=True, nogil=True)
def march(cells, grid, joint, material, torch, closure, work, drop, limits, sums):
    """Run the whole weld. Returns what it ended with and how many steps it took.

    ``drop`` holds enthalpy [J/m3], temperature [degC], volume rate [m3/s], arc time [s], row in the
    tables; ``limits`` the longest step with the arc on [s], after it [s], the change aimed at in a
    step [K], the end [s].
    """
    times, radii = torch
    level = work[0]
    arc_time, metal = drop[3], int(drop[4])
    now, dt, bank, steps = 0.0, 0.25 * limits[0], 0.0, 0
    before, last = 0.0, 0.0
    while steps < MOST_STEPS:
        prepare(cells, grid, joint, material, closure, work)
        hottest = watch(cells, grid[0], before, last)
        arc_on = now < arc_time - 1e-9
        if (not arc_on and hottest < COLD_ENOUGH) or now >= limits[3]:
            return DONE, steps
        dt = min(dt, limits[0] if arc_on else limits[1])
        if arc_on:
            dt = (arc_time - now) / math.ceil((arc_time - now) / dt - 1e-9)
        rho = np.interp(now + 0.5 * dt, times, radii)
        largest = one_step(cells, grid, joint, material, closure, work, sums, rho, arc_on, dt)
        if not math.isfinite(largest):
            return NOT_FINITE, steps
        before, last = now, dt
        now += dt
        steps += 1
        if arc_on:
            bank += drop[2] * dt
            bank = deposit.lay(cells, grid, level, joint[3], closure, drop, metal, rho, sums, bank)
            if bank < 0.0:
                return NO_ROOM, steps
            if sums[FILLED_AT] == 0.0 and deposit.is_full(level, grid[7], grid[6]):
                sums[FILLED_AT] = now
        wish = dt * limits[2] / max(largest, 1e-3)
        dt = max(min(wish, GROWTH * dt), SHORTEST)
    return TOO_MANY_STEPS, steps
