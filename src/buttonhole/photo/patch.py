"""The window, rectified and in equal steps of light: where the outline of a weld is looked for."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.card import WINDOW
from buttonhole.photo.sight import SATURATED, Sight, loupe_points

Array = NDArray[np.float64]
Field = NDArray[np.float32]

PITCH = 0.04e-3  # m
SIDE = round(WINDOW / PITCH)
TONE_SPREAD = 0.08e-3  # m
ROUGH_SPREAD = 0.22e-3  # m
BURNT_MARGIN = 0.25e-3  # m, round what is burnt out


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """Fields (SIDE, SIDE) over the window [-].

    ``light``: of full light, 0 to 1. ``tone``: the same, smoothed. ``rough``: logarithm of how
    rough it is. ``burnt``: 1 where the picture is burnt out, 0 elsewhere. ``blur`` [m].
    """

    light: Field
    tone: Field
    rough: Field
    burnt: Field
    blur: float  # m

    def at(self, field: Field, points: Array) -> Array:
        """Values (...,) of a field at places (..., 2) [m] from the middle of the window [-]."""
        import cv2

        flat = points.reshape(-1, points.shape[-2], 2)
        index = (flat / PITCH + 0.5 * (SIDE - 1)).astype(np.float32)
        seen = cv2.remap(
            field,
            np.ascontiguousarray(index[..., 0]),
            np.ascontiguousarray(index[..., 1]),
            cv2.INTER_LINEAR,
            borderMode=cv2.BORDER_REPLICATE,
        )
        return np.asarray(seen, dtype=np.float64).reshape(points.shape[:-1])


def linear_light(levels: Array) -> Array:
    """Light [-] behind levels 0 to 255 of a picture as cameras write it.

    Sources
    -------
    iec-61966-2-1.
    """
    share = levels / 255.0
    found: Array = np.where(
        share <= 0.04045, share / 12.92, ((np.maximum(share, 0.0) + 0.055) / 1.055) ** 2.4
    )
    return found


@lru_cache(maxsize=8)
def patch(sight: Sight, height: float) -> Patch:
    """Rectify the window for a face.

    Parameters
    ----------
    sight : Sight
        The picture.
    height : float
        Of the face over the card [m].

    Returns
    -------
    Patch
        Its fields.
    """
    import cv2

    levels = sight.sample(loupe_points(SIDE, WINDOW), height)
    light = linear_light(levels).astype(np.float32)
    tone = cv2.GaussianBlur(light, (0, 0), TONE_SPREAD / PITCH)
    coarse = cv2.GaussianBlur(light, (0, 0), 1.2 * ROUGH_SPREAD / PITCH)
    energy = cv2.GaussianBlur((tone - coarse) ** 2, (0, 0), ROUGH_SPREAD / PITCH)
    burnt = (levels >= SATURATED).astype(np.float32)
    reach = 2 * round(BURNT_MARGIN / PITCH) + 1
    margin = cv2.dilate(burnt, np.ones((reach, reach), dtype=np.uint8))
    return Patch(
        light,
        np.asarray(tone, dtype=np.float32),
        np.asarray(0.5 * np.log(energy + 1e-7), dtype=np.float32),
        np.asarray(margin, dtype=np.float32),
        sight.blur,
    )
