"""Formulas for one link each: limits, and what must not be asked."""

import math
from collections.abc import Callable

import pytest

from buttonhole.units import BadInput
from buttonhole.weld.arc.load_paths import (
    THICK_LIMIT,
    THIN_LIMIT,
    YOUNG,
    cap_height_at,
    fused_area_load,
    line_load,
    ring_shear_load,
    sheet_tear_load,
)


def test_a_cap_is_as_high_as_said_in_its_middle_and_gone_at_its_edge() -> None:
    assert cap_height_at(10e-3, 1.2e-3, 0.0) == pytest.approx(1.2e-3)
    assert cap_height_at(10e-3, 1.2e-3, 5e-3) == 0.0
    assert cap_height_at(10e-3, 0.0, 1e-3) == 0.0


def test_the_volume_under_a_cap_is_that_of_the_cap() -> None:
    foot, height, steps = 5e-3, 1.2e-3, 4000
    width = foot / steps
    radii = [(i + 0.5) * width for i in range(steps)]
    volume = sum(2 * math.pi * r * width * cap_height_at(2 * foot, height, r) for r in radii)
    assert volume == pytest.approx(math.pi * height * (3 * foot**2 + height**2) / 6, rel=1e-5)


@pytest.mark.parametrize("limit", [THIN_LIMIT, THICK_LIMIT])
def test_sheet_tear_does_not_jump_where_the_formula_changes(limit: float) -> None:
    strength, thickness = 300e6, 0.8e-3
    diameter = limit * math.sqrt(YOUNG / strength) * thickness
    before = sheet_tear_load(diameter * (1 - 1e-9), thickness, strength)
    after = sheet_tear_load(diameter * (1 + 1e-9), thickness, strength)
    assert after == pytest.approx(before, rel=0.02)  # the code's own rounding of its factors


@pytest.mark.parametrize("bad", [-1e-3, math.nan, math.inf])
def test_no_load_of_what_is_no_size(bad: float) -> None:
    asked: list[Callable[[], float]] = [
        lambda: fused_area_load(bad, 4e8),
        lambda: ring_shear_load(bad, 1e-3, 4e8),
        lambda: ring_shear_load(8e-3, bad, 4e8),
        lambda: cap_height_at(bad, 1e-3, 4e-3),
        lambda: sheet_tear_load(bad, 1e-3, 4e8),
        lambda: line_load(bad, 4e8),
    ]
    for load in asked:
        with pytest.raises(BadInput):
            load()
    with pytest.raises(BadInput):
        sheet_tear_load(6e-3, 0.0, 4e8)
