"""Compiled kernels: bring contact radii, films and conductances to the present state.

Derived, no source, our own; the laws are in contact_law and contact_mechanics.
"""

import math

import numba

from buttonhole.weld.spot import contact_law, contact_mechanics
from buttonhole.weld.spot.fields import (
    BLUR,
    BODY,
    COLD_FILM,
    CONDUCT_CAP,
    CONDUCT_EXPONENT,
    CONDUCT_SHEET,
    CONDUCTANCE,
    DENSITY,
    DEPTH,
    DEPTH_A,
    DEPTH_B,
    DOME,
    FACE,
    FILM,
    FILM_EXPONENT,
    FORCE,
    HALO,
    HOTTEST,
    MELTS,
    NARROWED,
    OUTER_SHEET,
    RADIUS,
    RIM,
    SHAPE,
    SHARE,
    SINK_EXPONENT,
    SINK_RATE,
    SINK_RING,
    SPREAD,
)  # fmt: skip

# Towards its edge a contact touches in patches. Current and heat run aside to them through this
# much metal, so that the edge's resistance does not hang on the cell size; judged, no source.
PATCHES = 0.1e-3  # m
MELTING_SPAN = 150.0  # K over which a molten coating is squeezed out; judged, no source
RING_WIDTH = 0.5  # - of the thickness: what holds a cap from sinking, see decision 12
REACH = 1.0  # - of the depths below both caps; farther out no sheet carries force; judged
LEAST_RADIUS = 0.3e-3  # m
SKIN = 0.25  # - of the thickness that a dome dents, see decision 14
# Pressure a hot dome rests with over the flow stress of that skin: median of elastic-plastic finite
# elements, 3.7 to 8. Soft metal under it is shut in; Hill's 2.8 is for a deep block. Decision 14.
DENTING = 5.7  # -
DOME_SPREAD = 0.25  # - contact radius gained per depth under a dome, see decision 11


@numba.njit(cache=True)
def flow_stress(flow_table, sheet, t):
    """Flow stress [Pa] of a sheet at ``t`` [degC]; the table counts single degrees from 20."""
    n = min(max(t - 20.0, 0.0), flow_table.shape[1] - 1.001)
    k = int(n)
    return flow_table[sheet, k] + (n - k) * (flow_table[sheet, k + 1] - flow_table[sheet, k])


@numba.njit(cache=True)
def ring_flow_stress(t, part, row, step, radius, width, r_faces, dz, flow_table):
    """Mean flow stress [Pa] of a sheet beside a cap, ``width`` [m] wide and as deep as the sheet.

    Soft metal and melt under a cap are shut in and bear as much as the ring round them lets them.
    """
    sheet = part[row, 0]
    outer = radius + width
    total, weight, j = 0.0, 0.0, row
    while 0 <= j < t.shape[0] and part[j, 0] == sheet:
        for i in range(t.shape[1]):
            low, high = max(r_faces[i], radius), min(r_faces[i + 1], outer)
            if high > low:
                w = dz[j] * (high * high - low * low)
                total += w * flow_stress(flow_table, sheet, t[j, i])
                weight += w
        j += step
    return total / max(weight, 1e-30)


@numba.njit(cache=True)
def skin_flow_stress(t, part, row, step, radius, depth, r_faces, dz, flow_table):
    """Mean flow stress [Pa] of a sheet's skin under a cap, down to ``depth`` [m]."""
    sheet = part[row, 0]
    total, weight = 0.0, 0.0
    gone, j = 0.0, row
    while gone < depth and 0 <= j < t.shape[0] and part[j, 0] == sheet:
        thick = min(dz[j], depth - gone)
        for i in range(t.shape[1]):
            high = min(r_faces[i + 1], radius)
            if high > r_faces[i]:
                w = thick * (high * high - r_faces[i] ** 2)
                total += w * flow_stress(flow_table, sheet, t[j, i])
                weight += w
        gone += dz[j]
        j += step
    return total / max(weight, 1e-30)


@numba.njit(cache=True)
def sink(t, part, rows, side, cap, force, r_faces, dz, flow_table, law, dt):
    """Let a cap sink for ``dt`` [s]; sets its depth and contact radius, in place."""
    row = rows[0] if side == 0 else rows[rows.shape[0] - 1] - 1
    step = 1 if side == 0 else -1
    thickness = cap[OUTER_SHEET]
    stress = ring_flow_stress(
        t, part, row, step, cap[RADIUS], RING_WIDTH * thickness, r_faces, dz, flow_table
    )
    borne = law[SINK_RING] * stress
    if cap[DOME] > 0.0 and (cap[FACE] <= 0.0 or cap[RADIUS] < cap[FACE]):
        # still on its curve: it dents the skin alone, long before the whole sheet gives way
        skin = skin_flow_stress(
            t, part, row, step, cap[RADIUS], SKIN * thickness, r_faces, dz, flow_table
        )
        borne = min(borne, DENTING * skin)
    v = contact_mechanics.sinking_rate(
        force, cap[RADIUS], borne, thickness, cap[DEPTH],
        law[SINK_RATE], law[SINK_EXPONENT],
    )  # fmt: skip
    cap[DEPTH] += v * dt
    cap[RADIUS] = contact_mechanics.cap_radius(cap[DEPTH], cap[FACE], cap[DOME], cap[BODY])


@numba.njit(cache=True)
def gain(cap, spread):
    """Contact radius gained per depth under a cap [-]: a dome presses hardest in its middle."""
    return spread if cap[DOME] <= 0.0 else DOME_SPREAD


@numba.njit(cache=True)
def radius_of(q, facts, caps, spread):
    """Radius [m] of contact ``q`` as the caps press it cold."""
    fact = facts[q]
    if q == 0:
        a = caps[0, RADIUS]
    elif q == facts.shape[0] - 1:
        a = caps[1, RADIUS]
    else:
        a = contact_mechanics.faying_radius(
            caps[0, RADIUS], caps[1, RADIUS],
            fact[DEPTH_A] * gain(caps[0], spread), fact[DEPTH_B] * gain(caps[1], spread),
        )  # fmt: skip
    return max(a * fact[NARROWED], LEAST_RADIUS)


@numba.njit(cache=True)
def halo(fact, hottest):
    """Width [m] of the ring of molten coating squeezed out round a contact."""
    return min(max((hottest - fact[MELTS]) / MELTING_SPAN, 0.0), 1.0) * fact[HALO]


@numba.njit(cache=True)
def bearing_radius(t, part, row, r_faces, flow_table, rim, force):
    """Radius [m] within which a hot interface bears the force, yielding all over.

    ``rim`` is the pressure it bears over the flow stress of the softer side; melt bears little, so
    a growing nugget pushes the contact out. At a mirror plane both sides are the one above.
    """
    above, below = row - 1, min(row, t.shape[0] - 1)
    borne = 0.0
    for i in range(t.shape[1]):
        softer = min(
            flow_stress(flow_table, part[above, 0], t[above, i]),
            flow_stress(flow_table, part[below, 0], t[below, i]),
        )
        ring = math.pi * (r_faces[i + 1] ** 2 - r_faces[i] ** 2)
        more = rim * softer * ring
        if borne + more >= force:
            return math.sqrt(r_faces[i] ** 2 + (force - borne) / (rim * softer * math.pi))
        borne += more
    return r_faces[t.shape[1]]


@numba.njit(cache=True)
def grown_radius(cold, fact, t, part, row, r_faces, law, flow_table):
    """Radius [m] of a faying contact that has grown from ``cold`` [m] by getting hot."""
    bearing = bearing_radius(t, part, row, r_faces, flow_table, law[RIM], fact[FORCE])
    farthest = cold + REACH * (fact[DEPTH_A] + fact[DEPTH_B])
    return max(cold, min(bearing, farthest))


@numba.njit(cache=True)
def interface_temperature(t, k, dz, row, i, hc, released):
    """Mean temperature [degC] of the two faces at a contact.

    ``released`` [W/m2] is the heat of the film, half of it to each side, and ``hc`` [W/m2/K] joins
    the faces. The faces are hotter than the cells behind them: leaving that out makes the film
    outlast a coarse grid. At a mirror plane both sides are the one above.
    """
    a = row - 1
    g_a = 2.0 * k[a, i] / dz[a]
    if row == t.shape[0]:
        return t[a, i] + 0.5 * released / g_a
    g_b = 2.0 * k[row, i] / dz[row]
    # heat into each side: g (face - cell) = half the heat -+ what crosses the contact
    across = hc * (t[a, i] - t[row, i] + 0.5 * released * (1.0 / g_a - 1.0 / g_b))
    across /= 1.0 + hc / g_a + hc / g_b
    face_a = t[a, i] + (0.5 * released - across) / g_a
    face_b = t[row, i] + (0.5 * released + across) / g_b
    return 0.5 * (face_a + face_b)


@numba.njit(cache=True)
def film_now(t, k, dz, row, i, p, cold, law, contact, q):
    """Bring the film at one ring of a contact to the present; its resistance and temperature.

    What was once hot stays burnt.
    """
    density = contact[DENSITY, q, i]
    released = density * density * contact[FILM, q, i]
    now = interface_temperature(t, k, dz, row, i, contact[CONDUCTANCE, q, i], released)
    contact[HOTTEST, q, i] = contact_law.burnt_to(
        cold, law[FILM_EXPONENT], p, now, contact[HOTTEST, q, i], density / contact[SHARE, q, i]
    )
    return contact_law.resistance(cold, law[FILM_EXPONENT], p, contact[HOTTEST, q, i]), now


@numba.njit(cache=True)
def update(
    t, part, k, rho, dz, rows, caps, facts, r_faces, law, flow_table, opened, contact, radii
):  # fmt: skip
    """Share, film and conductance of every contact, in place.

    ``radii`` takes the contact radii [m]. With ``opened`` the caps have left the sheets.
    """
    last = facts.shape[0] - 1  # of the whole stack, mirrored part included
    for q in range(contact.shape[1]):
        a = radius_of(q, facts, caps, law[SPREAD])
        ring = halo(facts[q], contact[HOTTEST, q, 0])
        at_cap = q == 0 or q == last
        if not at_cap:
            grown = grown_radius(a, facts[q], t, part, rows[q], r_faces, law, flow_table)
            a = max(grown, radii[q] - ring)  # what has grown together stays together
        a += ring
        if not (opened and at_cap):
            radii[q] = a
        for i in range(contact.shape[2]):
            f = contact_mechanics.inside(r_faces[i], r_faces[i + 1], a, law[BLUR])
            contact[SHARE, q, i] = f
            if f == 0.0 or (opened and at_cap):
                contact[SHARE, q, i] = 0.0
                contact[FILM, q, i], contact[CONDUCTANCE, q, i] = 1.0, 0.0
                continue
            middle = 0.5 * (r_faces[i] + r_faces[i + 1])
            shape = 0.0 if at_cap else law[SHAPE]
            p = contact_law.pressure(middle, a, facts[q, FORCE], shape)
            rc, now = film_now(t, k, dz, rows[q], i, p, facts[q, COLD_FILM], law, contact, q)
            h = law[CONDUCT_CAP] if at_cap else law[CONDUCT_SHEET]
            hc = contact_law.conductance(h, law[CONDUCT_EXPONENT], p, now, rc)
            above, below = rows[q] - 1, min(rows[q], t.shape[0] - 1)
            patchy = (1.0 / f - 1.0) * PATCHES  # m of metal the current must run aside
            contact[FILM, q, i] = rc / f + patchy * 0.5 * (rho[above, i] + rho[below, i])
            aside = patchy * 0.5 * (1.0 / k[above, i] + 1.0 / k[below, i])
            contact[CONDUCTANCE, q, i] = 1.0 / (1.0 / (f * hc) + aside)


@numba.njit(cache=True)
def spread_evenly(current, facts, caps, law, contact):
    """Start from a current [A] that flows evenly through every contact, in place.

    Starting from cold films would crowd the current where pressure is highest and burn them there
    for good, at voltages no machine has.
    """
    for q in range(contact.shape[1]):
        a = radius_of(q, facts, caps, law[SPREAD])
        contact[DENSITY, q, :] = current / (math.pi * a * a)
        contact[SHARE, q, :] = 1.0


@numba.njit(cache=True)
def current_densities(e_z, ends, phi, rows, r_faces, volts, contact):
    """Current density in each contact [A/m2] at the present total voltage, in place."""
    nz = phi.shape[0]
    for q in range(contact.shape[1]):
        j = rows[q]
        for i in range(contact.shape[2]):
            area = math.pi * (r_faces[i + 1] ** 2 - r_faces[i] ** 2)
            contact[DENSITY, q, i] = 0.0
            if contact[SHARE, q, i] == 0.0:
                continue
            current = ends[3, i] * phi[j - 1, i] if j == nz else 0.0
            if j < nz:
                current = e_z[j, i] * (phi[j - 1, i] - phi[j, i])
            contact[DENSITY, q, i] = abs(current) * volts / area
