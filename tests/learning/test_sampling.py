"""Both ways of drawing against a posterior that is known exactly: straight evidence, normal."""

import numpy as np
import pytest
from numpy.typing import NDArray

from buttonhole.learning.sampling import quick, tempered

A = np.array([[1.0, 0.5, 0.0], [0.0, 1.0, -1.0], [2.0, 0.0, 1.0]])
Y = np.array([1.0, -0.5, 2.0])
SD = 0.3


def straight(z: NDArray[np.float64]) -> NDArray[np.float64]:
    found: NDArray[np.float64] = -0.5 * np.sum(((z @ A.T - Y) / SD) ** 2, axis=1)
    return found


SPREAD = np.linalg.inv(np.eye(3) + A.T @ A / SD**2)
MIDDLE = SPREAD @ A.T @ Y / SD**2


@pytest.mark.parametrize("engine", [tempered, quick])
def test_draws_have_the_exact_mean_and_spread(engine: type) -> None:
    draws = engine(straight, 3, 7)
    mean = draws.weight @ draws.z
    sd = np.sqrt(np.diag(SPREAD))
    assert np.abs((mean - MIDDLE) / sd).max() < 0.12
    found = np.sqrt(draws.weight @ (draws.z - mean) ** 2)
    assert found == pytest.approx(sd, rel=0.12)


@pytest.mark.parametrize("engine", [tempered, quick])
def test_the_same_seed_gives_the_same(engine: type) -> None:
    one, other = engine(straight, 3, 7), engine(straight, 3, 7)
    assert (one.z == other.z).all()
    assert (engine(straight, 3, 8).z != one.z).any()


def test_the_quick_way_warns_where_there_are_two_tops() -> None:
    def two(z: NDArray[np.float64]) -> NDArray[np.float64]:
        near = np.exp(-0.5 * ((z[:, 0] - 1.5) / 0.01) ** 2)
        far = np.exp(-0.5 * ((z[:, 0] + 1.5) / 0.01) ** 2)
        found: NDArray[np.float64] = np.log(near + far + 1e-300) * np.ones(len(z))
        return found

    sure = tempered(two, 3, 1)
    assert 0.2 < (sure.z[:, 0] > 0).mean() < 0.8
    assert quick(two, 3, 1).effective < 400.0
