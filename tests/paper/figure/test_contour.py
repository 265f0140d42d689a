"""Outlines against figures whose outline is known."""

import math
from itertools import pairwise

import numpy as np
import pytest

from buttonhole.paper.figure.contour import outlines, simplified


def area(loop: list[tuple[float, float]]) -> float:
    return 0.5 * abs(
        sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(loop, loop[1:] + loop[:1], strict=True))
    )


def cone(count: int) -> tuple[np.ndarray, np.ndarray]:
    x = np.linspace(-1.0, 1.0, count)
    across, down = np.meshgrid(x, x)
    return x, 1.0 - np.hypot(across, down)


def test_the_area_of_a_circle_is_met_with_second_order():
    errors = []
    for count in (41, 81, 161):
        x, field = cone(count)
        (loop,) = outlines(x, x, field, 0.4)
        errors.append(abs(area(loop) - math.pi * 0.36))
    orders = [math.log2(a / b) for a, b in pairwise(errors)]
    assert errors[-1] < 2e-4
    assert all(order > 1.5 for order in orders), (errors, orders)


def test_a_ring_has_an_outer_and_an_inner_outline():
    x = np.linspace(-1.0, 1.0, 101)
    across, down = np.meshgrid(x, x)
    ring = 1.0 - np.abs(np.hypot(across, down) - 0.5)
    loops = outlines(x, x, ring, 0.8)
    areas = sorted(area(loop) for loop in loops)
    assert areas == pytest.approx([math.pi * 0.09, math.pi * 0.49], rel=5e-3)


def test_the_crossing_of_a_slope_is_exact():
    x, y = np.array([0.0, 1.0, 3.0]), np.array([0.0, 2.0])
    field = np.array([[0.0, 10.0, 30.0], [0.0, 10.0, 30.0]])
    (loop,) = outlines(x, y, field, 15.0)
    assert min(place[0] for place in loop) == pytest.approx(1.5)


def test_a_region_that_reaches_the_edge_is_closed_there():
    x = np.linspace(0.0, 1.0, 11)
    (loop,) = outlines(x, x, np.ones((11, 11)), 0.5)
    assert area(loop) == pytest.approx(1.0, rel=1e-4)


def test_two_peaks_that_touch_at_a_corner_stay_apart_or_join_by_the_mean():
    x = np.array([0.0, 1.0])
    apart = np.array([[1.0, -3.0], [-3.0, 1.0]])
    joined = np.array([[3.0, -1.0], [-1.0, 3.0]])
    assert len(outlines(x, x, apart, 0.0)) == 2
    assert len(outlines(x, x, joined, 0.0)) == 1
    assert len(outlines(x, x, apart[:, ::-1], 0.0)) == 2
    assert len(outlines(x, x, joined[:, ::-1], 0.0)) == 1


def test_nothing_above_the_level_gives_nothing():
    x, field = cone(11)
    assert outlines(x, x, field, 2.0) == []


def test_a_field_with_nan_is_refused():
    x, field = cone(11)
    field[3, 4] = math.nan
    with pytest.raises(ValueError, match="not finite"):
        outlines(x, x, field, 0.5)


def test_simplified_keeps_corners_and_drops_what_lies_between():
    line = [(0.0, 0.0), (1.0, 0.01), (2.0, 0.0), (3.0, 0.0), (3.0, 4.0)]
    assert simplified(line, 0.1) == [(0.0, 0.0), (3.0, 0.0), (3.0, 4.0)]
    assert simplified(line, 0.001) == [(0.0, 0.0), (1.0, 0.01), (2.0, 0.0), (3.0, 0.0), (3.0, 4.0)]
