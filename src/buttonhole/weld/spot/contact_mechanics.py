"""Compiled kernels: how wide the contacts are, from force, cap shape, hot strength and sheets.

A reduced model. A cap sinks into the sheet at a rate that depends steeply on pressure against the
hot strength of the skin; its shape turns the depth into a contact radius. Through the sheets the
pressed zone widens with depth as in a clamped stack of plates that may lift off each other.

Derived, no source; constants from calibration, see constants.py.
"""

import math

import numba

SHOULDER = 1.0 / math.tan(math.radians(30.0))  # - radius gained per depth once past the face
FASTEST = 20.0  # 1/s; share of the sheet sunk in a second, at most: keeps a step bounded
DEEPEST = 0.6  # - share of the sheet; deeper the cap is through it and the weld is lost
STRENGTH_FLOOR = 1e6  # Pa
LEAST_SHARE = 1e-3  # - of a ring; less is no contact
FULLY_PLASTIC = 2.8  # - mean pressure over strength under an indenter, Hill (from memory)
PAIR_MODULUS = 84e9  # Pa, of Hertz's contact: steel 210 GPa, 0.3 on copper 117 GPa, 0.34


@numba.njit(cache=True)
def cap_radius(depth, face, dome, body):
    """Contact radius [m] of a cap sunk by ``depth`` [m].

    ``face``: radius of the face [m], 0 for a dome; ``dome``: radius of curvature [m], 0 for flat.
    """
    if dome <= 0.0:
        return min(face + SHOULDER * depth, body)
    a = math.sqrt(max(2.0 * dome * depth, 0.0))
    if face <= 0.0 or a <= face:
        return min(a, body)
    at_edge = face * face / (2.0 * dome)
    return min(face + SHOULDER * (depth - at_edge), body)


@numba.njit(cache=True)
def first_depth(force, softer, face, dome):
    """Depth [m] at which a cold dome rests: between Hertz's contact and a fully plastic one.

    ``softer`` [Pa] is the lesser strength of sheet and cap.

    Within 12 % of elastic-plastic finite elements, see docs/validation/contact.md.
    """
    if dome <= 0.0:
        return 0.0
    elastic = (0.75 * force * dome / PAIR_MODULUS) ** (1.0 / 3.0)
    plastic = math.sqrt(force / (FULLY_PLASTIC * math.pi * softer))
    a = (elastic**4 + plastic**4) ** 0.25
    if face > 0.0:
        a = min(a, face)
    return a * a / (2.0 * dome)


@numba.njit(cache=True)
def sinking_rate(force, radius, borne, thickness, depth, rate, exponent):
    """How fast the cap sinks [m/s].

    ``borne`` [Pa] is the pressure at which it has sunk a little by elastic-plastic finite elements,
    ``rate`` [1/s] the share of the sheet it sinks in a second there.
    """
    p = force / (math.pi * radius * radius)
    if depth >= DEEPEST * thickness:
        return 0.0
    return thickness * min(rate * (p / (borne + STRENGTH_FLOOR)) ** exponent, FASTEST)


@numba.njit(cache=True)
def faying_radius(radius_a, radius_b, gain_a, gain_b):
    """Contact radius [m] at a faying interface, ``gain_a`` and ``gain_b`` [m] wider than the caps.

    Each side would press its own width; the narrower one counts for more (harmonic mean).
    """
    a = radius_a + gain_a
    b = radius_b + gain_b
    return 2.0 * a * b / (a + b)


@numba.njit(cache=True)
def inside(r_in, r_out, radius, blur):
    """Share [-] of a ring that lies inside a contact whose edge fades over ``blur`` [m].

    Pressure fades out where sheets lift off each other, so the edge is no step; a grid finer than
    the blur then sees no singular edge, a coarser one gets the plain area fraction.
    """
    full, end = radius - 0.5 * blur, radius + 0.5 * blur
    top = min(r_out, full)
    total = 0.0
    if top > r_in:
        total += 0.5 * (top * top - r_in * r_in)
    low, high = max(r_in, full), min(r_out, end)
    if high > low:
        squares, cubes = high**2 - low**2, high**3 - low**3
        total += (0.5 * end * squares - cubes / 3.0) / blur
    share = total / (0.5 * (r_out * r_out - r_in * r_in))
    return share if share > LEAST_SHARE else 0.0
