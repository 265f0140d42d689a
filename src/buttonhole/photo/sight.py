"""A picture of which is known where everything on the card lies in it."""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.camera import Camera
from buttonhole.photo.card import SQUARE, SQUARES, WINDOW, corners, in_window

Array = NDArray[np.float64]
Grey = NDArray[np.uint8]

EDGE_REACH = 0.8e-3  # m, how far to both sides of an edge of a printed square is looked
EDGE_STEP = 0.02e-3  # m
SATURATED = 252  # of 255


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """A picture with its fitted camera.

    ``blur`` [m]: spread of the edges of the printed squares round the window, one standard
    deviation, in the worse direction. ``black``, ``white`` [-]: brightness of the printed fields
    beside the window, 0 to 255.
    """

    grey: Grey
    camera: Camera
    blur: float = 0.0  # m
    black: float = 0.0  # -
    white: float = 255.0  # -

    def sample(self, points: Array, height: float) -> Array:
        """Brightness (...,) at points (..., 2) [m] of a plane over the card, 0 to 255 [-]."""
        import cv2

        flat = points.reshape(-1, 2)
        pixels = self.camera.project(np.column_stack((flat, np.full(len(flat), height))))
        # the library takes maps of at most 32767 rows, so they are folded
        wide = 4096
        rows = -(-len(flat) // wide)
        padded = np.zeros((2, rows * wide), dtype=np.float32)
        padded[:, : len(flat)] = pixels.T
        across, down = padded.reshape(2, rows, wide)
        seen = cv2.remap(self.grey, across, down, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        found: Array = np.asarray(seen, dtype=np.float64).ravel()[: len(flat)]
        return found.reshape(points.shape[:-1])


def loupe_points(side: int, width: float, centre: tuple[float, float] = (0.0, 0.0)) -> Array:
    """Places (side, side, 2) [m] of the pixels of a rectified picture of some width [m]."""
    steps = ((np.arange(side) + 0.5) / side - 0.5) * width
    across, down = np.meshgrid(steps + centre[0], steps + centre[1])
    return np.stack((across, down), axis=-1)


@lru_cache(maxsize=8)
def loupe(
    sight: Sight,
    height: float,
    side: int = 960,
    width: float = WINDOW,
    centre: tuple[float, float] = (0.0, 0.0),
) -> Grey:
    """Picture of the window as seen straight from above.

    Parameters
    ----------
    sight : Sight
        The picture.
    height : float
        Of the face that is to be true to scale, over the card [m].
    side : int
        Of the result [px].
    width : float
        Of what is shown [m].
    centre : tuple of float
        Of what is shown [m].

    Returns
    -------
    ndarray
        Shape (side, side), brightness; across and down as on the card [-].
    """
    return np.rint(sight.sample(loupe_points(side, width, centre), height)).astype(np.uint8)


def with_sharpness(sight: Sight) -> Sight:
    """Measure how the printed edges round the window come out."""
    spreads: dict[bool, list[float]] = {True: [], False: []}
    dark, bright = [], []
    for middle, upright in _edges_round_window():
        profile = _profile(sight, middle, upright)
        ends = profile[:8].mean(), profile[-8:].mean()
        contrast = abs(ends[1] - ends[0])
        dark.append(min(ends))
        bright.append(max(ends))
        if contrast > 10.0:
            slope = np.max(np.abs(np.convolve(profile, [0.5, 0.0, -0.5], "valid"))) / EDGE_STEP
            spreads[upright].append(contrast / (math.sqrt(2.0 * math.pi) * slope))
    medians = [float(np.median(one)) for one in spreads.values() if one]
    blur = max(medians) if len(medians) == 2 else math.inf
    return replace(sight, blur=blur, black=float(np.median(dark)), white=float(np.median(bright)))


def _profile(sight: Sight, middle: Array, upright: bool) -> Array:
    """Brightness across an edge of a square, averaged along it."""
    across = np.arange(-EDGE_REACH, EDGE_REACH + EDGE_STEP / 2, EDGE_STEP)
    along = np.linspace(-0.25, 0.25, 25) * SQUARE
    one, two = (0, 1) if upright else (1, 0)
    points = np.empty((along.size, across.size, 2))
    points[..., one] = middle[one] + across[None, :]
    points[..., two] = middle[two] + along[:, None]
    averaged: Array = sight.sample(points, 0.0).mean(axis=0)
    return averaged


def _edges_round_window() -> list[tuple[Array, bool]]:
    """Middles of edges between printed squares near the window; whether the edge is upright."""
    near = 0.5 * WINDOW + 1.6 * SQUARE
    found = []
    at = corners().reshape(SQUARES - 1, SQUARES - 1, 2)
    for row in range(SQUARES - 1):
        for column in range(SQUARES - 1):
            if np.max(np.abs(at[row, column])) > near:
                continue
            if column + 1 < SQUARES - 1 and not (
                in_window(row, column + 1) or in_window(row + 1, column + 1)
            ):
                found.append((0.5 * (at[row, column] + at[row, column + 1]), False))
            if row + 1 < SQUARES - 1 and not (
                in_window(row + 1, column) or in_window(row + 1, column + 1)
            ):
                found.append((0.5 * (at[row, column] + at[row + 1, column]), True))
    return found
