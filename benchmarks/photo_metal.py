"""Torn welds drawn by formula, with their true outline: what the rendered photos show.

Everything here is made up and says so: shapes that are no ellipses, torn faces, corona rings,
tints, shadows, brushed sheets, dirt. Brightness 0 to 1, lengths in millimetres, heights over the
face of the card, towards the camera.
"""

import math
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Random = np.random.Generator

ORDERS = 24  # of the outline
FAINTEST = 0.07  # of full light, least step in tone between a torn face and the ring round it
KINDS = ("button", "face", "hole")


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline in polar form about ``centre`` [mm]."""

    centre: tuple[float, float]
    mean: float
    cosine: Array  # share of the mean radius, by order from 1
    sine: Array

    def radius(self, angle: Array) -> Array:
        total = np.ones_like(angle)
        for order, (a, b) in enumerate(zip(self.cosine, self.sine, strict=True), start=1):
            total = total + a * np.cos(order * angle) + b * np.sin(order * angle)
        return self.mean * total

    def beyond(self, x: Array, y: Array) -> Array:
        """How far a point lies outside, along its ray [mm]; negative inside."""
        dx, dy = x - self.centre[0], y - self.centre[1]
        angle = np.arctan2(dy, dx)
        steps = 1440
        table = self.radius(np.arange(steps + 1) * (2 * math.pi / steps))
        place = (angle % (2 * math.pi)) * (steps / (2 * math.pi))
        low = np.minimum(place.astype(np.int64), steps - 1)
        radius = table[low] + (place - low) * (table[low + 1] - table[low])
        return np.hypot(dx, dy) - radius

    def points(self, count: int = 720) -> Array:
        angle = np.arange(count) * (2 * math.pi / count)
        ray = np.column_stack((np.cos(angle), np.sin(angle)))
        return np.array(self.centre) + self.radius(angle)[:, None] * ray

    def diameters(self) -> tuple[float, float, float, float]:
        """Largest diameter through the middle of the area and that at 90° [mm], their angles."""
        count = 1440
        points = self.points(count)
        x, y = points.T
        after = np.roll(points, -1, axis=0)
        cross = x * after[:, 1] - after[:, 0] * y
        middle = ((points + after) * cross[:, None]).sum(axis=0) / (3.0 * cross.sum())
        rays = points - middle
        angle = np.unwrap(np.arctan2(rays[:, 1], rays[:, 0]))
        grid = np.arange(720) * (2 * math.pi / 720)
        length = np.hypot(*rays.T)
        turns = np.concatenate((angle - 2 * math.pi, angle, angle + 2 * math.pi))
        radius = np.interp(grid, turns, np.tile(length, 3))
        widths = radius[:360] + radius[360:]
        largest = int(np.argmax(widths))
        across = (largest + 180) % 360
        return float(widths[largest]), float(widths[across]), grid[largest], grid[across]

    @property
    def middle(self) -> Array:
        points = self.points()
        after = np.roll(points, -1, axis=0)
        cross = points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1]
        return ((points + after) * cross[:, None]).sum(axis=0) / (3.0 * cross.sum())


def outline(random: Random, mean: float, centre: tuple[float, float], calm: float = 1.0) -> Outline:
    """An outline: an ellipse by its second order, torn by the others, rough by the highest."""
    spread = np.zeros(ORDERS)
    spread[1] = 0.035
    spread[2:6] = 0.012
    spread[6:12] = 0.003
    spread[12:] = 0.001
    cosine, sine = random.normal(size=(2, ORDERS)) * spread * calm
    return Outline(centre, mean, cosine, sine)


@dataclass(frozen=True, slots=True)
class Metal:
    """One torn weld in its sheet, as a function of place and height."""

    kind: str
    weld: Outline
    corona: Outline
    level: float  # mm, of the face whose edge is the weld's
    sheet: float  # mm, face of the sheet
    draft: float  # how much the side leans out, per height
    tones: dict[str, float]
    light: tuple[float, float]  # across, down; unit vector along which the light goes
    low_sun: float  # length of a shadow over the height that casts it
    texture: Array  # (n, n) brushed sheet
    torn: Array  # (n, n) torn face
    fineness: float  # of both, 1/mm
    marks: Array  # (n, n) dirt and scratches, added
    strip: float  # mm, half width of the coupon strip; beyond it lies the bench
    strip_turn: float  # rad

    def colour(self, x: Array, y: Array, z_of: "Ray") -> Array:
        """Brightness seen along rays that meet the card's plane at x, y."""
        tones = self.tones
        if self.kind == "hole":
            seen = self._sheet(*z_of(self.sheet))
            inside = self.weld.beyond(*z_of(self.level)) < 0.0
            depth = -tones["wall"]
            deep = self.weld.beyond(*z_of(self.level + depth)) >= 0.0
            wall = tones["wall_tone"] + 0.1 * self._noise(self.torn, *z_of(self.level + depth))
            ground = tones["ground"] + 0.04 * self._noise(self.torn, *z_of(self.level + depth))
            return np.where(inside, np.where(deep, wall, ground), seen)
        seen = self._sheet(*z_of(self.sheet))
        if self.kind == "button":
            height = self.level - self.sheet
            for share in np.linspace(0.0, 1.0, 9)[:-1]:
                z = self.sheet + share * height
                away = self.weld.beyond(*z_of(z)) - self.draft * (self.level - z)
                px, py = z_of(z)
                side = self._side(px, py)
                seen = np.where(away < 0.0, side, seen)
        px, py = z_of(self.level)
        inside = self.weld.beyond(px, py)
        rough = tones["rough"] * self._noise(self.torn, px, py)
        rim = tones["rim"] * np.exp(-((inside / 0.12) ** 2))
        return np.where(inside < 0.0, tones["face"] + rough + rim, seen)

    def _side(self, x: Array, y: Array) -> Array:
        angle = np.arctan2(y - self.weld.centre[1], x - self.weld.centre[0])
        facing = -(np.cos(angle) * self.light[0] + np.sin(angle) * self.light[1])
        return (
            self.tones["side"]
            + self.tones["side_light"] * facing
            + 0.05 * self._noise(self.torn, x, y)
        )

    def _sheet(self, x: Array, y: Array) -> Array:
        tones = self.tones
        seen = tones["sheet"] + tones["brushed"] * self._noise(self.texture, x, y)
        away = self.weld.beyond(x, y)
        seen = seen + tones["tint"] * np.exp(-((np.maximum(away, 0.0) / tones["tint_width"]) ** 2))
        ring = self.corona.beyond(x, y)
        soft = tones["corona_soft"]
        seen = seen + tones["corona"] / (1.0 + np.exp(np.clip(ring / soft, -50.0, 50.0)))
        if self.kind == "button":
            reach = self.low_sun * (self.level - self.sheet)
            dark = np.zeros_like(seen)
            for share in (0.35, 0.7, 1.0):
                moved = self.weld.beyond(
                    x - share * reach * self.light[0], y - share * reach * self.light[1]
                )
                dark = np.maximum(dark, 1.0 / (1.0 + np.exp(np.clip(moved / 0.06, -50.0, 50.0))))
            seen = seen * (1.0 - tones["shadow"] * dark)
        seen = seen + self._noise(self.marks, x, y)
        turn = x * math.cos(self.strip_turn) + y * math.sin(self.strip_turn)
        return np.where(np.abs(turn) < self.strip, seen, tones["bench"])

    def _noise(self, field: Array, x: Array, y: Array) -> Array:
        half = 0.5 * (field.shape[0] - 1)
        return cv2.remap(
            field.astype(np.float32),
            (x * self.fineness + half).astype(np.float32),
            (y * self.fineness + half).astype(np.float32),
            cv2.INTER_LINEAR,
            borderMode=cv2.BORDER_REFLECT,
        ).astype(np.float64)


class Ray:
    """Rays through the card's plane: where they are at another height."""

    def __init__(self, x: Array, y: Array, place: Array) -> None:
        self.x, self.y, self.place = x, y, place

    def __call__(self, z: float) -> tuple[Array, Array]:
        """Place across and down at height ``z`` [mm]."""
        share = z / self.place[2]
        return (
            self.x + (self.place[0] - self.x) * share,
            self.y + (self.place[1] - self.y) * share,
        )


def metal(random: Random, kind: str) -> Metal:
    """A torn weld of a kind."""
    size, fineness = 961, 24.0
    mean = 0.5 * random.uniform(3.2, 7.8)
    centre = (random.uniform(-3.0, 3.0), random.uniform(-3.0, 3.0))
    weld = outline(random, mean, centre)
    gap = random.uniform(0.35, 1.2)
    shift = random.normal(size=2) * 0.08
    ring = outline(random, mean + gap, (centre[0] + shift[0], centre[1] + shift[1]), 0.6)
    sheet = -random.uniform(0.15, 0.5)
    level = sheet
    if kind == "button":
        level = sheet + random.uniform(0.6, 2.2)
    turn = random.uniform(0.0, 2.0 * math.pi)
    base = random.uniform(0.38, 0.62)
    step = random.choice((-1.0, 1.0)) * random.uniform(0.05, 0.25)
    corona = random.uniform(0.05, 0.22) * random.choice((1.0, 1.0, -1.0))
    face = float(np.clip(base + step, 0.15, 0.85))
    if abs(face - base - corona) < FAINTEST:  # an edge that nobody can see is nothing to measure
        face = base + corona + math.copysign(FAINTEST, face - base - corona)
    tones = {
        "sheet": base,
        "brushed": random.uniform(0.01, 0.05),
        "tint": -random.uniform(0.0, 0.12),
        "tint_width": random.uniform(0.8, 2.5),
        "corona": corona,
        "corona_soft": random.uniform(0.02, 0.10),
        "face": face,
        "rough": random.uniform(0.04, 0.12),
        "rim": random.uniform(-0.08, 0.10),
        "side": base * random.uniform(0.45, 0.9),
        "side_light": random.uniform(0.03, 0.18),
        "shadow": random.uniform(0.0, 0.55),
        "bench": random.uniform(0.08, 0.8),
        "ground": random.uniform(0.02, 0.15),
        "wall": random.uniform(0.7, 2.0),
        "wall_tone": random.uniform(0.15, 0.4),
    }
    return Metal(
        kind=kind,
        weld=weld,
        corona=ring,
        level=level,
        sheet=sheet,
        draft=random.uniform(-0.05, 0.15),
        tones=tones,
        light=(math.cos(turn), math.sin(turn)),
        low_sun=random.uniform(0.2, 1.0),
        texture=_brushed(random, size),
        torn=_torn(random, size, fineness),
        fineness=fineness,
        marks=_marks(random, size, fineness),
        strip=random.uniform(11.0, 30.0),
        strip_turn=random.uniform(0.0, math.pi),
    )


def _unit(field: Array) -> Array:
    return (field - field.mean()) / field.std()


def _brushed(random: Random, size: int) -> Array:
    lines = cv2.GaussianBlur(random.normal(size=(size, size)), (0, 0), sigmaX=40.0, sigmaY=0.9)
    speckle = cv2.GaussianBlur(random.normal(size=(size, size)), (0, 0), 1.5)
    turn = cv2.getRotationMatrix2D((size / 2, size / 2), random.uniform(0.0, 180.0), 1.0)
    lines = cv2.warpAffine(_unit(lines), turn, (size, size), borderMode=cv2.BORDER_REFLECT)
    return _unit(lines + random.uniform(0.2, 1.0) * _unit(speckle))


def _torn(random: Random, size: int, fineness: float) -> Array:
    total = np.zeros((size, size))
    for scale, weight in ((0.06, 1.0), (0.15, 1.0), (0.4, random.uniform(0.4, 1.2))):
        total += weight * _unit(
            cv2.GaussianBlur(random.normal(size=(size, size)), (0, 0), scale * fineness)
        )
    return _unit(total)


def _marks(random: Random, size: int, fineness: float) -> Array:
    field = np.zeros((size, size))
    for _ in range(random.integers(0, 6)):
        start, end = random.uniform(0, size, 2), random.uniform(0, size, 2)
        tone = random.choice((-1.0, 1.0)) * random.uniform(0.05, 0.25)
        width = int(random.integers(1, 4))
        drawn = np.zeros((size, size), dtype=np.uint8)
        cv2.line(drawn, start.astype(int).tolist(), end.astype(int).tolist(), 255, width)
        field += tone * cv2.GaussianBlur(drawn.astype(np.float64) / 255.0, (0, 0), 0.8)
    for _ in range(random.integers(0, 8)):
        spot = np.zeros((size, size), dtype=np.uint8)
        place = random.uniform(0, size, 2).astype(int).tolist()
        cv2.circle(spot, place, max(1, int(random.uniform(0.1, 0.5) * fineness)), 255, -1)
        field -= random.uniform(0.05, 0.3) * cv2.GaussianBlur(spot / 255.0, (0, 0), 2.0)
    return field
