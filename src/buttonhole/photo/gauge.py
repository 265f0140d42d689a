"""Two diameters of a torn weld in a photo, with their uncertainty.

A person sets the ends of the largest diameter and of the one across it; the program may draw them
onto the edge close by. What the program proposes by itself is no reading before a person has taken
it: `measure` refuses it.

Sources: jcgm-100 (combination of uncertainties). The shares that come from a hand and from the
edge are measured on rendered photos, docs/validation/photo.md.
"""

import math
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.camera import fit
from buttonhole.photo.card import SIDE, WINDOW, PrintedScale
from buttonhole.photo.fiducial import find_corners
from buttonhole.photo.outline import Outline, ellipse_radii, outline_near, polar
from buttonhole.photo.patch import Patch, patch
from buttonhole.photo.refusal import (
    BURNT,
    PhotoRefused,
    Trouble,
    burnt_window,
    refuse_burnt,
    refuse_corners,
    refuse_picture,
)
from buttonhole.photo.sight import Sight, loupe, with_sharpness
from buttonhole.units import BadInput

Array = NDArray[np.float64]
Grey = NDArray[np.uint8]

SMALLEST, LARGEST = 0.8e-3, 16e-3  # m, diameter
HIGHEST = 6e-3  # m, height of a face over or under the card
BAND = 0.6e-3  # m, to both sides of the handles
LEAN = 1.0e3  # 1/m
HAND = 0.15e-3  # m, standard, of one end set by a hand with the loupe; assumption, no source
SNAPPED = 0.06e-3  # m, standard, of one end drawn onto its edge; rendered photos
FAINT_SNAPPED = 0.09e-3  # m, the same where the edge is faint; rendered photos
FAINT = 2.0  # change of brightness along an outline over the usual one, below which it is faint
HEIGHT_UNCERTAINTY = 0.2e-3  # m, standard, of a height told; assumption, no source
FLATNESS = 2.0  # share of a misfit of the corners that may be a wrong scale at the window
CROSSING = math.radians(30.0)  # how far from a right angle the two diameters may stand


class Face(StrEnum):
    """What is seen of the weld; the value is the word in files and commands."""

    BUTTON = "button"
    DISC = "disc"
    HOLE = "hole"

    @property
    def lean(self) -> float:
        """Which of two edges close together is meant [1/m]: further out positive.

        The side of a button is seen outside its face, the wall of a hole inside its edge.
        """
        return {Face.BUTTON: -LEAN, Face.DISC: 0.0, Face.HOLE: LEAN}[self]


class Placed(StrEnum):
    """Who put the handles where they are."""

    PROGRAM = "program"
    HAND = "hand"


@dataclass(frozen=True, slots=True)
class Handles:
    """Ends of the largest diameter and of the one across it.

    ``ends``: four places (across, down) [m] from the middle of the window, on the weld's face.
    ``snapped``: they were drawn onto the edge; ``faint``: onto one that hardly stands out.
    """

    ends: tuple[tuple[float, float], ...]  # m
    placed: Placed
    snapped: bool = False
    faint: bool = False

    def __post_init__(self) -> None:
        if len(self.ends) != 4 or not all(
            math.isfinite(x) and abs(x) <= 0.5 * WINDOW for one in self.ends for x in one
        ):
            raise BadInput("handles", "give four places inside the window of the card")

    @property
    def places(self) -> Array:
        """The four ends (4, 2) [m]."""
        return np.array(self.ends)

    def taken_by_hand(self) -> "Handles":
        """The same, once a person has looked at them and takes them."""
        return replace(self, placed=Placed.HAND)


def handles_at(
    places: Array, placed: Placed, *, snapped: bool = False, faint: bool = False
) -> Handles:
    """Handles at places (4, 2) [m]."""
    ends = tuple((float(x), float(y)) for x, y in places)
    return Handles(ends, placed, snapped, faint)


@dataclass(frozen=True, slots=True)
class FaceSetting:
    """How the weld's face lies to the card: ``height`` [m] towards the camera, its uncertainty."""

    face: Face
    height: float  # m
    height_uncertainty: float = HEIGHT_UNCERTAINTY  # m, standard

    def __post_init__(self) -> None:
        if not abs(self.height) <= HIGHEST:
            raise BadInput(
                "height",
                f"is {self.height * 1e3:g} mm; give how far the face stands above the card, "
                f"negative below it, at most {HIGHEST * 1e3:g} mm",
            )
        if not 0.0 <= self.height_uncertainty <= 2e-3:
            raise BadInput("height_uncertainty", "give one standard deviation, 0 to 2 mm")


@dataclass(frozen=True, slots=True)
class Parts:
    """Standard uncertainties of one diameter [m], by where they come from."""

    printed: float  # m, scale of the printed card
    camera: float  # m, place and lens of the camera
    flatness: float  # m, a card that is not quite flat
    height: float  # m, of the face over the card
    edge: float  # m, where the edge is, both ends

    @property
    def total(self) -> float:
        """All together [m]."""
        return math.hypot(self.printed, self.camera, self.flatness, self.height, self.edge)


@dataclass(frozen=True, slots=True)
class Measured:
    """Two diameters and how sure they are. ``parts``: of the larger one."""

    d_max: float  # m
    d_min: float  # m
    uncertainty: float  # m, standard, of each
    parts: Parts
    handles: Handles


def look(grey: Grey, scale: PrintedScale, focal: float | None = None) -> Sight:
    """Find the card and the camera in a picture.

    Parameters
    ----------
    grey : ndarray
        Shape (height, width), brightness 0 to 255 [-].
    scale : PrintedScale
        How large this card came out of the printer.
    focal : float, optional
        Focal length over the longer side, as the file tells [-].

    Returns
    -------
    Sight
        The picture with its camera and its sharpness.

    Raises
    ------
    PhotoRefused
        With the reason and what to do.
    """
    size = (grey.shape[1], grey.shape[0])
    found = find_corners(grey)
    if len(found.numbers) == 0 and float(np.percentile(grey, 98)) < 60.0:
        raise PhotoRefused(Trouble.TOO_DARK)
    refuse_corners(found, size)
    ground = found.ground * (scale.across, scale.down)
    try:
        camera = fit(ground, found.pixels, size, focal)
    except (BadInput, np.linalg.LinAlgError):
        raise PhotoRefused(Trouble.CUT_OFF) from None
    sight = with_sharpness(Sight(grey, camera))
    refuse_picture(sight)
    refuse_burnt(burnt_window(loupe(sight, 0.0, 320).astype(np.float64)), BURNT)
    return sight


def expected_uncertainty(
    sight: Sight,
    setting: FaceSetting,
    scale: PrintedScale,
    diameter: float,
    *,
    snapped: bool = True,
    faint: bool = False,
) -> Parts:
    """How sure a diameter will be in this picture.

    Parameters
    ----------
    sight : Sight
        The picture.
    setting : FaceSetting
        How the face lies.
    scale : PrintedScale
        Of the card.
    diameter : float
        About how large it is [m].
    snapped : bool
        The handles are drawn onto the edge.
    faint : bool
        That edge hardly stands out.

    Returns
    -------
    Parts
        Standard uncertainties [m].
    """
    camera = sight.camera
    pixel = 1.0 / camera.pixels_per_metre(setting.height)
    placing = (FAINT_SNAPPED if faint else SNAPPED) if snapped else HAND
    end = math.hypot(placing, 0.25 * sight.blur, 0.3 * pixel)
    return Parts(
        printed=diameter * scale.uncertainty,
        camera=diameter * camera.scale_uncertainty(setting.height, diameter),
        flatness=diameter * FLATNESS * camera.misfit / (0.5 * SIDE),
        height=diameter * setting.height_uncertainty / float(camera.place[2] - setting.height),
        edge=math.sqrt(2.0) * end,
    )


def snap(sight: Sight, setting: FaceSetting, handles: Handles) -> tuple[Handles, Outline]:
    """Draw handles onto the edge close by.

    Parameters
    ----------
    sight : Sight
        The picture.
    setting : FaceSetting
        How the face lies.
    handles : Handles
        About where the ends are.

    Returns
    -------
    tuple
        Handles on the edge, the larger diameter first; and the outline.

    Raises
    ------
    BadInput
        Diameters that do not cross, or are not of a weld.
    PhotoRefused
        A glare over the edge.
    """
    refuse_handles(handles)
    area = patch(sight, setting.height)
    centre, radii = ellipse_radii(handles.places)
    refuse_burnt(burnt_band(area, centre, radii))
    found = outline_near(area, centre, radii, band=BAND, lean=setting.face.lean)
    return on_outline(found, handles.places, handles.placed), found


def on_outline(found: Outline, places: Array, placed: Placed) -> Handles:
    """Handles on an outline, the largest diameter close to where it was set (4, 2) [m]."""
    first = places[0] - places[1]
    angle = found.largest_near(math.atan2(first[1], first[0]))
    ends = np.vstack((found.ends(angle), found.ends(angle + 0.5 * math.pi)))
    faint = float(np.median(found.strength)) < FAINT
    return handles_at(ends, placed, snapped=True, faint=faint)


def burnt_band(area: Patch, centre: tuple[float, float], radii: Array) -> float:
    """Share [-] of the band about a line, radii (RAYS,) [m], that is burnt out."""
    band = polar(centre, radii, np.linspace(-0.3e-3, 0.3e-3, 7))
    return float(np.mean(area.at(area.burnt, band)))


def refuse_handles(handles: Handles) -> None:
    """Refuse handles that are no two crossing diameters of one weld.

    Raises
    ------
    BadInput
        With what would be right.
    """
    places = handles.places
    first, second = places[0] - places[1], places[2] - places[3]
    lengths = np.hypot(first[0], first[1]), np.hypot(second[0], second[1])
    for length in lengths:
        if not SMALLEST <= length <= LARGEST:
            raise BadInput(
                "handles",
                f"stand {length * 1e3:.2f} mm apart; set them at the two ends of a diameter, "
                f"{SMALLEST * 1e3:g} to {LARGEST * 1e3:g} mm",
            )
    cosine = abs(float(first @ second)) / (lengths[0] * lengths[1])
    apart = places[:2].mean(axis=0) - places[2:].mean(axis=0)
    if cosine > math.sin(CROSSING) or float(np.hypot(*apart)) > 0.3 * min(lengths):
        raise BadInput("handles", "do not cross; set the second diameter across the first, at 90°")
    if max(lengths) > 3.0 * min(lengths):
        raise BadInput("handles", "one diameter is three times the other; that is no single weld")


def measure(sight: Sight, setting: FaceSetting, scale: PrintedScale, handles: Handles) -> Measured:
    """Measure between handles that a person has set or taken.

    Parameters
    ----------
    sight : Sight
        The picture.
    setting : FaceSetting
        How the face lies.
    scale : PrintedScale
        Of the card.
    handles : Handles
        Where the ends are.

    Returns
    -------
    Measured
        The larger diameter first.

    Raises
    ------
    BadInput
        Handles that no person has taken, or that are no diameters.
    PhotoRefused
        A glare over the edge.
    """
    if handles.placed is not Placed.HAND:
        raise BadInput(
            "handles",
            "are the program's proposal; look at them on the loupe, set or accept them yourself",
        )
    refuse_handles(handles)
    area = patch(sight, setting.height)
    refuse_burnt(burnt_band(area, *ellipse_radii(handles.places)))
    return _measured(sight, setting, scale, handles)


def _measured(
    sight: Sight, setting: FaceSetting, scale: PrintedScale, handles: Handles
) -> Measured:
    places = handles.places
    lengths = sorted((float(np.hypot(*(places[k] - places[k + 1]))) for k in (0, 2)), reverse=True)
    parts = expected_uncertainty(
        sight, setting, scale, lengths[0], snapped=handles.snapped, faint=handles.faint
    )
    return Measured(lengths[0], lengths[1], parts.total, parts, handles)


def preview(
    sight: Sight, setting: FaceSetting, scale: PrintedScale, handles: Handles
) -> Measured | None:
    """What handles would give, whoever set them, to be shown; nothing when they are no diameters.

    Not a reading: only `measure` gives one.
    """
    try:
        refuse_handles(handles)
    except BadInput:
        return None
    return _measured(sight, setting, scale, handles)
