"""Compiled kernels: how much of the set current the machine gives, and how much the weld gets.

The machine is a voltage behind a loop; the lead to the mains counts as a resistance of that loop.
What it gives divides between this weld and the way through the last one. That way starts in the
sheets, not in the caps: by the theorem of the equivalent source the share that leaves is set by the
voltage between the sheets far from the weld, which the potential without a shunt already holds.

Sources: derived, no source: Ohm and Kirchhoff.
"""

import math

import numba

from buttonhole.weld.spot.fields import (
    DIODE,
    FACTOR,
    FAR,
    LEAD,
    LOOP,
    NEAR,
    NOMINAL,
    OPEN,
    PATH,
    REACTANCE,
    REFERENCE,
    REGULATED,
    SUPPLIED,
)


@numba.njit(cache=True)
def given(wanted, load, feed):
    """Current [A rms] the machine gives when ``wanted`` [A] is set and ``load`` [ohm] is met."""
    if feed[SUPPLIED] == 0.0:
        return wanted
    share = 1.0  # of the full voltage
    if feed[REGULATED] == 0.0:
        # dialled once, for a weld of the reference resistance at the nominal mains
        loop = math.hypot(feed[LOOP] + feed[REFERENCE], feed[REACTANCE])
        share = min((wanted * loop + feed[DIODE]) / feed[NOMINAL], 1.0)
    volts = max(share * feed[OPEN] - feed[DIODE], 0.0)
    resisting = feed[LOOP] + share * share * feed[LEAD] + load
    found = volts / math.hypot(resisting, feed[REACTANCE])
    return found if feed[REGULATED] == 0.0 else min(found, wanted)


@numba.njit(cache=True)
def sheet_at_rim(phi, part, dz, sheet):
    """Mean potential of a sheet where the section ends, as far from the weld as it goes."""
    i = phi.shape[1] - 1
    total, thick = 0.0, 0.0
    for j in range(phi.shape[0]):
        if part[j, i] == sheet:
            total += phi[j, i] * dz[j]
            thick += dz[j]
    return total / max(thick, 1e-30)


@numba.njit(cache=True)
def warmth(rho, part, r_faces, dz, sheet, near, far):
    """Resistance [ohm] that the warmth round this weld adds to the way through one sheet."""
    last, extra = rho.shape[1] - 1, 0.0
    for i in range(last):
        inner, outer = max(r_faces[i], near), min(r_faces[i + 1], far)
        if outer <= inner:
            continue
        now, cold = 0.0, 0.0
        for j in range(rho.shape[0]):
            if part[j, i] == sheet:
                now += dz[j] / rho[j, i]
                cold += dz[j] / rho[j, last]
        extra += math.log(outer / inner) * (1.0 / now - 1.0 / cold) / (2.0 * math.pi)
    return extra


@numba.njit(cache=True)
def through(phi, rho, part, r_faces, dz, last, half, resistance, wanted, feed):
    """What runs through the weld and what the machine gives, both as shares [-] of the set current.

    ``last`` is the number of the sheet on side B, ``resistance`` [ohm] that of the section, half
    the weld with ``half``, ``wanted`` [A rms] the set current.
    """
    whole = 2.0 * resistance if half else resistance
    passing, load = 1.0, whole
    if feed[PATH] > 0.0:
        between = sheet_at_rim(phi, part, dz, 1)
        added = warmth(rho, part, r_faces, dz, 1, feed[NEAR], feed[FAR])
        if half:
            added *= 2.0
        else:
            between -= sheet_at_rim(phi, part, dz, last)
            added += warmth(rho, part, r_faces, dz, last, feed[NEAR], feed[FAR])
        path = feed[PATH] + feed[FACTOR] * added
        weld = between * whole
        passing = path / (path + weld)
        load = whole - weld + weld * passing
    if wanted <= 0.0:
        return passing, 1.0
    drawn = given(wanted, load, feed) / wanted
    return passing * drawn, drawn
