"""Where the camera stood: a pin-hole with a radial lens error, fitted to the corners of the card.

The corners lie in the plane z = 0, z grows towards the camera. What a plane photographed straight
from above does not tell, the distance, is held by what lenses of telephones usually have.

Sources: hartley-zisserman-2003 (pin-hole, homography); brown-1971 (radial lens error);
jcgm-102 (propagation through a fit).
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput

Array = NDArray[np.float64]

# What is known before the card is looked at; assumptions about cameras of telephones, no source.
FOCAL_USUAL = 0.75  # -, focal length over the longer side of the picture
FOCAL_SPREAD = 0.20  # -, standard, of its logarithm, when the file does not tell
FOCAL_TOLD_SPREAD = 0.06  # -, when it does
CENTRE_SPREAD = 0.015  # -, of the longer side
LENS_SPREAD = 0.05  # -, of the first radial term
LEAST_NOISE = 0.25  # px, a printed card is never quite flat
OUTLIER = 4.5  # standard deviations
FEWEST = 12  # corners


@dataclass(frozen=True, slots=True)
class Camera:
    """A fitted camera, see `fit`."""

    params: Array  # (10,), log focal length, radial term, centre (2), turn (3) [-]; shift (3) [m]
    cov: Array  # (10, 10), of the parameters [SI]
    size: tuple[int, int]  # width and height [px]
    noise: float  # px, of one coordinate of a corner
    misfit: float  # m, root mean square distance of the corners from where a flat card has them
    used: int  # corners

    @property
    def place(self) -> Array:
        """Where the pin-hole is (3,) [m], in the frame of the card."""
        return camera_place(self.params)

    @property
    def tilt(self) -> float:
        """Angle between the line of sight to the middle and the normal of the card [rad]."""
        place = self.place
        return math.acos(min(1.0, float(place[2] / np.linalg.norm(place))))

    def project(self, points: Array) -> Array:
        """Pixel (n, 2) of points (n, 3) [m] in the frame of the card."""
        return project(self.params, points, self.size)

    def pixels_per_metre(self, height: float = 0.0) -> float:
        """Fineness of the picture at the middle of the window [px/m], in its worse direction."""
        return float(1.0 / np.linalg.norm(self.ground_of_pixel(height), 2))

    def ground_of_pixel(self, height: float = 0.0) -> Array:
        """What one pixel right and one down are on the card (2, 2) [m/px], at the middle."""
        step = 0.5e-3
        points = np.array([(0.0, 0.0), (step, 0.0), (0.0, step)])
        seen = self.project(np.column_stack((points, np.full(3, height))))
        inverse: Array = np.linalg.inv((seen[1:] - seen[0]).T / step)
        return inverse

    def scale_uncertainty(self, height: float, span: float) -> float:
        """Standard uncertainty of a length at the middle, from the fit alone [-].

        Parameters
        ----------
        height : float
            Of the plane of the length over the card [m].
        span : float
            The length [m].
        """
        half = 0.5 * span
        ends = np.array([(-half, 0.0), (half, 0.0), (0.0, -half), (0.0, half)])
        points = np.column_stack((ends, np.full(4, height)))
        pixels = self.project(points)
        # where the same pixels would lie on the plane if the camera were a little another one
        ground = self.ground_of_pixel(height)
        slopes = np.empty((2, self.params.size))
        for k in range(self.params.size):
            step = max(1e-7, 0.1 * math.sqrt(self.cov[k, k]))
            other = self.params.copy()
            other[k] += step
            moved = (project(other, points, self.size) - pixels) @ ground.T
            lengths = (moved[0, 0] - moved[1, 0], moved[2, 1] - moved[3, 1])
            slopes[:, k] = np.array(lengths) / (span * step)
        return float(math.sqrt(max(np.diag(slopes @ self.cov @ slopes.T))))


def turned(vector: Array) -> Array:
    """Matrix (3, 3) of a turn given as axis times angle (3,) [rad]."""
    angle = float(np.linalg.norm(vector))
    if angle < 1e-12:
        return np.eye(3)
    x, y, z = vector / angle
    cross = np.array([(0.0, -z, y), (z, 0.0, -x), (-y, x, 0.0)])
    turn: Array = np.eye(3) + math.sin(angle) * cross + (1.0 - math.cos(angle)) * cross @ cross
    return turn


def camera_place(params: Array) -> Array:
    """Where the pin-hole of a camera (10,) is (3,) [m], in the frame of the card."""
    place: Array = (-turned(params[4:7]).T @ params[7:10]) * (1.0, 1.0, -1.0)
    return place


def project(params: Array, points: Array, size: tuple[int, int]) -> Array:
    """Project points through a camera.

    Parameters
    ----------
    params : ndarray
        Shape (10,): log of focal length over longer side, radial term, centre over longer side
        (2) [-], turn (3) [rad], shift (3) [m].
    points : ndarray
        Shape (n, 3) [m]: across, down the card, and out of it towards the camera.
    size : tuple of int
        Width and height of the picture [px].

    Returns
    -------
    ndarray
        Shape (n, 2), the middle of the first pixel at 0 [px].
    """
    longer = max(size)
    # across, down, into the page is a frame of right hand; heights count out of the page
    seen = (points * (1.0, 1.0, -1.0)) @ turned(params[4:7]).T + params[7:10]
    flat = seen[:, :2] / seen[:, 2:]
    bent = flat * (1.0 + params[1] * np.sum(flat * flat, axis=1, keepdims=True))
    centre = 0.5 * (np.array(size) - 1.0) + params[2:4] * longer
    pixels: Array = bent * (math.exp(params[0]) * longer) + centre
    return pixels


def fit(ground: Array, pixels: Array, size: tuple[int, int], focal: float | None = None) -> Camera:
    """Fit a camera to the corners of a flat card.

    Parameters
    ----------
    ground : ndarray
        Shape (n, 2), where the corners are on the card [m].
    pixels : ndarray
        Shape (n, 2), where they are seen [px].
    size : tuple of int
        Width and height of the picture [px].
    focal : float, optional
        Focal length over the longer side, as the file tells [-].

    Returns
    -------
    Camera
        With the covariance of its parameters.

    Raises
    ------
    BadInput
        Fewer than 12 corners, or corners that no card gives.

    Sources
    -------
    hartley-zisserman-2003; brown-1971; jcgm-102.
    """
    if len(ground) < FEWEST:
        raise BadInput("card", f"only {len(ground)} corners of the card are seen")
    keep = np.ones(len(ground), dtype=bool)
    points = np.column_stack((ground, np.zeros(len(ground))))
    spread = FOCAL_SPREAD if focal is None else FOCAL_TOLD_SPREAD
    prior = np.array([math.log(focal or FOCAL_USUAL), 0.0, 0.0, 0.0])
    weights = 1.0 / np.array([spread, LENS_SPREAD, CENTRE_SPREAD, CENTRE_SPREAD])
    params = _start(ground, pixels, size, math.exp(prior[0]))
    noise = 0.3
    for _ in range(3):
        params, jacobian = _solved(params, points[keep], pixels[keep], size, prior, weights * noise)
        apart = project(params, points, size) - pixels
        left = apart[keep]
        freedom = max(1.0, 2.0 * len(left) - 10.0)
        noise = max(LEAST_NOISE, math.sqrt(float(np.sum(left * left)) / freedom))
        inside = np.max(np.abs(apart), axis=1) < OUTLIER * max(noise, 0.1)
        if np.count_nonzero(inside) < FEWEST or np.array_equal(inside, keep):
            break
        keep = inside
    cov: Array = np.asarray(noise**2 * np.linalg.inv(jacobian.T @ jacobian), dtype=np.float64)
    found = Camera(params, cov, size, noise, 0.0, int(np.count_nonzero(keep)))
    # all corners count here: what was left out as an outlier may be a card that is bent
    ground_apart = apart @ found.ground_of_pixel().T
    misfit = math.sqrt(float(np.mean(np.sum(ground_apart**2, axis=1))))
    return Camera(params, cov, size, noise, misfit, found.used)


def _solved(
    start: Array,
    points: Array,
    pixels: Array,
    size: tuple[int, int],
    prior: Array,
    weights: Array,
) -> tuple[Array, Array]:
    """Least squares with what is known before; gives the parameters and the slopes (m, 10)."""
    from scipy.optimize import least_squares

    def apart(params: Array) -> Array:
        seen = (project(params, points, size) - pixels).ravel()
        return np.concatenate((seen, (params[:4] - prior) * weights))

    scale = np.array([0.1, 0.05, 0.01, 0.01, 0.1, 0.1, 0.1, 0.01, 0.01, 0.1])
    found = least_squares(apart, start, method="lm", x_scale=scale, max_nfev=2000)
    return found.x, found.jac


def _start(ground: Array, pixels: Array, size: tuple[int, int], focal: float) -> Array:
    """A first camera (10,) out of the map from plane to plane."""
    longer = max(size)
    centred = (pixels - 0.5 * (np.array(size) - 1.0)) / (focal * longer)
    plane = homography(ground, centred)
    plane = plane / math.sqrt(np.linalg.norm(plane[:, 0]) * np.linalg.norm(plane[:, 1]))
    if plane[2, 2] < 0.0:
        plane = -plane
    first, second = plane[:, 0], plane[:, 1]
    rough = np.column_stack((first, second, np.cross(first, second)))
    left, _, right = np.linalg.svd(rough)
    turn = left @ np.diag([1.0, 1.0, float(np.linalg.det(left @ right))]) @ right
    return np.concatenate(([math.log(focal), 0.0, 0.0, 0.0], _vector(turn), plane[:, 2]))


def homography(ground: Array, seen: Array) -> Array:
    """Map (3, 3) from one plane to another, by least squares over many points.

    Parameters
    ----------
    ground, seen : ndarray
        Shape (n, 2) each, n at least 4 [SI].

    Returns
    -------
    ndarray
        Shape (3, 3), its scale free [-].

    Sources
    -------
    hartley-zisserman-2003 (normalised direct linear transformation).
    """
    to_ground, to_seen = _levelled(ground), _levelled(seen)
    a = np.column_stack((ground, np.ones(len(ground)))) @ to_ground.T
    b = np.column_stack((seen, np.ones(len(seen)))) @ to_seen.T
    zero = np.zeros_like(a)
    rows = np.vstack((np.hstack((a, zero, -b[:, :1] * a)), np.hstack((zero, a, -b[:, 1:2] * a))))
    plane = np.linalg.svd(rows)[2][-1].reshape(3, 3)
    result: Array = np.linalg.inv(to_seen) @ plane @ to_ground
    return result


def _levelled(points: Array) -> Array:
    """Shift and scale (3, 3) that bring points (n, 2) about the origin to a size of one."""
    middle = points.mean(axis=0)
    scale = 1.0 / max(1e-12, float(np.sqrt(np.mean((points - middle) ** 2))))
    return np.array(
        [(scale, 0.0, -scale * middle[0]), (0.0, scale, -scale * middle[1]), (0.0, 0.0, 1.0)]
    )


def _vector(turn: Array) -> Array:
    """Axis times angle (3,) [rad] of a turn (3, 3)."""
    odd = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
    sine = 0.5 * float(np.linalg.norm(odd))
    angle = math.atan2(sine, 0.5 * (float(np.trace(turn)) - 1.0))
    if sine > 1e-9:
        return odd * (0.5 * angle / sine)
    if angle < 1.0:
        return np.zeros(3)
    axis = np.sqrt(np.maximum(0.0, 0.5 * (np.diag(turn) + 1.0)))  # half a turn
    k = int(np.argmax(axis))
    signs = np.where(turn[k] < 0.0, -1.0, 1.0)
    signs[k] = 1.0
    return math.pi * axis * signs
