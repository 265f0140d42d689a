"""The robust set-up: where the chance is greatest, in the shortest of times that are alike."""

import dataclasses
import math

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.chance import Scatter
from buttonhole.weld.spot.robust import (
    ENOUGH,
    TIE,
    neighbours,
    robust,
    shortest_alike,
)
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.window import WeldWindow

CAP = ElectrodeCap(face_diameter=5e-3)
SHEET = Sheet(find_steel("DC04"), 0.8e-3)
TWO = StackUp((SHEET, SHEET))
SET_UP = SpotSetUp((Pulse(8e3, 0.16),), CurrentType.MFDC, 2e3, CAP, CAP, 0.3, 0.2)
CURRENTS = np.linspace(5e3, 12e3, 29)


def mapped(splash: float = 10e3, times: tuple[float, ...] = (0.12, 0.16, 0.2)) -> WeldWindow:
    """A made-up map: 1 mm for each kA over 4 kA, alike at all weld times; splash at ``splash``."""
    n = len(times)
    nugget = np.broadcast_to(1e-6 * (CURRENTS - 4e3), (1, n, len(CURRENTS))).copy()
    chance = 1.0 / (1.0 + np.exp(-(CURRENTS - splash) / 60.0))
    low, high = np.full(n, 8e3), np.full(n, splash)
    expulsion = np.tile(chance, (n, 1))
    return WeldWindow(CURRENTS, np.array(times), nugget, expulsion, (4e-3,), low, high, low)


def like(found: WeldWindow):  # type: ignore[no-untyped-def]  # a stand-in for the solver
    """Neither force nor wear change anything."""

    def compute(*_stack: object, **given: object) -> WeldWindow:
        assert given["currents"] == CURRENTS.tolist()
        return mapped(float(found.upper_limit[0]), tuple(given["times"]))  # type: ignore[arg-type]

    return compute


def test_the_robust_current_lies_between_the_ends_and_further_off_the_wider_scatter() -> None:
    found = mapped()
    best = robust(TWO, SET_UP, found, Scatter(model=0.02), compute=like(found))
    assert 8.4e3 < best.current < 9.6e3
    assert best.current % 100.0 == 0.0
    assert best.is_robust
    assert best.chance.low <= best.chance.value <= best.chance.high
    assert best.spreads_to_low == pytest.approx((best.current - 8e3) / (0.03 * best.current))
    wider = robust(TWO, SET_UP, found, Scatter(current=0.06, model=0.02), compute=like(found))
    assert wider.chance.value < best.chance.value
    assert wider.known < best.known


def test_of_weld_times_that_are_alike_the_shortest_is_taken() -> None:
    found = mapped()
    best = robust(TWO, SET_UP, found, Scatter(), compute=like(found))
    assert best.time == 0.12
    assert best.times == (0.12, 0.16, 0.2)
    assert shortest_alike([0.90, 0.915, 0.91], TIE) == 0
    assert shortest_alike([0.80, 0.915, 0.92], TIE) == 1


def test_a_narrow_window_is_called_not_robust_and_what_binds_is_named() -> None:
    tight = mapped(splash=8.25e3)
    best = robust(TWO, SET_UP, tight, Scatter(), compute=like(tight))
    assert not best.is_robust
    assert best.known < ENOUGH
    assert sum(best.too_small) + best.splash > 0.1
    binds = best.binding_interface
    assert (binds is None) == (best.splash >= max(best.too_small))


def test_a_weld_time_that_is_left_out_is_not_taken() -> None:
    found = mapped()
    limits = [(math.nan, math.nan), (8e3, 8.4e3), (8e3, 10e3)]
    best = robust(TWO, SET_UP, found, Scatter(), limits=limits, compute=like(found))
    assert best.time == 0.2
    assert best.current > 8.4e3


def test_neighbours_are_a_little_off_and_worn_faces_wider() -> None:
    less, more, dull = neighbours(SET_UP, Scatter(force=0.05, face=0.1))
    assert (less.electrode_force, more.electrode_force) == pytest.approx((1.8e3, 2.2e3))
    assert dull.cap_a.face_diameter == pytest.approx(5.5e-3)
    assert dull.electrode_force == SET_UP.electrode_force
    domed = dataclasses.replace(SET_UP, cap_a=ElectrodeCap(radius=50e-3))
    dome = neighbours(domed, Scatter(face=0.1))[2].cap_a
    # at one depth a sphere touches in proportion to the root of its radius
    assert math.sqrt(dome.radius / 50e-3) == pytest.approx(1.1)  # type: ignore[operator]  # given


def test_progress_never_goes_back() -> None:
    told: list[float] = []
    found = mapped()

    def compute(*args: object, **given: object) -> WeldWindow:
        for done in (1, 2):
            given["progress"](done, 2)  # type: ignore[operator]  # the callable passed on
        return like(found)(*args, **given)

    robust(
        TWO, SET_UP, found, Scatter(), compute=compute,
        progress=lambda done, of: told.append(done / of),
    )  # fmt: skip
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_a_set_up_says_the_same_twice() -> None:
    found = mapped()
    one, two = (robust(TWO, SET_UP, found, Scatter(), compute=like(found)) for _ in range(2))
    assert dataclasses.asdict(one) == dataclasses.asdict(two)
