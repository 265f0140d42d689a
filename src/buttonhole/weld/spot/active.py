"""Compiled kernels: which cells of the section are worked.

In each row those from the axis out to its reach, a number of rings. Caps are worked as far as there
is copper: current spreads through all of it. Sheets are worked as far as the current spreads beyond
the widest contact, and as far as heat has come. Both limits only move outwards. Beyond its reach a
row passes nothing on: its conductances there are still the zeros they began with, so no heat is
lost from the books. What is left out stays below ``FRONT``.

Numerical, our own.
"""

import numba

from buttonhole.weld.spot.fields import DEPTH_A

START = 20.0  # degC of the sheets
FRONT = 0.1  # K; from here on a cell counts as reached by heat
AHEAD = 2  # rings worked beyond the last one that heat has reached
# Between the insulated faces of a sheet the unevenness of a current falls by exp(-pi) over each
# thickness; what it adds to the resistance goes with the square of that.
SPREADING = 2.0  # - of the thickest sheet: current is followed so far beyond a contact


@numba.njit(cache=True)
def spreading_radius(facts, radii):
    """Radius [m] beyond which current is left out, ``radii`` [m] being those of the contacts."""
    thickest = 0.0
    for q in range(1, facts.shape[0]):
        thickest = max(thickest, facts[q, DEPTH_A] - facts[q - 1, DEPTH_A])
    return radii.max() + SPREADING * thickest


@numba.njit(cache=True)
def grow(t, part, r_faces, facts, radii, reach):
    """Let the rows reach as far as current and heat have come, in place; they never draw back.

    Rows of caps begin with all their metal, those of sheets with nothing.
    """
    nz, nr = t.shape
    cap_b = facts.shape[0]  # number of the part; in a mirrored half there is none
    wanted, radius = 0, spreading_radius(facts, radii)
    while wanted < nr and r_faces[wanted] < radius:
        wanted += 1
    for j in range(nz):
        if 0 < part[j, 0] < cap_b:
            i = max(reach[j], wanted)
            while i < nr and abs(t[j, max(i - AHEAD, 0)] - START) > FRONT:
                i += 1
            wanted = max(wanted, i)
    for j in range(nz):
        if 0 < part[j, 0] < cap_b:
            reach[j] = max(reach[j], wanted)
