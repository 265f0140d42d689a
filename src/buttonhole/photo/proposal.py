"""A proposal of the outline with nobody's help: to be looked at, never a reading by itself.

Lines of change that run round something point at its middle: each place of the picture votes for
the middles it may belong to, along its gradient. Round the middles with the most votes closed
lines are drawn at every radius; the one along which the picture changes most, and inside of which
it is rough as torn metal is, is proposed.

Sources: duda-hart-1972 (votes); the weights of the parts are fitted on rendered photos that are
used for nothing else, docs/validation/photo.md.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.photo.gauge import BAND, Face, FaceSetting, Handles, Placed, burnt_band, on_outline
from buttonhole.photo.outline import (
    RAYS,
    Outline,
    closed_line,
    edges_along,
    outline_near,
    polar,
    rays,
    usual_change,
)
from buttonhole.photo.patch import PITCH, SIDE, Field, Patch, patch
from buttonhole.photo.sight import Sight

Array = NDArray[np.float64]

COARSE_RAYS = 60
COARSE = 3  # picture elements taken together for the votes
RADII = np.arange(1.2e-3, 4.81e-3, 0.2e-3)  # m
TRIED = 3  # middles
LONG = np.arange(0.7e-3, 6.0e-3, 0.03e-3)  # m, along a ray
REACH = 0.35e-3  # m, to both sides of a radius that is tried
MIDDLE_SPREAD = 0.45e-3  # m
STRENGTH_WEIGHT, ROUGH_WEIGHT, TONE_WEIGHT, BURNT_WEIGHT = 1.0, 0.5, 0.5, 4.0


@dataclass(frozen=True, slots=True)
class Proposal:
    """What the program would set, and how clearly it stands out [-]: its score over the next."""

    handles: Handles
    outline: Outline
    lead: float  # -


def propose(sight: Sight, setting: FaceSetting) -> Proposal | None:
    """Propose handles.

    Parameters
    ----------
    sight : Sight
        The picture.
    setting : FaceSetting
        How the face lies.

    Returns
    -------
    Proposal or None
        Set by the program; nothing when no closed line stands out.
    """
    area = patch(sight, setting.height)
    return propose_in(area, setting.face)


def propose_in(area: Patch, face: Face) -> Proposal | None:
    """As `propose`, in a window that is rectified already."""
    scored: list[tuple[float, tuple[float, float], Array]] = []
    for centre in middles(area):
        scored += _lines_round(area, centre, face)
    if not scored:
        return None
    scored.sort(key=lambda one: -one[0])
    best, centre, radii = scored[0]
    fine = np.interp(np.arange(RAYS), np.arange(0, RAYS + 1, RAYS // COARSE_RAYS), _closed(radii))
    found = outline_near(area, centre, fine, band=0.5 * BAND, lean=face.lean)
    others = [one for one in scored if abs(float(one[2].mean()) - float(radii.mean())) > 0.3e-3]
    lead = best - others[0][0] if others else best
    width = [found.diameter(a) for a in np.arange(RAYS // 2) * (2.0 * math.pi / RAYS)]
    angle = int(np.argmax(width)) * (2.0 * math.pi / RAYS)
    ends = np.vstack((found.ends(angle), found.ends(angle + 0.5 * math.pi)))
    return Proposal(on_outline(found, ends, Placed.PROGRAM), found, lead)


def _closed(radii: Array) -> Array:
    return np.append(radii, radii[0])


def middles(area: Patch) -> list[tuple[float, float]]:
    """Places [m] that most lines of change run round, the likeliest first."""
    import cv2

    side = SIDE // COARSE
    small = cv2.resize(area.tone, (side, side), interpolation=cv2.INTER_AREA)
    burnt = cv2.resize(area.burnt, (side, side), interpolation=cv2.INTER_AREA)
    across = cv2.Sobel(small, cv2.CV_32F, 1, 0)
    down = cv2.Sobel(small, cv2.CV_32F, 0, 1)
    size = np.hypot(across, down)
    floor = float(np.median(size)) + 1e-6
    weight = np.minimum(size / floor, 6.0) * (burnt < 0.1)
    weight[weight < 2.0] = 0.0
    rim = 3  # the cut edge of the card is no weld
    weight[:rim], weight[-rim:], weight[:, :rim], weight[:, -rim:] = 0.0, 0.0, 0.0, 0.0
    rows, columns = np.nonzero(weight)
    strength = weight[rows, columns]
    ways = np.stack((across[rows, columns], down[rows, columns]), axis=1)
    ways = ways / np.maximum(size[rows, columns], 1e-9)[:, None]
    pitch = PITCH * COARSE
    total = np.zeros((side, side), dtype=np.float32)
    for radius in RADII:
        for sign in (1.0, -1.0):
            x = np.rint(columns + sign * ways[:, 0] * radius / pitch).astype(np.int64)
            y = np.rint(rows + sign * ways[:, 1] * radius / pitch).astype(np.int64)
            inside = (x >= 0) & (x < side) & (y >= 0) & (y < side)
            votes = np.bincount(
                y[inside] * side + x[inside], strength[inside] / radius, side * side
            )
            total += votes.reshape(side, side).astype(np.float32)
    total = np.asarray(cv2.GaussianBlur(total, (0, 0), MIDDLE_SPREAD / pitch), dtype=np.float32)
    return _peaks(total, pitch)


def _peaks(total: Field, pitch: float) -> list[tuple[float, float]]:
    side = len(total)
    found = []
    left = total.copy()
    near = round(1.2e-3 / pitch)
    for _ in range(TRIED):
        row, column = divmod(int(np.argmax(left)), side)
        found.append(((column - 0.5 * (side - 1)) * pitch, (row - 0.5 * (side - 1)) * pitch))
        left[
            max(0, row - near) : row + near + 1, max(0, column - near) : column + near + 1
        ] = -np.inf
    return found


def _lines_round(
    area: Patch, centre: tuple[float, float], face: Face
) -> list[tuple[float, tuple[float, float], Array]]:
    """Closed lines round a middle: score, middle, radii (COARSE_RAYS,) [m]."""
    usual_radius = np.full(COARSE_RAYS, 2.5e-3)
    change = np.abs(edges_along(area, centre, usual_radius, LONG - 2.5e-3))
    gain = np.log1p((change / usual_change(change)) ** 2)
    step = float(LONG[1] - LONG[0])
    wide = 2 * round(REACH / step)
    starts = np.arange(0, LONG.size - wide, max(1, wide // 4))
    parts = np.stack([gain[:, first : first + wide + 1] for first in starts])
    lines = closed_line(parts, 0.3)
    found = []
    for first, part, line in zip(starts, parts, lines, strict=True):
        if np.mean((line == 0) | (line == wide)) > 0.15:
            continue  # it would rather lie elsewhere: another radius finds it
        radii = LONG[0] + (first + line) * step
        found.append((score(area, centre, radii, part, line, face), centre, radii))
    return found


def score(
    area: Patch,
    centre: tuple[float, float],
    radii: Array,
    gain: Array,
    line: NDArray[np.int64],
    face: Face,
) -> float:
    """How much a closed line is like the edge of a weld [-].

    Parameters
    ----------
    area : Patch
        The window, rectified.
    centre : tuple of float
        Of the line [m].
    radii, gain, line : ndarray
        The line (RAYS,) [m]; what speaks for each place (RAYS, n) [-]; its places in it (RAYS,).
    face : Face
        What is looked for.

    Returns
    -------
    float
        A sum of parts [-].
    """
    strength, rough, tone, burnt = parts_of(area, centre, radii, gain, line, face)
    return (
        STRENGTH_WEIGHT * strength
        + ROUGH_WEIGHT * rough
        + TONE_WEIGHT * tone
        - BURNT_WEIGHT * burnt
    )


def parts_of(
    area: Patch,
    centre: tuple[float, float],
    radii: Array,
    gain: Array,
    line: NDArray[np.int64],
    face: Face,
) -> tuple[float, float, float, float]:
    """What a score is made of [-]; parameters as for `score`."""
    along = gain[np.arange(len(line)), line]
    strength = float(np.mean(along)) + float(np.percentile(along, 25))
    way = rays(len(radii))[:, None, :]
    inner = np.array(centre) + (radii[:, None] * np.linspace(0.3, 0.9, 8))[..., None] * way
    outer = polar(centre, radii, np.linspace(0.12e-3, 0.32e-3, 5))
    just = polar(centre, radii, np.linspace(-0.32e-3, -0.12e-3, 5))
    rough = float(np.median(area.at(area.rough, just)) - np.median(area.at(area.rough, outer)))
    inside, outside = area.at(area.tone, inner), area.at(area.tone, outer)
    tone = math.log((float(np.median(outside)) + 0.02) / (float(np.median(inside)) + 0.02))
    # a torn hole is dark; a torn face may be darker or brighter than the sheet
    tone = min(tone, 2.0) if face is Face.HOLE else 0.0
    return strength, rough, tone, burnt_band(area, centre, radii)
