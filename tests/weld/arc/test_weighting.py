"""Weights of an ensemble against closed results of two bell curves."""

import math
from statistics import NormalDist

import numpy as np
import pytest

from buttonhole.weld.arc.weighting import (
    effective_size,
    expected_spread,
    log_fit,
    mean_and_spread,
    quantile,
    weights_of,
)

COUNT = 4000
EVEN = np.array([NormalDist().inv_cdf((i + 0.5) / COUNT) for i in range(COUNT)])


@pytest.mark.parametrize(("seen", "spread"), [(0.0, 1.0), (1.2, 0.5), (-1.5, 0.8)])
def test_two_bell_curves_make_the_one_of_bayes(seen: float, spread: float) -> None:
    weights = weights_of(log_fit(EVEN, seen, spread))
    mean, sigma = mean_and_spread(EVEN, weights)
    assert mean == pytest.approx(seen / (1.0 + spread**2), abs=2e-3)
    assert sigma == pytest.approx(spread / math.sqrt(1.0 + spread**2), rel=5e-3)
    # the bell curve round each member widens it by a known amount
    widened = sigma * math.sqrt(1.0 + (1.06 * effective_size(weights) ** -0.2) ** 2)
    for share in (0.05, 0.5, 0.95):
        wanted = mean + widened * NormalDist().inv_cdf(share)
        assert quantile(EVEN, weights, 0.0, share) == pytest.approx(wanted, abs=0.03)


def test_what_the_model_is_off_adds_in_squares() -> None:
    weights = np.full(COUNT, 1.0 / COUNT)
    high = quantile(EVEN, weights, 2.0, 0.95)
    assert high == pytest.approx(1.645 * math.sqrt(1.0 + 4.0), rel=0.02)


def test_effective_size_lies_between_one_and_all() -> None:
    assert effective_size(np.full(50, 0.02)) == pytest.approx(50.0)
    alone = np.zeros(50)
    alone[7] = 1.0
    assert effective_size(alone) == 1.0
    wide = weights_of(log_fit(EVEN, 0.0, 1.0))
    narrow = weights_of(log_fit(EVEN, 0.0, 0.1))
    assert effective_size(narrow) < effective_size(wide) < COUNT


def test_a_reading_far_from_all_still_gives_weights() -> None:
    weights = weights_of(log_fit(EVEN, 1e6, 1e-3))
    assert weights.sum() == pytest.approx(1.0)
    assert np.isfinite(weights).all()
    unknown = np.full(COUNT, math.nan)
    assert weights_of(log_fit(unknown, 1.0, 1.0)) == pytest.approx(np.full(COUNT, 1.0 / COUNT))


@pytest.mark.parametrize("noise", [0.3, 1.0])
def test_the_worth_of_a_look_is_that_of_bayes(noise: float) -> None:
    rng = np.random.default_rng(3)
    mark = rng.standard_normal(1500)
    hidden = 2.0 * mark + rng.standard_normal(1500)  # half of the doubt no look can take away
    even = np.full(1500, 1.0 / 1500)
    left = math.sqrt(4.0 * noise**2 / (1.0 + noise**2) + 1.0)
    found = expected_spread(hidden, mark, noise, even)
    assert left * 0.95 < found < left * 1.25  # the kernel is wider than the noise: never too sure
    worthless = expected_spread(hidden, rng.standard_normal(1500), noise, even)
    assert worthless == pytest.approx(math.sqrt(5.0), rel=0.08)
