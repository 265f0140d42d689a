"""Compiled kernels: what is kept of a weld while it is marched.

At each faying interface, ring by ring: how hot its faces came, when they melted and froze, how far
the true contact has closed, and how far atoms have moved across it. At chosen points: the
temperature after each step.

Sources: frost-ashby-1982 (diffusion in iron, from memory); derby-wallach-1982 and
derby-wallach-1984 for the kind of law by which a pressed contact closes; what is marked so, judged.
"""

import math

import numba

from buttonhole.weld.spot import contact_law, contacts, nugget
from buttonhole.weld.spot.fields import (
    CREEP,
    F_AT_500,
    F_AT_700,
    F_CLOSED,
    F_FROZEN_AT,
    F_HOTTEST,
    F_LAST,
    F_MELTED_AT,
    F_REACH,
    FORCE,
    SHAPE,
    STENCIL,
    TEMPERATURE,
)

# Diffusion of iron in iron, face-centred: the slower of its two lattices, so that the bond is
# rather made out too small.
DIFFUSION = 1.8e-5  # m2/s, from memory
ACTIVATION = 270e3  # J/mol, from memory
GAS = 8.314  # J/mol/K
FLATTENING = 3.0  # - pressure on asperities over their strength, Hill (from memory)
STRAIN_RATE = 0.1  # 1/s at that pressure: strength was measured over seconds; judged
STRENGTH_FLOOR = 1e6  # Pa


@numba.njit(cache=True)
def diffusivity(t):
    """Self-diffusion of iron [m2/s] at ``t`` [degC]."""
    return DIFFUSION * math.exp(-ACTIVATION / (GAS * (max(t, 0.0) + 273.15)))


@numba.njit(cache=True)
def closing(p, strength):
    """How fast the fifth power of the closed share grows [1/s] under a pressure [Pa].

    The asperities bear the pressure over their share f of the face, so their stress is p / f. By
    power-law creep f grows at f * rate * (p / (3 f strength))^n, and its n-th power evenly.
    """
    return CREEP * STRAIN_RATE * (p / (FLATTENING * (strength + STRENGTH_FLOOR))) ** CREEP


@numba.njit(cache=True)
def passed(was, now, level, before, after):
    """Time [s] at which a line from ``was`` at ``before`` to ``now`` at ``after`` meets a level."""
    return before + (after - before) * (level - was) / (now - was)


@numba.njit(cache=True)
def note_times(face, i, now, fusion, before, after):
    """Keep when one ring of an interface passed the levels that matter, in place."""
    was = face[F_LAST, i]
    if was < fusion <= now and math.isnan(face[F_MELTED_AT, i]):
        face[F_MELTED_AT, i] = passed(was, now, fusion, before, after)
    if was >= fusion > now:
        face[F_FROZEN_AT, i] = passed(was, now, fusion, before, after)
    if was < 500.0 <= now and math.isnan(face[F_AT_500, i]):
        face[F_AT_500, i] = passed(was, now, 500.0, before, after)
    if was < 700.0 <= now and math.isnan(face[F_AT_700, i]):
        face[F_AT_700, i] = passed(was, now, 700.0, before, after)
    face[F_LAST, i] = now
    face[F_HOTTEST, i] = max(face[F_HOTTEST, i], now)


@numba.njit(cache=True)
def note_faces(t, grid, facts, law, material, radii, faces, pressed, before, after):
    """Bring what is kept of the faying interfaces from ``before`` to ``after`` [s], in place."""
    part, r_faces, rows = grid[0], grid[1], grid[5]
    flow_table, melting = material[3], material[4]
    for f in range(faces.shape[0]):
        row, face, a = rows[f + 1], faces[f], radii[f + 1]
        mirrored = row == part.shape[0]
        up = part[row - 1, 0]
        low = up if mirrored else part[row, 0]
        fusion = 0.25 * (melting[0, up] + melting[1, up] + melting[0, low] + melting[1, low])
        for i in range(face.shape[1]):
            now = nugget.face_temperature(t, row - 1, i, -1)
            if not mirrored:
                now = 0.5 * (now + nugget.face_temperature(t, row, i, 1))
            middle = 0.5 * (r_faces[i] + r_faces[i + 1])
            if pressed and middle < a:
                strength = min(
                    contacts.flow_stress(flow_table, up, now),
                    contacts.flow_stress(flow_table, low, now),
                )
                p = contact_law.pressure(middle, a, facts[f + 1, FORCE], law[SHAPE])
                face[F_CLOSED, i] += (after - before) * closing(p, strength)
                face[F_REACH, i] += (after - before) * diffusivity(now)
            note_times(face, i, now, fusion, before, after)


@numba.njit(cache=True)
def note_points(t, at, weights, row):
    """Temperature [degC] at each point into a row that begins with the time, in place."""
    for p in range(at.shape[0]):
        total = 0.0
        for k in range(STENCIL):
            total += weights[p, k] * t[at[p, k, 0], at[p, k, 1]]
        row[1 + p] = total


@numba.njit(cache=True)
def note(cells, grid, joint, material, radii, seen, pressed, before, after, step):
    """Keep what is to be kept of the state at ``after`` [s], the one before at ``before`` [s]."""
    at, weights, trace, faces = seen
    facts, _, _, law = joint
    t = cells[TEMPERATURE]
    note_faces(t, grid, facts, law, material, radii, faces, pressed, before, after)
    trace[step, 0] = after
    note_points(t, at, weights, trace[step])
