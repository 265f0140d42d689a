"""The window: every point is its own weld, progress is told, and it is as fast as promised."""

import dataclasses
import time

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot import COARSE, window
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import DEFAULT, Resolution, simulate

CAP = ElectrodeCap(face_diameter=5e-3)
SHEET = Sheet(find_steel("DC04"), 0.8e-3)
TWO = StackUp((SHEET, SHEET))
SET_UP = SpotSetUp((Pulse(8e3, 0.16),), CurrentType.MFDC, 2e3, CAP, CAP, 0.3, 0.2)


def test_every_point_is_the_weld_of_its_own_current_and_time() -> None:
    currents, times, told = [6e3, 8e3, 9e3], [0.1, 0.16], []
    found = window(
        TWO, SET_UP, [3.5e-3], currents=currents, times=times, resolution=COARSE,
        progress=lambda done, of: told.append((done, of)),
    )  # fmt: skip
    assert told == [(n, 6) for n in range(1, 7)]
    for t, duration in enumerate(times):
        for c, current in enumerate(currents):
            asked = dataclasses.replace(SET_UP, pulses=(Pulse(current, duration),))
            # the window leaves out the cooling after the hold; nothing it tells hangs on that
            assert found.nugget[0, t, c] == simulate(TWO, asked, COARSE).nugget[0]


def test_contacts_do_not_change_after_the_hold() -> None:
    whole = simulate(TWO, SET_UP, COARSE)
    short = simulate(TWO, SET_UP, dataclasses.replace(COARSE, cooling=False))
    assert np.array_equal(whole.contact_radius, short.contact_radius)
    assert np.array_equal(whole.nugget, short.nugget)
    assert np.array_equal(whole.sunk, short.sunk)


def test_what_progress_raises_stops_the_work() -> None:
    def stop(done: int, of: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        window(TWO, SET_UP, [3.5e-3], currents=[6e3, 7e3], progress=stop, resolution=COARSE)


def least_time(stack: StackUp, resolution: Resolution = DEFAULT, runs: int = 7) -> float:
    return min(simulate(stack, SET_UP, resolution).seconds for _ in range(runs))


# Bounds are three times what is aimed at: the machine may be busy. Ratios are of one run.


@pytest.mark.slow
def test_a_weld_takes_less_time_than_the_weld_itself() -> None:
    assert least_time(TWO) < 0.12


@pytest.mark.slow
def test_a_window_takes_less_than_a_second_and_a_half() -> None:
    window(TWO, SET_UP, [3.5e-3], currents=[8e3])
    taken = []
    for _ in range(3):
        before = time.perf_counter()
        window(TWO, SET_UP, [3.5e-3])
        taken.append(time.perf_counter() - before)
    assert min(taken) < 1.5


@pytest.mark.slow
def test_three_sheets_are_not_much_dearer_than_two() -> None:
    assert least_time(StackUp((SHEET,) * 3)) < 2.5 * least_time(TWO)
    whole = dataclasses.replace(DEFAULT, whole=True)
    assert least_time(StackUp((SHEET,) * 3), whole) < 2.5 * least_time(TWO, whole)


@pytest.mark.slow
def test_cost_grows_as_cells_times_steps() -> None:
    work, seconds = [], []
    for cell in (0.2e-3, 0.1e-3, 0.05e-3):
        for longest in (3e-3, 0.75e-3):
            resolution = Resolution(cell=cell, longest_step=longest, t_step=30e3 * longest)
            weld = simulate(TWO, SET_UP, resolution)
            work.append((weld.layout.part >= 0).sum() * len(weld.record))
            seconds.append(least_time(TWO, resolution, 3))
    power = np.polyfit(np.log(work), np.log(seconds), 1)[0]
    assert 0.6 < power < 1.4
