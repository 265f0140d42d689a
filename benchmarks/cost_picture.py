"""A picture of time against cells times steps, both on logarithmic axes."""

import math

WIDTH, HEIGHT = 560, 360
LEFT, RIGHT, TOP, BOTTOM = 70, 20, 20, 50
INK, DOT = "#222222", "#1f5fa8"


def decades(values: list[float]) -> tuple[int, int]:
    """Return the powers of ten that enclose the values."""
    return math.floor(math.log10(min(values))), math.ceil(math.log10(max(values)))


def picture(points: list[tuple[float, float]]) -> str:
    """Draw the points and the straight line on which time grows evenly, as SVG.

    Parameters
    ----------
    points : list of tuple
        Cells times steps [-] and time [s].

    Returns
    -------
    str
        The drawing.
    """
    works, times = ([point[axis] for point in points] for axis in (0, 1))
    x_range, y_range = decades(works), decades(times)

    def place(work: float, time: float) -> tuple[float, float]:
        x = (math.log10(work) - x_range[0]) / (x_range[1] - x_range[0])
        y = (math.log10(time) - y_range[0]) / (y_range[1] - y_range[0])
        return (
            LEFT + x * (WIDTH - LEFT - RIGHT),
            HEIGHT - BOTTOM - y * (HEIGHT - TOP - BOTTOM),
        )

    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" '
        'font-family="sans-serif" font-size="13" role="img">',
        "<title>Time of a weld against cells times steps</title>",
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="white"/>',
    ]
    for power in range(x_range[0], x_range[1] + 1):
        x, low = place(10.0**power, 10.0 ** y_range[0])
        parts += [
            f'<path d="M{x:.1f} {TOP}V{low:.1f}" stroke="#dddddd"/>',
            f'<text x="{x:.1f}" y="{low + 18:.1f}" text-anchor="middle">1e{power}</text>',
        ]
    for power in range(y_range[0], y_range[1] + 1):
        left, y = place(10.0 ** x_range[0], 10.0**power)
        parts += [
            f'<path d="M{left:.1f} {y:.1f}H{WIDTH - RIGHT}" stroke="#dddddd"/>',
            f'<text x="{left - 8:.1f}" y="{y + 4:.1f}" text-anchor="end">1e{power} s</text>',
        ]
    # the line of even growth through the middle of the points
    each = math.exp(sum(math.log(time / work) for work, time in points) / len(points))
    ends = [place(work, each * work) for work in (min(works), max(works))]
    (x1, y1), (x2, y2) = ends
    parts.append(
        f'<path d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}" stroke="{INK}" stroke-dasharray="5 4"/>'
    )
    for work, time in points:
        x, y = place(work, time)
        parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="{DOT}"/>')
    parts += [
        f'<text x="{(LEFT + WIDTH - RIGHT) / 2}" y="{HEIGHT - 10}" text-anchor="middle">'
        f"cells times steps (dashed: {1e9 * each:.0f} ns each)</text>",
        "</svg>",
    ]
    return "\n".join(parts) + "\n"
