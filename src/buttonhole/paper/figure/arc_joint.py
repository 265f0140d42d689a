"""The joint of an arc weld before welding, to scale: sheets, holes, gap, where the wire points."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from buttonhole.paper.figure.stack import DrawnSheet, sheet_words
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import Drawing, Point, course, wrapped

_HATCH = ("rising", "falling", "dots")
_GROUND = ("#f6e3b4", "#cfe3ea", "#f3d3c8")
_ACROSS = 560.0  # drawing units from edge to edge of the drawn joint
_TORCH = 9e-3  # m of wire and contact tube that is drawn
_TUBE = 3e-3  # m, how wide the end of the contact tube is drawn
_BESIDE = 7e-3  # m of metal beside a hole or a joint that is always shown


@dataclass(frozen=True, slots=True)
class DrawnArcJoint:
    """A joint: ``kind`` is plug, lap or butt_backed; lengths [m], ``work_angle`` [rad].

    Sheets of a plug from the side that is welded; of a lap the upper one first; of a backed butt
    the edges, the backing last. ``holes`` has one entry for each sheet of a plug but the last.
    """

    kind: str
    sheets: tuple[DrawnSheet, ...]
    holes: tuple[float, ...] = ()  # m
    gap: float = 0.0  # m, between sheets; of a butt between the edges
    work_angle: float = math.pi / 2  # rad
    aim_offset: float = 0.0  # m, positive on to the lower sheet
    length: float = 0.0  # m, of a seam
    torch: str = ""  # how it is led, in words


def arc_joint(drawn: DrawnArcJoint, *, style: Style | None = None, labelled: bool = True) -> str:
    """Draw the joint of an arc weld to scale.

    Parameters
    ----------
    drawn : DrawnArcJoint
        What to draw.
    style : Style, optional
        Letter size, units and language.
    labelled : bool
        Whether sheets and torch are named in the picture; the description always names them.

    Returns
    -------
    str
        SVG text.
    """
    return _JointPicture(drawn, style or Style(lettering=19.0)).draw(labelled=labelled)


class _JointPicture:
    """Lays one joint out and draws it."""

    def __init__(self, drawn: DrawnArcJoint, style: Style) -> None:
        self.drawn, self.style, self.size = drawn, style, style.lettering
        widest = max(drawn.holes) / 2 if drawn.holes else abs(drawn.aim_offset)
        self.half = widest + _BESIDE
        self.scale = _ACROSS / (2 * self.half)
        self.axis = self.size + _ACROSS / 2
        self.boxes = list(self._boxes())
        self.top = 0.7 * self.size + _TORCH * self.scale
        self.foot = max(box[3] for box in self.boxes)

    def _boxes(self) -> Iterator[tuple[float, float, float, float, int]]:
        """Left, upper, right, lower [m] and number of each piece of sheet; the joint is at 0."""
        drawn, level = self.drawn, 0.0
        half, sheets = self.half, drawn.sheets
        if drawn.kind == "plug":
            for place, sheet in enumerate(sheets):
                hole = drawn.holes[place] / 2 if place < len(drawn.holes) else 0.0
                foot = level + sheet.thickness
                if hole > 0.0:
                    yield -half, level, -hole, foot, place
                    yield hole, level, half, foot, place
                else:
                    yield -half, level, half, foot, place
                level = foot + drawn.gap
        elif drawn.kind == "lap":
            upper, lower = sheets[0], sheets[-1]
            yield 0.0, 0.0, half, upper.thickness, 0
            base = upper.thickness + drawn.gap
            yield -half, base, half, base + lower.thickness, 1
        else:
            left, right, strip = sheets[0], sheets[len(sheets) - 2], sheets[-1]
            base = max(left.thickness, right.thickness)
            edge = drawn.gap / 2
            yield -half, base - left.thickness, -edge, base, 0
            yield edge, base - right.thickness, half, base, len(sheets) - 2
            yield -0.7 * half, base, 0.7 * half, base + strip.thickness, len(sheets) - 1

    def place(self, x: float, z: float) -> Point:
        """Drawing place of a point [m], heights growing downwards."""
        return self.axis + x * self.scale, self.top + z * self.scale

    def draw(self, *, labelled: bool) -> str:
        """Draw sheets, torch and names."""
        size = self.size
        names = self._names() if labelled else []
        lines = [part for words in names for part in wrapped(words, size, _ACROSS)]
        start = self.place(0.0, self.foot)[1] + 0.6 * size
        height = start + (1.35 * len(lines) + 2.0) * size
        title = self.style.say("Joint drawn to scale")
        board = Drawing("stack-picture", _ACROSS + 2 * size, height, title, self.words())
        for left, upper, right, lower, number in self.boxes:
            self._sheet(board, left, upper, right, lower, number)
        self._torch(board)
        for order, words in enumerate(lines, start=1):
            board.text((size, start + 1.35 * order * size), words, size, part="name")
        base = height - 0.5 * size
        long = 5e-3 * self.scale
        board.line((size, base), (size + long, base), width=3.0)
        board.text((size + long + 6, base + 0.3 * size), self.style.length(5e-3, 0), size)
        return board.finish()

    def words(self) -> str:
        """Say all that the picture shows."""
        return "; ".join(self._names()) + "."

    def _names(self) -> list[str]:
        drawn, style, say = self.drawn, self.style, self.style.say
        names = []
        for place, sheet in enumerate(drawn.sheets):
            words = f"{place + 1}: {sheet_words(sheet, style)}"
            if place < len(drawn.holes):
                hole = drawn.holes[place]
                words += (
                    f", {say('hole')} {style.length(hole, 1)}" if hole else f", {say('no hole')}"
                )
            names.append(words)
        if drawn.gap > 0.0:
            names.append(f"{say('gap')} {style.length(drawn.gap)}")
        if drawn.length > 0.0:
            names.append(f"{say('seam')} {style.length(drawn.length, 0)}")
        if drawn.kind != "plug":
            angle = f"{say('wire at')} {math.degrees(drawn.work_angle):.0f}°"
            aim = style.length(abs(drawn.aim_offset), 1)
            side = say(
                "on to the lower sheet" if drawn.aim_offset > 0.0 else "on to the upper sheet"
            )
            names.append(
                f"{angle}, {aim} {side}"
                if drawn.aim_offset
                else f"{angle}, {say('into the joint')}"
            )
        if drawn.torch:
            names.append(drawn.torch)
        return names

    def _sheet(
        self, board: Drawing, left: float, upper: float, right: float, lower: float, number: int
    ) -> None:
        corner, end = self.place(left, upper), self.place(right, lower)
        shade = min(number, 2)
        fill = board.hatch(_HATCH[shade], ground=_GROUND[shade], ink="#777777")
        wide, tall = end[0] - corner[0], end[1] - corner[1]
        board.box(corner, wide, tall, fill=fill, stroke=1.6, part=f"s{number}")
        coating = self.drawn.sheets[number].coating.lower()
        if coating not in ("", "bare") and tall > 8:
            for level in (corner[1] + 3, end[1] - 3):
                board.line(
                    (corner[0], level), (end[0], level), width=1.8, dash="2 3", part="coating"
                )
        if tall > 0.8 * self.size:
            at = (corner[0] + 0.7 * self.size, (corner[1] + end[1]) / 2 + 0.35 * self.size)
            if left > 0.0 or (left == 0.0 and self.drawn.kind == "lap"):
                at = (end[0] - 1.3 * self.size, at[1])
            board.text(at, str(number + 1), self.size, bold=True, halo=True)

    def _torch(self, board: Drawing) -> None:
        """The wire and the end of the contact tube, pointing where it is aimed."""
        drawn = self.drawn
        if drawn.kind == "plug":
            foot = next((top for left, top, right, _, _ in self.boxes if left < 0.0 < right), 0.0)
            target = (0.0, foot)
        elif drawn.kind == "lap":
            # positive aims go on to the bare part of the lower sheet, which lies left of the edge
            base = drawn.sheets[0].thickness + drawn.gap
            on_upper = drawn.aim_offset < 0.0
            target = (-drawn.aim_offset, 0.0 if on_upper else base)
        else:
            target = (drawn.aim_offset, 0.0)
        lean = (-math.cos(drawn.work_angle), -math.sin(drawn.work_angle))
        tip = self.place(*target)
        reach = _TORCH * self.scale + target[1] * self.scale - 4.0
        tube = (tip[0] + lean[0] * 0.62 * reach, tip[1] + lean[1] * 0.62 * reach)
        end = (tip[0] + lean[0] * reach, tip[1] + lean[1] * reach)
        board.line(tip, tube, width=4.0, part="wire")
        across = (-lean[1] * _TUBE / 2 * self.scale, lean[0] * _TUBE / 2 * self.scale)
        corners = [
            (tube[0] + 0.6 * across[0], tube[1] + 0.6 * across[1]),
            (end[0] + across[0], end[1] + across[1]),
            (end[0] - across[0], end[1] - across[1]),
            (tube[0] - 0.6 * across[0], tube[1] - 0.6 * across[1]),
        ]
        fill = board.hatch("sparse", ground="#e9b98c", ink="#8a5a2e")
        board.path(course(corners, closed=True), fill=fill, part="tube")
        board.circle(tip, 5.0, fill="#ffffff", stroke=2.4, part="aim")
