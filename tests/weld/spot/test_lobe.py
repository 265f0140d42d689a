"""The lobe: its limits move the right way, bind where they are first, and its room adds up."""

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.chance import Scatter
from buttonhole.weld.spot.lobe import LimitKind, Lobe, lobe
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import COARSE

CAP = ElectrodeCap(face_diameter=6e-3)
SHEET = Sheet(find_steel("DC04"), 0.8e-3)
TWO = StackUp((SHEET, SHEET))
SET_UP = SpotSetUp((Pulse(8.5e3, 0.16),), CurrentType.MFDC, 2.2e3, CAP, CAP, 0.3, 0.1)
RULES = {"small": [3.6e-3], "chosen": [4.0e-3]}
FORCES = (2.2e3, 2.9e3)


@pytest.fixture(scope="module")
def found() -> Lobe:
    return lobe(
        TWO, SET_UP, RULES, "chosen", FORCES, resolution=COARSE,
        currents=np.linspace(5e3, 14e3, 13).tolist(), times=[0.08, 0.16, 0.28],
    )  # fmt: skip


def curve(found: Lobe, level: int, kind: LimitKind, rule: str = "") -> np.ndarray:
    limits = found.levels[level].limits
    return next(one.currents for one in limits if one.kind is kind and one.rule == rule)


def test_longer_welds_need_less_current_and_splash_sooner(found: Lobe) -> None:
    for level in (0, 1):
        least = curve(found, level, LimitKind.LEAST_WELD, "chosen")
        assert (np.diff(least) < 0).all()
        splash = curve(found, level, LimitKind.EXPULSION)
        # read off a map of 750 A from current to current: a fiftieth of that is no rise
        assert (np.diff(splash[~np.isnan(splash)]) < 15.0).all()


def test_more_force_needs_more_current_and_splashes_later(found: Lobe) -> None:
    less, more = (curve(found, level, LimitKind.LEAST_WELD, "chosen") for level in (0, 1))
    assert (more > less).all()
    first, second = (np.nan_to_num(curve(found, k, LimitKind.EXPULSION), nan=14e3) for k in (0, 1))
    assert (second >= first).all()
    assert second[-1] > first[-1]


def test_a_larger_diameter_begins_at_more_current(found: Lobe) -> None:
    small = curve(found, 0, LimitKind.LEAST_WELD, "small")
    assert (small < curve(found, 0, LimitKind.LEAST_WELD, "chosen")).all()


def test_the_limit_that_binds_is_the_end_of_the_usable_currents(found: Lobe) -> None:
    for level in found.levels:
        for t in range(3):
            ends = {one.kind: one.currents[t] for one in level.limits if one.binds[t]}
            assert ends[LimitKind.LEAST_WELD] == level.low[t]
            uppers = [current for kind, current in ends.items() if kind != LimitKind.LEAST_WELD]
            assert all(current == pytest.approx(level.high[t]) for current in uppers)
            assert uppers or level.high[t] == 14e3
        assert not any(any(one.binds) for one in level.limits if one.rule == "small")


def test_width_and_area_add_up(found: Lobe) -> None:
    level = found.levels[0]
    assert level.widths == pytest.approx(level.high - level.low)
    by_hand = 0.5 * (level.widths[0] + level.widths[1]) * 0.08
    by_hand += 0.5 * (level.widths[1] + level.widths[2]) * 0.12
    assert level.area == pytest.approx(by_hand)


def test_a_dent_that_is_allowed_less_ends_the_lobe_sooner() -> None:
    shallow, deep = (
        lobe(
            TWO, SET_UP, RULES, "chosen", FORCES[:1], resolution=COARSE, dent=dent,
            currents=[6e3, 8e3, 10e3, 12e3], times=[0.16, 0.28],
        ).levels[0]
        for dent in (0.05, 0.9)
    )  # fmt: skip
    assert (shallow.widths <= deep.widths).all()
    assert shallow.area < deep.area
    binds = [one for one in shallow.limits if one.kind is LimitKind.INDENTATION]
    assert len(binds) == 2


def test_what_progress_raises_stops_the_lobe() -> None:
    told: list[float] = []

    def stop(done: int, of: int) -> None:
        told.append(done / of)
        if len(told) == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        lobe(
            TWO, SET_UP, RULES, "chosen", FORCES, resolution=COARSE, progress=stop,
            currents=[6e3, 8e3, 10e3], times=[0.08, 0.16],
        )  # fmt: skip
    assert told == sorted(told)
    assert told[-1] < 0.5


def test_the_robust_set_up_stays_inside_what_is_usable_by_the_dent_as_well() -> None:
    found = lobe(
        TWO, SET_UP, RULES, "chosen", FORCES[:1], resolution=COARSE, dent=0.08, scatter=Scatter(),
        currents=np.linspace(5e3, 13e3, 9).tolist(), times=[0.12, 0.2],
    ).levels[0]  # fmt: skip
    best = found.robust
    assert best is not None
    t = found.window.times.tolist().index(best.time)
    assert found.low[t] <= best.current <= found.high[t]
    splash = next(one for one in found.limits if one.kind is LimitKind.EXPULSION).currents[t]
    assert np.isnan(splash) or found.high[t] <= splash
