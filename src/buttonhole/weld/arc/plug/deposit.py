"""Compiled kernels: where the drops' metal goes: on the lowest column that the melt wets.

A drop lands within a splat of the arc. From there it reaches every neighbouring column whose top is
hot enough to be wetted, and settles on the lowest. Where the pile stands too high over a cold
neighbour, it rolls down on that side as far as it goes down: a cold lap. Beside an open gap it
first runs into the gap.

Sources: our own. Filling in flat layers instead lays cold metal between arc and sheet.
"""

import numba

from buttonhole.weld.arc.plug.fields import (
    ENTHALPY,
    FROM_DROPS,
    LAID,
    PEAK,
    PILE,
    SPLAT,
    TEMPERATURE,
    VOLUME,
    WETS,
)


@numba.njit(cache=True)
def is_full(level, inside, rim_row):
    """Whether the metal stands at the rim or above it all over the hole."""
    lowest = rim_row
    for i in range(inside):
        lowest = max(lowest, level[i])
    return lowest == rim_row


@numba.njit(cache=True)
def wetted_span(t, r, level, inside, rim_row, rho, splat, wets):
    """First and last column the melt reaches from where the drops land."""
    landing = 0
    for i in range(inside):
        if abs(r[i] - rho) < abs(r[landing] - rho):
            landing = i
    low, high = landing, landing
    while low > 0 and (rho - r[low - 1] <= splat or t[level[low - 1], low - 1] >= wets):
        low -= 1
    while high + 1 < inside and (
        r[high + 1] - rho <= splat or t[level[high + 1], high + 1] >= wets
    ):
        high += 1
    if high == inside - 1 and is_full(level, inside, rim_row):
        while high + 1 < r.shape[0] and t[level[high + 1], high + 1] >= wets:
            high += 1
    return low, high


@numba.njit(cache=True)
def choose_column(t, r, level, z_faces, inside, rim_row, rho, closure):
    """Column the next metal settles on: the lowest wetted one, or a dry one that it rolls on to."""
    low, high = wetted_span(t, r, level, inside, rim_row, rho, closure[SPLAT], closure[WETS])
    best = low
    for i in range(low, high + 1):
        nearer = level[i] == level[best] and abs(r[i] - rho) < abs(r[best] - rho)
        if level[i] > level[best] or nearer:
            best = i
    top = z_faces[level[best]]
    end = r.shape[0] if is_full(level, inside, rim_row) else inside
    for way in (-1, 1):
        beside = low - 1 if way < 0 else high + 1
        if 0 <= beside < end and z_faces[level[beside]] - top > closure[PILE]:
            while 0 <= beside + way < end and level[beside + way] > level[beside]:
                beside += way
            return beside
    return best


@numba.njit(cache=True)
def open_pocket(part, gaps, row):
    """Row and column of a gap cell beside the hole that fills before ``row`` does; -1 for none."""
    for q in range(gaps.shape[0]):
        above, below = int(gaps[q, 0]), int(gaps[q, 1])
        for j in range(below - 1, above, -1):
            if j < row:
                continue
            for i in range(int(gaps[q, 3]), int(gaps[q, 4])):
                if part[j, i] < 0 and part[j, i - 1] >= 0:
                    return j, i
    return -1, -1


@numba.njit(cache=True)
def lay(cells, grid, level, gaps, closure, drop, metal, rho, sums, bank):
    """Lay down the metal in the bank [m3] cell by cell. Returns what is left of it [m3].

    ``drop`` holds enthalpy [J/m3] and temperature [degC] of the drops, ``metal`` their row in the
    tables. A negative return means that the grid has no room left.
    """
    part, _, z_faces, _, _, r, rim_row, inside = grid
    t, volume = cells[TEMPERATURE], cells[VOLUME]
    while True:
        i = choose_column(t, r, level, z_faces, inside, rim_row, rho, closure)
        j = level[i] - 1
        pocket_row, pocket = open_pocket(part, gaps, j)
        if pocket_row >= 0:
            j, i = pocket_row, pocket
        if j < 0:
            return -1.0
        if bank < volume[j, i]:
            return bank
        bank -= volume[j, i]
        part[j, i] = metal
        cells[ENTHALPY, j, i] = drop[0]
        t[j, i] = drop[1]
        cells[PEAK, j, i] = drop[1]
        if pocket_row < 0:
            level[i] = j
        sums[FROM_DROPS] += drop[0] * volume[j, i]
        sums[LAID] += volume[j, i]
