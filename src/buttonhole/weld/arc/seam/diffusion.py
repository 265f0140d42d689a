"""Compiled kernels: heat flows between the cells of a seam, several stages to a step.

Explicit stages of the Runge-Kutta-Legendre kind of first order: s of them take a step (s^2 + s) / 2
times as long as one explicit step may be, never overshoot, and what leaves a cell enters its
neighbour to rounding. The unknown is enthalpy, so melting needs no iteration; the driving potential
is the integral of the conductivity over temperature, so the flux is exact for a conductivity that
varies. Stages and their numbers: from memory.

Couplings are area over distance. A negative one marks a face between unlike metals, which have no
potential in common: those are listed and pass their heat apart.

Sources
-------
meyer-2014 (from memory).
"""

import numba

POTENTIAL, TEMPERATURE, LOSS = 0, 1, 2  # columns of the tables against enthalpy
ALONG, UP, ACROSS, AIR = 0, 1, 2, 3  # kinds of a listed face


@numba.njit(cache=True)
def look_up(h, material, first, last, low, high, per_step, table, bare, theta, t, give):
    """Potential [W/m], temperature [degC], loss to the air [W] of cells in the window, in place.

    Returns the sum of the losses [W]: adding up where the heat flows would keep that loop slow.
    """
    lost = 0.0
    end = table.shape[1] - 1.001
    for x in range(first, last):
        for z in range(1, h.shape[1] - 1):
            a, b = low[z], high[z]
            if b <= a:
                continue
            h_row, m_row, bare_row = h[x, z, a:b], material[x, z, a:b], bare[x, z, a:b]
            theta_row, t_row, give_row = theta[x, z, a:b], t[x, z, a:b], give[x, z, a:b]
            for i in range(b - a):
                m = m_row[i]
                u = min(max(h_row[i] * per_step[m], 0.0), end)
                n = int(u)
                f = u - n
                e = 1.0 - f
                theta_row[i] = e * table[m, n, POTENTIAL] + f * table[m, n + 1, POTENTIAL]
                t_row[i] = e * table[m, n, TEMPERATURE] + f * table[m, n + 1, TEMPERATURE]
                loss = e * table[m, n, LOSS] + f * table[m, n + 1, LOSS]
                give_row[i] = bare_row[i] * loss
                lost += give_row[i]
    return lost


@numba.njit(cache=True)
def stage(
    now, before, mu, nu, span, theta, give, first, last, low, high, gx, gy, gz, over_x, over_y,
    over_z,
):  # fmt: skip
    """One stage: ``before`` becomes mu now + nu before + span times the gain of heat."""
    for x in range(first, last):
        left = 1.0 if x > first else 0.0
        right = 1.0 if x < last - 1 else 0.0
        for z in range(1, now.shape[1] - 1):
            a, b = low[z], high[z]
            if b <= a:
                continue
            per_volume = span * over_x[x] * over_z[z]
            here, given = theta[x, z, a:b], give[x, z, a:b]
            back, ahead = theta[x - 1, z, a:b], theta[x + 1, z, a:b]
            below, above = theta[x, z - 1, a:b], theta[x, z + 1, a:b]
            port, starboard = theta[x, z, a - 1 : b - 1], theta[x, z, a + 1 : b + 1]
            g_back, g_ahead = gx[x, z, a:b], gx[x + 1, z, a:b]
            g_below, g_above = gz[x, z, a:b], gz[x, z + 1, a:b]
            g_port, g_starboard = gy[x, z, a:b], gy[x, z, a + 1 : b + 1]
            new, old, thin = before[x, z, a:b], now[x, z, a:b], over_y[a:b]
            for i in range(b - a):
                q = (
                    left * max(g_back[i], 0.0) * (back[i] - here[i])
                    + right * max(g_ahead[i], 0.0) * (ahead[i] - here[i])
                    + max(g_port[i], 0.0) * (port[i] - here[i])
                    + max(g_starboard[i], 0.0) * (starboard[i] - here[i])
                    + max(g_below[i], 0.0) * (below[i] - here[i])
                    + max(g_above[i], 0.0) * (above[i] - here[i])
                    - given[i]
                )
                new[i] = mu * old[i] + nu * new[i] + per_volume * thin[i] * q


@numba.njit(cache=True)
def pass_apart(
    before, span, links, count, theta, t, first, last, gx, gy, gz, gap_flow, over_x, over_y, over_z
):
    """Heat between unlike metals and across an open gap over one stage, in place."""
    for n in range(count):
        kind, x, z, y = links[n, 0], links[n, 1], links[n, 2], links[n, 3]
        if x < first or x >= last:
            continue
        xb, zb, yb = x, z, y  # the other cell
        if kind == AIR:
            zb = z - 2
            flow = gap_flow[x, y] * (t[x, zb, y] - t[x, z, y])
        else:
            if kind == ALONG:
                xb, g = x - 1, -gx[x, z, y]
            elif kind == UP:
                zb, g = z - 1, -gz[x, z, y]
            else:
                yb, g = y - 1, -gy[x, z, y]
            if xb < first or g <= 0.0:
                continue
            # the mean conductivity of each metal from 20 degC stands for it
            ka = theta[x, z, y] / max(t[x, z, y] - 20.0, 1e-3)
            kb = theta[xb, zb, yb] / max(t[xb, zb, yb] - 20.0, 1e-3)
            if ka + kb <= 0.0:
                continue
            flow = g * 2.0 * ka * kb / (ka + kb) * (t[xb, zb, yb] - t[x, z, y])
        before[x, z, y] += span * flow * over_x[x] * over_y[y] * over_z[z]
        before[xb, zb, yb] -= span * flow * over_x[xb] * over_y[yb] * over_z[zb]


@numba.njit(cache=True)
def press(before, span, bar, t, ambient, first, last, dx, dy, over_x, over_y, over_z):
    """Heat into a bar on the back over one stage, in place; returns it [W]."""
    lost = 0.0
    for y in range(1, bar.shape[0] - 1):
        if bar[y] == 0.0:
            continue
        for x in range(first, last):
            give = bar[y] * dx[x] * dy[y] * (t[x, 1, y] - ambient)
            before[x, 1, y] -= span * give * over_x[x] * over_y[y] * over_z[1]
            lost += give
    return lost


@numba.njit(cache=True)
def add_sources(h, source, box, share, over_x, over_y, over_z):
    """Heat of the arc over one stage, in place; ``source`` [W] a cell, ``share`` [s]."""
    for x in range(box[0], box[1]):
        for z in range(1, h.shape[1] - 1):
            for y in range(box[2], box[3]):
                if source[x, z, y] != 0.0:
                    h[x, z, y] += share * source[x, z, y] * over_x[x] * over_z[z] * over_y[y]


@numba.njit(cache=True)
def stages_for(wanted, explicit):
    """Stages, an odd number, whose step [s] is nearest below 1.2 ``wanted`` [s]; and that step."""
    s = 1
    while 0.5 * ((s + 2) * (s + 2) + s + 2) * explicit <= 1.2 * wanted:
        s += 2
    return s, min(0.5 * (s * s + s) * explicit, 1.2 * wanted)


@numba.njit(cache=True)
def advance(
    now, before, dt, s, lit, source, box, theta, t, give, material, first, last, low, high,
    per_step, table, gx, gy, gz, dx, dy, over_x, over_y, over_z, bare, bar, ambient,
    links, count, gap_flow,
):  # fmt: skip
    """One step of ``dt`` [s] in ``s`` stages; returns new state, array for the next, loss [J]."""
    unit = 2.0 / (s * s + s)
    lost_now, lost_before = 0.0, 0.0
    for j in range(1, s + 1):
        mu = (2.0 * j - 1.0) / j
        nu = (1.0 - j) / j
        span = mu * unit * dt
        lost = look_up(now, material, first, last, low, high, per_step, table, bare, theta, t, give)
        stage(
            now, before, mu, nu, span, theta, give, first, last, low, high, gx, gy, gz,
            over_x, over_y, over_z,
        )  # fmt: skip
        if count > 0:
            pass_apart(
                before, span, links, count, theta, t, first, last, gx, gy, gz, gap_flow,
                over_x, over_y, over_z,
            )  # fmt: skip
        lost += press(before, span, bar, t, ambient, first, last, dx, dy, over_x, over_y, over_z)
        if lit:
            add_sources(before, source, box, span, over_x, over_y, over_z)
        lost_now, lost_before = mu * lost_now + nu * lost_before + span * lost, lost_now
        now, before = before, now
    return now, before, lost_now
