"""The window on the page is the one at the weld time that is set, with the predicted weld in it."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from buttonhole.coupon.criterion import find_criterion
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.web.window_view import window_of
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.window import WeldWindow

STACK = StackUp((Sheet(find_steel("DC04"), 0.8e-3), Sheet(find_steel("DC04"), 0.8e-3)))
CAP = ElectrodeCap(face_diameter=5e-3)
SET_UP = SpotSetUp((Pulse(8000.0, 0.26),), CurrentType.MFDC, 1900.0, CAP, CAP, 0.2, 0.1)
WINDOW = WeldWindow(
    currents=np.array([6000.0, 8000.0, 10000.0]),
    times=np.array([0.23, 0.26]),
    nugget=np.array([[[0.0, 3e-3, 5e-3], [1e-3, 4e-3, 5.5e-3]]]),
    expulsion=np.zeros((2, 3)),
    minimum_diameters=(3.5e-3,),
    lower_limit=np.array([8500.0, 7700.0]),
    upper_limit=np.array([np.nan, 9500.0]),
    robust_current=np.array([9000.0, 8600.0]),
)
WELD = SimpleNamespace(interfaces=(SimpleNamespace(nugget_diameter=Estimate(4.05e-3, 3e-3, 5e-3)),))


def view(set_up: SpotSetUp) -> SimpleNamespace:
    proposal = SimpleNamespace(
        set_up=set_up, window=WINDOW, criterion=find_criterion("4-root-t"), machine="Gun A"
    )
    return SimpleNamespace(stack=STACK, proposal=proposal, procedure=None, arc=None)


@pytest.mark.parametrize(
    ("time", "words"),
    [
        (0.23, "usable 8.5 kA to 10.0 kA"),
        (0.26, "usable 7.7 kA to 9.5 kA"),
    ],
)
def test_the_row_of_the_set_weld_time_is_drawn(time: float, words: str) -> None:
    set_up = replace(SET_UP, pulses=(Pulse(8000.0, time),))
    drawn = window_of(view(set_up), set_up, WELD)  # type: ignore[arg-type] # only these are read
    assert words in drawn.large
    assert words in drawn.small
    assert "chosen 8.0 kA: 4.05 mm" in drawn.large


def test_a_weld_time_that_was_not_looked_at_has_no_window() -> None:
    set_up = replace(SET_UP, pulses=(Pulse(8000.0, 0.245),))
    assert not window_of(view(set_up), set_up, WELD)  # type: ignore[arg-type] # only these are read


def test_another_force_has_another_window() -> None:
    set_up = replace(SET_UP, electrode_force=2500.0)
    assert not window_of(view(SET_UP), set_up, WELD)  # type: ignore[arg-type] # only these are read
