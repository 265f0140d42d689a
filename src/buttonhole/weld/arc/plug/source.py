"""Compiled kernels: where the arc's heat lands, and what the surfaces lose.

The disc's flux is Gaussian, smeared round the circle the arc is led on. That it spreads in a deep
hole and that a share burns on the rim are assumptions of ours.

Sources: eagar-tsai-1983, abramowitz-stegun
"""

import math

import numba

from buttonhole.weld.arc.plug.fields import (
    ARC_HEAT,
    BACK_FILM,
    HEAT,
    LOSSES,
    RIM_LENGTH,
    RIM_SHARE,
    SPLAT,
    SPREAD,
    SPREAD_RISE,
    TEMPERATURE,
)
from buttonhole.weld.heat.conduction import enthalpy_at
from buttonhole.weld.heat.surface import ROOM

AIR = 0.06  # W/m/K, in a gap that is hot on one side
GREY = 0.54  # -, of radiation between two oxidised faces
KELVIN = 273.15
STEFAN_BOLTZMANN = 5.670374419e-8  # W/m2/K4


@numba.njit(cache=True)
def scaled_bessel(x):
    """exp(-x) times the modified Bessel function of order zero, for x >= 0 [-]."""
    if x < 3.75:
        y = (x / 3.75) ** 2
        inner = 0.2659732 + y * (0.0360768 + y * 0.0045813)
        inner = 1.0 + y * (3.5156229 + y * (3.0899424 + y * (1.2067492 + y * inner)))
        return math.exp(-x) * inner
    y = 3.75 / x
    outer = 0.02635537 + y * (-0.01647633 + y * 0.00392377)
    outer = 0.00916281 + y * (-0.02057706 + y * outer)
    outer = 0.39894228 + y * (0.01328592 + y * (0.00225319 + y * (-0.00157565 + y * outer)))
    return outer / math.sqrt(x)


@numba.njit(cache=True)
def ring_gaussian(r, rho, spread):
    """Flux at ``r`` [m] of a Gaussian disc led round on a circle of radius ``rho`` [m].

    Not normalised [-]: relative to the middle of a disc that stands still.
    """
    s = spread * spread
    return math.exp(-0.5 * (r - rho) ** 2 / s) * scaled_bessel(r * rho / s)


@numba.njit(cache=True)
def depth_below_rim(r, rho, reach, level, z_faces, rim_row):
    """Mean depth [m] of the surface under the arc below the rim; zero once the hole is full."""
    total, count = 0.0, 0
    for i in range(level.shape[0]):
        if abs(r[i] - rho) <= reach:
            total += max(z_faces[level[i]] - z_faces[rim_row], 0.0)
            count += 1
    return total / max(count, 1)


@numba.njit(cache=True)
def rim_exposed(part, walls, r_faces, dz):
    """Area [m2] of hole walls that no weld metal covers yet."""
    area = 0.0
    for w in range(walls.shape[0]):
        column = walls[w, 0]
        for j in range(walls[w, 1], walls[w, 2]):
            if part[j, column - 1] < 0:
                area += 2.0 * math.pi * r_faces[column] * dz[j]
    return area


@numba.njit(cache=True)
def heat_rim(part, walls, r_faces, dz, power, area, heat):
    """Spread ``power`` [W] over the bare ``area`` [m2] of the hole walls, in place."""
    for w in range(walls.shape[0]):
        column = walls[w, 0]
        for j in range(walls[w, 1], walls[w, 2]):
            if part[j, column - 1] < 0:
                heat[j, column] += power * 2.0 * math.pi * r_faces[column] * dz[j] / area


@numba.njit(cache=True)
def heat_arc(cells, grid, level, walls, closure, rho):
    """Put the arc's heat where it lands, in place. Returns what it comes to [W]."""
    part, r_faces, z_faces, dz, area, r, rim_row, inside = grid
    heat = cells[HEAT]
    power = closure[ARC_HEAT]
    lowest = z_faces[rim_row]
    for i in range(inside):
        lowest = max(lowest, z_faces[level[i]])
    bare = rim_exposed(part, walls, r_faces, dz)
    on_rim = 0.0
    if bare > 0.0:
        rim_height = lowest - z_faces[rim_row]
        on_rim = closure[RIM_SHARE] * rim_height / (rim_height + closure[RIM_LENGTH])
        heat_rim(part, walls, r_faces, dz, on_rim * power, bare, heat)
    depth = depth_below_rim(r, rho, closure[SPLAT], level, z_faces, rim_row)
    spread = closure[SPREAD] + closure[SPREAD_RISE] * depth
    total = 0.0
    for i in range(r.shape[0]):
        total += area[i] * ring_gaussian(r[i], rho, spread)
    left = (1.0 - on_rim) * power / total
    for i in range(r.shape[0]):
        heat[level[i], i] += left * area[i] * ring_gaussian(r[i], rho, spread)
    return power


@numba.njit(cache=True)
def lose(cells, grid, level, closure, losses, g_bottom):
    """Take off what the upper surface loses and set the coefficients of the back, in place.

    ``losses`` [W/m2] has one row for each metal, spaced 1 K from 20 degC. Returns what the upper
    surface loses [W].
    """
    part, area = grid[0], grid[4]
    t, heat = cells[TEMPERATURE], cells[HEAT]
    lost = 0.0
    last = t.shape[0] - 1
    for i in range(area.shape[0]):
        if closure[LOSSES] == 0.0:
            g_bottom[i] = 0.0
            continue
        out = area[i] * enthalpy_at(t[level[i], i], losses[part[level[i], i]])
        heat[level[i], i] -= out
        lost += out
        now = max(t[last, i], ROOM + 1.0)
        given = enthalpy_at(now, losses[part[last, i]]) / (now - ROOM)
        g_bottom[i] = area[i] * (closure[BACK_FILM] + given)
    return lost


@numba.njit(cache=True)
def cross_gaps(cells, grid, gaps):
    """Let sheets exchange heat across open gaps: air and radiation, in place.

    ``gaps`` has one row for each gap: the rows of cells above and below it, its width [m].
    """
    part, area = grid[0], grid[4]
    t, heat = cells[TEMPERATURE], cells[HEAT]
    for q in range(gaps.shape[0]):
        above, below, width = int(gaps[q, 0]), int(gaps[q, 1]), gaps[q, 2]
        for i in range(area.shape[0]):
            if part[above, i] < 0 or part[below - 1, i] >= 0:
                continue
            hot, cold = t[above, i] + KELVIN, t[below, i] + KELVIN
            radiated = GREY * STEFAN_BOLTZMANN * (hot**4 - cold**4)
            flow = area[i] * (AIR / width * (hot - cold) + radiated)
            heat[above, i] -= flow
            heat[below, i] += flow
