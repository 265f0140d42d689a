"""A weld by finite elements of a general library gives the nugget of the solver's finite volumes.

Role: verification. Both have the same laws of contact and the same steps, nothing else in common.
Tolerance: 2 %, what either differs from its own finest grid at this cell, near the onset and above.
"""

import dataclasses

import pytest

from benchmarks.elements import Band
from benchmarks.weld_by_elements import SET_UP, STACK, Weld
from buttonhole.weld.spot.set_up import Pulse
from buttonhole.weld.spot.simulation import DEFAULT, simulate


@pytest.mark.parametrize("current", [6e3, 8e3, 10e3])
def test_elements_and_volumes_weld_the_same_nugget(current: float) -> None:
    asked = dataclasses.replace(SET_UP, pulses=(Pulse(current, SET_UP.weld_time),))
    ours = float(simulate(STACK, asked).nugget[0])
    assert Weld(DEFAULT, current, Band).run() == pytest.approx(ours, rel=0.02)
