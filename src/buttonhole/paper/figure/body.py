"""A vehicle body of nobody's make, drawn from four sides, with places on it that can be tapped."""

from dataclasses import dataclass
from enum import StrEnum

from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import Drawing

ACROSS, HIGH = 880.0, 400.0  # drawing units
_METAL, _GLASS, _TYRE = "#eceff0", "#d4e2e8", "#3a3f42"
_MARK = "#ffc233"


class BodyView(StrEnum):
    """From where the body is seen; the value is the word in records."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    REAR = "rear"

    @property
    def words(self) -> str:
        """In plain words."""
        return {"left": "Left side", "right": "Right side", "front": "Front", "rear": "Rear"}[
            self.value
        ]


@dataclass(frozen=True, slots=True)
class BodyMark:
    """A place on the drawing: its number, what it is, and where, as shares of the drawing [-].

    ``across`` goes from the left edge to the right, ``down`` from the top to the bottom.
    """

    number: int
    name: str
    across: float
    down: float
    chosen: bool = False


def body(view: BodyView, marks: tuple[BodyMark, ...] = (), *, style: Style | None = None) -> str:
    """Draw a body with places on it.

    Parameters
    ----------
    view : BodyView
        From where.
    marks : tuple of BodyMark
        Places, each with its number.
    style : Style, optional
        Letter size and language.

    Returns
    -------
    str
        SVG text.
    """
    style = style or Style(lettering=20.0)
    named = "; ".join(f"{one.number}: {style.say(one.name)}" for one in marks)
    words = f"{style.say(view.words)}. " + (named or style.say("Nothing is placed yet")) + "."
    board = Drawing("body-picture", ACROSS, HIGH, style.say("Body"), words)
    if view in (BodyView.LEFT, BodyView.RIGHT):
        _side(board, turned=view is BodyView.RIGHT)
    else:
        _end(board, rear=view is BodyView.REAR)
    for one in marks:
        _mark(board, one, style.lettering)
    return board.finish()


def _mark(board: Drawing, mark: BodyMark, size: float) -> None:
    place = (mark.across * ACROSS, mark.down * HIGH)
    board.circle(place, 0.95 * size, fill=_MARK if mark.chosen else "#ffffff", stroke=3.5)
    lowered = (place[0], place[1] + 0.36 * size)
    board.text(lowered, str(mark.number), size, anchor="middle", bold=True, part="number")


def _mirrored(course: str, turned: bool) -> str:
    """Turn a path about the middle of the drawing; its numbers are pairs of across and down."""
    if not turned:
        return course
    parts = []
    for one in course.split():
        if "," not in one:
            parts.append(one)
            continue
        across, down = one.split(",")
        parts.append(f"{ACROSS - float(across):g},{down}")
    return " ".join(parts)


# Nose to the left. Commands and pairs stand apart by blanks, so that the side can be turned.
_OUTLINE = (
    "M 46,300 C 38,272 44,244 70,232 C 120,214 190,204 258,198 L 352,122 C 400,96 540,92 606,110 "
    "L 704,184 C 760,190 812,200 832,214 C 846,240 846,272 840,302 L 764,306 "
    "C 762,244 636,244 634,306 L 302,306 C 300,244 174,244 172,306 L 60,308 Z"
)
_WINDOWS = (
    "M 292,198 L 366,136 C 384,126 420,122 452,120 L 452,196 Z",
    "M 470,119 C 520,118 568,120 592,126 L 660,182 L 652,190 L 470,195 Z",
)
_SEAMS = (
    "M 288,200 L 306,290 L 460,296 L 460,122",  # front door
    "M 462,296 L 618,292 C 624,262 650,240 668,196 L 600,126",  # rear door
    "M 306,306 L 302,292 L 634,294",  # sill
    "M 258,198 L 268,226 C 230,240 196,232 172,262",  # front wing
    "M 704,184 L 690,236 C 730,244 752,262 762,290",  # quarter panel
    "M 352,122 L 288,200",  # A-pillar
    "M 461,118 L 461,196",  # B-pillar
)


def _side(board: Drawing, *, turned: bool) -> None:
    board.path(_mirrored(_OUTLINE, turned), fill=_METAL, stroke=3.0, part="outline")
    for one in _WINDOWS:
        board.path(_mirrored(one, turned), fill=_GLASS, stroke=2.0)
    for one in _SEAMS:
        board.path(_mirrored(one, turned), stroke=1.6, ink="#5a6266")
    for middle in (237.0, 699.0):
        across = ACROSS - middle if turned else middle
        board.circle((across, 310.0), 52.0, fill=_TYRE, stroke=2.0)
        board.circle((across, 310.0), 26.0, fill="#c6ccce", stroke=2.0)
    board.line((30, 363), (850, 363), width=2.0, ink="#5a6266")


def _end(board: Drawing, *, rear: bool) -> None:
    board.box((262, 300), 62, 62, fill=_TYRE, round_by=10)
    board.box((556, 300), 62, 62, fill=_TYRE, round_by=10)
    board.path(
        "M 250,318 C 236,276 238,224 252,196 L 286,186 L 330,108 C 388,88 492,88 550,108 "
        "L 594,186 L 628,196 C 642,224 644,276 630,318 Z",
        fill=_METAL,
        stroke=3.0,
        part="outline",
    )
    board.path(
        "M 302,184 L 340,116 C 396,100 484,100 540,116 L 578,184 C 500,194 380,194 302,184 Z",
        fill=_GLASS,
        stroke=2.0,
    )
    for corner in ((258, 214), (562, 214)):
        board.box(corner, 60, 28 if rear else 24, fill="#ffffff", round_by=8)
    board.path("M 246,276 L 634,276", stroke=1.8, ink="#5a6266")
    if rear:
        board.path(
            "M 322,190 L 322,262 C 380,272 500,272 558,262 L 558,190", stroke=1.8, ink="#5a6266"
        )
        board.box((392, 228), 96, 24, stroke=1.6)
    else:
        board.path(
            "M 290,188 C 320,206 560,206 590,188 M 330,214 L 550,214 L 540,246 L 340,246 Z",
            stroke=1.8,
            ink="#5a6266",
        )
    board.line((200, 363), (680, 363), width=2.0, ink="#5a6266")
