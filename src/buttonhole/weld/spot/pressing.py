"""What gap, misalignment and tilt leave of the pressed contact: geometry, not a model in space.

The march is axisymmetric and stays so. Here a weld that isn't is turned into the one that presses
alike; what is lost on its worst side comes back as less sealing.

**Gap.** A strip clamped at both ends is bent shut; what that takes does not press (see
``force_at_interface``).

**Misalignment.** Two caps whose axes are ``e`` apart press together only where their discs, of
radii ``a`` and ``b`` in the sheets, overlap. The lens between them has the area

    A = a^2 acos((e^2 + a^2 - b^2) / (2 e a)) + b^2 acos((e^2 + b^2 - a^2) / (2 e b))
        - sqrt((a + b - e) (e + a - b) (e - a + b) (e + a + b)) / 2,

and the contact taken is the disc of that area. For ``a = b`` the lens is ``2 a - e`` across the
short way and ``sqrt(4 a^2 - e^2)`` the long way: that is the oval of the nugget. Its middle lies
``e / 2`` beside either mark, and on that side the pressed ring is narrower by ``e / 2``.

**Tilt of a flat face** of radius ``b`` by the angle ``u``. It touches at one edge first. Sunk there
by ``d`` it covers the segment of height ``d / tan(u)``, and the whole face at ``2 b tan(u)``. The
segment's share of the face, against the share of that depth, passes through 0, 1/2 and 1 at 0, 1/2
and 1 and is never more than 0.06 away from a straight line. On a straight line lies the area under
a dome, ``pi a^2 = 2 pi R d``. A tilted flat face is therefore taken as a radiused cap with

    R = b / (4 tan(u)),

and what is sunk is the depth at the edge. The middle of the segment lies beside the cap's axis (see
``segment_offset``), to opposite sides on the two caps.

**Tilt of a dome** of radius ``R``: the contact rolls to ``R sin(u)`` beside the axis and stays
round. On a radiused cap it rolls as far as the edge of the face; what is left of the angle tilts
that edge as above. The two contacts roll to opposite sides and the stack between them leans too, so
that their misalignment is ``R_a sin(u) + R_b sin(u) + t tan(u)``.

The angle is the one left between face and sheet while the force is on. Directions add up: the worst
case. The moment of the two forces is left to the gun and the panel.

Sources: handbook-memory (clamped beam), otherwise derived, no source: geometry.
"""

import math

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.set_up import ElectrodeCap

YOUNG = 210e9  # Pa
FLANGE_WIDTH, GAP_SPAN = 20e-3, 60e-3  # m, the strip that is bent to close a gap; common practice
MOST_FORCE_LOST = 0.5  # -, a strip that needs more force yields
GAP_NARROWS = 0.3  # -, share of the contact radius lost per gap over thickness
LEAST_NARROWED = 0.4  # -, of the contact radius; with less the sheets give way; judged, no source
DOME_FACE = 3e-3  # m, radius a dome's mark grows to; common practice
PRESSED = 0.5  # -, radius a contact gains per depth of sheet under a cap; as in constants.spread


def force_at_interface(stack: StackUp, force: float) -> tuple[float, float]:
    """Force left for the faying contacts after a gap is closed, and the radius factor.

    A strip clamped at both ends is bent by the gap; what that takes is not there to press.

    Parameters
    ----------
    stack : StackUp
        With its gap.
    force : float
        Set on the machine [N].

    Returns
    -------
    tuple of float
        Force [N] and factor on the contact radius [-].

    Sources
    -------
    handbook-memory (clamped beam with a central load).
    """
    if stack.gap <= 0.0:
        return force, 1.0
    thinnest = min(sheet.thickness for sheet in stack.sheets)
    inertia = FLANGE_WIDTH * thinnest**3 / 12
    lost = 192.0 * YOUNG * inertia * stack.gap / GAP_SPAN**3
    factor = max(1.0 - GAP_NARROWS * stack.gap / thinnest, 0.4)
    return force - min(lost, MOST_FORCE_LOST * force), factor


def face_radius(cap: ElectrodeCap) -> float:
    """Radius of the mark a cap makes [m]: its face, or what a dome comes to."""
    if cap.face_diameter is not None:
        return cap.face_diameter / 2
    return min(DOME_FACE, cap.body_diameter / 2)


def lens_area(a: float, b: float, apart: float) -> float:
    """Area common to two discs.

    Parameters
    ----------
    a, b : float
        Radii [m].
    apart : float
        Between their centres [m].

    Returns
    -------
    float
        Area [m2].
    """
    if apart >= a + b:
        return 0.0
    if apart <= abs(a - b):
        return math.pi * min(a, b) ** 2
    first, second = a * a * _half_angle(a, b, apart), b * b * _half_angle(b, a, apart)
    kite = (a + b - apart) * (apart + a - b) * (apart - a + b) * (apart + a + b)
    # where the discs hardly meet, rounding may leave less than nothing
    return max(first + second - 0.5 * math.sqrt(max(kite, 0.0)), 0.0)


def _half_angle(radius: float, other: float, apart: float) -> float:
    """Half the angle [rad] under which the middle of the disc ``radius`` sees the two crossings."""
    # the difference of radii is less than the distance here: no square of a tiny distance is needed
    cosine = 0.5 * (apart / radius + (radius - other) / apart * (radius + other) / radius)
    return math.acos(min(1.0, max(-1.0, cosine)))


def narrowed(a: float, b: float, apart: float) -> float:
    """Factor [-] on the radius of a contact pressed by discs ``a``, ``b`` [m], ``apart`` [m]."""
    share = lens_area(a, b, apart) / (math.pi * min(a, b) ** 2)
    return max(math.sqrt(share), LEAST_NARROWED)


def ovality(a: float, b: float, apart: float) -> float:
    """Short over long way [-] across what discs ``a``, ``b`` [m], ``apart`` [m], press together."""
    short = min(a + b - apart, 2.0 * min(a, b))
    if short <= 0.0 or apart <= abs(a - b):
        return 1.0 if short > 0.0 else 0.0
    chord = (apart**2 + a * a - b * b) / (2.0 * apart)
    long = 2.0 * math.sqrt(max(a * a - chord * chord, 0.0))
    if (chord > 0.0) != (apart - chord > 0.0):  # the smaller disc's middle lies in the lens
        long = 2.0 * min(a, b)
    return min(short / long, 1.0)


def tilted_cap(cap: ElectrodeCap, tilt: float) -> ElectrodeCap:
    """The cap that presses square as this one does tilted; its depth is that at the edge.

    Parameters
    ----------
    cap : ElectrodeCap
        As it is.
    tilt : float
        Between its face and the sheet [rad].

    Returns
    -------
    ElectrodeCap
        The same for no tilt.
    """
    left = tilt - _rolls_until(cap)
    if cap.face_diameter is None or left <= 0.0:
        return cap
    edge = 8.0 * math.tan(left) / cap.face_diameter
    curved = edge if cap.radius is None else edge + 1.0 / cap.radius
    return ElectrodeCap(cap.face_diameter, 1.0 / curved, cap.body_diameter)


def _rolls_until(cap: ElectrodeCap) -> float:
    """Angle [rad] up to which the contact of a cap rolls; past it the face's edge presses."""
    if cap.radius is None:
        return 0.0
    return math.asin(min(_rolls_to(cap) / cap.radius, 1.0))


def _rolls_to(cap: ElectrodeCap) -> float:
    return (cap.body_diameter if cap.face_diameter is None else cap.face_diameter) / 2


def rolled(cap: ElectrodeCap, tilt: float) -> float:
    """How far beside its axis a curved cap touches.

    Parameters
    ----------
    cap : ElectrodeCap
        As it is.
    tilt : float
        Between its face and the sheet [rad].

    Returns
    -------
    float
        Distance [m]; 0 for a flat face.
    """
    if cap.radius is None:
        return 0.0
    return cap.radius * math.sin(min(tilt, _rolls_until(cap)))


def segment_share(height: float) -> float:
    """Share [-] of a disc that a segment covers; ``height`` [-] over the diameter, 0 to 1."""
    half = math.acos(1.0 - 2.0 * min(max(height, 0.0), 1.0))
    return (half - math.sin(half) * math.cos(half)) / math.pi


def segment_offset(radius: float, height: float) -> float:
    """How far the middle of a segment lies from the middle of its disc.

    Parameters
    ----------
    radius : float
        Of the disc [m].
    height : float
        Of the segment [m].

    Returns
    -------
    float
        Distance [m]; 0 once the segment is the whole disc.
    """
    half = math.acos(min(max(1.0 - height / radius, -1.0), 1.0))
    area = half - math.sin(half) * math.cos(half)
    if area <= 1e-9:
        return radius
    return radius * (2.0 / 3.0) * math.sin(half) ** 3 / area


def leaning(cap: ElectrodeCap, tilt: float, sunk: float) -> float:
    """How far beside its axis a tilted cap presses once it has sunk.

    Parameters
    ----------
    cap : ElectrodeCap
        As it is.
    tilt : float
        Between its face and the sheet [rad].
    sunk : float
        Depth at the edge that sinks most [m].

    Returns
    -------
    float
        Distance [m].
    """
    left = tilt - _rolls_until(cap)
    if cap.face_diameter is None or left <= 0.0:
        return rolled(cap, tilt)
    if cap.radius is not None:
        return rolled(cap, tilt)
    return segment_offset(cap.face_diameter / 2, sunk / math.tan(left))
