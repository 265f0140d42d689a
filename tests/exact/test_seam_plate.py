"""The seam's solver on a bare plate against closed forms. Role: verification.

Sources: instantaneous sources with mirror images (Carslaw and Jaeger), Rosenthal's moving line and
point (from memory); worked values of the moving disc from the table of field checks, derived.
"""

import math
from functools import cache

import numpy as np
import pytest

from buttonhole.weld.arc.seam.layout import DEFAULT, PREVIEW, Resolution
from buttonhole.weld.arc.seam.simulation import Simulation
from tests.exact.seam_plate import (
    CP,
    DIFFUSIVITY,
    RHO,
    START,
    K,
    moving_disc,
    temperature,
    thick_point,
    thin_line,
    weld_plate,
)

THICK, POWER, SPEED, SIGMA, LENGTH = 1.5e-3, 900.0, 8e-3, 2e-3, 16e-3
DEFAULT_GOAL = 0.005  # of the peak: promised for the default grid
SHORT_STEP = 2e-3  # s, where the step's error is far below the cell's


@cache
def march(cell: float, rows: int, longest: float) -> Simulation:
    grid = Resolution(cell=cell, rows=rows, travel=1.0, longest_arc_step=longest)
    return weld_plate(THICK, POWER, SPEED, LENGTH, SIGMA, grid, width=25e-3)


def errors(sim: Simulation) -> tuple[np.ndarray, float]:
    """Of the temperatures from 12 mm behind the arc to 2 mm before it [K], and the peak's rise."""
    layout = sim.layout
    xs = np.flatnonzero(np.abs(sim.x - LENGTH + 5e-3) < 7e-3)
    ys = np.flatnonzero(np.abs(sim.y) < 5e-3)
    middles = 0.5 * (layout.z_faces[1:] + layout.z_faces[:-1])
    rows = np.flatnonzero((sim.part[xs[0], 1:-1, ys[0]]) >= 0) + 1
    depth = THICK - middles[rows - 1]
    x, d, y = np.meshgrid(sim.x[xs], depth, sim.y[ys], indexing="ij")
    want = moving_disc(x, y, d, sim.end, LENGTH / SPEED, POWER, SPEED, THICK, SIGMA)
    have = temperature(sim)[np.ix_(xs, rows, ys)] - START
    return have - want, float(want.max())


def test_moving_disc_on_a_plate_at_the_default_grid() -> None:
    """The plate is two sheets of the default's two cells each."""
    sim = march(DEFAULT.cell, DEFAULT.rows, DEFAULT.longest_arc_step)
    off, peak = errors(sim)
    assert np.abs(off).max() < DEFAULT_GOAL * peak
    assert sim.imbalance < 1e-10


def test_the_closed_form_is_that_of_the_worked_table() -> None:
    # q 1440 W, v 8.3333 mm/s, k 0.030 W/mm/K, rho c 5.4e-3 J/mm3/K, sigma 1.5 mm, plate of 2 mm
    scale = 5.4e6 / (RHO * CP)
    a = K / 5.4e6
    assert abs(DIFFUSIVITY / a - 1.0) < 2e-4
    for x, y, z, want in (
        (-5e-3, 0.0, 2e-3, 2033.71),
        (-10e-3, 0.0, 0.0, 1595.55),
        (-5e-3, 3e-3, 0.0, 1254.4),
        (0.0, 0.0, 2e-3, 1185.72),
    ):
        at = np.array([8.3333e-3 * 60.0 + x])
        have = moving_disc(
            at, np.array([y]), np.array([z]), 60.0, 60.0, 1440.0, 8.3333e-3, 2e-3, 1.5e-3
        )
        assert have[0] / scale == pytest.approx(want, rel=3e-3)


def rms(cell: float, rows: int) -> float:
    off, _ = errors(march(cell, rows, SHORT_STEP))
    return math.sqrt(float((off**2).mean()))


def test_second_order_in_the_cell() -> None:
    """The errors fall by 3.3 for half the cell; a little of the step's is left in them."""
    assert math.log2(rms(1e-3, 1) / rms(0.5e-3, 2)) > 1.5


@pytest.mark.slow
def test_second_order_goes_on_with_finer_cells() -> None:
    coarse, fine = rms(1e-3, 1), rms(1e-3 / 3.0, 3)
    assert math.log(coarse / fine) / math.log(3.0) > 1.5


def test_first_order_in_the_step() -> None:
    exact = temperature(march(0.5e-3, 2, SHORT_STEP))
    found, steps = [], []
    for longest in (40e-3, 8e-3):  # six times one explicit step, and one
        sim = march(0.5e-3, 2, longest)
        xs = np.abs(sim.x - LENGTH + 8e-3) < 4e-3
        found.append(math.sqrt(float(((temperature(sim) - exact)[xs] ** 2).mean())))
        steps.append(LENGTH / SPEED / sim.steps)
    assert steps[0] > 2.0 * steps[1]
    order = math.log(found[0] / found[1]) / math.log(steps[0] / steps[1])
    assert 0.7 < order < 2.0


def test_preview_stays_within_five_percent_of_the_peak() -> None:
    off, peak = errors(march(PREVIEW.cell, PREVIEW.rows, PREVIEW.longest_arc_step))
    assert np.abs(off).max() < 0.05 * peak


def test_thin_plate_cooling_time() -> None:
    """A fast arc in a thin plate: t8/5 by the line source, which a wide arc only shifts in time."""
    thick, power, speed, length = 1.5e-3, 1200.0, 20e-3, 70e-3
    sim = weld_plate(thick, power, speed, length, 1.6e-3, DEFAULT, cooling=6.0)
    middle = int(np.argmin(np.abs(sim.x - 0.5 * length)))
    column = int(np.argmin(np.abs(sim.y - 0.25e-3)))
    per_area = power / speed / thick
    want = per_area**2 / (4.0 * math.pi * K * RHO * CP) * (480.0**-2 - 780.0**-2)
    assert sim.cooling[middle, 1, column] == pytest.approx(want, rel=0.005)


def test_rosenthals_line_in_a_thin_plate() -> None:
    """Behind a long run the field is the line source's; near the arc its width rounds it off."""
    thick, power, speed, length, sigma = 1e-3, 900.0, 10e-3, 90e-3, 1.2e-3
    sim = weld_plate(thick, power, speed, length, sigma, Resolution(cell=0.8e-3, rows=1))
    arc, t = length, temperature(sim)[:, 1] - START
    for back, aside in ((15e-3, 0.4e-3), (18e-3, 4e-3), (22e-3, 6e-3)):
        i = int(np.argmin(np.abs(sim.x - arc + back)))
        j = int(np.argmin(np.abs(sim.y - aside)))
        late = sim.end - length / speed  # the arc went out that long ago
        x = sim.x[i] - arc - speed * late
        line = thin_line(np.array([x]), np.array([sim.y[j]]), power, speed, thick)[0]
        # a disc acts as a line that is sigma^2 / 2a older: 3 to 5 % at these places
        assert t[i, j] == pytest.approx(line, rel=0.06)


def test_rosenthals_point_is_the_limit_of_the_disc() -> None:
    """The solver is held to the disc, and here the disc to the point."""
    at = 8e-3 * 40.0
    for x, y, z in ((-6e-3, 0.0, 0.0), (-8e-3, 2e-3, 1e-3), (-12e-3, 4e-3, 0.0)):
        disc = moving_disc(
            np.array([at + x]),
            np.array([y]),
            np.array([z]),
            40.0,
            40.0,
            900.0,
            8e-3,
            60e-3,
            0.05e-3,
        )[0]
        point = thick_point(np.array([x]), np.array([y]), np.array([z]), 900.0, 8e-3)[0]
        assert disc == pytest.approx(point, rel=0.01)
