"""The chance of a good weld: against closed forms, and in the right direction."""

import dataclasses
from statistics import NormalDist

import numpy as np
import pytest

from buttonhole.weld.spot.chance import Curves, CurveSurroundings, Scatter, chances, least_of_best

NONE = Scatter(current=0.0, force=0.0, face=0.0, rest=0.0, gain=0.0, model=0.0)
CURRENTS = np.linspace(4e3, 14e3, 41)
LEAST = (4e-3,)


def grown(slope: float = 1e-6, begins: float = 4e3, splash: float = 20e3) -> Curves:
    """Nuggets that grow by ``slope`` [m/A] from ``begins`` [A]; splash begins at ``splash`` [A]."""
    nugget = np.clip(slope * (CURRENTS - begins), 0.0, None)[None, :]
    return Curves(CURRENTS, nugget, 1.0 / (1.0 + np.exp(-(CURRENTS - splash) / 100.0)))


@pytest.mark.parametrize("current", [7.8e3, 8.1e3, 8.4e3])
def test_scatter_of_the_current_alone_gives_the_normal_share(current: float) -> None:
    """4 mm is reached at 8 kA; with 3 % scatter the share over it is that of a normal curve."""
    scatter = dataclasses.replace(NONE, current=0.03)
    found = chances(np.array([current]), grown(), LEAST, scatter)
    share = NormalDist(current, 0.03 * current).cdf(current) and 1.0 - NormalDist(
        current, 0.03 * current
    ).cdf(8e3)
    assert found.known[0] == pytest.approx(share, abs=0.02)  # 64 points stand for all welds
    assert found.good[0] == pytest.approx(found.known[0])


def test_doubt_of_the_model_widens_the_interval_and_leaves_the_known_chance() -> None:
    sure = chances(np.array([8.4e3]), grown(), LEAST, dataclasses.replace(NONE, current=0.03))
    doubted = chances(
        np.array([8.4e3]), grown(), LEAST, dataclasses.replace(NONE, current=0.03, model=0.1)
    )
    assert doubted.known[0] == sure.known[0]
    assert sure.high[0] - sure.low[0] < 1e-9
    assert doubted.low[0] < 0.2 < 0.95 < doubted.high[0]
    assert doubted.low[0] <= doubted.good[0] <= doubted.high[0]


def test_what_spoils_welds_changes_from_one_end_to_the_other() -> None:
    found = chances(np.array([8.1e3, 9.0e3, 9.9e3]), grown(splash=10e3), LEAST, Scatter(model=0.0))
    assert found.small[0, 0] > found.small[0, 1] > found.small[0, 2]
    assert found.splash[0] < found.splash[1] < found.splash[2]
    assert found.good[1] > max(found.good[0], found.good[2])


def test_force_and_worn_faces_count_where_they_are_known() -> None:
    at, scatter = np.array([8.3e3]), dataclasses.replace(NONE, force=0.05, face=0.1)
    plain = chances(at, grown(), LEAST, scatter)
    assert plain.known[0] == pytest.approx(1.0, abs=1e-4)
    # a worn face asks for 1 kA more: it is too small once the wear is past three tenths
    worn = chances(at, grown(), LEAST, scatter, CurveSurroundings(worn=grown(begins=5e3)))
    assert worn.known[0] == pytest.approx(0.3, abs=0.03)
    # with 2 standard deviations more force 0.6 kA more are needed: half of that is one deviation
    more = chances(at, grown(), LEAST, scatter, CurveSurroundings(more_force=grown(begins=4.6e3)))
    assert more.known[0] == pytest.approx(NormalDist().cdf(1.0), abs=0.04)


def test_of_several_interfaces_all_must_do() -> None:
    one = grown()
    two = Curves(CURRENTS, np.vstack([one.nugget, one.nugget]), one.expulsion)
    scatter = dataclasses.replace(NONE, current=0.03)
    single = chances(np.array([8.2e3]), one, LEAST, scatter).known[0]
    alike = chances(np.array([8.2e3]), two, LEAST * 2, scatter).known[0]
    assert alike == pytest.approx(single, abs=2e-3)  # they move together, so it costs nothing
    stricter = chances(np.array([8.2e3]), two, (4e-3, 4.3e-3), scatter).known[0]
    assert stricter < single - 0.2


def test_past_the_map_expulsion_grows_on() -> None:
    short = Curves(CURRENTS[:21], grown(splash=9.4e3).nugget[:, :21],
                   grown(splash=9.4e3).expulsion[:21])  # fmt: skip
    assert short.currents[-1] == 9e3
    found = chances(np.array([8.9e3, 9.3e3, 9.8e3]), short, LEAST, NONE)
    assert found.splash[0] < 0.1 < 0.9 < found.splash[2]


def test_of_currents_that_are_alike_the_least_is_taken() -> None:
    assert least_of_best(np.array([0.5, 0.94, 0.96, 0.965, 0.6])) == 2
    assert least_of_best(np.array([0.5, 0.98, 0.9])) == 1
