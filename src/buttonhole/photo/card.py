"""The printed card that gives a photo its scale: a frame of squares round an open window.

The frame is a chessboard whose white squares carry square codes. The corners of the board are
found to a small part of a pixel, the codes say which corner is which, so a card that is partly
hidden still serves. The weld is seen through the window in the middle, so that the scale is
interpolated between corners on all its sides and never extended beyond them.
"""

import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from buttonhole.units import BadInput

if TYPE_CHECKING:
    from cv2.aruco import CharucoBoard

Array = NDArray[np.float64]

SQUARES = 12  # along each side of the frame
SQUARE = 8.0e-3  # m
MARKER = 5.8e-3  # m, side of a code, its black border included
WINDOW_SQUARES = 4  # cut out in the middle
SIDE = SQUARES * SQUARE  # m
WINDOW = WINDOW_SQUARES * SQUARE  # m
BAR = 80.0e-3  # m, nominal length of the two bars that a calliper checks
BAR_LIMIT = 0.02  # -, a printer that is off by more has scaled the page
DESIGN = "1"
_CODE = re.compile(r"buttonhole gauge card ([0-9]{1,3}) ([0-9A-Za-z-]{1,40})")


def code_text(card_id: str) -> str:
    """Text of the QR code on a card.

    Raises
    ------
    BadInput
        A name that is not letters, figures and dashes only.
    """
    text = f"buttonhole gauge card {DESIGN} {card_id}"
    if not _CODE.fullmatch(text):
        raise BadInput("card", "give it a name of at most 40 letters, figures and dashes")
    return text


def card_named(text: str) -> tuple[str, str] | None:
    """Design and name that a QR code states, or nothing when it is no card of ours."""
    found = _CODE.fullmatch(text)
    return (found[1], found[2]) if found else None


@dataclass(frozen=True, slots=True)
class PrintedScale:
    """How large a card came out of the printer.

    ``across`` and ``down`` [-]: printed length over nominal length. ``uncertainty`` [-]: standard,
    of both.
    """

    across: float = 1.0  # -
    down: float = 1.0  # -
    uncertainty: float = 0.005  # -; assumption, no source: office printers, nothing measured


def scale_from_bars(across: float, down: float, reading: float = 0.05e-3) -> PrintedScale:
    """Scale of a card whose two bars were measured.

    Parameters
    ----------
    across, down : float
        Measured lengths of the two bars [m].
    reading : float
        Standard uncertainty of one such reading [m]. 0.05 mm: assumption, no source.

    Returns
    -------
    PrintedScale
        For this card on this paper.

    Raises
    ------
    BadInput
        A length that no printer at 100 % makes of the bar.
    """
    for key, length in (("bar_across", across), ("bar_down", down)):
        if not abs(length / BAR - 1.0) <= BAR_LIMIT:
            raise BadInput(
                key,
                f"is {length * 1e3:g} mm, the bar should have {BAR * 1e3:g} mm; print the card "
                "at 100 %, without fitting it to the page, or measure again",
            )
    return PrintedScale(across / BAR, down / BAR, reading / BAR)


@cache
def board() -> "CharucoBoard":
    """The frame as the marker library knows it, in metres, its first corner at the top left."""
    from cv2 import aruco

    codes = aruco.getPredefinedDictionary(aruco.DICT_4X4_100)
    return aruco.CharucoBoard((SQUARES, SQUARES), SQUARE, MARKER, codes)


@cache
def corners() -> Array:
    """Inner corners of the frame, measured from its middle.

    Returns
    -------
    ndarray
        Place across and down [m], one row for each corner by its number, the hidden ones of the
        window too.
    """
    steps = (np.arange(1, SQUARES) - 0.5 * SQUARES) * SQUARE
    across, down = np.meshgrid(steps, steps)
    return np.column_stack((across.ravel(), down.ravel()))


def in_window(row: int, column: int) -> bool:
    """Whether a square is part of the window."""
    first = (SQUARES - WINDOW_SQUARES) // 2
    last = first + WINDOW_SQUARES
    return first <= row < last and first <= column < last


def black_fields() -> tuple[tuple[float, float, float, float], ...]:
    """What is printed black: squares of the board and cells of the codes.

    Returns
    -------
    tuple
        Left, top, width and height of each rectangle [m], from the top left of the frame.
    """
    found = []
    dictionary = board().getDictionary()
    cells = dictionary.markerSize + 2  # with the black border
    cell = MARKER / cells
    number = 0
    for row in range(SQUARES):
        for column in range(SQUARES):
            left, top = column * SQUARE, row * SQUARE
            if (row + column) % 2 == 0:
                if not in_window(row, column):
                    found.append((left, top, SQUARE, SQUARE))
                continue
            bits = dictionary.generateImageMarker(number, cells) == 0
            number += 1
            if in_window(row, column):
                continue
            edge = 0.5 * (SQUARE - MARKER)
            for y, line in enumerate(bits):
                found += [
                    (left + edge + start * cell, top + edge + y * cell, length * cell, cell)
                    for start, length in _runs(line)
                ]
    return tuple(found)


def _runs(line: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First cell and number of cells of each black run in a row of a code."""
    change = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(np.int8), [0]))))
    return [(int(a), int(b - a)) for a, b in zip(change[::2], change[1::2], strict=True)]
