"""What the trade says of seams, as directions; their sizes are on the page docs/validation/seam.md.

Reference: 1 + 1 mm DC04, 0.8 mm wire, 5.6 m/min, 17.5 V, 13 mm from tube to work, 40 mm at 10 mm/s.
Numbers in the asserts say how clear an effect must be at least, judged.
"""

import dataclasses
import itertools
import math
from functools import cache

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.seam import (
    BackingBar,
    JointKind,
    Resolution,
    Run,
    SeamJoint,
    SeamSheet,
    seam_set_up,
    simulate,
    skip,
    stitches,
)
from buttonhole.weld.arc.seam.ensemble import middle
from buttonhole.weld.arc.seam.reading import SeamReading, read
from buttonhole.weld.arc.seam.simulation import Simulation
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire

QUICK = Resolution(cell=0.5e-3, rows=2, cooling_growth=0.04)
LENGTH = 30e-3
MM = 1e-3


@cache
def sheet(mm: float = 1.0) -> SeamSheet:
    return SeamSheet.of_steel(Sheet(find_steel("DC04"), mm * MM))


def lap(upper: float = 1.0, lower: float = 1.0, **more: float) -> SeamJoint:
    return SeamJoint(JointKind.LAP, sheet(upper), sheet(lower), LENGTH, **more)


def machine(
    work: float = 45.0, aim: float = 0.0, speed: float = 10.0, tube: float = 13.0, **more: float
) -> ArcSetUp:
    return ArcSetUp(
        find_wire("G 3Si1"), 0.8 * MM, find_gas("M21"), 5.6 / 60.0, 17.5, tube * MM,
        travel_speed=speed * MM, work_angle=math.radians(work), aim_offset=aim * MM,
        **{key: math.radians(value) for key, value in more.items()},
    )  # fmt: skip


WELDED: dict[object, tuple[Simulation, SeamReading]] = {}


def welded(joint: SeamJoint, set_up: ArcSetUp) -> tuple[Simulation, SeamReading]:
    """Weld each combination once; all sheets here are of one steel."""
    sizes = (joint.upper.thickness, joint.lower.thickness, joint.gap, joint.root_opening)
    key = (joint.kind, *sizes, joint.bar, set_up)
    if key not in WELDED:
        sim = simulate(joint, seam_set_up(joint, set_up), QUICK)
        assert sim.imbalance < 1e-10
        WELDED[key] = sim, read(sim)
    return WELDED[key]


def mid(joint: SeamJoint, set_up: ArcSetUp, name: str, code: int = -1) -> float:
    reading = welded(joint, set_up)[1]
    source = reading if code < 0 else reading.sheets[code]
    return middle(reading, getattr(source, name))


LOWER, UPPER = 0, 1


def test_aimed_into_the_joint_both_sheets_fuse() -> None:
    for work in (40.0, 45.0):
        set_up = machine(work)
        assert mid(lap(), set_up, "penetration", LOWER) > 0.3 * MM
        assert mid(lap(), set_up, "penetration", UPPER) > 0.3 * MM
        assert mid(lap(), set_up, "throat") > 0.4 * MM


def test_square_on_to_one_sheet_the_other_stays_unfused() -> None:
    """Explained by the model: it is the aim that counts."""
    into, on_lower, on_upper = machine(45.0), machine(90.0, 3.0), machine(90.0, -3.0)
    assert mid(lap(), on_lower, "penetration", UPPER) < 0.1 * MM
    assert mid(lap(), on_lower, "throat") == 0.0
    assert mid(lap(), on_upper, "penetration", LOWER) < 0.1 * MM
    # the zone one sees reaches further over the sheet pointed at
    for set_up, code in ((on_lower, LOWER), (on_upper, UPPER)):
        edge = mid(lap(), set_up, "haz_edge", code)
        assert edge > 1.3 * mid(lap(), into, "haz_edge", code)


def test_the_angle_alone_widens_no_zone() -> None:
    """Explained only in part: the trade says a torch at 90 degrees leaves a wider zone."""
    into, upright = machine(45.0), machine(90.0)
    for code in (LOWER, UPPER):
        bands = [mid(lap(), set_up, "haz_band", code) for set_up in (into, upright)]
        assert abs(bands[1] - bands[0]) < 0.3 * MM
    # it moves heat from the lower sheet to the edge of the upper one
    for name, more, less in (("haz_edge", UPPER, LOWER), ("penetration", UPPER, LOWER)):
        assert mid(lap(), upright, name, more) > mid(lap(), into, name, more)
        assert mid(lap(), upright, name, less) <= mid(lap(), into, name, less)
    slower = mid(lap(), machine(45.0, speed=6.0), "haz_band", LOWER)
    assert slower > mid(lap(), into, "haz_band", LOWER) + 0.4 * MM


def test_square_on_one_sheet_until_the_other_fuses_widens_the_zone() -> None:
    """The part that is explained: where the arc points, and how long it stays."""
    into, on_lower = machine(45.0), machine(90.0, 1.5)
    assert mid(lap(), on_lower, "penetration", UPPER) < 0.6 * mid(lap(), into, "penetration", UPPER)
    assert mid(lap(), on_lower, "haz_width", LOWER) > 1.03 * mid(lap(), into, "haz_width", LOWER)
    slowed = machine(90.0, 1.5, speed=6.0)
    assert mid(lap(), slowed, "penetration", UPPER) > 0.8 * mid(lap(), into, "penetration", UPPER)
    for name in ("haz_width", "zinc_width"):
        assert mid(lap(), slowed, name, LOWER) > 1.3 * mid(lap(), into, name, LOWER)


def test_a_hand_that_strays_by_little_changes_the_weld_by_little() -> None:
    joint, base = lap(), seam_set_up(lap(), machine())
    depths = []
    for stray in (-0.2, -0.1, 0.0, 0.1, 0.2):
        torch = dataclasses.replace(base.torch, stray=stray * MM)
        reading = read(simulate(joint, dataclasses.replace(base, torch=torch), QUICK, cooling=1.0))
        depths.append(middle(reading, reading.sheets[UPPER].penetration))
    steps = [a - b for a, b in itertools.pairwise(depths)]
    assert all(0.0 < step < 0.3 * MM for step in steps)


def test_longer_tube_distance_at_the_same_feed_costs_penetration() -> None:
    joint = lap(1.0, 1.5)
    depths = [mid(joint, machine(tube=tube), "penetration", LOWER) for tube in (10, 15, 20)]
    assert depths[0] > depths[1] + 0.05 * MM
    assert depths[1] > depths[2] or depths[1] == 0.0


def test_a_gap_costs_throat_and_burns_the_edge_back() -> None:
    """Explained: volume and chord. How far the edge burns back only partly: no flow, no force."""
    gaps = (0.0, 0.5, 1.0)
    throats = [mid(lap(gap=gap * MM), machine(), "throat") for gap in gaps]
    assert throats[0] > throats[1] + 0.05 * MM > throats[2]
    edges = [mid(lap(gap=gap * MM), machine(), "penetration", UPPER) for gap in gaps]
    assert edges[2] > edges[0] + 0.1 * MM
    heats = [mid(lap(gap=gap * MM), machine(), "haz_edge", UPPER) for gap in gaps]
    assert heats[0] < heats[1] < heats[2]


def test_faster_travel_is_narrower_and_cools_faster() -> None:
    speeds = (6.0, 8.0, 10.0, 13.0)
    for name, code in (("haz_width", LOWER), ("haz_width", UPPER), ("cooling_t85", -1)):
        values = [mid(lap(), machine(speed=speed), name, code) for speed in speeds]
        assert all(a > 1.05 * b for a, b in itertools.pairwise(values)), name


def test_the_start_is_cold_and_the_ends_cool_faster() -> None:
    _, reading = welded(lap(), machine())
    depth = reading.sheets[LOWER].penetration
    centre = middle(reading, depth)
    assert depth[int(np.argmin(np.abs(reading.x - 1 * MM)))] < 0.6 * centre
    times = [
        float(reading.cooling_t85[int(np.argmin(np.abs(reading.x - x * MM)))]) for x in (3, 15, 28)
    ]
    assert times[0] < 0.8 * times[1]
    assert times[2] < 0.8 * times[1]


def test_thin_and_thick_sheet() -> None:
    thin, thick = lap(0.8, 0.8), lap(1.0, 2.0)
    assert mid(thin, machine(), "outer_peak", LOWER) > mid(thick, machine(), "outer_peak", LOWER)
    assert mid(thick, machine(), "penetration", LOWER) < 0.6 * MM


def far_peak(sim: Simulation) -> float:
    """Hottest the lower sheet got 15 mm beside the middle of the seam [degC]."""
    i = int(np.argmin(np.abs(sim.x - 0.5 * sim.joint.length)))
    j = int(np.argmin(np.abs(sim.y + 15 * MM)))
    return float(sim.peak[i, 1, j])


def test_skipping_with_pauses_keeps_the_neighbourhood_cooler() -> None:
    """It is the pauses between short parts that count; their order alone does next to nothing."""
    joint = dataclasses.replace(lap(), length=60 * MM)
    base = seam_set_up(joint, machine())

    def peak(pause: float) -> float:
        runs = skip(60 * MM, (0, 2, 4, 1, 3, 5), 10 * MM, pause)
        return far_peak(simulate(joint, dataclasses.replace(base, runs=runs), QUICK))

    at_once = far_peak(simulate(joint, base, QUICK))
    assert peak(10.0) < at_once - 20.0
    assert abs(peak(0.0) - at_once) < 20.0


def test_stitches_leave_the_space_between_unwelded() -> None:
    joint = dataclasses.replace(lap(), length=50 * MM)
    runs = stitches(50 * MM, 15 * MM, 20 * MM, 10 * MM, 5.0)
    assert [(run.start, run.end) for run in runs] == [
        (0.0, pytest.approx(15 * MM)), (pytest.approx(35 * MM), pytest.approx(50 * MM)),
    ]  # fmt: skip
    sim = simulate(joint, dataclasses.replace(seam_set_up(joint, machine()), runs=runs), QUICK)
    reading = read(sim)
    between = np.abs(reading.x - 25 * MM) < 5 * MM
    assert reading.sheets[LOWER].penetration[between].max() == 0.0
    assert middle(reading, reading.sheets[UPPER].penetration) > 0.3 * MM
    assert sim.imbalance < 1e-10


def butt(opening: float, bar: BackingBar | None = None) -> SeamJoint:
    return SeamJoint(
        JointKind.BUTT_BACKED, sheet(), sheet(), LENGTH, root_opening=opening * MM, bar=bar
    )


@pytest.mark.parametrize("opening", [0.0, 1.0, 2.0])
def test_a_symmetric_butt_gives_a_symmetric_answer(opening: float) -> None:
    sim, _ = welded(butt(opening), machine(90.0))
    assert np.abs(sim.peak - sim.peak[:, :, ::-1]).max() < 1e-8


def test_an_open_root_fuses_the_backing_and_a_closed_one_does_not() -> None:
    closed, opened = butt(0.0), butt(2.0)
    assert mid(closed, machine(90.0), "penetration", LOWER) == 0.0
    assert mid(opened, machine(90.0), "penetration", LOWER) > 0.1 * MM
    peaks = [mid(butt(gap), machine(90.0), "outer_peak", LOWER) for gap in (0.0, 1.0, 2.0)]
    assert peaks[0] + 100 < peaks[1] < peaks[2] - 100


def test_a_bar_behind_takes_heat_away() -> None:
    plain, barred = butt(2.0), butt(2.0, BackingBar(3000.0))
    assert mid(barred, machine(90.0), "cooling_t85") < 0.9 * mid(
        plain, machine(90.0), "cooling_t85"
    )


def test_welding_backwards_mirrors_the_seam() -> None:
    base = seam_set_up(lap(), machine())
    there = simulate(lap(), base, QUICK)
    runs = (Run(LENGTH, 0.0, 10 * MM),)
    back = simulate(lap(), dataclasses.replace(base, runs=runs), QUICK)
    # cells fill one at a time from the low end of x: rounding decides ties, no more
    assert np.abs(there.peak[:, 1] - back.peak[::-1, 1]).mean() < 2.0
