"""What a root of the thickness can't say: a current sweep on unlike sheets, class B against A.

Tables for the page on spots. Sources: ``sweep_dp1180_if``, ``schedule_class_a`` and ``_b``.
"""

from collections.abc import Iterator

import numpy as np

from benchmarks.calibrate_contact import GRID
from benchmarks.published_rows import PublishedWeld
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table
from buttonhole.weld.spot import predict
from buttonhole.weld.spot.expulsion import splash
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import simulate
from buttonhole.weld.spot.window import window

UNLIKE = StackUp((Sheet(find_steel("DP1180"), 1.2e-3), Sheet(find_steel("DC06"), 0.8e-3)))
DOME = ElectrodeCap(face_diameter=6e-3, radius=40e-3)  # the radius is not printed: a usual one
SETTINGS = ((2.5e3, 0.2), (3.75e3, 0.35), (5e3, 0.5))  # N, s: ends and middle of what is printed
FLIES = 7.5  # kA, printed


def unlike_set_up(current: float, force: float, time: float) -> SpotSetUp:
    """What was set, as far as it is printed."""
    return SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, DOME, DOME, 0.3, 0.1)


def onset(force: float, time: float) -> float:
    """Current [A] at which every second weld is predicted to throw metal."""
    low, high = 5e3, 14e3
    while high - low > 20.0:
        middle = 0.5 * (low + high)
        weld = simulate(UNLIKE, unlike_set_up(middle, force, time), GRID)
        low, high = (middle, high) if splash(weld, UNLIKE) < 0.5 else (low, middle)
    return low


def unlike() -> Iterator[str]:
    """Lines of the table of the sweep on unlike sheets."""
    rows = [row for row in table("sweep_dp1180_if").rows() if row["meaning"] == "button"]
    amps = np.array([float(str(row["I [kA]"])) for row in rows])
    printed = np.array([float(str(row["diameter [mm]"])) for row in rows])
    heads = " | ".join(f"{one:g} kA" for one in amps)
    yield f"| force kN, time ms | {heads} | slope mm/kA | metal flies from kA |"
    yield "|---|" + "---|" * (len(amps) + 2)
    slope = np.polyfit(amps, printed, 1)[0]
    cells = " | ".join(f"{one:.2f}" for one in printed)
    yield f"| printed, button | {cells} | {slope:.2f} | {FLIES:g} |"
    for force, time in SETTINGS:
        found = [
            predict(UNLIKE, unlike_set_up(1e3 * one, force, time)).interfaces[0].button_diameter
            for one in amps
        ]
        values = np.array([1e3 * one.value for one in found])
        ours = np.polyfit(amps, values, 1)[0]
        cells = " | ".join(f"{one:.2f}" for one in values)
        off = 100 * (ours / slope - 1)
        flies = onset(force, time) / 1e3
        late = 100 * (flies / FLIES - 1)
        yield (
            f"| {force / 1e3:g}, {1e3 * time:.0f} | {cells} | {ours:.2f} ({off:+.0f} %) "
            f"| {flies:.1f} ({late:+.0f} %) |"
        )


def class_trade(rows: list[PublishedWeld]) -> Iterator[str]:
    """Lines of the table of class B's nugget against class A's, at equal thickness."""
    yield "| t mm | class A mm | class B mm | B over A % | printed |"
    yield "|---|---|---|---|---|"
    by_class = {
        name: {row.thickness: row for row in rows if row.source == f"schedule_class_{name}"}
        for name in "ab"
    }
    for thickness, a in by_class["a"].items():
        b = by_class["b"].get(thickness)
        if b is None:
            continue
        d = [1e3 * float(simulate(one.stack, one.set_up(0.0)).nugget[0]) for one in (a, b)]
        yield (
            f"| {1e3 * thickness:.2f} | {d[0]:.2f} | {d[1]:.2f} | {100 * (d[1] / d[0] - 1):+.1f} "
            f"| {100 * (b.nugget / a.nugget - 1):+.1f} |"
        )


def growth() -> Iterator[str]:
    """Line that says whether nuggets grow with the current all the way."""
    amps = [1e3 * one for one in np.arange(5.0, 10.1, 0.25)]
    for force, time in SETTINGS:
        set_up = unlike_set_up(amps[0], force, time)
        found = window(UNLIKE, set_up, [4e-3], currents=amps, resolution=GRID)
        steps = np.diff(found.nugget[0, 0])
        falls = int((steps < 0.0).sum())
        yield (
            f"- {force / 1e3:g} kN, {1e3 * time:.0f} ms, 5 to 10 kA in quarters: "
            f"{'grows all the way' if falls == 0 else f'falls {falls} times'}."
        )
