"""The thermal cycle: exact on curves known in closed form, and what the solver's own field says."""

import dataclasses
import math

import numpy as np
import pytest

from buttonhole.units import BadInput
from buttonhole.weld.spot import predict
from buttonhole.weld.spot.cycle import Point, check_point, cooling_time, heating_rate
from buttonhole.weld.spot.set_up import Pulse
from buttonhole.weld.spot.simulation import COARSE, DEFAULT, Simulation, simulate
from tests.weld.spot.welds import MILD, UNLIKE, joint, set_up

ROOM = 20.0


def test_the_cooling_time_of_newtons_law() -> None:
    time = np.linspace(0.0, 2.0, 4001)
    curve = ROOM + 1500.0 * np.exp(-time / 0.3)
    exact = 0.3 * math.log((800.0 - ROOM) / (500.0 - ROOM))
    assert cooling_time(time, curve) == pytest.approx(exact, rel=1e-4)


def test_the_cooling_time_behind_a_moving_point_source_in_thin_sheet() -> None:
    # T - T0 falls with the root of time: 1 / t is a parabola's, so t8/5 is known exactly
    time = np.linspace(0.1, 60.0, 60_000)
    curve = ROOM + 2000.0 / np.sqrt(time)
    exact = (2000.0 / 480.0) ** 2 - (2000.0 / 780.0) ** 2
    assert cooling_time(time, curve) == pytest.approx(exact, rel=1e-4)


def test_straight_lines_are_met_exactly_between_the_steps() -> None:
    time = np.array([0.0, 0.5, 1.0, 3.0])
    curve = np.array([20.0, 1020.0, 1020.0, 20.0])
    assert heating_rate(time, curve) == pytest.approx(2000.0)
    assert cooling_time(time, curve) == pytest.approx(0.6)


def test_after_two_pulses_the_last_cooling_counts_and_the_first_heating() -> None:
    time = np.array([0.0, 1.0, 2.0, 3.0, 5.0])
    curve = np.array([0.0, 1000.0, 0.0, 1000.0, 0.0])
    assert cooling_time(time, curve) == pytest.approx(0.6)
    assert heating_rate(time, curve) == pytest.approx(1000.0)


def test_what_never_came_to_pass_is_said() -> None:
    time = np.array([0.0, 1.0, 2.0])
    assert math.isnan(cooling_time(time, np.array([20.0, 700.0, 20.0])))
    assert math.isinf(cooling_time(time, np.array([20.0, 1000.0, 600.0])))
    assert math.isnan(heating_rate(time, np.array([20.0, 650.0, 20.0])))


def middles(faces: np.ndarray) -> np.ndarray:
    return (faces[1:] + faces[:-1]) / 2


@pytest.mark.parametrize("stack", [MILD, UNLIKE, joint(*[("DC04", 0.8)] * 3)])
def test_the_trace_at_a_cell_is_the_cell(stack: object) -> None:
    asked = set_up(8e3)
    grid = simulate(stack, asked, COARSE).layout
    rows = np.flatnonzero((grid.part[:, 0] > 0) & (grid.part[:, 0] < grid.part[:, 0].max()))
    cells = [(int(rows[0]), 3), (int(rows[len(rows) // 2]), 0), (int(rows[-1]), 7)]
    r, z = middles(grid.r_faces), middles(grid.z_faces)
    points = tuple(Point(float(r[i]), float(z[j])) for j, i in cells)
    weld = simulate(stack, asked, COARSE, points=points)
    for n, (j, i) in enumerate(cells):
        assert weld.trace[:, 1 + n].max() == pytest.approx(float(weld.peak[j, i]), rel=1e-9)
    assert (np.diff(weld.trace[:, 0]) > 0.0).all()
    assert weld.trace[0].tolist() == pytest.approx([0.0, ROOM, ROOM, ROOM])


def test_the_trace_on_the_axis_of_an_interface_has_the_cooling_time_of_the_weld() -> None:
    for stack, depth in ((MILD, 0.8e-3), (UNLIKE, 1.2e-3)):
        weld = simulate(stack, set_up(8e3), points=(Point(0.0, depth),))
        read = cooling_time(weld.trace[:, 0], weld.trace[:, 1])
        # unlike sheets have unlike cells: the mean of two is not quite the line between them
        assert read == pytest.approx(float(weld.cooling_t85[0]), rel=1e-4)


def test_points_that_mirror_each_other_have_one_cycle() -> None:
    weld = simulate(MILD, set_up(8e3), points=(Point(1e-3, 0.3e-3), Point(1e-3, 1.3e-3)))
    assert weld.trace[:, 1] == pytest.approx(weld.trace[:, 2], rel=1e-9)


@pytest.mark.parametrize(
    "point", [Point(-1e-3, 0.0), Point(17e-3, 0.0), Point(0.0, 1.7e-3), Point(math.nan, 0.0)]
)
def test_a_point_outside_the_sheets_is_refused(point: Point) -> None:
    with pytest.raises(BadInput):
        check_point(point, MILD.total_thickness)


def cooling(stack: object, asked: object, resolution: object) -> float:
    weld: Simulation = simulate(stack, asked, resolution)
    return float(weld.cooling_t85[0])


@pytest.mark.parametrize(
    ("thickness", "current", "time", "hold"),
    [
        (0.5, 6.5e3, 0.1, 0.02),
        (0.5, 6.5e3, 0.1, 0.05),
        (0.5, 6.5e3, 0.1, 0.3),
        (0.8, 8e3, 0.16, 0.02),
        (0.8, 8e3, 0.16, 0.3),
        (1.5, 10e3, 0.3, 1.0),
    ],
)
def test_the_cooling_time_does_not_hang_on_the_step(
    thickness: float, current: float, time: float, hold: float
) -> None:
    stack = joint(("DC04", thickness), ("DC04", thickness))
    asked = set_up(current, time, hold_time=hold)
    fine = dataclasses.replace(DEFAULT, longest_step=0.5e-3, t_step=30.0)
    assert cooling(stack, asked, DEFAULT) == pytest.approx(cooling(stack, asked, fine), rel=0.03)


def test_a_longer_hold_cools_faster() -> None:
    times = [cooling(MILD, set_up(8e3, hold_time=hold), COARSE) for hold in (0.0, 0.1, 0.2, 0.4)]
    assert times == sorted(times, reverse=True)
    assert times[-1] < 0.5 * times[0]


def test_a_point_farther_out_stays_cooler_and_heats_more_slowly() -> None:
    points = tuple(Point(r, 0.4e-3) for r in (0.0, 1e-3, 2e-3, 3e-3))
    cycles = predict(MILD, set_up(8e3), points=points).cycles[1:]
    assert [one.point for one in cycles] == list(points)
    peaks = [one.peak.value for one in cycles]
    assert peaks == sorted(peaks, reverse=True)
    # in the middle the heat is even; towards the edge of the contact it is not
    rates = [one.heating_rate.value for one in cycles[:3]]
    assert rates[0] == pytest.approx(rates[1], rel=0.2)
    assert rates[2] < 0.9 * rates[0]


def test_a_second_pulse_heats_again() -> None:
    asked = set_up(1.0, pulses=(Pulse(8e3, 0.1, 0.2), Pulse(6e3, 0.1)))
    weld = predict(MILD, asked)
    trace = weld.cycles[0]
    between = np.interp(0.29, trace.time, trace.temperature)
    after = np.interp(0.40, trace.time, trace.temperature)
    assert after > between + 200.0
