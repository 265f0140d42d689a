"""What may be fused inside a plug: how likely each place of the interface is melted, to scale."""

from dataclasses import dataclass

from buttonhole.paper.figure.arc_joint import DrawnArcJoint
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import Drawing, Point, course, wrapped

_ACROSS = 560.0  # drawing units
_TALL = 120.0  # drawing units, of the curve from never to surely


@dataclass(frozen=True, slots=True)
class DrawnHidden:
    """One interface: ``radii`` [m] from the axis and how likely it is fused out to there [-].

    ``before`` with nothing seen, ``now`` with what was seen; ``value``, ``low``, ``high`` [m] of
    the fused diameter, ``wanted`` [m].
    """

    name: str
    radii: tuple[float, ...]
    before: tuple[float, ...]
    now: tuple[float, ...]
    value: float
    low: float
    high: float
    wanted: float


def hidden_fusion(drawn: DrawnHidden, joint: DrawnArcJoint, *, style: Style | None = None) -> str:
    """Draw how likely each place of an interface is fused, under the hole and at its scale.

    Parameters
    ----------
    drawn : DrawnHidden
        Shares for one interface.
    joint : DrawnArcJoint
        The plug, for its hole and first sheets.
    style : Style, optional
        Letter size, units and language.

    Returns
    -------
    str
        SVG text.
    """
    style = style or Style(lettering=18.0)
    size, say = style.lettering, style.say
    half = max(drawn.radii[-1], max(joint.holes) / 2 + 2e-3)
    scale = _ACROSS / (2 * half)
    axis = size + _ACROSS / 2
    top = 0.7 * size
    sheets = [
        (one.thickness * scale, hole)
        for one, hole in zip(joint.sheets, (*joint.holes, 0.0), strict=False)
    ]
    words = _words(drawn, style)
    lines = [part for one in words for part in wrapped(one, size, _ACROSS)]
    stack = sum(tall for tall, _ in sheets)
    floor = top + stack + 1.2 * size + _TALL
    height = floor + (1.9 + 1.35 * len(lines)) * size
    board = Drawing(
        "hidden-picture", _ACROSS + 2 * size, height, say("Hidden fusion"), words[0] + "."
    )
    level = top
    for number, (tall, hole) in enumerate(sheets):
        _layer(board, (size, level), tall, hole * scale, number)
        level += tall
    _curves(board, drawn, axis, scale, floor)
    for sign in (-1.0, 1.0):
        mark = axis + sign * drawn.wanted / 2 * scale
        board.line((mark, level + 0.3 * size), (mark, floor), width=4.0, part="wanted")
        ends = [
            (axis + sign * each / 2 * scale, floor + 0.7 * size) for each in (drawn.low, drawn.high)
        ]
        board.line(ends[0], ends[1], width=7, ink="#a8a8a8", part="interval")
    reach = drawn.value / 2 * scale
    row = floor + 0.7 * size
    board.line((axis - reach, row), (axis + reach, row), width=2.0, part="dimension")
    for share, named in ((0.0, "0 %"), (1.0, "100 %")):
        at = floor - share * _TALL
        board.line((size, at), (size + _ACROSS, at), width=1.0, dash="2 4")
        board.text((size + 2, at - 4), named, 0.85 * size, halo=True)
    for order, line in enumerate(lines, start=1):
        bold = order <= len(wrapped(words[0], size, _ACROSS))
        board.text((size, floor + (1.0 + 1.35 * order) * size), line, size, bold=bold)
    return board.finish()


def _words(drawn: DrawnHidden, style: Style) -> list[str]:
    say = style.say
    return [
        f"{drawn.name}: {say('fused')} {style.length(drawn.value, 1)} "
        f"({style.bare_length(drawn.low, 1)} {say('to')} {style.bare_length(drawn.high, 1)}), "
        f"{say('wanted')} {style.length(drawn.wanted, 1)}",
        say("dark: how surely it is melted out to there; dashed: before anything was seen"),
        say("upright marks: wanted; grey bar: 90 % interval"),
    ]


def _layer(board: Drawing, corner: Point, tall: float, hole: float, number: int) -> None:
    ground = ("#f6e3b4", "#cfe3ea", "#f3d3c8")[min(number, 2)]
    fill = board.hatch(("rising", "falling", "dots")[min(number, 2)], ground=ground, ink="#777777")
    side = (_ACROSS - hole) / 2
    if hole > 0.0:
        board.box(corner, side, tall, fill=fill, stroke=1.6)
        board.box((corner[0] + side + hole, corner[1]), side, tall, fill=fill, stroke=1.6)
    else:
        board.box(corner, _ACROSS, tall, fill=fill, stroke=1.6)


def _curves(board: Drawing, drawn: DrawnHidden, axis: float, scale: float, floor: float) -> None:
    def placed(shares: tuple[float, ...]) -> list[Point]:
        right = [
            (axis + r * scale, floor - p * _TALL) for r, p in zip(drawn.radii, shares, strict=True)
        ]
        return [(2 * axis - x, y) for x, y in reversed(right)] + right

    now = placed(drawn.now)
    outline = [(now[0][0], floor), *now, (now[-1][0], floor)]
    board.path(course(outline, closed=True), fill="#43200f", stroke=2.0, part="now")
    board.path(course(placed(drawn.before)), ink="#ffffff", stroke=5.0)
    board.path(course(placed(drawn.before)), stroke=2.6, dash="8 5", part="before")
