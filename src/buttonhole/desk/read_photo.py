"""Read a photo of a torn weld: look at it, propose, measure."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from buttonhole.coupon.fracture import FractureMode
from buttonhole.photo.card import PrintedScale, scale_from_bars
from buttonhole.photo.fiducial import read_card_name
from buttonhole.photo.gauge import (
    Face,
    FaceSetting,
    Handles,
    Measured,
    Parts,
    expected_uncertainty,
    look,
    measure,
    snap,
)
from buttonhole.photo.intake import Taken, take
from buttonhole.photo.picture import brightness
from buttonhole.photo.proposal import Proposal, propose
from buttonhole.photo.sight import Sight
from buttonhole.units import BadInput

USUAL_DIAMETER = 5e-3  # m, for which the uncertainty of a picture is said


@dataclass(frozen=True, slots=True, eq=False)
class SeenPhoto:
    """A photo whose card was found. ``card`` is its name when its code could be read."""

    taken: Taken
    sight: Sight
    scale: PrintedScale
    card: str


def see_photo(
    content: bytes, bars: tuple[float, float] | None = None, *, named: bool = True
) -> SeenPhoto:
    """Take a photo in and find its card.

    Parameters
    ----------
    content : bytes
        The file as it came.
    bars : tuple of float, optional
        Measured lengths of the bars across and down the card [m].
    named : bool
        Look for the name of the card as well, which takes a little longer.

    Returns
    -------
    SeenPhoto
        Ready to be measured in.

    Raises
    ------
    BadInput
        No picture, or lengths that no bar has.
    PhotoRefused
        A picture that can't be measured in, with what to do.
    """
    taken = take(content)
    scale = PrintedScale() if bars is None else scale_from_bars(*bars)
    grey = brightness(taken)
    sight = look(grey, scale, taken.focal)
    name = read_card_name(grey) if named else None
    return SeenPhoto(taken, sight, scale, name[1] if name else "")


def face_of(mode: FractureMode | None, *, hole: bool = False) -> Face:
    """What is seen of a weld that let go in a manner; ``hole`` when the other half is looked at."""
    if hole:
        return Face.HOLE
    return Face.BUTTON if mode is FractureMode.FULL_BUTTON else Face.DISC


def face_named(text: str) -> Face:
    """A face by its word.

    Raises
    ------
    BadInput
        No such face.
    """
    if text not in set(Face):
        raise BadInput("face", f"is {text[:30]!r}; give one of {', '.join(Face)}")
    return Face(text)


@dataclass(frozen=True, slots=True)
class PhotoReading:
    """What a photo gives. ``measured`` only when a person has set or taken the handles."""

    setting: FaceSetting
    expected: Parts
    proposal: Proposal | None
    measured: Measured | None


def read_photo(
    seen: SeenPhoto,
    setting: FaceSetting,
    handles: Handles | None = None,
    *,
    snapped: bool = True,
    accept_proposal: bool = False,
) -> PhotoReading:
    """Read a photo.

    Parameters
    ----------
    seen : SeenPhoto
        The photo.
    setting : FaceSetting
        How the weld's face lies.
    handles : Handles, optional
        Ends of the two diameters as a person set them; without them the program proposes.
    snapped : bool
        Draw the handles onto the edge close by.
    accept_proposal : bool
        A person has looked at the proposal and takes it.

    Returns
    -------
    PhotoReading
        A proposal alone is no reading.

    Raises
    ------
    BadInput
        Handles that are no diameters, or nothing to take.
    PhotoRefused
        A glare over the edge.
    """
    proposal = None
    if handles is None:
        proposal = propose(seen.sight, setting)
        if accept_proposal:
            if proposal is None:
                raise BadInput("handles", "could not be proposed; set them yourself")
            handles = proposal.handles.taken_by_hand()
    elif snapped:
        handles, _outline = snap(seen.sight, setting, handles)
    measured = None
    if handles is not None:
        measured = measure(seen.sight, setting, seen.scale, handles)
    size = measured.d_max if measured else USUAL_DIAMETER
    expected = expected_uncertainty(seen.sight, setting, seen.scale, size, snapped=snapped)
    return PhotoReading(setting, expected, proposal, measured)


def parts_answer(parts: Parts) -> dict[str, float]:
    """Shares of an uncertainty for a JSON answer [mm]."""
    return {
        "printed_scale_mm": parts.printed * 1e3,
        "camera_mm": parts.camera * 1e3,
        "flatness_mm": parts.flatness * 1e3,
        "height_mm": parts.height * 1e3,
        "edge_mm": parts.edge * 1e3,
        "standard_uncertainty_mm": parts.total * 1e3,
    }


def handles_answer(handles: Handles) -> dict[str, Any]:
    """Handles for a JSON answer [mm]."""
    ends = [[x * 1e3, y * 1e3] for x, y in handles.ends]
    return {"largest": ends[:2], "across": ends[2:], "set_by": handles.placed.value}


def photo_answer(seen: SeenPhoto, reading: PhotoReading) -> Mapping[str, Any]:
    """What a photo gives, for a JSON answer.

    Parameters
    ----------
    seen : SeenPhoto
        The photo.
    reading : PhotoReading
        What was read.

    Returns
    -------
    mapping
        Plain values, units in the names of the keys.
    """
    answer: dict[str, Any] = {
        "status": "measured" if reading.measured else "proposed",
        **_circumstances(seen, reading),
        "expected": parts_answer(reading.expected),
    }
    if reading.measured is not None:
        found = reading.measured
        wide = 1.645 * found.uncertainty
        answer |= {
            "d_max_mm": found.d_max * 1e3,
            "d_max_interval_mm": [(found.d_max - wide) * 1e3, (found.d_max + wide) * 1e3],
            "d_min_mm": found.d_min * 1e3,
            "d_min_interval_mm": [(found.d_min - wide) * 1e3, (found.d_min + wide) * 1e3],
            "standard_uncertainty_mm": found.uncertainty * 1e3,
            "handles_mm": handles_answer(found.handles),
        }
    elif reading.proposal is not None:
        answer["proposal"] = {
            "handles_mm": handles_answer(reading.proposal.handles),
            "note": "A proposal is no reading: look at it and set or accept the handles yourself.",
        }
    else:
        answer["proposal"] = None
    return answer


def _circumstances(seen: SeenPhoto, reading: PhotoReading) -> dict[str, Any]:
    camera, taken = seen.sight.camera, seen.taken
    return {
        "photo": {
            "sha256": taken.sha256,
            "received_sha256": taken.received_sha256,
            "width_px": taken.width,
            "height_px": taken.height,
            "left_out": list(taken.left_out),
        },
        "card": {
            "name": seen.card or None,
            "corners": camera.used,
            "misfit_mm": camera.misfit * 1e3,
            "scale_across": seen.scale.across,
            "scale_down": seen.scale.down,
        },
        "camera": {
            "distance_mm": float(camera.place[2]) * 1e3,
            "tilt_deg": math.degrees(camera.tilt),
            "fineness_px_per_mm": camera.pixels_per_metre(reading.setting.height) / 1e3,
            "blur_mm": seen.sight.blur * 1e3,
        },
        "face": reading.setting.face.value,
        "height_mm": reading.setting.height * 1e3,
        "height_uncertainty_mm": reading.setting.height_uncertainty * 1e3,
    }
