"""What a photo must be to be measured in, and what to say when it is not."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.card import SQUARE, SQUARES, WINDOW
from buttonhole.photo.fiducial import Found
from buttonhole.photo.sight import SATURATED, Sight
from buttonhole.units import BadInput

Array = NDArray[np.float64]

# Limits of our own; what they leave is what the rendered photos were measured in.
DARK = 50.0  # of 255, printed white
PALE = 35.0  # of 255, least step from printed black to printed white
COARSE = 7.0e3  # px/m
TILT = math.radians(35.0)
BLUR = 0.25e-3  # m
BENT = 0.08e-3  # m, corners off a plane
BURNT = 0.5  # share of the window
EDGE_BURNT = 0.04  # share of the band round the outline
PER_SIDE = 4  # corners on each of the four sides of the window
NEAR_EDGE = 0.01  # of the picture


class Trouble(StrEnum):
    """Why a photo is refused; the value is the word in answers."""

    NO_CARD = "no_card"
    CUT_OFF = "card_cut_off"
    TOO_DARK = "too_dark"
    TOO_PALE = "too_pale"
    TOO_FAR = "too_far"
    TILTED = "tilted"
    BLURRED = "blurred"
    NOT_FLAT = "not_flat"
    GLARE = "glare"

    @property
    def words(self) -> tuple[str, str]:
        """What is wrong, and what to do."""
        return WORDS[self]


WORDS = {
    Trouble.NO_CARD: (
        "No gauge card is seen in this photo.",
        "Lay the card round the weld, the whole frame in the picture and in focus; take it again.",
    ),
    Trouble.CUT_OFF: (
        "The card is not seen on all sides of the weld.",
        "Take your hand off the frame, get all of it into the picture and take it again.",
    ),
    Trouble.TOO_DARK: ("The photo is too dark.", "Turn a lamp on the card and take it again."),
    Trouble.TOO_PALE: (
        "Black and white of the card can hardly be told apart.",
        "Clean the lens and the card, keep lamps from shining into the lens, take it again.",
    ),
    Trouble.TOO_FAR: (
        "The photo was taken from too far away.",
        "Come nearer until the frame of the card fills most of the picture.",
    ),
    Trouble.TILTED: (
        "The camera was held too far aslant.",
        "Hold it straight above the weld, its back level with the card.",
    ),
    Trouble.BLURRED: (
        "The photo is blurred.",
        "Tap on the weld to focus, rest your hand, turn on a lamp, take it again.",
    ),
    Trouble.NOT_FLAT: (
        "The card does not lie flat.",
        "Glue it on something stiff or weigh its corners down, then take it again.",
    ),
    Trouble.GLARE: (
        "A glare lies over the edge of the weld.",
        "Turn the lamp or the coupon until the edge is seen all round, take it again.",
    ),
}


class PhotoRefused(BadInput):
    """A photo that can't be measured in: the kind of trouble, what was found, what to do."""

    def __init__(self, trouble: Trouble, found: str = "") -> None:
        said, act = trouble.words
        detail = f" ({found})" if found else ""
        super().__init__("photo", f"{said[:-1]}{detail}. {act}")
        self.trouble = trouble
        self.said = said
        self.act = act
        self.found = found


def refuse_corners(found: Found, size: tuple[int, int]) -> None:
    """Refuse a picture in which not enough of the card is seen.

    Parameters
    ----------
    found : Found
        What is seen of the card.
    size : tuple of int
        Width and height of the picture [px].

    Raises
    ------
    PhotoRefused
        No card, or none on one side of the window.
    """
    if found.markers < 3 and len(found.numbers) < PER_SIDE:
        raise PhotoRefused(Trouble.NO_CARD)
    at = found.ground
    half = 0.5 * WINDOW - 0.25 * SQUARE
    sides = {
        "left": at[:, 0] < -half,
        "right": at[:, 0] > half,
        "top": at[:, 1] < -half,
        "bottom": at[:, 1] > half,
    }
    missing = [name for name, seen in sides.items() if np.count_nonzero(seen) < PER_SIDE]
    if missing and _fineness(found) < COARSE:
        raise PhotoRefused(Trouble.TOO_FAR)
    if missing:
        raise PhotoRefused(Trouble.CUT_OFF, f"missing: {', '.join(missing)}")


def _fineness(found: Found) -> float:
    """About how fine a picture is [px/m], by corners that lie side by side."""
    at = {int(number): place for number, place in zip(found.numbers, found.pixels, strict=True)}
    steps = [
        float(np.hypot(*(at[number + 1] - place))) / SQUARE
        for number, place in at.items()
        if number + 1 in at and (number + 1) % (SQUARES - 1)
    ]
    return float(np.median(steps)) if steps else math.inf


@dataclass(frozen=True, slots=True)
class _Test:
    trouble: Trouble
    bad: Callable[[Sight], bool]
    found: Callable[[Sight], str]


_TESTS = (
    _Test(
        Trouble.TOO_DARK,
        lambda one: one.white < DARK,
        lambda one: f"white of the card has {one.white:.0f} of 255",
    ),
    _Test(
        Trouble.TOO_PALE,
        lambda one: one.white - one.black < PALE,
        lambda one: f"{one.black:.0f} and {one.white:.0f} of 255",
    ),
    _Test(
        Trouble.TILTED,
        lambda one: one.camera.tilt > TILT,
        lambda one: (
            f"{math.degrees(one.camera.tilt):.0f}° aslant, at most {math.degrees(TILT):.0f}°"
        ),
    ),
    _Test(
        Trouble.TOO_FAR,
        lambda one: one.camera.pixels_per_metre() < COARSE,
        lambda one: (
            f"{one.camera.pixels_per_metre() / 1e3:.1f} pixels a millimetre, "
            f"at least {COARSE / 1e3:.0f}"
        ),
    ),
    _Test(
        Trouble.BLURRED,
        lambda one: one.blur > BLUR,
        lambda one: (
            f"edges are smeared by {one.blur * 1e3:.2f} mm, at most {BLUR * 1e3:.2f} mm"
            if math.isfinite(one.blur)
            else "no edge of the card is found"
        ),
    ),
    _Test(
        Trouble.NOT_FLAT,
        lambda one: one.camera.misfit > BENT,
        lambda one: (
            f"its corners are off by {one.camera.misfit * 1e3:.2f} mm, at most {BENT * 1e3:.2f} mm"
        ),
    ),
)


def refuse_picture(sight: Sight) -> None:
    """Refuse a picture that is too dark, pale, aslant, far, blurred, or of a bent card.

    Raises
    ------
    PhotoRefused
        The first of these that is found.
    """
    for test in _TESTS:
        if test.bad(sight):
            raise PhotoRefused(test.trouble, test.found(sight))


def refuse_burnt(share: float, most: float = EDGE_BURNT) -> None:
    """Refuse when a share [-] of what is to be measured is burnt out.

    Raises
    ------
    PhotoRefused
        More than ``most`` [-].
    """
    if share > most:
        raise PhotoRefused(Trouble.GLARE, f"{share:.0%} of it is burnt out")


def burnt_window(levels: Array) -> float:
    """Share [-] of a rectified window (n, n), 0 to 255 [-], that is burnt out."""
    return float(np.mean(levels >= SATURATED))
