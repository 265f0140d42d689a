"""The outline of a weld in a narrow band: where brightness changes most, all the way round.

The picture is read along rays from a middle. On each ray the change of brightness speaks for an
edge, what a person set speaks for a place, and neighbouring rays must agree. The closed line that
has the most for it is found exactly, by dynamic programming. A pressed ring round the fused face
has an edge of its own further out; it is outside the band or loses to the place that was set.

Sources: amini-1990 (closed lines by dynamic programming); steger-1998 (edges below a pixel).
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.patch import Patch

Array = NDArray[np.float64]

RAYS = 180
ORDER = 14  # of the smooth line
CORE_SHARES = np.linspace(0.1, 0.7, 10)  # of the radius, where the torn face is surely seen
REGION = 100.0  # 1/m, weight of what lies inside and outside against what lies at the border
STEP = 0.02e-3  # m, along a ray
LEAST_CHANGE = 4e-4  # of full light, a step
LEAST_SMOOTHING = 0.06e-3  # m, of the change along a ray
HOLD = 3e7  # 1/m^2, what being away from where it was set counts
ENOUGH = 3.0  # change that counts in full
NEAR = 0.08e-3  # m, how far from the line its edge is looked for
ARC = 0.12e-3  # m, over which neighbouring rays are averaged
BEND = 3  # steps that the line may go out or in from one ray to the next
STIFF = 0.2  # cost of one such step, squared


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed line by its radii [m] about a middle, at equal angles.

    ``strength`` [-] by ray: change of brightness over the usual one in the band. ``spread`` [m]:
    how far the rays stand apart from a smooth line, one standard deviation.
    """

    centre: tuple[float, float]  # m, across and down
    radii: Array  # (RAYS,) [m]
    strength: Array  # (RAYS,) [-]
    spread: float  # m

    @property
    def points(self) -> Array:
        """Places (RAYS, 2) [m]."""
        found: Array = np.array(self.centre) + self.radii[:, None] * rays(len(self.radii))
        return found

    @property
    def middle(self) -> Array:
        """Middle of the area (2,) [m]."""
        points = self.points
        after = np.roll(points, -1, axis=0)
        cross = points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1]
        found: Array = ((points + after) * cross[:, None]).sum(axis=0) / (3.0 * cross.sum())
        return found

    def ends(self, angle: float) -> Array:
        """Where the line through the middle at an angle [rad] leaves the outline (2, 2) [m]."""
        middle = self.middle
        apart = self.points - middle
        turn = np.unwrap(np.arctan2(apart[:, 1], apart[:, 0]))
        length = np.hypot(apart[:, 0], apart[:, 1])
        known = np.concatenate((turn - 2.0 * math.pi, turn, turn + 2.0 * math.pi))
        first = turn[0] + (angle - turn[0]) % (2.0 * math.pi)
        other = turn[0] + (angle + math.pi - turn[0]) % (2.0 * math.pi)
        found = np.interp([first, other], known, np.tile(length, 3))
        way = np.array([math.cos(angle), math.sin(angle)])
        return np.array([middle + found[0] * way, middle - found[1] * way])

    def largest_near(self, angle: float, reach: float = 0.1) -> float:
        """Angle [rad] of the largest diameter within some reach of an angle [rad]."""
        tried = angle + np.linspace(-reach, reach, 27)
        return float(tried[int(np.argmax([self.diameter(float(one)) for one in tried]))])

    def diameter(self, angle: float) -> float:
        """Diameter through the middle at an angle [rad], in [m]."""
        one, other = self.ends(angle)
        return float(np.hypot(*(one - other)))


def rays(count: int = RAYS) -> Array:
    """Directions (count, 2) [-], from across towards down."""
    angle = np.arange(count) * (2.0 * math.pi / count)
    return np.column_stack((np.cos(angle), np.sin(angle)))


def ellipse_radii(ends: Array) -> tuple[tuple[float, float], Array]:
    """Ellipse through the ends of two diameters.

    Parameters
    ----------
    ends : ndarray
        Shape (4, 2), the two ends of one and of the other [m].

    Returns
    -------
    tuple
        Middle [m] and radii (RAYS,) [m].
    """
    middle = ends.mean(axis=0)
    axes = np.column_stack((0.5 * (ends[0] - ends[1]), 0.5 * (ends[2] - ends[3])))
    shares = rays() @ np.linalg.inv(axes).T
    return (float(middle[0]), float(middle[1])), 1.0 / np.hypot(shares[:, 0], shares[:, 1])


def polar(centre: tuple[float, float], radii: Array, offsets: Array) -> Array:
    """Places (RAYS, n, 2) [m] along rays from a middle, offsets (n,) [m] from radii (RAYS,) [m]."""
    away = np.maximum(radii[:, None] + offsets[None, :], 0.0)
    found: Array = np.array(centre) + away[..., None] * rays(len(radii))[:, None, :]
    return found


def edges_along(patch: Patch, centre: tuple[float, float], radii: Array, offsets: Array) -> Array:
    """Change of brightness along rays.

    Parameters
    ----------
    patch : Patch
        The window, rectified.
    centre : tuple of float
        Where the rays start [m].
    radii : ndarray
        Shape (RAYS,), where the band lies on each [m].
    offsets : ndarray
        Shape (n,), equal steps over the band [m].

    Returns
    -------
    ndarray
        Shape (RAYS, n), brightness a step, brighter outwards positive [-].
    """
    step = float(offsets[1] - offsets[0])
    smooth = max(LEAST_SMOOTHING, 0.8 * patch.blur)
    reach = math.ceil(3.0 * smooth / step)
    wide = offsets[0] + step * np.arange(-reach, offsets.size + reach)
    seen = patch.at(patch.light, polar(centre, radii, wide))
    seen = _averaged_round(seen, ARC / (float(radii.mean()) * 2.0 * math.pi / len(radii)))
    at = np.arange(-reach, reach + 1) * step
    kernel = -at * np.exp(-0.5 * (at / smooth) ** 2)
    kernel /= -np.sum(kernel * at) / step
    found = np.apply_along_axis(lambda one: np.convolve(one, kernel, "valid"), 1, seen)
    burnt = patch.at(patch.burnt, polar(centre, radii, offsets))
    return np.asarray(found * (1.0 - burnt), dtype=np.float64)


def _averaged_round(values: Array, spread: float) -> Array:
    """Smooth (rays, n) over neighbouring rays, round the circle; spread in rays [-]."""
    reach = max(1, math.ceil(2.5 * spread))
    weights = np.exp(-0.5 * (np.arange(-reach, reach + 1) / max(spread, 0.3)) ** 2)
    weights /= weights.sum()
    total = np.zeros_like(values)
    for shift, weight in zip(range(-reach, reach + 1), weights, strict=True):
        total += weight * np.roll(values, shift, axis=0)
    return total


def belonging(patch: Patch, centre: tuple[float, float], radii: Array, offsets: Array) -> Array:
    """What speaks for a place as the border, by what lies inside and outside of it.

    The core tells how the torn face looks, a ring outside the band how it does not; each place
    along a ray is more like the one or the other. Tone and roughness count.

    Parameters
    ----------
    patch : Patch
        The window, rectified.
    centre : tuple of float
        Where the rays start [m].
    radii : ndarray
        Shape (RAYS,), where the band lies on each [m].
    offsets : ndarray
        Shape (n,), equal steps over the band [m].

    Returns
    -------
    ndarray
        Shape (RAYS, n), its mean over the band is zero [-].
    """
    core = np.array(centre) + (radii[:, None] * CORE_SHARES)[..., None] * rays(len(radii))[:, None]
    ring = polar(centre, radii, np.linspace(0.25e-3, 0.7e-3, 10))
    band = polar(centre, radii, offsets)
    total = np.zeros(band.shape[:2])
    for field in (patch.tone, patch.rough):
        inside, outside = patch.at(field, core), patch.at(field, ring)
        here = patch.at(field, band)
        total += _likelier(here, inside, outside)
    total = np.clip(total, -2.0, 2.0) * (1.0 - patch.at(patch.burnt, band))
    total = _averaged_round(total, 2.0)
    grown: Array = np.cumsum(total, axis=1) * float(offsets[1] - offsets[0])
    grown -= grown.mean(axis=1, keepdims=True)
    return grown


def _likelier(here: Array, inside: Array, outside: Array) -> Array:
    """Log of how much likelier values are inside than outside, both taken as normal [-]."""
    found = np.zeros_like(here)
    for sample, sign in ((inside, 1.0), (outside, -1.0)):
        middle = float(np.median(sample))
        spread = 1.4826 * float(np.median(np.abs(sample - middle))) + 1e-6
        off = np.minimum(np.abs(here - middle) / spread, 4.0)
        found += sign * (-0.5 * off * off - math.log(spread))
    return found


def closed_line(gain: Array, stiff: float = STIFF) -> NDArray[np.int64]:
    """The closed line with the most for it.

    Parameters
    ----------
    gain : ndarray
        Shape (..., rays, n), what speaks for each place [-]; each of the first is a case of its
        own.
    stiff : float
        What a step out or in between two rays costs, by its square [-].

    Returns
    -------
    ndarray
        Shape (..., rays), the place on each ray.

    Sources
    -------
    amini-1990. Closed by going round twice: numerical, our own.
    """
    cases = gain.reshape(-1, *gain.shape[-2:])
    number, count, wide = cases.shape
    came = np.zeros((2 * count, number, wide), dtype=np.int8)
    total = cases[:, 0].copy()
    cost = stiff * np.arange(-BEND, BEND + 1) ** 2
    padded = np.full((number, wide + 2 * BEND), -np.inf)
    for ray in range(1, 2 * count):
        padded[:, BEND : BEND + wide] = total
        tried = np.stack([padded[:, k : k + wide] - cost[k] for k in range(2 * BEND + 1)], axis=-1)
        came[ray] = np.argmax(tried, axis=-1) - BEND
        total = np.max(tried, axis=-1) + cases[:, ray % count]
    line = np.zeros((2 * count, number), dtype=np.int64)
    line[-1] = np.argmax(total, axis=-1)
    each = np.arange(number)
    for ray in range(2 * count - 1, 0, -1):
        line[ray - 1] = line[ray] + came[ray, each, line[ray]]
    # the middle round: its ends do not know where the line began and stopped
    half = count // 2
    found = np.roll(line[half : half + count], half, axis=0).T
    return np.ascontiguousarray(found.reshape(gain.shape[:-1]))


def refine(
    change: Array, line: NDArray[np.int64], offsets: Array, radii: Array, order: int = ORDER
) -> tuple[Array, Array, float]:
    """Take a line to a part of a step, and draw it smooth.

    Parameters
    ----------
    change : ndarray
        Shape (rays, n), change of brightness, any sign [-].
    line : ndarray
        Shape (rays,), the place on each ray.
    offsets, radii : ndarray
        Shapes (n,) and (rays,), the band [m].
    order : int
        Highest order of the smooth line.

    Returns
    -------
    tuple
        Radii (rays,) [m], strength by ray (rays,) [-], spread about the smooth line [m].
    """
    size = np.abs(change)
    count, wide = size.shape
    step = float(offsets[1] - offsets[0])
    each = np.arange(count)
    # the line found also weighs what lies inside and outside; the edge itself is close to it
    places = np.arange(wide)
    near = np.exp(-0.5 * ((places[None, :] - line[:, None]) * step / NEAR) ** 2)
    at = np.clip(np.argmax(size * near, axis=1), 1, wide - 2)
    low, mid, high = size[each, at - 1], size[each, at], size[each, at + 1]
    bend = low - 2.0 * mid + high
    part = np.where(bend < -1e-12, 0.5 * (low - high) / np.where(bend < -1e-12, bend, -1.0), 0.0)
    raw = radii + offsets[at] + np.clip(part, -1.0, 1.0) * step
    angle = each * (2.0 * math.pi / count)
    waves = [np.ones(count)]
    for k in range(1, order + 1):
        waves += [np.cos(k * angle), np.sin(k * angle)]
    basis = np.column_stack(waves)
    weight = np.sqrt(np.maximum(mid, 1e-9))
    for _ in range(4):
        solved = np.linalg.lstsq(basis * weight[:, None], raw * weight, rcond=None)[0]
        smooth = basis @ solved
        apart = raw - smooth
        spread = 1.4826 * float(np.median(np.abs(apart))) + 1e-9
        weight = np.sqrt(np.maximum(mid, 1e-9)) / np.maximum(1.0, np.abs(apart) / (2.0 * spread))
    return smooth, mid / usual_change(size), spread


def usual_change(size: Array) -> float:
    """The change of brightness that is usual in a band: what no edge makes."""
    return float(max(np.median(size) * 1.5, LEAST_CHANGE))


def outline_near(
    patch: Patch,
    centre: tuple[float, float],
    radii: Array,
    *,
    band: float,
    lean: float,
) -> Outline:
    """Find the outline near a line that is known roughly.

    Parameters
    ----------
    patch : Patch
        The window, rectified.
    centre : tuple of float
        Of the line [m].
    radii : ndarray
        Shape (RAYS,), of the line [m].
    band : float
        Half width of what is looked at [m].
    hold : float
        What a place further out counts more [1/m]; negative: less.

    Returns
    -------
    Outline
        What speaks for itself most.
    """
    reach = min(band, 0.6 * float(radii.min()))
    offsets = np.arange(-reach, reach + STEP / 2, STEP)
    change = edges_along(patch, centre, radii, offsets)
    size = np.abs(change)
    gain = np.minimum(np.log1p((size / usual_change(size)) ** 2), ENOUGH)
    gain = gain + REGION * belonging(patch, centre, radii, offsets)
    gain = gain + lean * offsets[None, :] - HOLD * offsets[None, :] ** 2
    line = closed_line(gain)
    smooth, strength, spread = refine(change, line, offsets, radii)
    return Outline(centre, smooth, strength, spread)
