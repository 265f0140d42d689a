"""The predicted cross-section of a spot weld: few zones, told apart by hatching and words."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from buttonhole.paper.figure.contour import outlines, simplified
from buttonhole.paper.figure.stack import DrawnLimit
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import ESTIMATE, INK, Drawing, Point, course, width_of
from buttonhole.paper.figure.zone_legend import MELTED, SHEET, STITCH, draw_legend, zone_fill

if TYPE_CHECKING:  # a page without a prediction need not load the solver
    from buttonhole.weld.spot.result import Section

_ACROSS = 560.0  # drawing units from edge to edge of the drawn section
_TOLERANCE = 0.35  # drawing units
_CAP_SHOWN = 1.1e-3  # m of each cap that is drawn
_COPPER = "#e9b98c"


@dataclass(frozen=True, slots=True)
class SheetLevels:
    """Temperatures that bound the zones of one sheet [degC]; ``None`` leaves the zone out."""

    melted: float
    ac3: float | None
    ac1: float | None
    coating_gone: float | None = None
    softened: float | None = None  # tempered between this and Ac1: softer than the sheet


@dataclass(frozen=True, slots=True)
class DrawnNugget:
    """Predicted nugget diameter at one faying interface with its interval, all [m]."""

    diameter: float
    low: float
    high: float
    limit: DrawnLimit | None = None
    corona: tuple[float, float] | None = None  # m, inner and outer diameter; no part of the nugget


@dataclass(frozen=True, slots=True)
class DrawnSection:
    """Half section as the solver gives it, zone levels per sheet, nuggets per interface."""

    section: "Section"
    levels: tuple[SheetLevels, ...]
    nuggets: tuple[DrawnNugget, ...]
    indentation: float | None = None  # m, deeper side


def section(drawn: DrawnSection, *, style: Style | None = None, wide: bool = True) -> str:
    """Draw a predicted cross-section.

    Parameters
    ----------
    drawn : DrawnSection
        Half section, levels and nuggets.
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
        If the number of levels or nuggets does not fit the sheets of the section.
    """
    sheets = int(drawn.section.part.max()) - 1
    if len(drawn.levels) != sheets or len(drawn.nuggets) != sheets - 1:
        raise ValueError(
            f"{sheets} sheets need {sheets} levels and {sheets - 1} nuggets, "
            f"got {len(drawn.levels)} and {len(drawn.nuggets)}"
        )
    return _SectionPicture(drawn, style or Style(lettering=18.0), sheets, wide).draw()


class _SectionPicture:
    """Lays one section out and draws it."""

    def __init__(self, drawn: DrawnSection, style: Style, sheets: int, wide: bool) -> None:
        self.drawn, self.style, self.sheets, self.wide = drawn, style, sheets, wide
        self.size = style.lettering
        field = drawn.section
        self.r = (field.r_faces[:-1] + field.r_faces[1:]) / 2
        self.z = (field.z_faces[:-1] + field.z_faces[1:]) / 2
        self.tops, self.bottoms = _faces(field, sheets)
        self.reach = self._reach()
        self.scale = _ACROSS / (2 * self.reach)
        self.first = float(self.tops[0][self._seen()].min())
        self.last = float(self.bottoms[-1][self._seen()].max())
        self.axis = self.size + _ACROSS / 2
        self.below = self.down(self.last + _CAP_SHOWN)  # where the drawn caps end
        # from one dimension to the next; on a narrow picture its words stand on lines of their own
        lines = max(self._nugget_words(one).count(", ") + 1 for one in drawn.nuggets)
        self.pitch = (1.9 if wide else 0.8 + 1.2 * lines) * self.size
        # with large letters the legend beside may end lower than the caps: the words go below it
        beside = 0.6 + 1.6 * len(self._legend()) if wide else 0.0
        self.rows_from = max(self.below, beside * self.size)
        self.dimensioned = self.rows_from + len(drawn.nuggets) * self.pitch + 0.6 * self.size

    def _reach(self) -> float:
        """Half width of the picture [m]: a little more than weld, heat and caps need."""
        field = self.drawn.section
        copper = (field.part == 0) | (field.part == self.sheets + 1)
        contact = 0.0
        for sheet, edge in ((0, -1), (self.sheets - 1, 1)):
            rows, columns = np.nonzero(field.part == sheet + 1)
            beside = np.clip(rows + edge, 0, field.part.shape[0] - 1)
            touched = columns[copper[beside, columns]]
            if touched.size:
                contact = max(contact, float(field.r_faces[touched.max() + 1]))
        widest = max(nugget.high for nugget in self.drawn.nuggets) / 2
        lowest = min(level.softened or level.ac1 or level.melted for level in self.drawn.levels)
        steel = (field.part > 0) & (field.part <= self.sheets)
        warm = np.nonzero((steel & (field.peak_temperature > lowest)).any(axis=0))[0]
        heated = float(field.r_faces[warm.max() + 1]) if warm.size else 0.0
        wanted = max(1.35 * widest, 1.15 * contact, 1.15 * heated, 2e-3)
        return min(wanted, float(field.r_faces[-1]))

    def _seen(self) -> NDArray[np.bool_]:
        seen: NDArray[np.bool_] = (self.r <= self.reach) | (np.arange(self.r.size) == 0)
        return seen

    def across(self, r: float) -> float:
        """Drawing place of a radius, signed [m]."""
        return self.axis + r * self.scale

    def down(self, z: float) -> float:
        """Drawing place of a height [m]."""
        return 0.6 * self.size + (z - self.first + _CAP_SHOWN) * self.scale

    def draw(self) -> str:
        """Draw sheets, zones, nugget, caps, dimensions and legend."""
        size, say = self.size, self.style.say
        legend = self._legend()
        if self.wide:
            room = max(width_of(words, size) for _, words in legend) + 3.2 * size
            width = 2 * size + _ACROSS + 1.2 * size + room
            place = (self.axis + _ACROSS / 2 + 1.2 * size, 0.6 * size)
            height = max(self.dimensioned + 2.0 * size, (1.6 * len(legend) + 1.2) * size)
        else:
            width = 2 * size + _ACROSS
            place = (size, self.dimensioned + 0.2 * size)
            height = place[1] + (1.6 * len(legend) + 3.6) * size
        board = Drawing(
            "section-picture", width, height, say("Predicted cross-section"), self.words()
        )
        frame = [
            (self.axis - _ACROSS / 2, 0.0),
            (self.axis + _ACROSS / 2, 0.0),
            (self.axis + _ACROSS / 2, self.below),
            (self.axis - _ACROSS / 2, self.below),
        ]
        with board.inside(course(frame, closed=True)):
            self._caps(board)
            self._zones(board)
            self._interfaces(board)
            self._melted(board)
            self._coronas(board)
            self._edges(board)
        self._dimensions(board)
        draw_legend(board, legend, place, size)
        self._foot(board, height)
        return board.finish()

    def words(self) -> str:
        """Say all that the picture shows."""
        say, style = self.style.say, self.style
        parts = [
            f"{say('interface')} {index + 1}-{index + 2}: {self._nugget_words(nugget)}"
            for index, nugget in enumerate(self.drawn.nuggets)
        ]
        if self.drawn.indentation is not None:
            parts.append(f"{say('dent, deeper side')} {style.length(self.drawn.indentation)}")
        parts.append(say("this is an estimate; a torn coupon decides"))
        return "; ".join(parts) + "."

    def _nugget_words(self, nugget: DrawnNugget) -> str:
        say, style = self.style.say, self.style
        if nugget.high <= 0.0:
            words = say("no melting")
        else:
            low, high = style.bare_length(nugget.low), style.bare_length(nugget.high)
            words = f"{say('nugget')} {style.length(nugget.diameter)} ({low} {say('to')} {high})"
        if nugget.limit is not None:
            words += (
                f", {say('at least')} {style.length(nugget.limit.diameter)} {nugget.limit.name}"
            )
        if nugget.corona is not None and _has_corona(nugget):
            words += f", {say('corona out to')} {style.length(nugget.corona[1], 1)}"
        return words

    def _outline(self, sheet: int) -> str:
        """Course round one sheet, both halves."""
        r, top, bottom = self.r, self.tops[sheet], self.bottoms[sheet]
        end = float(self.drawn.section.r_faces[-1])
        right_top = [*_pairs(r, top), (end, float(top[-1]))]
        right_bottom = [*_pairs(r, bottom), (end, float(bottom[-1]))]
        upper = [(-x, z) for x, z in reversed(right_top)] + right_top
        lower = right_bottom[::-1] + [(-x, z) for x, z in right_bottom]
        return course(self._placed(upper) + self._placed(lower), closed=True)

    def _zone(self, sheet: int, level: float) -> str:
        """Course round the part of the field that passed a level, made ready for one sheet."""
        field = _filled(self.drawn.section, sheet + 1)
        whole = np.concatenate((field[:, ::-1], field), axis=1)
        x = np.concatenate((-self.r[::-1], self.r))
        loops = outlines(x, self.z, whole, level)
        return " ".join(course(self._placed(loop), closed=True) for loop in loops if len(loop) > 2)

    def _placed(self, points: Sequence[Point]) -> list[Point]:
        """Turn metres into drawing places and leave out corners that do not show."""
        return simplified([(self.across(r), self.down(z)) for r, z in points], _TOLERANCE)

    def _zones(self, board: Drawing) -> None:
        for sheet, level in enumerate(self.drawn.levels):
            outline = self._outline(sheet)
            board.path(outline, fill=SHEET, ink=None, part="sheet")
            with board.inside(outline):
                for bound, part, dash in (
                    (level.softened, "softened", "2 4"),
                    (level.ac1, "changed", "6 4"),
                    (level.ac3, "hardened", None),
                ):
                    zone = self._zone(sheet, bound) if bound is not None else ""
                    if zone:
                        fill = zone_fill(board, part)
                        board.path(zone, fill=fill, stroke=1.3, dash=dash, part=part)
                self._coating(board, sheet, level.coating_gone)

    def _coating(self, board: Drawing, sheet: int, gone: float | None) -> None:
        """Dot the faces of a sheet where its coating is still there."""
        if gone is None:
            return
        field = self.drawn.section
        inset = 3.0 / self.scale
        for faces, inward, first in ((self.tops, inset, True), (self.bottoms, -inset, False)):
            rows = _face_rows(field.part == sheet + 1, first=first)
            stays = field.peak_temperature[rows, np.arange(self.r.size)] < gone
            for start, stop in _runs(stays):
                points = _pairs(self.r[start:stop], faces[sheet][start:stop] + inward)
                if stop == self.r.size:
                    points.append((float(field.r_faces[-1]), points[-1][1]))
                for sign in (1.0, -1.0):
                    line = course(self._placed([(sign * r, z) for r, z in points]))
                    board.path(line, stroke=2.2, dash="2 3", part="coating")

    def _interfaces(self, board: Drawing) -> None:
        for sheet in range(self.sheets - 1):
            self._face_line(board, self.bottoms[sheet], 2.6, "interface")

    def _coronas(self, board: Drawing) -> None:
        """Stitches across the interface where the faces joined without melting."""
        for index, nugget in enumerate(self.drawn.nuggets):
            if nugget.corona is None or not _has_corona(nugget):
                continue
            level = self.down(float(self.bottoms[index][0]))
            first, last = (self.scale * d / 2 for d in nugget.corona)
            count = max(1, round((last - first) / STITCH))
            for sign in (1.0, -1.0):
                ends = [(self.axis + sign * place, level) for place in (first, last)]
                board.line(ends[0], ends[1], width=9.0, ink="#ffffff", part="corona")
                board.line(ends[0], ends[1], width=2.6, part="corona")
                for step in range(count):
                    place = self.axis + sign * (first + (step + 0.5) * (last - first) / count)
                    board.line((place, level - 6.5), (place, level + 6.5), width=2.0, part="corona")

    def _edges(self, board: Drawing) -> None:
        self._face_line(board, self.tops[0], 1.8, "surface")
        self._face_line(board, self.bottoms[-1], 1.8, "surface")
        ends = (self.down(self.first - _CAP_SHOWN), self.down(self.last + _CAP_SHOWN))
        board.line((self.axis, ends[0]), (self.axis, ends[1]), width=1.0, dash="9 3 2 3")

    def _face_line(
        self, board: Drawing, face: NDArray[np.float64], stroke: float, part: str
    ) -> None:
        end = float(self.drawn.section.r_faces[-1])
        half = [*_pairs(self.r, face), (end, float(face[-1]))]
        points = [(-r, z) for r, z in reversed(half)] + half
        board.path(course(self._placed(points)), stroke=stroke, part=part)

    def _melted(self, board: Drawing) -> None:
        for sheet, level in enumerate(self.drawn.levels):
            zone = self._zone(sheet, level.melted)
            if zone:
                with board.inside(self._outline(sheet)):
                    board.path(zone, fill=MELTED, stroke=2.0, part="melted")

    def _caps(self, board: Drawing) -> None:
        field = self.drawn.section
        fill = board.hatch("rising", ground=_COPPER, ink="#a06a38")
        for part, first, far in (
            (0, False, self.first - 2 * _CAP_SHOWN),
            (self.sheets + 1, True, self.last + 2 * _CAP_SHOWN),
        ):
            mask = field.part == part
            columns = np.nonzero(mask.any(axis=0))[0]
            if not columns.size:
                continue
            rows = _face_rows(mask, first=first)
            near = field.z_faces[rows if first else rows + 1]
            half = [(float(self.r[i]), float(near[i])) for i in columns]
            half.append((float(field.r_faces[columns[-1] + 1]), half[-1][1]))
            half.append((half[-1][0], far))
            points = [(-r, z) for r, z in reversed(half)] + half
            outline = course(self._placed(points), closed=True)
            board.path(outline, fill=fill, stroke=1.6, part="cap")

    def _dimensions(self, board: Drawing) -> None:
        """Draw all lines first: those of a lower interface run through the words of an upper."""
        size = self.size
        rows = [self.rows_from + index * self.pitch for index in range(len(self.drawn.nuggets))]
        for index, (row, nugget) in enumerate(zip(rows, self.drawn.nuggets, strict=True)):
            if nugget.high > 0.0:
                self._dimension(board, nugget, index, row + 0.55 * size)
        for index, (row, nugget) in enumerate(zip(rows, self.drawn.nuggets, strict=True)):
            lines = [f"{index + 1}-{index + 2}: {self._nugget_words(nugget)}"]
            if not self.wide:
                lines = lines[0].split(", ")
            for order, words in enumerate(lines):
                place = (self.axis - _ACROSS / 2, row + (1.75 + 1.2 * order) * size)
                board.text(place, words, size, bold=True, halo=True, room=board.width - 2 * size)

    def _dimension(self, board: Drawing, nugget: DrawnNugget, index: int, row: float) -> None:
        level = self.down(float(self.bottoms[index][0]))
        ends = [self.across(sign * nugget.diameter / 2) for sign in (-1.0, 1.0)]
        for sign in (-1.0, 1.0):
            spread = (self.across(sign * nugget.low / 2), self.across(sign * nugget.high / 2))
            board.line((spread[0], row), (spread[1], row), width=7, ink="#a8a8a8", part="interval")
        board.line((ends[0], row), (ends[1], row), width=1.6, part="dimension")
        for end, sign in zip(ends, (-1.0, 1.0), strict=True):
            board.line((end, level), (end, row + 5), width=1.0, dash="4 3", part="dimension")
            head = [(end - sign * 9, row - 4), (end, row), (end - sign * 9, row + 4)]
            board.path(course(head), stroke=1.6, part="dimension")

    def _legend(self) -> list[tuple[str, str]]:
        say = self.style.say
        rows = [("melted", say("melted: the nugget"))]
        if any(level.ac3 is not None for level in self.drawn.levels):
            rows.append(("hardened", say("over Ac3: all austenite")))
        if any(level.ac1 is not None for level in self.drawn.levels):
            rows.append(("changed", say("over Ac1: partly austenite")))
        if any(level.softened is not None for level in self.drawn.levels):
            rows.append(("softened", say("tempered: softened ring")))
        if any(level.coating_gone is not None for level in self.drawn.levels):
            rows.append(("coating", say("dots: coating still there")))
        if any(_has_corona(one) for one in self.drawn.nuggets):
            rows.append(("corona", say("corona: joined, not melted")))
        rows.append(("interval", say("grey bar: 90 % interval")))
        if self.drawn.indentation is not None:
            depth = self.style.length(self.drawn.indentation)
            rows.append(("words", f"{say('dent, deeper side')} {depth}"))
        return rows

    def _foot(self, board: Drawing, height: float) -> None:
        size, style = self.size, self.style
        note = height - 0.25 * size
        base = height - (0.55 if self.wide else 1.95) * size
        left = self.axis - _ACROSS / 2
        unit = 1e-3
        board.line((left, base), (left + unit * self.scale, base), width=3.0, ink=INK)
        board.text((left + unit * self.scale + 6, base + 0.3 * size), style.length(unit, 0), size)
        place = (board.width - size, note)
        board.text(place, style.say(ESTIMATE), size, anchor="end", part="note")


def _has_corona(nugget: DrawnNugget) -> bool:
    return nugget.corona is not None and nugget.corona[1] > nugget.corona[0]


def _faces(
    field: "Section", sheets: int
) -> tuple[list[NDArray[np.float64]], list[NDArray[np.float64]]]:
    """Upper and lower face of each sheet [m] at every column; bare columns take the next inward."""
    tops, bottoms = [], []
    for sheet in range(1, sheets + 1):
        mask = field.part == sheet
        if not mask.any():
            raise ValueError(f"sheet {sheet} has no cell in the section")
        top = field.z_faces[_face_rows(mask, first=True)]
        bottom = field.z_faces[_face_rows(mask, first=False) + 1]
        held = np.maximum.accumulate(np.where(mask.any(axis=0), np.arange(mask.shape[1]), 0))
        tops.append(top[held])
        bottoms.append(bottom[held])
    return tops, bottoms


def _pairs(r: NDArray[np.float64], z: NDArray[np.float64]) -> list[Point]:
    return [(float(a), float(b)) for a, b in zip(r, z, strict=True)]


def _face_rows(mask: NDArray[np.bool_], *, first: bool) -> NDArray[np.intp]:
    """Row of the first or last cell of a part in every column; 0 where there is none."""
    if first:
        return np.asarray(np.argmax(mask, axis=0), dtype=np.intp)
    last = mask.shape[0] - 1 - np.argmax(mask[::-1], axis=0)
    return np.asarray(np.where(mask.any(axis=0), last, 0), dtype=np.intp)


def _filled(field: "Section", part: int) -> NDArray[np.float64]:
    """Temperature of one sheet, carried up and down beyond it so that outlines meet its faces."""
    mask = field.part == part
    rows = np.arange(mask.shape[0])[:, None]
    top, bottom = _face_rows(mask, first=True), _face_rows(mask, first=False)
    inside = np.clip(rows, top[None, :], bottom[None, :])
    return np.asarray(field.peak_temperature[inside, np.arange(mask.shape[1])[None, :]])


def _runs(flags: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Start and stop of each run of true flags."""
    padded = np.concatenate(([False], flags, [False])).astype(np.int8)
    steps = np.diff(padded)
    starts, stops = np.nonzero(steps == 1)[0], np.nonzero(steps == -1)[0]
    return [(int(a), int(b)) for a, b in zip(starts, stops, strict=True)]
