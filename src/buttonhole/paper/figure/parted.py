"""A broken arc weld: both halves face on, and its section before it broke and after.

The scenes themselves stand in ``parted_plug``, ``parted_seam`` and ``parted_braze``. A section is
made of pieces that stay with one half or the other: together they are the weld before, moved apart
they are the halves after, so that the two pictures can't contradict each other.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from buttonhole.paper.figure.broken_face import COPPER, GREY, METAL, PLATE, callipers
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import INK, PAPER, Drawing, Fill, Point, course, width_of, wrapped

WIDTH = 620.0
_LEFT, _RIGHT = 160.0, 460.0  # middles of the two columns
_FACE_TALL, _SECTION_TALL = 156.0, 132.0  # drawing units
FLAT = 24.0  # drawing units, how thick a sheet of a section is drawn

Corners = tuple[Point, ...]
Face = Callable[[Drawing, Style], None]


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a section: ``metal`` is sheet, other, backing, weld, braze or pulled."""

    metal: str
    corners: Corners


@dataclass(frozen=True, slots=True)
class Crack:
    """Where it parted: torn through metal, or along a face that was never fused."""

    corners: Corners
    torn: bool = True


@dataclass(frozen=True, slots=True)
class Parted:
    """One way an arc weld lets go.

    ``upper`` and ``lower`` are the pieces of the two halves, the joint at the origin; ``shift`` is
    how far the upper half is moved after. ``faces`` draw the half that is measured, then the other
    one, about the origin. ``halves``: half of what is measured across and down, where on the face
    it lies is ``middle``; none where there is nothing to measure. ``whole`` stands for both halves
    where a test did not part them. All in drawing units.
    """

    upper: tuple[Piece, ...]
    lower: tuple[Piece, ...]
    cracks: tuple[Crack, ...]
    faces: tuple[Face, Face]
    face_names: tuple[str, str]
    shift: Point = (0.0, -34.0)
    halves: Point | None = None
    middle: Point = (0.0, 0.0)
    measures: tuple[str, str] = ("d max", "d min")
    pores: tuple[
        tuple[float, float, float], ...
    ] = ()  # place and radius, above 0 in the upper half
    whole: tuple[Piece, ...] = ()  # what is there after, where it did not part


@dataclass(frozen=True, slots=True)
class Said:
    """What the picture is called, how the failure is known, and what to measure."""

    name: str
    sign: str
    measure: str = ""


def parted(
    scene: Parted, said: Said, *, kind: str, style: Style | None = None, notes: bool = True
) -> str:
    """Draw a broken arc weld.

    Parameters
    ----------
    scene : Parted
        What is drawn.
    said : Said
        Its words.
    kind : str
        Class of the picture.
    style : Style, optional
        Letter size and language.
    notes : bool
        Whether words stand in and under the picture; they are always in its description.

    Returns
    -------
    str
        SVG text: above both halves face on, below the section before and after.
    """
    style = style or Style(lettering=16.0)
    size, say = style.lettering, style.say
    lines = [(line, False) for line in wrapped(say(said.sign), size, WIDTH - 2 * size)]
    lines += [(line, True) for line in wrapped(say(said.measure), 1.08 * size, WIDTH - 2 * size)]
    label = 1.5 * size if notes else 12.0
    face_at = label + _FACE_TALL / 2
    section_at = label + _FACE_TALL + label + _SECTION_TALL / 2
    foot = section_at + _SECTION_TALL / 2
    height = foot + ((1.35 * len(lines) + 0.4) * size if notes else 8.0)
    desc = " ".join(say(one) for one in (said.sign, said.measure) if one)
    board = Drawing(f"parted-picture {kind}", WIDTH, height, say(said.name), desc)
    names = (*scene.face_names, "Section before", "Section after")
    places = ((_LEFT, face_at), (_RIGHT, face_at), (_LEFT, section_at), (_RIGHT, section_at))
    talls = (_FACE_TALL, _FACE_TALL, _SECTION_TALL, _SECTION_TALL)
    for name, (x, y), tall in zip(names, places, talls, strict=True) if notes else ():
        words = say(name)
        fits = min(size, (WIDTH / 2 - 12) * size / width_of(words, size))
        board.text((x, y - tall / 2 - 0.45 * size), words, fits, anchor="middle", part="name")
    for face, (x, y) in zip(scene.faces, places, strict=False):
        with board.moved(x, y):
            face(board, style)
    if scene.halves is not None:
        with board.moved(places[0][0] + scene.middle[0], places[0][1] + scene.middle[1]):
            callipers(board, scene.halves, style, scene.measures if notes else ("", ""))
    _section(board, scene, places[2], after=False)
    _section(board, scene, places[3], after=True)
    for order, (line, bold) in enumerate(lines if notes else ()):
        place = (size, foot + (1.35 * order + 0.9) * size)
        board.text(place, line, size, bold=bold, part="note")
    return board.finish()


def box(left: float, top: float, right: float, foot: float) -> Corners:
    """Corners of an upright rectangle, in drawing units."""
    return ((left, top), (right, top), (right, foot), (left, foot))


def strip(board: Drawing, *, tall: float = 118.0, wide: float = 276.0) -> None:
    """The ground of a face of a seam: a strip of sheet."""
    board.box((-wide / 2, -tall / 2), wide, tall, fill=PLATE, round_by=5, part="plate")


def plate(board: Drawing) -> None:
    """The ground of a face of a plug: a square of sheet."""
    board.box((-78, -78), 156, 156, fill=PLATE, round_by=5, part="plate")


def _fill(board: Drawing, metal: str) -> Fill:
    fills: Mapping[str, Fill] = {
        "sheet": board.hatch("rising", ground=PLATE, ink="#9c9484"),
        "other": board.hatch("falling", ground=PLATE, ink="#9c9484"),
        "backing": board.hatch("sparse", ground="#dfe6e8", ink="#7d7d7d"),
        "weld": board.hatch("crossed", ground=METAL, ink=GREY),
        "braze": board.hatch("dots", ground=COPPER, ink="#5a3510"),
        "pulled": board.hatch("dense", ground=METAL, ink=GREY),
    }
    return fills[metal]


def _section(board: Drawing, scene: Parted, place: Point, *, after: bool) -> None:
    if after and scene.whole:
        with board.moved(*place):
            _pieces(board, scene.whole, (), after)
        return
    right, down = scene.shift if after else (0.0, 0.0)
    # the halves move away from each other, so that both keep inside their cell
    for sign, pieces in ((-1.0, scene.lower), (1.0, scene.upper)):
        with board.moved(place[0] + sign * right / 2, place[1] + sign * down / 2):
            _pieces(board, pieces, scene.cracks, after)
            for x, y, radius in scene.pores:
                if (y < 0.0) == (sign > 0.0):
                    board.circle((x, y), radius, fill=INK, ink=PAPER, stroke=1.0, part="pore")
    if after:
        return
    with board.moved(place[0], place[1]):
        for crack in scene.cracks:
            board.path(course(crack.corners), stroke=6.5, ink=PAPER)
            dash = "7 4" if crack.torn else None
            board.path(course(crack.corners), stroke=3.4, dash=dash, part="crack")


def _pieces(
    board: Drawing, pieces: tuple[Piece, ...], cracks: tuple[Crack, ...], after: bool
) -> None:
    for one in pieces:
        fill = _fill(board, one.metal)
        board.path(course(one.corners, closed=True), fill=fill, stroke=1.6, part=one.metal)
    for crack in cracks if after else ():
        dash, width = ("3 2", 5.0) if crack.torn else (None, 2.4)
        board.path(course(crack.corners), stroke=width, dash=dash, part="face")
