"""A run of welds with the same caps: heat books, what it comes to, and limits with an answer."""

import math

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot.condition import ROOM, SpotCondition
from buttonhole.weld.spot.run import SHANK_CAPACITY, SHANK_LOSS, WeldRun, weld_run
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

SHEET = Sheet(find_steel("DC04"), 0.8e-3)
TWO = StackUp((SHEET, SHEET))
CAP = ElectrodeCap(5e-3)
SET_UP = SpotSetUp((Pulse(8e3, 0.16),), CurrentType.MFDC, 2.2e3, CAP, CAP, 0.3, 0.1)
AIR = SpotCondition(water_temperature=None)


@pytest.fixture(scope="module")
def wet() -> WeldRun:
    return weld_run(TWO, SET_UP, 14, 2.0)


@pytest.fixture(scope="module")
def dry() -> WeldRun:
    return weld_run(TWO, SET_UP, 6, 4.0, condition=AIR)


def test_in_water_the_run_settles_and_gives_off_what_it_gains(wet: WeldRun) -> None:
    assert wet.settled is not None
    assert (np.diff(wet.start[:, 0]) >= -1e-6).all()
    assert wet.given[-1] == pytest.approx(wet.gained[-1], rel=0.02)
    assert (wet.peak_face > wet.start).all()


def test_the_books_of_the_caps_close(wet: WeldRun, dry: WeldRun) -> None:
    """What a cap holds at the start of a weld is all it gained before less all it gave off."""
    for run in (wet, dry):
        held = np.cumsum(run.gained - run.given, axis=0)
        assert (held[:-1] > -1e-9).all()
        # the mean temperature and the heat tell the same: both are of one field
        rises = (run.start[1:] - ROOM)[:, 0]
        ratio = held[:-1, 0] / rises
        assert ratio == pytest.approx(ratio[0], rel=0.02)


def test_without_water_the_shank_follows_its_balance(dry: WeldRun) -> None:
    """A lumped body with a loss lies between no loss and all of the loss from the start."""
    assert (np.diff(dry.shank[:, 0]) > 0.0).all()
    most = ROOM + np.cumsum(dry.given[:, 0]) / SHANK_CAPACITY
    assert (dry.shank[:, 0] <= most + 1e-9).all()
    spans = 4.0 * np.arange(len(dry.shank), 0, -1)
    least = ROOM + sum(
        heat / SHANK_CAPACITY * math.exp(-SHANK_LOSS / SHANK_CAPACITY * span)
        for heat, span in zip(dry.given[:, 0], spans, strict=True)
    )
    assert dry.shank[-1, 0] >= least
    assert dry.start[-1, 0] > 40.0


def test_air_is_hotter_than_water_and_a_longer_interval_colder(dry: WeldRun) -> None:
    water = weld_run(TWO, SET_UP, 3, 4.0)
    slow = weld_run(TWO, SET_UP, 3, 20.0, condition=AIR)
    assert dry.start[2, 0] > water.start[2, 0] + 10.0
    assert slow.start[2, 0] < dry.start[2, 0]


def test_the_first_weld_is_the_single_weld(wet: WeldRun) -> None:
    from buttonhole.weld.spot.simulation import COARSE, simulate

    assert wet.nugget[0] == pytest.approx(simulate(TWO, SET_UP, COARSE).nugget, rel=1e-9)
    assert wet.start[0] == pytest.approx([ROOM, ROOM])


def test_it_can_be_watched_and_stopped() -> None:
    seen: list[tuple[int, int]] = []

    def stop(done: int, of: int) -> None:
        seen.append((done, of))
        if done == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        weld_run(TWO, SET_UP, 5, 2.0, progress=stop)
    assert seen == [(1, 5), (2, 5)]


@pytest.mark.parametrize(("welds", "interval", "key"), [(0, 2.0, "welds"), (3, 0.4, "interval")])
def test_what_is_no_run_is_refused(welds: int, interval: float, key: str) -> None:
    with pytest.raises(BadInput) as caught:
        weld_run(TWO, SET_UP, welds, interval)
    assert caught.value.key == key
