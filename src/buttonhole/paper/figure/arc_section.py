"""The predicted cross-section of an arc weld: sheets, weld metal, zones, how wide it is fused."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from buttonhole.paper.figure.contour import outlines, simplified
from buttonhole.paper.figure.section import SheetLevels
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import ESTIMATE, INK, Drawing, course, width_of, wrapped
from buttonhole.paper.figure.zone_legend import SHEET, draw_legend, zone_fill

Array = NDArray[np.float64]

_ACROSS = 560.0  # drawing units from edge to edge of the drawn section
_TOLERANCE = 0.35  # drawing units
_TALLEST = 330.0  # drawing units; a thicker section is drawn smaller
ZINC_LINE = 907.0  # degC, where zinc boils


@dataclass(frozen=True, slots=True)
class DrawnSpan:
    """A width with its interval, laid about the axis at one height; all [m]."""

    name: str
    value: float
    low: float
    high: float
    height: float  # m, from the uppermost face down
    wanted: float | None = None


@dataclass(frozen=True, slots=True)
class DrawnFact:
    """A figure with its interval that is told in a line: a length [m], or a temperature [degC]."""

    name: str
    value: float
    low: float
    high: float
    is_length: bool = True


@dataclass(frozen=True, slots=True)
class DrawnArcSection:
    """A section in its whole width; ``part`` is -1 for nothing, then sheets, then the deposit."""

    x_faces: Array  # (nx + 1,), m
    z_faces: Array  # (nz + 1,), m, growing downwards
    peak: Array  # (nz, nx), degC; NaN where there is no metal
    part: NDArray[np.int64]  # - (nz, nx)
    levels: tuple[SheetLevels, ...]  # degC, of each sheet
    spans: tuple[DrawnSpan, ...] = ()
    facts: tuple[DrawnFact, ...] = ()
    has_axis: bool = False
    zinc: bool = False  # whether the line where zinc boils off is drawn
    brazed: bool = False
    ends: tuple[float, float] | None = None  # m, left and right of what is drawn; None: as needed


def arc_section(drawn: DrawnArcSection, *, style: Style | None = None, wide: bool = True) -> str:
    """Draw the section of a predicted arc weld to scale.

    Parameters
    ----------
    drawn : DrawnArcSection
        Field, parts, zone levels and widths.
    style : Style, optional
        Letter size, units and language.
    wide : bool
        Legend beside the section; else below it, for a narrow screen.

    Returns
    -------
    str
        SVG text.

    Raises
    ------
    ValueError
        If the number of levels does not fit the sheets of the section.
    """
    if drawn.part.max() > len(drawn.levels):
        raise ValueError(f"{len(drawn.levels)} levels do not fit the parts of the section")
    return _ArcPicture(drawn, style or Style(lettering=18.0), wide).draw()


def reach(drawn: DrawnArcSection) -> tuple[float, float]:
    """Left and right end of what is drawn of a section.

    Parameters
    ----------
    drawn : DrawnArcSection
        The section.

    Returns
    -------
    tuple of float
        A little more than the heated metal needs, from the axis or the joint [m].
    """
    lowest = min(one.softened or one.ac1 or 0.6 * one.melted for one in drawn.levels)
    warm = (np.nan_to_num(drawn.peak, nan=-1.0) > lowest) | (drawn.part == len(drawn.levels))
    columns = np.flatnonzero(warm.any(axis=0))
    ends = [0.0, 0.0]
    if columns.size:
        ends = [float(drawn.x_faces[columns[0]]), float(drawn.x_faces[columns[-1] + 1])]
    half = [one.high / 2 for one in drawn.spans]
    left = min([ends[0] - 2e-3, -4e-3, *(-one for one in half)])
    right = max([ends[1] + 2e-3, 4e-3, *half])
    return max(left, float(drawn.x_faces[0])), min(right, float(drawn.x_faces[-1]))


def at_one_scale(drawn: Sequence[DrawnArcSection]) -> tuple[DrawnArcSection, ...]:
    """Let sections be drawn from the same end to the same end, for eyes that compare them.

    Parameters
    ----------
    drawn : sequence of DrawnArcSection
        Sections that stand side by side.

    Returns
    -------
    tuple of DrawnArcSection
        The same, with common ends.
    """
    found = [reach(one) for one in drawn]
    left, right = min(one[0] for one in found), max(one[1] for one in found)
    common = (
        max(left, *(float(one.x_faces[0]) for one in drawn)),
        min(right, *(float(one.x_faces[-1]) for one in drawn)),
    )
    return tuple(replace(one, ends=common) for one in drawn)


class _ArcPicture:
    """Lays one section out and draws it."""

    def __init__(self, drawn: DrawnArcSection, style: Style, wide: bool) -> None:
        self.drawn, self.style, self.wide = drawn, style, wide
        self.size = style.lettering
        self.x, self.z = _middles(drawn.x_faces), _middles(drawn.z_faces)
        self.left, self.right = drawn.ends or reach(drawn)
        metal = np.flatnonzero((drawn.part >= 0).any(axis=1))
        self.top, self.foot = (
            float(drawn.z_faces[metal[0]]),
            float(drawn.z_faces[metal[-1] + 1]),
        )
        wide_by = self.right - self.left
        self.scale = min(_ACROSS / wide_by, _TALLEST / (self.foot - self.top))
        self.margin = self.size + (_ACROSS - wide_by * self.scale) / 2
        self.rows_from = self.down(self.foot) + 0.3 * self.size

    def across(self, x: float) -> float:
        """Drawing place across [m]."""
        return self.margin + (x - self.left) * self.scale

    def down(self, z: float) -> float:
        """Drawing place of a height, growing downwards [m]."""
        return 0.8 * self.size + (z - self.top) * self.scale

    def draw(self) -> str:
        """Draw sheets, zones, deposit, widths and legend."""
        size, legend = self.size, self._legend()
        lines = self._lines()
        spans = [(one, self._span_words(one)) for one in self.drawn.spans]
        room = _ACROSS
        rows = self.rows_from + sum(
            (0.9 + 1.25 * len(wrapped(words, size, room))) * size for _, words in spans
        )
        for line in lines:
            rows += 1.3 * size * len(wrapped(line, size, room))
        columns = self._columns(legend)
        legend_height = 1.6 * math.ceil(len(legend) / columns) * size
        if self.wide:
            beside = max(width_of(words, size) for _, words in legend) + 3.2 * size
            width, place = 2 * size + _ACROSS + 1.2 * size + beside, (3.2 * size + _ACROSS, size)
            height = max(rows + 0.4 * size, legend_height + size) + 2.2 * size
        else:
            width, place = 2 * size + _ACROSS, (size, rows + 0.8 * size)
            height = rows + legend_height + 4.0 * size
        title = self.style.say("Predicted cross-section")
        board = Drawing("section-picture", width, height, title, self.words())
        box = [(self.across(self.left), 0.0), (self.across(self.right), 0.0)]
        box += [(x, self.down(self.foot) + 3) for x, _ in reversed(box)]
        with board.inside(course(box, closed=True)):
            self._metal(board)
        self._spans(board, spans)
        self._say(board, lines, rows)
        each = math.ceil(len(legend) / columns)
        for column in range(columns):
            left = place[0] + column * _ACROSS / columns
            draw_legend(board, legend[column * each : (column + 1) * each], (left, place[1]), size)
        self._foot(board, height)
        return board.finish()

    def _columns(self, legend: list[tuple[str, str]]) -> int:
        """How many columns the legend below the section has room for; beside it there is one."""
        room = max(width_of(words, self.size) for _, words in legend) + 3 * self.size
        return 1 if self.wide else max(1, min(3, int(_ACROSS / room)))

    def words(self) -> str:
        """Say all that the picture shows."""
        said = [self._span_words(one) for one in self.drawn.spans] + self._lines()
        said.append(self.style.say("this is an estimate; a torn coupon decides"))
        return "; ".join(said) + "."

    def _lines(self) -> list[str]:
        style, say = self.style, self.style.say
        lines = []
        for one in self.drawn.facts:
            if one.is_length:
                value, low, high = (style.bare_length(d) for d in (one.value, one.low, one.high))
                unit = style.length_unit
            else:
                value, low, high = (style.figure(d, 0) for d in (one.value, one.low, one.high))
                unit = "°C"
            lines.append(f"{say(one.name)} {value} {unit} ({low} {say('to')} {high})")
        return lines

    def _span_words(self, span: DrawnSpan) -> str:
        style, say = self.style, self.style.say
        low, high = style.bare_length(span.low, 1), style.bare_length(span.high, 1)
        words = f"{say(span.name)} {style.length(span.value, 1)} ({low} {say('to')} {high})"
        if span.wanted is not None:
            words += f", {say('wanted')} {style.length(span.wanted, 1)}"
        return words

    def _course(self, field: Array, level: float) -> str:
        """Course round where a field over the cells lies above a level."""
        x, z = _with_ends(self.x, self.drawn.x_faces), _with_ends(self.z, self.drawn.z_faces)
        loops = outlines(x, z, np.pad(field, 1, mode="edge"), level)
        return self._closed(loops)

    def _outline(self, mask: NDArray[np.bool_]) -> str:
        """Course round some cells, out to their faces."""
        x, z = _with_ends(self.x, self.drawn.x_faces), _with_ends(self.z, self.drawn.z_faces)
        return self._closed(outlines(x, z, np.pad(mask.astype(float), 1), 0.5))

    def _closed(self, loops: list[list[tuple[float, float]]]) -> str:
        placed = (
            simplified([(self.across(x), self.down(z)) for x, z in loop], _TOLERANCE)
            for loop in loops
            if len(loop) > 2
        )
        return " ".join(course(points, closed=True) for points in placed)

    def _metal(self, board: Drawing) -> None:
        drawn = self.drawn
        for sheet, level in enumerate(drawn.levels):
            mask = drawn.part == sheet
            if not mask.any():
                continue
            outline, field = self._outline(mask), _carried(drawn.peak, mask)
            board.path(outline, fill=SHEET, ink=None, part="sheet")
            with board.inside(outline):
                for bound, part, dash in (
                    (level.softened, "softened", "2 4"),
                    (level.ac1, "changed", "6 4"),
                    (level.ac3, "hardened", None),
                    (level.melted, "melted", None),
                ):
                    zone = self._course(field, bound) if bound is not None else ""
                    if zone:
                        fill = zone_fill(board, part)
                        stroke = 2.0 if part == "melted" else 1.3
                        board.path(zone, fill=fill, stroke=stroke, dash=dash, part=part)
                zinc = self._course(field, ZINC_LINE) if drawn.zinc else ""
                if zinc:
                    board.path(zinc, stroke=2.6, dash="9 3 2 3", part="zinc")
            board.path(outline, stroke=2.0, part="surface")
        deposit = drawn.part == len(drawn.levels)
        if deposit.any():
            fill = zone_fill(board, "deposit")
            board.path(self._outline(deposit), fill=fill, stroke=2.0, part="deposit")
        if drawn.has_axis:
            ends = (self.down(self.top), self.down(self.foot))
            axis = self.across(0.0)
            board.line((axis, ends[0]), (axis, ends[1]), width=1.0, dash="9 3 2 3")

    def _spans(self, board: Drawing, spans: list[tuple[DrawnSpan, str]]) -> None:
        size, row = self.size, self.rows_from
        for span, words in spans:
            row += 0.5 * size
            for sign in (-1.0, 1.0):
                ends = [(self.across(sign * d / 2), row) for d in (span.low, span.high)]
                board.line(ends[0], ends[1], width=7, ink="#a8a8a8", part="interval")
                end = self.across(sign * span.value / 2)
                level = self.down(span.height)
                board.line((end, level), (end, row + 5), width=1.0, dash="4 3", part="dimension")
                head = [(end - sign * 9, row - 4), (end, row), (end - sign * 9, row + 4)]
                board.path(course(head), stroke=1.6, part="dimension")
            half = span.value / 2
            board.line((self.across(-half), row), (self.across(half), row), width=1.6)
            for sign in (-1.0, 1.0) if span.wanted is not None else ():
                mark = self.across(sign * (span.wanted or 0.0) / 2)
                board.line((mark, row - 9), (mark, row + 9), width=4.0, part="wanted")
            for line in wrapped(words, size, _ACROSS):
                row += 1.25 * size
                board.text((size, row + 0.1 * size), line, size, bold=True, halo=True)
            row += 0.4 * size

    def _say(self, board: Drawing, lines: list[str], end: float) -> None:
        size = self.size
        broken = [part for line in lines for part in wrapped(line, size, _ACROSS)]
        row = end - 1.3 * size * len(broken)
        for part in broken:
            row += 1.3 * size
            board.text((size, row - 0.1 * size), part, size)

    def _legend(self) -> list[tuple[str, str]]:
        say, levels = self.style.say, self.drawn.levels
        rows = [("deposit", say("metal from the wire"))]
        melted = say("sheet melted: a braze must not" if self.drawn.brazed else "sheet melted")
        rows.append(("melted", melted))
        if any(one.ac3 is not None for one in levels):
            rows.append(("hardened", say("over Ac3: all austenite")))
        if any(one.ac1 is not None for one in levels):
            rows.append(("changed", say("over Ac1: partly austenite")))
        if any(one.softened is not None for one in levels):
            rows.append(("softened", say("softened")))
        if self.drawn.zinc:
            rows.append(("zinc", say("zinc boils off inside")))
        if self.drawn.spans:
            rows.append(("interval", say("grey bar: 90 % interval")))
        if any(one.wanted is not None for one in self.drawn.spans):
            rows.append(("words", say("upright marks: wanted")))
        return rows

    def _foot(self, board: Drawing, height: float) -> None:
        size, style = self.size, self.style
        note, base = height - 0.35 * size, height - (0.65 if self.wide else 1.95) * size
        long = 2e-3 * self.scale
        board.line((size, base), (size + long, base), width=3.0, ink=INK)
        board.text((size + long + 6, base + 0.3 * size), style.length(2e-3, 0), size)
        board.text((board.width - size, note), style.say(ESTIMATE), size, anchor="end", part="note")


def _middles(faces: Array) -> Array:
    middles: Array = (faces[:-1] + faces[1:]) / 2
    return middles


def _with_ends(middles: Array, faces: Array) -> Array:
    """Middles with one more on each side, as far outside the last face as the last one inside."""
    first, last = 2 * faces[0] - middles[0], 2 * faces[-1] - middles[-1]
    return np.concatenate(([first], middles, [last]))


def _carried(peak: Array, mask: NDArray[np.bool_]) -> Array:
    """Temperature of one sheet, carried a few cells beyond it so that zones meet its faces."""
    field = np.where(mask, peak, np.nan)
    for _ in range(3):
        padded = np.pad(field, 1, constant_values=np.nan)
        beside = np.stack(
            (padded[:-2, 1:-1], padded[2:, 1:-1], padded[1:-1, :-2], padded[1:-1, 2:])
        )
        known = np.isfinite(beside)
        count = known.sum(axis=0)
        mean = np.where(known, beside, 0.0).sum(axis=0) / np.maximum(count, 1)
        field = np.where(np.isfinite(field) | (count == 0), field, mean)
    return np.nan_to_num(field, nan=-math.pi)
