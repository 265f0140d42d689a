"""Compiled kernel: a seam welded from the first arc to the last tracked cell being cool.

One step: heat of the arc at the middle of the step, conduction, what was seen, sheets that fused
together, metal laid down. Arrays come in groups: ``cells`` part, material, bare area, row of the
uppermost sheet and of the uppermost metal; ``couplings`` gx, gy, gz, gap flow, listed faces and
their count; ``places`` middles and faces in x, y, z; ``sizes`` of cells and one over them;
``columns`` in use of each row; ``metals`` enthalpy step, table, solidus; ``records`` peak, cooling
time, outlines, section laid down, section run into the gap. Numerical, no source.
"""

import math

import numba
import numpy as np

from buttonhole.weld.arc.seam import grid as g
from buttonhole.weld.arc.seam.arc_source import shine, window_of
from buttonhole.weld.arc.seam.bead import lay, settle
from buttonhole.weld.arc.seam.diffusion import advance, look_up, stages_for

AHEAD = 14e-3  # m of cold metal that is computed before the arc comes to it
NEAR = 8e-3  # m round the arc where sheets may fuse together
UPPER_MARK, LOWER_MARK = 800.0, 500.0  # degC, of the cooling time


@numba.njit(cache=True)
def observe(t, t_was, since, records, first, last, columns, now, dt):
    """Keep the peak and the time from 800 to 500 degC [s] of every cell; returns the hottest."""
    low, high = columns
    peak, cooling = records[0], records[1]
    hottest = -1e9
    for x in range(first, last):
        for z in range(1, t.shape[1] - 1):
            for y in range(low[z], high[z]):
                a, b = t_was[x, z, y], t[x, z, y]
                t_was[x, z, y] = b
                hottest = max(hottest, b)
                if b > peak[x, z, y]:
                    peak[x, z, y] = b
                    cooling[x, z, y] = np.nan
                if a >= UPPER_MARK > b:
                    since[x, z, y] = now - dt * (UPPER_MARK - b) / (a - b)
                if a >= LOWER_MARK > b and peak[x, z, y] >= UPPER_MARK:
                    at = now - dt * (LOWER_MARK - b) / (a - b)
                    cooling[x, z, y] = at - since[x, z, y]
    return hottest


@numba.njit(cache=True)
def fuse(t, cells, couplings, sizes, solidus, box):
    """Two sheets that are both molten where they touch stay one."""
    part, material = cells[0], cells[1]
    gy, gz = couplings[1], couplings[2]
    dx, dy, dz = sizes[0], sizes[1], sizes[2]
    for x in range(box[0], box[1]):
        for z in range(1, part.shape[1] - 1):
            for y in range(box[2], box[3]):
                own, m = part[x, z, y], material[x, z, y]
                if own < 0 or t[x, z, y] < solidus[m]:
                    continue
                up, side = part[x, z + 1, y], part[x, z, y + 1]
                m_up, m_side = material[x, z + 1, y], material[x, z, y + 1]
                if up >= 0 and up != own and t[x, z + 1, y] >= solidus[m_up]:
                    sign = 1.0 if m == m_up else -1.0
                    gz[x, z + 1, y] = sign * dx[x] * dy[y] / (0.5 * (dz[z] + dz[z + 1]))
                if side >= 0 and side != own and t[x, z, y + 1] >= solidus[m_side]:
                    sign = 1.0 if m == m_side else -1.0
                    gy[x, z, y + 1] = sign * dx[x] * dz[z] / (0.5 * (dy[y] + dy[y + 1]))


@numba.njit(cache=True)
def open_gap(at, part, places, gap_row, gap_columns, gap, sigma):
    """Mean depth of the gap under the arc that no metal has filled [m]."""
    if gap_row == 0:
        return 0.0
    whole, bare = 0.0, 0.0
    for x in range(1, part.shape[0] - 1):
        d = (places[0][x] - at[0]) / sigma
        weight = math.exp(-0.5 * d * d) * (places[3][x + 1] - places[3][x])
        whole += weight
        if part[x, gap_row, gap_columns[0]] == g.ENCLOSED:
            bare += weight
    return gap * bare / whole


@numba.njit(cache=True)
def step_of(path, row, lit, running, now, dark, numbers, explicit):
    """Length of the next step [s] and its stages."""
    longest = numbers[g.LONGEST_ARC_STEP]
    if lit:
        span = path[row + 1, g.AT] - path[row, g.AT]
        speed = max(abs(path[row + 1, g.X] - path[row, g.X]) / span, 1e-6)
        wanted = min(numbers[g.STEP_LENGTH] / speed, longest)
    else:
        wanted = min(longest + numbers[g.COOLING_GROWTH] * dark, numbers[g.LONGEST_STEP])
    s, dt = stages_for(wanted, explicit)
    if running:
        left = path[row + 1, g.AT] - now
        dt = left / math.ceil(left / dt - 1e-9)
        while s > 1 and 0.5 * ((s - 2) * (s - 2) + s - 2) * explicit >= dt:
            s -= 2
    return dt, s


@numba.njit(cache=True)
def light(path, row, when, at, numbers, axis, power, source, cells, places, sizes, gap, rim):
    """Set the arc's place and its heat in each cell; returns the box of cells and the power [W]."""
    part = cells[0]
    f = (when - path[row, g.AT]) / (path[row + 1, g.AT] - path[row, g.AT])
    for i in range(3):
        at[i] = path[row, g.X + i] + f * (path[row + 1, g.X + i] - path[row, g.X + i])
    box = window_of(at[0], at[1], numbers[g.REACH], places[3], places[4])
    deep = open_gap(at, part, places, rim[0], rim[1:], gap, numbers[g.SIGMA])
    share = numbers[g.EDGE_SHARE] * deep / (deep + numbers[g.GAP_SCALE])
    given = shine(source, box, part, places, sizes, at, axis, power, numbers, share)
    return box, given


@numba.njit(cache=True)
def march(
    path, axis, heat, numbers, gap, rim, fine, filler, h, cells, couplings, places,
    sizes, columns, metals, bar, records,
):  # fmt: skip
    """Weld the path and let it cool; arrays change in place.

    ``heat`` holds arc power [W], deposition rate [m3/s] and enthalpy of the droplets [J/m3];
    ``rim`` row of the gap and the columns of it that metal runs into. Returns the state, books [J]
    (arc, droplets, lost), steps, stages, time at the end [s], whether all cells had cooled down.
    """
    dx, dy, _, over_x, over_y, over_z = sizes
    nx, low, high = h.shape[0] - 2, columns[0], columns[1]
    theta, t, give = np.zeros_like(h), np.full_like(h, numbers[g.AMBIENT]), np.zeros_like(h)
    t_was, since, source = t.copy(), np.full_like(h, np.nan), np.zeros_like(h)
    scratch = np.zeros_like(h)
    waiting, landing, books = np.zeros(nx + 2), np.zeros(nx + 2), np.zeros(3)
    at, box, xf = np.zeros(3), np.array([1, 2, 1, 2]), places[3]
    explicit, now, dark, row, steps, stages = 0.95 / numbers[g.FASTEST_RATE], 0.0, 0.0, 0, 0, 0
    first, last, cooled = nx + 1, 1, False
    end = path[path.shape[0] - 1, g.AT]
    while True:
        while row < path.shape[0] - 2 and path[row + 1, g.AT] <= now + 1e-12:
            row += 1
        running = now < end - 1e-12
        lit = running and path[row, g.LIT] > 0.5
        dark = 0.0 if lit else dark
        dt, s = step_of(path, row, lit, running, now, dark, numbers, explicit)
        if lit:
            box, given = light(path, row, now + 0.5 * dt, at, numbers, axis, heat[0], source,
                               cells, places, sizes, gap, rim)  # fmt: skip
            books[g.ARC] += dt * given
            first = min(first, max(np.searchsorted(xf[1 : nx + 2], at[0] - AHEAD), 1))
            last = max(last, min(np.searchsorted(xf[1 : nx + 2], at[0] + AHEAD) + 1, nx + 1))
        elif not running:
            first, last = 1, nx + 1
        h, scratch, lost = advance(
            h, scratch, dt, s, lit, source, box, theta, t, give, cells[1], first, last, low, high,
            metals[0], metals[1], couplings[0], couplings[1], couplings[2], dx, dy, over_x, over_y,
            over_z, cells[2], bar, numbers[g.AMBIENT], couplings[4], couplings[5][0], couplings[3],
        )  # fmt: skip
        books[g.LOST] += lost
        now, dark, steps, stages = now + dt, dark + dt, steps + 1, stages + s
        look_up(h, cells[1], first, last, low, high, metals[0], metals[1], cells[2], theta, t, give)
        hottest = observe(t, t_was, since, records, first, last, columns, now, dt)
        if lit:
            near = window_of(at[0], at[1], NEAR, xf, places[4])
            fuse(t, cells, couplings, sizes, metals[2], near)
            books[g.DROPLETS] += lay(
                dt, heat, at, numbers, waiting, landing, h, t, t_was, cells, couplings, places,
                sizes, columns, records, fine, rim, filler,
            )  # fmt: skip
            if now >= path[row + 1, g.AT] - 1e-12:
                books[g.DROPLETS] += settle(
                    1, nx + 1, waiting, heat[2], h, cells, sizes, places, fine, at, numbers
                )
        if now >= end - 1e-12:
            cooled = hottest < numbers[g.STOP_BELOW]
            if cooled or now - end >= numbers[g.LONGEST_COOLING] or not math.isfinite(hottest):
                break
    return h, books, steps, stages, now, cooled
