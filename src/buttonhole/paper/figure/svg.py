"""The drawing board: SVG elements that refuse figures that are not numbers."""

import hashlib
import math
import re
import unicodedata
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from xml.sax.saxutils import escape, quoteattr, unescape

from buttonhole.language import shown_figures
from buttonhole.language.display import display_now

INK = "#111111"
PAPER = "#ffffff"
ESTIMATE = "Estimate. A torn coupon decides."  # under every picture of a prediction
FONT = "Atkinson Hyperlegible, DejaVu Sans, Arial, sans-serif"

Point = tuple[float, float]
Fill = str | tuple[str, str]  # a colour, or a ground colour and the hatching over it
_NAME = "\x00"  # stands for the drawing's name until its content is known; no text can hold it

# Each hatch: size of the tile, then the strokes in it. Density, not colour, tells them apart.
_HATCHES: dict[str, tuple[float, str, float]] = {
    "rising": (9, "M-1,10 L10,-1 M-1,1 L1,-1 M8,10 L10,8", 1.1),
    "falling": (9, "M-1,-1 L10,10 M8,-1 L10,1 M-1,8 L1,10", 1.1),
    "dense": (5, "M-1,6 L6,-1 M-1,1 L1,-1 M4,6 L6,4", 1.5),
    "sparse": (12, "M-1,13 L13,-1 M-1,1 L1,-1 M11,13 L13,11", 1.0),
    "dots": (7, "M2,2.75 h1.5 M5.5,6.25 h1.5", 1.5),
    "crossed": (8, "M-1,9 L9,-1 M-1,-1 L9,9", 1.1),
    "level": (6, "M0,3 H6", 1.0),
}


def number(value: float) -> str:
    """Write a coordinate.

    Parameters
    ----------
    value : float
        Coordinate in drawing units [-].

    Returns
    -------
    str
        At most two decimals, no exponent.

    Raises
    ------
    ValueError
        If the value is NaN or infinite: a picture must not hide a figure that failed.
    """
    if not math.isfinite(value):
        raise ValueError(f"a drawing got {value!r} where a finite number belongs")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def plain(text: str) -> str:
    """Drop the characters that XML forbids and those that turn the writing direction by stealth."""
    kept = (
        " " if character in "\t\r\n" else character
        for character in text
        if character in "\t\r\n" or unicodedata.category(character) not in ("Cc", "Cf", "Cs", "Cn")
    )
    return " ".join("".join(kept).split())


def width_of(text: str, size: float) -> float:
    """Estimate how wide a text runs.

    Parameters
    ----------
    text : str
        The words.
    size : float
        Letter size in drawing units [-].

    Returns
    -------
    float
        Width in drawing units [-], a little more than most faces need.
    """
    ems = 0.0
    for character in text:
        if unicodedata.east_asian_width(character) in "WF" or ord(character) > 0xFFFF:
            ems += 1.05
        elif character in "MWmw@%":
            ems += 0.97
        elif character in "ijl.,:;'|!()[] ":
            ems += 0.36
        elif character.isupper() or unicodedata.category(character) in ("So", "Sm"):
            ems += 0.76
        else:
            ems += 0.63
    return ems * size


def cut_to(text: str, size: float, room: float) -> str:
    """Cut a text with an ellipsis so that it keeps inside its room.

    Parameters
    ----------
    text : str
        The words.
    size : float
        Letter size in drawing units [-].
    room : float
        Width there is, in drawing units [-].

    Returns
    -------
    str
        The text, or its beginning and an ellipsis.
    """
    if width_of(text, size) <= room:
        return text
    kept = ""
    for character in text:
        if width_of(kept + character + "…", size) > room:
            break
        kept += character
    return kept.rstrip() + "…"


def wrapped(text: str, size: float, room: float) -> list[str]:
    """Break a text into lines.

    Parameters
    ----------
    text : str
        The words.
    size : float
        Letter size in drawing units [-].
    room : float
        Width of a line in drawing units [-].

    Returns
    -------
    list of str
        Lines that keep inside the room; a single word that does not is cut.
    """
    lines: list[str] = []
    for word in plain(shown_figures(text, display_now())).split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size) <= room:
            lines[-1] = longer
        else:
            lines.append(cut_to(word, size, room))
    return lines


def without_ground(picture: str) -> str:
    """Take the white ground out of a drawing, so that a page's own ground shows through."""
    return re.sub(r'<rect class="ground"[^>]*/>', "", picture, count=1)


def words_of(picture: str) -> str:
    """Give the text alternative of a drawing: its title and its description."""
    found = re.findall(r"<(?:title|desc) id=[^>]*>([^<]*)<", picture)
    return " ".join(unescape(part).rstrip(".") + "." for part in found if part)


class Drawing:
    """One picture being drawn; ``finish`` gives its SVG text."""

    def __init__(self, kind: str, width: float, height: float, title: str, desc: str) -> None:
        self.kind = kind
        self.width = width
        self.height = height
        self.title = plain(title)
        self.desc = plain(desc)
        self._body: list[str] = []
        self._hatches: dict[tuple[str, str], str] = {}
        self._clips: list[str] = []

    def _add(self, element: str, attributes: dict[str, str | float | None]) -> None:
        written = "".join(
            f" {name.replace('_', '-')}={_value(value)}"
            for name, value in attributes.items()
            if value is not None
        )
        self._body.append(f"<{element}{written}/>")

    def _shape(
        self,
        element: str,
        place: dict[str, str | float | None],
        fill: Fill,
        ink: str | None,
        stroke: float,
        dash: str | None,
    ) -> None:
        """Draw a filled shape; a ground is painted first, so that no seam shows between tiles."""
        over = fill
        if isinstance(fill, tuple):
            ground, over = fill
            if ground != "none":
                self._add(element, {**place, "fill": ground})
        self._add(
            element,
            {
                **place,
                "fill": str(over),
                "stroke": ink,
                "stroke_width": stroke if ink else None,
                "stroke_dasharray": dash,
                "stroke_linejoin": "round" if ink and element == "path" else None,
            },
        )

    def line(
        self,
        start: Point,
        end: Point,
        *,
        ink: str = INK,
        width: float = 1.5,
        dash: str | None = None,
        part: str | None = None,
    ) -> None:
        """Draw a straight line."""
        self._add(
            "line",
            {
                "class": part,
                "x1": start[0],
                "y1": start[1],
                "x2": end[0],
                "y2": end[1],
                "stroke": ink,
                "stroke_width": width,
                "stroke_dasharray": dash,
            },
        )

    def box(
        self,
        corner: Point,
        width: float,
        height: float,
        *,
        fill: Fill = "none",
        ink: str | None = INK,
        stroke: float = 1.5,
        dash: str | None = None,
        round_by: float | None = None,
        part: str | None = None,
    ) -> None:
        """Draw a rectangle from its upper left corner."""
        place = {
            "class": part,
            "x": corner[0],
            "y": corner[1],
            "width": width,
            "height": height,
            "rx": round_by,
        }
        self._shape("rect", place, fill, ink, stroke, dash)

    def circle(
        self,
        centre: Point,
        radius: float | Point,
        *,
        fill: Fill = "none",
        ink: str | None = INK,
        stroke: float = 1.5,
        dash: str | None = None,
        part: str | None = None,
    ) -> None:
        """Draw a circle, or an ellipse when the radius is a pair."""
        across, down = radius if isinstance(radius, tuple) else (radius, radius)
        place = {"class": part, "cx": centre[0], "cy": centre[1], "rx": across, "ry": down}
        self._shape("ellipse", place, fill, ink, stroke, dash)

    def path(
        self,
        course: str,
        *,
        fill: Fill = "none",
        ink: str | None = INK,
        stroke: float = 1.5,
        dash: str | None = None,
        part: str | None = None,
    ) -> None:
        """Draw a path; its course is written by :func:`course` or by hand."""
        rule = "evenodd" if fill != "none" else None
        place: dict[str, str | float | None] = {"class": part, "d": course, "fill_rule": rule}
        self._shape("path", place, fill, ink, stroke, dash)

    def text(
        self,
        place: Point,
        words: str,
        size: float,
        *,
        anchor: str = "start",
        bold: bool = False,
        ink: str = INK,
        halo: bool = False,
        room: float | None = None,
        part: str | None = None,
    ) -> None:
        """Write one line; ``halo`` keeps it readable on hatching, ``room`` cuts it to a width."""
        shown = plain(words)
        if room is not None:
            shown = cut_to(shown, size, room)
        attributes = {
            "class": part,
            "x": number(place[0]),
            "y": number(place[1]),
            "font-size": number(size),
            "text-anchor": anchor if anchor != "start" else None,
            "font-weight": "bold" if bold else None,
            "fill": ink,
        }
        if halo:
            attributes |= {
                "paint-order": "stroke",
                "stroke": PAPER,
                "stroke-width": number(0.28 * size),
                "stroke-linejoin": "round",
            }
        written = "".join(
            f" {name}={quoteattr(value)}" for name, value in attributes.items() if value is not None
        )
        self._body.append(f"<text{written}>{escape(shown)}</text>")

    def hatch(self, name: str, *, ground: str = "none", ink: str = INK) -> tuple[str, str]:
        """Give the fill of one hatching, drawn over a ground colour."""
        key = (name, ink)
        if key not in self._hatches:
            size, strokes, width = _HATCHES[name]
            tile = number(size)
            self._hatches[key] = (
                f'<pattern id="{_NAME}h{len(self._hatches)}" width="{tile}" height="{tile}" '
                f'patternUnits="userSpaceOnUse"><path d="{strokes}" fill="none" '
                f'stroke="{ink}" stroke-width="{number(width)}"/></pattern>'
            )
        return ground, f"url(#{_NAME}h{list(self._hatches).index(key)})"

    @contextmanager
    def inside(self, course: str) -> Iterator[None]:
        """Draw only inside a path."""
        name = f"{_NAME}c{len(self._clips)}"
        self._clips.append(
            f'<clipPath id="{name}"><path d="{course}" clip-rule="evenodd"/></clipPath>'
        )
        self._body.append(f'<g clip-path="url(#{name})">')
        yield
        self._body.append("</g>")

    @contextmanager
    def moved(self, right: float, down: float, turned: float = 0.0) -> Iterator[None]:
        """Draw in a frame moved by drawing units and then turned by degrees, clockwise."""
        turn = f" rotate({number(turned)})" if turned else ""
        self._body.append(f'<g transform="translate({number(right)} {number(down)}){turn}">')
        yield
        self._body.append("</g>")

    def finish(self) -> str:
        """Give the SVG text; ids come from a hash of the content, so many can share a page."""
        inner = "".join(self._body)
        defs = "".join([*self._hatches.values(), *self._clips])
        whole = self.title + self.desc + inner + defs
        name = "p" + hashlib.sha256(whole.encode()).hexdigest()[:10]
        inner = inner.replace(_NAME, f"{name}-")
        defs = defs.replace(_NAME, f"{name}-")
        size = f"0 0 {number(self.width)} {number(self.height)}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{size}" class="drawing {self.kind}" '
            f'role="img" aria-labelledby="{name}-t {name}-d" font-family="{FONT}">'
            f'<title id="{name}-t">{escape(self.title)}</title>'
            f'<desc id="{name}-d">{escape(self.desc)}</desc>'
            + (f"<defs>{defs}</defs>" if defs else "")
            + f'<rect class="ground" width="{number(self.width)}" height="{number(self.height)}" '
            f'fill="{PAPER}"/>{inner}</svg>\n'
        )


def _value(value: str | float) -> str:
    return quoteattr(value if isinstance(value, str) else number(value))


def course(points: Iterable[Point], *, closed: bool = False) -> str:
    """Write a path through points.

    Parameters
    ----------
    points : iterable of (float, float)
        Corners in drawing units [-], at least one.
    closed : bool
        Whether the last corner is joined to the first.

    Returns
    -------
    str
        The ``d`` attribute of a path.
    """
    written = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return f"M{written}" + (" Z" if closed else "")
