"""The stack-up drawn to scale, with its caps, faying interfaces and limits."""

import math
from dataclasses import dataclass
from itertools import pairwise

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, Drawing, Point, course, width_of
from buttonhole.paper.figure.zone_legend import MELTED

_HATCH = ("rising", "falling", "dots", "level")
_GROUND = ("#f6e3b4", "#cfe3ea", "#f3d3c8", "#dcdcdc")
_COPPER = "#e9b98c"
_SCALE = 24e3  # drawing units a metre
_TALLEST = 150.0  # drawing units; a thicker stack is drawn smaller
_SLOPE = 0.45  # shoulder of a drawn cap: rise per run; a picture of the cap, not of its standard


@dataclass(frozen=True, slots=True)
class DrawnSheet:
    """One sheet as it is drawn: thickness [m], steel and coating in the user's words."""

    thickness: float
    steel: str
    coating: str


@dataclass(frozen=True, slots=True)
class DrawnCap:
    """One electrode cap as it is drawn: face, face radius and body diameter, all [m]."""

    face_diameter: float | None
    radius: float | None = None
    body_diameter: float = 16e-3


@dataclass(frozen=True, slots=True)
class DrawnLimit:
    """A least diameter [m] and the name of the rule that sets it."""

    diameter: float
    name: str


@dataclass(frozen=True, slots=True)
class DrawnLens:
    """An expected nugget: diameter at its interface with its interval, how far it reaches [m]."""

    diameter: float
    low: float
    high: float
    into_a: float
    into_b: float


@dataclass(frozen=True, slots=True)
class DrawnStack:
    """Sheets from side A to side B, the two caps, and for each interface its limits.

    ``lenses``: the nugget expected at each interface, where a weld is shown in it.
    """

    sheets: tuple[DrawnSheet, ...]
    cap_a: DrawnCap | None = None
    cap_b: DrawnCap | None = None
    limits: tuple[tuple[DrawnLimit, ...], ...] = ()
    gap: float = 0.0  # m
    lenses: tuple[DrawnLens, ...] = ()


def stack(
    drawn: DrawnStack, *, style: Style | None = None, wide: bool = True, labelled: bool = True
) -> str:
    """Draw a stack-up to scale.

    Parameters
    ----------
    drawn : DrawnStack
        What to draw: two to four sheets.
    style : Style, optional
        Letter size, units and language.
    wide : bool
        Labels beside the stack; otherwise labels below it, for narrow screens.
    labelled : bool
        Whether sheets, caps and limits are named in full; otherwise only their numbers are drawn,
        for a page that lists the names itself. The description always names them.

    Returns
    -------
    str
        SVG text.
    """
    return _StackPicture(drawn, style or Style(lettering=20.0), wide, labelled).draw()


def cap_words(cap: DrawnCap, style: Style) -> str:
    """Say which cap it is, for example ``face 6.0 mm, radius 50 mm``."""
    parts = []
    if cap.face_diameter is not None:
        parts.append(f"{style.say('face')} {style.length(cap.face_diameter, 1)}")
    if cap.radius is not None:
        parts.append(f"{style.say('radius')} {style.length(cap.radius, 0)}")
    return ", ".join(parts)


def caps_words(drawn: DrawnStack, style: Style) -> list[str]:
    """Say which caps there are, in one line when both sides have the same."""
    caps = {"A": drawn.cap_a, "B": drawn.cap_b}
    said = {side: cap_words(cap, style) for side, cap in caps.items() if cap is not None}
    if len(said) == 2 and said["A"] == said["B"]:
        return [f"{style.say('caps')} A, B: {said['A']}"]
    return [f"{style.say('cap')} {side}: {words}" for side, words in said.items()]


def sheet_words(sheet: DrawnSheet, style: Style) -> str:
    """Say which sheet it is, for example ``0.70 mm DC04 GI``."""
    return f"{style.length(sheet.thickness)} {sheet.steel} {sheet.coating}".strip()


def limit_words(limits: tuple[DrawnLimit, ...], style: Style) -> str:
    """Say the least diameters of one interface, for example ``3.35 mm (4√t), 4.18 mm (5√t)``."""
    return ", ".join(f"{style.length(one.diameter)} ({one.name})" for one in limits)


class _StackPicture:
    """Lays one stack out and draws it."""

    def __init__(self, drawn: DrawnStack, style: Style, wide: bool, labelled: bool) -> None:
        self.drawn = drawn
        self.style = style
        self.size = style.lettering
        self.wide = wide or not labelled
        self.labelled = labelled
        total = sum(sheet.thickness for sheet in drawn.sheets)
        self.scale = min(_SCALE, _TALLEST / total)  # drawing units a metre
        caps = [cap for cap in (drawn.cap_a, drawn.cap_b) if cap is not None]
        widest = max([cap.body_diameter for cap in caps] or [14e-3])
        self.half = (widest / 2 + 1.5e-3) * self.scale  # half the drawn width of the sheets
        self.cap_height = 2.9 * self.size if caps else 0.0
        self.tops = [self.size + self.cap_height]
        for sheet in drawn.sheets:
            self.tops.append(self.tops[-1] + sheet.thickness * self.scale)
        self.bottom = self.tops[-1] + self.cap_height + self.size

    def draw(self) -> str:
        """Draw caps, sheets and labels."""
        size = self.size
        names, limits = self._names(), self._limits()
        if not self.labelled:
            names, limits = [(level, words.split(":")[0]) for level, words in names], []
        right = max(width_of(words, size) for _, words in names)
        left = max([width_of(words, size) for _, words in limits] or [0.0])
        right, left = min(right, 30 * size), min(left, 30 * size)
        below = limits if self.wide else names + limits
        if self.wide:
            axis = size + self.half
            width = max(axis + self.half + 2.4 * size + right, size + left) + size
        else:
            width = max(2 * self.half, left, right) + 2 * size
            axis = width / 2
        height = self.bottom + size * (1.4 * len(below) + (0.2 if below else 0.0))
        title = self.style.say("Stack-up drawn to scale")
        board = Drawing("stack-picture", width, height, title, self.words())
        self._caps(board, axis)
        self._sheets(board, axis)
        self._lenses(board, axis)
        if self.wide:
            self._beside(board, axis, names, room=right)
        self._below(board, [words for _, words in below])
        return board.finish()

    def words(self) -> str:
        """Say all that the picture shows."""
        parts = [words for _, words in self._names() + self._limits()]
        if self.drawn.gap > 0:
            parts.append(f"{self.style.say('gap')} {self.style.length(self.drawn.gap)}")
        for index, lens in enumerate(self.drawn.lenses):
            size = " ".join(
                self.style.length(one, 1) for one in (lens.diameter, lens.low, lens.high)
            )
            parts.append(f"{index + 1}-{index + 2} {self.style.say('nugget expected')} {size}")
        return "; ".join(parts) + "."

    def _names(self) -> list[tuple[float, str]]:
        """Labels of caps and sheets with the height each points at, from side A down."""
        say, style, drawn = self.style.say, self.style, self.drawn
        names = []
        if drawn.cap_a is not None:
            level = self.tops[0] - 0.75 * self.cap_height
            names.append((level, f"{say('cap')} A: {cap_words(drawn.cap_a, style)}"))
        for index, sheet in enumerate(drawn.sheets):
            middle = (self.tops[index] + self.tops[index + 1]) / 2
            names.append((middle, f"{index + 1}: {sheet_words(sheet, style)}"))
        if drawn.cap_b is not None:
            level = self.tops[-1] + 0.75 * self.cap_height
            names.append((level, f"{say('cap')} B: {cap_words(drawn.cap_b, style)}"))
        return names

    def _limits(self) -> list[tuple[float, str]]:
        """Labels of the interfaces with the height each points at."""
        say = self.style.say
        return [
            (
                self.tops[index + 1],
                f"{index + 1}-{index + 2} {say('at least')} {limit_words(limits, self.style)}",
            )
            for index, limits in enumerate(self.drawn.limits)
            if limits
        ]

    def _sheets(self, board: Drawing, axis: float) -> None:
        left, right = axis - self.half, axis + self.half
        for index, sheet in enumerate(self.drawn.sheets):
            top, bottom = self.tops[index], self.tops[index + 1]
            fill = board.hatch(_HATCH[index], ground=_GROUND[index], ink="#777777")
            board.box(
                (left, top), 2 * self.half, bottom - top, fill=fill, stroke=1.2, part=f"s{index}"
            )
            if sheet.coating.lower() not in ("", "bare"):
                for level in (top + 3, bottom - 3):
                    board.line((left, level), (right, level), width=1.8, dash="2 3", part="coating")
            if min(b - a for a, b in pairwise(self.tops)) > self.size:
                place = (left + 0.7 * self.size, (top + bottom) / 2 + 0.35 * self.size)
                board.text(place, str(index + 1), self.size, bold=True, halo=True)
        for level in self.tops[1:-1]:
            board.line((left, level), (right, level), width=3.2, part="interface")
        board.line((axis, self.tops[0] - 6), (axis, self.tops[-1] + 6), width=1.0, dash="9 3 2 3")

    def _lenses(self, board: Drawing, axis: float) -> None:
        """Draw each nugget as a lens of its diameter and depths, and its interval as a bar."""
        for level, lens in zip(self.tops[1:-1], self.drawn.lenses, strict=False):
            if lens.diameter > 0.0:
                outline = self._lens_outline(lens, axis, level)
                board.path(course(outline, closed=True), fill=MELTED, stroke=1.6, part="nugget")
            low, high = (0.5 * one * self.scale for one in (lens.low, lens.high))
            for side in (-1.0, 1.0):
                ends = [(axis + side * one, level) for one in (low, high)]
                board.line(ends[0], ends[1], width=7.0, ink="#a8a8a8", part="interval")
                for x, _ in ends:
                    board.line((x, level - 6), (x, level + 6), width=2.4, part="interval")

    def _lens_outline(self, lens: DrawnLens, axis: float, level: float) -> list[Point]:
        half = 0.5 * lens.diameter * self.scale
        found = []
        for step in range(48):
            across, down = (f(2.0 * math.pi * step / 48) for f in (math.cos, math.sin))
            depth = lens.into_b if down > 0.0 else lens.into_a
            found.append((axis + half * across, level + depth * self.scale * down))
        return found

    def _caps(self, board: Drawing, axis: float) -> None:
        for cap, level, side, sign in (
            (self.drawn.cap_a, self.tops[0], "A", -1.0),
            (self.drawn.cap_b, self.tops[-1], "B", 1.0),
        ):
            if cap is None:
                continue
            fill = board.hatch("sparse", ground=_COPPER, ink="#8a5a2e")
            outline = self._cap_outline(cap, axis, level, sign)
            board.path(course(outline, closed=True), fill=fill, part="cap")
            middle = level + sign * self.cap_height * 0.62 + 0.35 * self.size
            board.text((axis, middle), side, 1.1 * self.size, anchor="middle", bold=True, halo=True)

    def _cap_outline(self, cap: DrawnCap, axis: float, level: float, sign: float) -> list[Point]:
        body = cap.body_diameter / 2 * self.scale
        face = cap.body_diameter if cap.face_diameter is None else cap.face_diameter
        half = min(body, face / 2 * self.scale)
        contact = [(axis - half, level), (axis + half, level)]
        if cap.radius is not None:
            radius = max(cap.radius * self.scale, half)
            steps = [half * step / 12 for step in range(-12, 13)]
            contact = [
                (axis + x, level + sign * (radius - (radius * radius - x * x) ** 0.5))
                for x in steps
            ]
        end = level + sign * self.cap_height
        rise = min(0.8 * self.cap_height, abs(contact[0][1] - level) + (body - half) * _SLOPE)
        shoulder = level + sign * rise
        if body > half:
            contact = [(axis - body, shoulder), *contact, (axis + body, shoulder)]
        contact = [(x, min(y, end) if sign > 0 else max(y, end)) for x, y in contact]
        return [*contact, (axis + body, end), (axis - body, end)]

    def _beside(
        self, board: Drawing, axis: float, labels: list[tuple[float, str]], *, room: float
    ) -> None:
        size = self.size
        edge = axis + self.half
        start = edge + 2.4 * size
        rows = spread([level for level, _ in labels], 1.4 * size, size, self.bottom - size)
        for row, (level, words) in zip(rows, labels, strict=True):
            outside = not self.tops[0] <= level <= self.tops[-1]
            inner = edge - (1.6e-3 * self.scale if outside else 0.0)
            bend = (edge + 1.2 * size, row)
            board.path(course([(inner, level), bend, (start - 5, row)]), stroke=1.2, part="lead")
            board.circle((inner, level), 2.6, fill=INK, ink=None, part="lead")
            place = (start, row + 0.35 * size)
            board.text(place, words, size, room=room + 2, part="name")

    def _below(self, board: Drawing, labels: list[str]) -> None:
        size = self.size
        for order, words in enumerate(labels):
            row = self.bottom + (1.4 * order + 0.4) * size
            board.text((size, row), words, size, room=board.width - 1.8 * size, part="name")


def spread(levels: list[float], step: float, top: float, bottom: float) -> list[float]:
    """Move labels apart so that none touches its neighbour.

    Parameters
    ----------
    levels : list of float
        Heights the labels would like, rising, in drawing units [-].
    step : float
        Least distance between two, in drawing units [-].
    top : float
        Highest place there is, in drawing units [-].
    bottom : float
        Lowest place there is, in drawing units [-].

    Returns
    -------
    list of float
        Heights in drawing units [-], as near to the wishes as one pass each way brings them.
    """
    rows = list(levels)
    for index in range(len(rows)):
        least = top if index == 0 else rows[index - 1] + step
        rows[index] = max(rows[index], least)
    for index in reversed(range(len(rows))):
        most = bottom if index == len(rows) - 1 else rows[index + 1] - step
        rows[index] = min(rows[index], most)
    return rows
