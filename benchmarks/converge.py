"""How far the nugget at the default grid and steps is from its limit; tables for the page on spots.

The limit is extrapolated from two finer grids at finer steps, taking the error to fall with the
cell: the law of the edge of a contact, which rules it. Where two grids agree to their noise the
finest one is the limit as well as can be told.
"""

from collections.abc import Iterator
from dataclasses import replace

from benchmarks.published_rows import PublishedWeld
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import DEFAULT, Resolution, simulate

GRIDS = (
    Resolution(cell=0.2e-3),
    DEFAULT,
    Resolution(cell=0.05e-3, t_step=30.0, longest_step=1.5e-3),
    Resolution(cell=0.025e-3, t_step=30.0, longest_step=1.5e-3),
    replace(DEFAULT, t_step=20.0, longest_step=0.75e-3),
)


def nugget_at(current: float, resolution: Resolution, t: float, face: float, force: float) -> float:
    """Nugget of two sheets of DC04 [m], direct current."""
    sheet, cap = Sheet(find_steel("DC04"), t), ElectrodeCap(face_diameter=face)
    pulse = Pulse(current, 0.2 * t / 1e-3)
    set_up = SpotSetUp((pulse,), CurrentType.MFDC, force, cap, cap, 0.3, 0.0)
    return float(simulate(StackUp((sheet, sheet)), set_up, resolution).nugget[0])


def convergence(t: float, face: float, force: float, currents: list[float]) -> Iterator[str]:
    """Lines of the table of grids and steps for one thickness."""
    yield f"Two sheets of {t * 1e3:g} mm, face {face * 1e3:g} mm, {force / 1e3:g} kN:"
    yield ""
    yield (
        "| kA | 0.2 mm | 0.1 mm (default) | 0.05 mm | 0.025 mm | limit | default against limit "
        "| default, steps an eighth | default against them |"
    )
    yield "|---|---|---|---|---|---|---|---|---|"
    for current in currents:
        d = [nugget_at(current, grid, t, face, force) * 1e3 for grid in GRIDS]
        limit = 2.0 * d[3] - d[2]
        apart = f"{100 * (d[1] / limit - 1):+.1f} %" if limit > 0 else "no nugget"
        steps = f"{100 * (d[1] / d[4] - 1):+.1f} %" if d[4] > 0 else "no nugget"
        sizes = " | ".join(f"{x:.2f}" for x in (*d[:4], limit))
        yield f"| {current / 1e3:g} | {sizes} | {apart} | {d[4]:.2f} | {steps} |"
    yield ""


def alternating(rows: list[PublishedWeld]) -> Iterator[str]:
    """Lines of the table of steps with alternating current, on every sixth row that has one."""
    yield (
        "Alternating current burns the films at its crest; a step is a twentieth of a cycle at "
        "most, so that it is seen:"
    )
    yield ""
    yield "| source | t mm | kA | default mm | steps of 0.2 ms mm | default against them |"
    yield "|---|---|---|---|---|---|"
    followed = replace(DEFAULT, longest_step=2e-4, t_step=15.0)
    for row in [row for row in rows if row.current_type is not CurrentType.MFDC][::6]:
        long, short = (
            1e3 * float(simulate(row.stack, row.set_up(0.0), steps).nugget[0])
            for steps in (DEFAULT, followed)
        )
        yield (
            f"| {row.source} | {row.thickness * 1e3:.2f} | {row.current / 1e3:.1f} | {long:.2f} "
            f"| {short:.2f} | {100 * (long / short - 1):+.1f} % |"
        )
