"""Finds the card in a picture: its corners by number, and the name in its QR code.

The only module that asks the marker library to look at a picture.
"""

from dataclasses import dataclass
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.card import board, card_named, corners

Array = NDArray[np.float64]
Grey = NDArray[np.uint8]

CODE_SIDE = 1600  # px; a larger picture is made smaller before its code is looked for


@dataclass(frozen=True, slots=True)
class Found:
    """Corners of the card in a picture: numbers (n,), pixels (n, 2), and codes seen."""

    numbers: NDArray[np.int64]
    pixels: Array  # px
    markers: int

    @property
    def ground(self) -> Array:
        """Where the corners are on a card printed true (n, 2) [m]."""
        return corners()[self.numbers]


def find_corners(grey: Grey) -> Found:
    """Find the corners of the card.

    Parameters
    ----------
    grey : ndarray
        Shape (height, width), brightness [-].

    Returns
    -------
    Found
        Without any corner when there is no card.
    """
    from cv2 import aruco

    settings = aruco.DetectorParameters()
    settings.adaptiveThreshWinSizeMin = 13
    settings.adaptiveThreshWinSizeMax = 53
    settings.adaptiveThreshWinSizeStep = 20
    detector = aruco.CharucoDetector(board(), aruco.CharucoParameters(), settings)
    # what is not found comes as None, which the types of the library do not say
    places, numbers, _, seen = cast("tuple[Any, Any, Any, Any]", detector.detectBoard(grey))
    markers = 0 if seen is None else len(seen)
    if numbers is None or places is None or len(numbers) == 0:
        return Found(np.zeros(0, dtype=np.int64), np.zeros((0, 2)), markers)
    pixels = np.asarray(places, dtype=np.float64).reshape(-1, 2)
    return Found(np.asarray(numbers, dtype=np.int64).ravel(), pixels, markers)


def read_card_name(grey: Grey) -> tuple[str, str] | None:
    """Design and name of the card from its QR code, or nothing when it can't be read."""
    import cv2

    longer = max(grey.shape)
    if longer > CODE_SIDE:
        share = CODE_SIDE / longer
        grey = np.asarray(
            cv2.resize(grey, None, fx=share, fy=share, interpolation=cv2.INTER_AREA),
            dtype=np.uint8,
        )
    try:
        text = cv2.QRCodeDetector().detectAndDecode(grey)[0]
    except (cv2.error, UnicodeDecodeError):
        return None  # a code too damaged for the reader is no code
    return card_named(text or "")
