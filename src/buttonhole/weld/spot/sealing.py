"""Compiled kernels: what presses melt out of a faying interface, and what holds it in.

A nugget is a pocket of melt in hot solid, pressed by the caps. Force balance on the interface: the
melt pushes the sheets apart with its pressure on its area; the electrode force and the bond of the
hot ring round it hold them together. The melt's pressure is the mean pressure of the contact plus
what its own expansion needs to make the hot solid round it yield, plus the vapour of zinc that was
caught in it. The load is what pushes over what holds; see ``fields.OPENS_AT``.

The closure by the yielding of the hot ring is our own; constants are judged, see each.

Sources: senkara-2004 (form of the balance, from memory).
"""

import math

import numba

from buttonhole.weld.spot.contacts import flow_stress
from buttonhole.weld.spot.fields import FORCE, TEMPERATURE, ZINC

LIQUID_GROWTH = 1.2e-4  # 1/K, volume of the melt, from memory
WALL = 1.0  # - pressure in a pocket over the flow stress that yields round it; judged
INNER = 1 / 3  # - of the ring's width that yields round a growing pocket; judged
TABLE_RATE = 0.1  # 1/s, strain rate the flow stresses are tabulated for (loading over seconds)
RATE_EXPONENT = 0.15  # - of the flow stress on the strain rate, hot austenite; from memory
BOND = 0.5  # - of its flow stress that a hot pressed ring holds in tension; judged
BOILING_ZINC = 1180.0  # K
VAPORISATION = 13_900.0  # K, heat of vaporisation of zinc over the gas constant; from memory
ATMOSPHERE = 101_325.0  # Pa
CAUGHT = 0.3  # - of the zinc on both faces that is not squeezed out before they melt; judged
ZINC_ACTIVITY = 10.0  # - over its share of the melt's depth: zinc hardly dissolves in iron; judged


@numba.njit(cache=True)
def ring_strength(t, part, row, r_faces, flow_table, inner, outer):
    """Mean flow stress [Pa] of the softer face of an interface between two radii [m]."""
    above, below = row - 1, min(row, t.shape[0] - 1)
    total, weight = 0.0, 0.0
    for i in range(t.shape[1]):
        low, high = max(r_faces[i], inner), min(r_faces[i + 1], outer)
        if high <= low:
            continue
        area = high * high - low * low
        a = flow_stress(flow_table, part[above, 0], t[above, i])
        b = flow_stress(flow_table, part[below, 0], t[below, i])
        total += area * min(a, b)
        weight += area
    return total / weight if weight > 0.0 else 0.0


@numba.njit(cache=True)
def zinc_pressure(temperature, thickness, depth):
    """Pressure [Pa] of zinc caught in a melt of ``depth`` [m] at ``temperature`` [degC].

    ``thickness`` [m] is the zinc on both faces together.
    """
    if thickness <= 0.0 or depth <= 0.0:
        return 0.0
    share = min(ZINC_ACTIVITY * CAUGHT * thickness / depth, 1.0)
    kelvin = max(temperature + 273.15, 900.0)
    return share * ATMOSPHERE * math.exp(VAPORISATION * (1.0 / BOILING_ZINC - 1.0 / kelvin))


@numba.njit(cache=True)
def pocket_pressure(strength, rate):
    """Pressure [Pa] in a pocket that grows by ``rate`` [1/s] of its volume in solid of a strength.

    ``strength`` [Pa] is the flow stress at the table's rate.
    """
    return WALL * strength * (max(rate, 0.0) / TABLE_RATE) ** RATE_EXPONENT


@numba.njit(cache=True)
def load(force, nugget, contact, wall, strength, rate, zinc):
    """What presses the ring open over what holds it [-].

    ``nugget`` and ``contact`` are radii [m], ``wall`` [Pa] the strength of the solid next to the
    melt, ``strength`` [Pa] that of the whole ring, ``rate`` [1/s] the growth of the melt's volume
    by its expansion, ``zinc`` [Pa] the vapour's pressure.
    """
    melt, whole = math.pi * nugget * nugget, math.pi * contact * contact
    if melt <= 0.0 or whole <= 0.0:
        return 0.0
    melt = min(melt, whole)
    ring = whole - melt
    pressure = force / whole + pocket_pressure(wall, rate) + zinc
    return pressure * melt / (force + BOND * strength * ring)


@numba.njit(cache=True)
def interface_load(cells, grid, material, fact, contact, row, wide, depths, rate):
    """Load [-] of one interface now; ``wide`` [m] its diameter, ``depths`` [m] of melt together."""
    part, r_faces = grid[0], grid[1]
    t = cells[TEMPERATURE]
    nugget = 0.5 * wide
    near = nugget + INNER * max(contact - nugget, 0.0)
    wall = ring_strength(t, part, row, r_faces, material[3], nugget, near)
    strength = ring_strength(t, part, row, r_faces, material[3], nugget, contact)
    hottest = t[row - 1, 0]
    for i in range(t.shape[1]):
        if r_faces[i] >= nugget:
            break
        hottest = max(hottest, t[row - 1, i])
    zinc = zinc_pressure(hottest, fact[ZINC], depths)
    return load(fact[FORCE], nugget, contact, wall, strength, rate, zinc)
