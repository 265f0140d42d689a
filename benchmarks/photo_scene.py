"""Photos of a gauge card and a torn weld, rendered with the truth known.

A camera with a lens error looks at the card from some distance and tilt; the card may be bent a
little and is printed a little too large or too small; light falls off; the sensor has noise; the
picture is blurred, shaken and packed as JPEG. Nothing here uses the camera of the program: rays
are cast the other way, from pixels to the card.
"""

import io
import math
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from benchmarks.photo_metal import KINDS, Metal, Ray, metal
from buttonhole.photo.card import SIDE, SQUARES, WINDOW, board

Array = NDArray[np.float64]
Random = np.random.Generator

TEXTURE = 24  # px/mm of the printed frame
MARGIN = 4.5  # mm of paper round it
BELOW = 47.0  # mm of paper below it


@dataclass(frozen=True, slots=True)
class View:
    """How the photo is taken."""

    size: tuple[int, int] = (3024, 2268)
    focal: float = 0.72  # over the longer side
    radial: float = 0.0
    centre: tuple[float, float] = (0.0, 0.0)  # over the longer side
    distance: float = 170.0  # mm from the middle of the window
    tilt: float = 0.15  # rad
    tilt_turn: float = 0.0  # rad, towards which side
    turn: float = 0.0  # rad, about the line of sight
    aside: tuple[float, float] = (0.0, 8.0)  # mm, where the line of sight meets the card
    blur: float = 1.0  # px
    shake: float = 0.0  # px
    noise: float = 0.01
    quality: int = 90
    gamma: float = 2.2  # of the camera's tones
    light: float = 1.0
    fall_off: tuple[float, float] = (0.0, 0.0)
    glare: tuple[tuple[float, float, float, float], ...] = ()  # mm across, down, size; strength
    bend: float = 0.0  # mm, sag of the card over its side
    print_scale: tuple[float, float] = (1.0, 1.0)
    black: float = 0.09
    white: float = 0.82


@dataclass(frozen=True, slots=True)
class Photo:
    """A rendered photo and what is true of it. Lengths [mm]."""

    jpeg: bytes
    view: View
    metal: Metal
    d_max: float
    d_min: float
    angle_max: float
    angle_min: float

    @property
    def height(self) -> float:
        """Of the weld's face over the card [mm]."""
        return self.metal.level


def usual_view(random: Random) -> View:
    """A photo as a person takes it who follows the words on the card."""
    longer = int(random.choice((2016, 2016, 2592)))
    blur = random.uniform(0.6, 1.6) * longer / 3024
    return View(
        size=(longer, longer * 3 // 4),
        focal=float(np.exp(random.normal(math.log(0.74), 0.06))),
        radial=random.normal(0.0, 0.03),
        centre=tuple(random.normal(0.0, 0.006, 2)),
        distance=random.uniform(140.0, 230.0),
        tilt=math.radians(abs(random.normal(0.0, 11.0))),
        tilt_turn=random.uniform(0.0, 2.0 * math.pi),
        turn=random.normal(0.0, 0.3) + random.integers(0, 4) * math.pi / 2,
        aside=(random.normal(0.0, 5.0), random.normal(8.0, 5.0)),
        blur=blur,
        shake=abs(random.normal(0.0, 1.0)),
        noise=random.uniform(0.004, 0.02),
        quality=int(random.integers(72, 96)),
        gamma=random.uniform(1.9, 2.5),
        light=random.uniform(0.7, 1.15),
        fall_off=tuple(random.normal(0.0, 0.12, 2)),
        glare=_glare(random),
        bend=random.normal(0.0, 0.25),
        print_scale=tuple(random.normal(1.0, 0.004, 2)),
        black=random.uniform(0.05, 0.14),
        white=random.uniform(0.7, 0.9),
    )


def _glare(random: Random) -> tuple[tuple[float, float, float, float], ...]:
    if random.uniform() > 0.35:
        return ()
    return tuple(
        (
            random.uniform(-9.0, 9.0),
            random.uniform(-9.0, 9.0),
            random.uniform(0.3, 1.2),
            random.uniform(0.3, 1.2),
        )
        for _ in range(random.integers(1, 4))
    )


def usual_photo(seed: int, kind: str | None = None) -> Photo:
    """A photo by its seed; the kinds take turns."""
    random = np.random.default_rng(seed)
    view = usual_view(random)
    return render(view, metal(random, kind or KINDS[seed % len(KINDS)]), random)


def changed(photo_seed: int, **changes: object) -> Photo:
    """The photo of a seed, taken otherwise."""
    random = np.random.default_rng(photo_seed)
    view = replace(usual_view(random), **changes)  # type: ignore[arg-type] # names of fields
    return render(view, metal(random, KINDS[photo_seed % len(KINDS)]), random)


def render(view: View, shown: Metal, random: Random) -> Photo:
    """Render a photo."""
    turn, place = _pose(view)
    picture = _card(view, turn, place)
    _put_metal(picture, view, turn, place, shown)
    width, height = view.size
    across = np.linspace(-1.0, 1.0, width)[None, :] * view.fall_off[0]
    down = np.linspace(-1.0, 1.0, height)[:, None] * view.fall_off[1]
    picture *= (view.light * (1.0 + across + down)).astype(np.float32)
    picture = cv2.GaussianBlur(picture, (0, 0), view.blur)
    if view.shake > 0.3:
        picture = cv2.filter2D(picture, -1, _shaken(view.shake, random.uniform(0.0, math.pi)))
    noise = random.standard_normal(picture.shape, dtype=np.float32)
    noise *= view.noise * np.sqrt(0.2 + np.maximum(picture, 0.0))
    picture = np.clip(picture + noise, 0.0, 1.0) ** (1.0 / view.gamma)
    levels = (picture * 255.0 + 0.5).astype(np.uint8)
    packed = io.BytesIO()
    Image.merge("RGB", [Image.fromarray(levels)] * 3).save(packed, "JPEG", quality=view.quality)
    return Photo(packed.getvalue(), view, shown, *shown.weld.diameters())


def _pose(view: View) -> tuple[Array, Array]:
    """Axes of the camera as rows, in the frame of the card with z up, and its place [mm]."""
    c, s = math.cos(view.tilt_turn), math.sin(view.tilt_turn)
    back = np.array([math.sin(view.tilt) * c, math.sin(view.tilt) * s, math.cos(view.tilt)])
    target = np.array([*view.aside, 0.0])
    place = target + view.distance * back
    right = np.array([math.cos(view.turn), math.sin(view.turn), 0.0])
    right = right - back * (right @ back)
    right /= np.linalg.norm(right)
    down = np.cross(back, right) * -1.0
    # x right, y down the card, z up is a frame of left hand: down is the other way round
    down = down if down @ np.array([-right[1], right[0], 0.0]) > 0.0 else -down
    return np.array([right, down, -back]), place


def _rays(view: View, turn: Array, columns: Array, rows: Array) -> Array:
    """Directions (..., 3) of pixels in the frame of the card."""
    longer = max(view.size)
    x = (columns - (view.size[0] - 1) / 2 - view.centre[0] * longer) / (view.focal * longer)
    y = (rows - (view.size[1] - 1) / 2 - view.centre[1] * longer) / (view.focal * longer)
    bent2 = x * x + y * y
    radius2 = bent2
    for _ in range(6):  # the lens error is undone by repetition
        radius2 = bent2 / (1.0 + view.radial * radius2) ** 2
    share = 1.0 / (1.0 + view.radial * radius2)
    flat = np.stack((x * share, y * share, np.ones_like(x)), axis=-1)
    return flat @ turn


def _on_card(view: View, turn: Array, place: Array, columns: Array, rows: Array) -> Array:
    """Where pixels meet the card (..., 2) [mm], its sag counted."""
    rays = _rays(view, turn, columns, rows)
    sag = 4.0 * view.bend / (SIDE * 1e3) ** 2
    z = np.zeros(rays.shape[:-1])
    for _ in range(3 if view.bend else 1):
        step = (z - place[2]) / rays[..., 2]
        x, y = place[0] + step * rays[..., 0], place[1] + step * rays[..., 1]
        # the window is held down on the sheet, the sides stand off
        z = sag * np.clip(x, -60.0, 60.0) ** 2
    return np.stack((x, y), axis=-1)


def _texture(view: View) -> Array:
    side = SQUARES * round(TEXTURE * SIDE * 1e3 / SQUARES)
    drawn = board().generateImage((side, side), marginSize=0, borderBits=1)
    tones = (drawn > 127) * (view.white - view.black) + view.black
    edge, below = round(MARGIN * TEXTURE), round(BELOW * TEXTURE)
    page = np.full((side + edge + below, side + 2 * edge), view.white)
    page[edge : edge + side, edge : edge + side] = tones
    return page


def _card(view: View, turn: Array, place: Array) -> NDArray[np.float32]:
    width, height = view.size
    step = 8  # the map is smooth: worked out on a grid and drawn out
    columns, rows = np.meshgrid(
        np.arange(0, width + step, step, dtype=np.float64),
        np.arange(0, height + step, step, dtype=np.float64),
    )
    ground = _on_card(view, turn, place, columns, rows)
    scale = np.array(view.print_scale)
    where = (ground / scale + SIDE * 0.5e3 + MARGIN) * TEXTURE - 0.5
    full = [
        cv2.warpAffine(
            where[..., k].astype(np.float32),
            np.array([[step, 0, 0], [0, step, 0]], dtype=np.float64),
            (width, height),
            flags=cv2.INTER_LINEAR,
        )
        for k in (0, 1)
    ]
    share = TEXTURE * view.distance / (view.focal * max(view.size))  # texels a pixel
    page = cv2.GaussianBlur(_texture(view).astype(np.float32), (0, 0), max(0.3, 0.5 * share))
    return cv2.remap(
        page, full[0], full[1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=0.35
    )


def _put_metal(
    picture: NDArray[np.float32], view: View, turn: Array, place: Array, shown: Metal
) -> None:
    """Draw what is seen through the window, two by two rays for a pixel."""
    half = 0.5e3 * WINDOW
    box = _box(view, turn, place, half)
    (left, top), (right, bottom) = box
    if right - left < 2 or bottom - top < 2:
        return
    fine = 2
    columns, rows = np.meshgrid(
        left + (np.arange((right - left) * fine) + 0.5) / fine - 0.5,
        top + (np.arange((bottom - top) * fine) + 0.5) / fine - 0.5,
    )
    flat = replace(view, bend=0.0)
    ground = _on_card(flat, turn, place, columns, rows)
    x, y = ground[..., 0], ground[..., 1]
    scale = np.array(view.print_scale)
    inside = (np.abs(x / scale[0]) < half) & (np.abs(y / scale[1]) < half)
    seen = shown.colour(x, y, Ray(x, y, place))
    for across, down, size, strength in view.glare:
        away = (x - across) ** 2 + (y - down) ** 2
        seen = seen + strength * np.exp(-away / (2.0 * size * size))
    seen = np.clip(seen, 0.01, 1.6)
    shape = (bottom - top, fine, right - left, fine)
    share = inside.reshape(shape).mean(axis=(1, 3))
    tone = (seen * inside).reshape(shape).mean(axis=(1, 3))
    part = picture[top:bottom, left:right]
    part[...] = part * (1.0 - share) + tone


def _box(view: View, turn: Array, place: Array, half: float) -> tuple[tuple[int, int], ...]:
    """Pixels round the window: a coarse look over the picture."""
    width, height = view.size
    columns, rows = np.meshgrid(np.arange(0.0, width, 8), np.arange(0.0, height, 8))
    ground = _on_card(replace(view, bend=0.0), turn, place, columns, rows)
    inside = np.all(np.abs(ground) < half * 1.03, axis=-1)
    if not inside.any():
        return ((0, 0), (0, 0))
    found_rows, found_columns = np.nonzero(inside)
    return (
        (max(0, int(found_columns.min()) * 8 - 16), max(0, int(found_rows.min()) * 8 - 16)),
        (
            min(width, int(found_columns.max()) * 8 + 16),
            min(height, int(found_rows.max()) * 8 + 16),
        ),
    )


def _shaken(length: float, angle: float) -> Array:
    side = 2 * math.ceil(length) + 3
    kernel = np.zeros((side, side))
    middle = side // 2
    for share in np.linspace(-0.5, 0.5, 41):
        x = middle + share * length * math.cos(angle)
        y = middle + share * length * math.sin(angle)
        i, j = int(x), int(y)
        kernel[j : j + 2, i : i + 2] += np.outer((1 - y + j, y - j), (1 - x + i, x - i))
    return kernel / kernel.sum()
