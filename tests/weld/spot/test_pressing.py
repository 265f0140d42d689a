"""Geometry of caps that are tilted, out of line or worn; and what a gap takes."""

import itertools
import math

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot.pressing import (
    LEAST_NARROWED,
    force_at_interface,
    leaning,
    lens_area,
    narrowed,
    ovality,
    rolled,
    segment_offset,
    segment_share,
    tilted_cap,
)
from buttonhole.weld.spot.set_up import ElectrodeCap
from buttonhole.weld.spot.wear import face_growth, worn

FLAT, DOME, RADIUSED = ElectrodeCap(6e-3), ElectrodeCap(None, 50e-3), ElectrodeCap(6e-3, 40e-3)
TWO_DEGREES = math.radians(2.0)


def counted_lens(a: float, b: float, apart: float) -> float:
    """Area by counting points [m2]."""
    step = a / 400
    x, y = np.meshgrid(np.arange(-a, a, step) + step / 2, np.arange(-a, a, step) + step / 2)
    inside = (x**2 + y**2 < a * a) & ((x - apart) ** 2 + y**2 < b * b)
    return float(inside.sum()) * step * step


@pytest.mark.parametrize(("a", "b"), [(3e-3, 3e-3), (3e-3, 2e-3)])
@pytest.mark.parametrize("apart", [0.1e-3, 1.2e-3, 2.5e-3, 4.5e-3])
def test_the_lens_against_counting(a: float, b: float, apart: float) -> None:
    assert lens_area(a, b, apart) == pytest.approx(counted_lens(a, b, apart), rel=0.01)


def test_limits_of_the_lens() -> None:
    assert lens_area(3e-3, 2e-3, 0.5e-3) == pytest.approx(math.pi * 4e-6)
    assert lens_area(3e-3, 2e-3, 5e-3) == 0.0
    assert lens_area(3e-3, 3e-3, 5e-324) == pytest.approx(math.pi * 9e-6)
    assert lens_area(3e-3, 3e-3, math.nextafter(6e-3, 0.0)) >= 0.0
    assert narrowed(3e-3, 3e-3, 1e-9) == pytest.approx(1.0, abs=1e-6)
    assert narrowed(3e-3, 3e-3, 6e-3) == LEAST_NARROWED
    assert ovality(3e-3, 3e-3, 0.0) == 1.0
    assert ovality(3e-3, 3e-3, 2e-3) == pytest.approx(4.0 / math.sqrt(32.0))
    assert ovality(3e-3, 3e-3, 7e-3) == 0.0
    falling = [narrowed(3e-3, 2.5e-3, e * 1e-3) for e in (0.0, 0.4, 0.8, 1.6, 2.4, 4.0)]
    assert all(a >= b for a, b in itertools.pairwise(falling))


def test_a_tilted_face_covers_its_segment_as_a_dome_does() -> None:
    """The equivalent radius against the segment itself, over the whole depth."""
    cap = tilted_cap(FLAT, TWO_DEGREES)
    b = 3e-3
    assert cap.radius == pytest.approx(b / (4.0 * math.tan(TWO_DEGREES)))
    full = 2.0 * b * math.tan(TWO_DEGREES)
    assert 2.0 * cap.radius * full == pytest.approx(b * b)
    gaps = [segment_share(x) - 2.0 * cap.radius * x * full / b**2 for x in np.linspace(0, 1, 101)]
    assert max(abs(one) for one in gaps) < 0.06
    assert segment_share(0.5) == pytest.approx(0.5)


def test_the_middle_of_a_segment_against_counting() -> None:
    x, y = np.meshgrid(np.linspace(-1, 1, 1201), np.linspace(-1, 1, 1201))
    for height in (0.3, 1.0, 1.6):
        inside = (x**2 + y**2 < 1.0) & (x > 1.0 - height)
        assert segment_offset(1.0, height) == pytest.approx(float(x[inside].mean()), abs=4e-3)
    assert segment_offset(3e-3, 7e-3) == pytest.approx(0.0, abs=1e-12)


def test_a_dome_rolls_and_a_face_does_not() -> None:
    assert rolled(FLAT, TWO_DEGREES) == 0.0
    assert rolled(DOME, TWO_DEGREES) == pytest.approx(50e-3 * math.sin(TWO_DEGREES))
    assert tilted_cap(DOME, TWO_DEGREES) == DOME
    assert tilted_cap(RADIUSED, TWO_DEGREES) == RADIUSED  # it rolls by 1.4 mm, the edge is at 3
    steep = math.radians(6.0)
    assert rolled(RADIUSED, steep) == pytest.approx(3e-3)
    assert tilted_cap(RADIUSED, steep).radius < RADIUSED.radius


def test_no_tilt_changes_no_cap() -> None:
    for cap in (FLAT, DOME, RADIUSED):
        assert tilted_cap(cap, 0.0) == cap
        assert rolled(cap, 0.0) == 0.0
    assert leaning(FLAT, TWO_DEGREES, 0.01e-3) > leaning(FLAT, TWO_DEGREES, 0.1e-3) > 0.0
    assert leaning(FLAT, TWO_DEGREES, 0.3e-3) == pytest.approx(0.0, abs=1e-9)


def test_a_worn_face_is_wider_and_a_worn_dome_flatter() -> None:
    assert worn(FLAT, 0.0) == FLAT
    assert worn(FLAT, 0.5e-3).face_diameter == pytest.approx(6.5e-3)
    assert worn(FLAT, 50e-3).face_diameter == FLAT.body_diameter
    flatter = worn(DOME, 0.6e-3)
    depth = 3e-3**2 / (2 * 50e-3)  # where the dressed dome's mark is 6 mm wide
    assert 2.0 * math.sqrt(2.0 * flatter.radius * depth) == pytest.approx(6.6e-3)


def test_growth_of_faces_is_a_range_by_coating() -> None:
    zinc, bare = (face_growth(100, one) for one in (Coating.GI, Coating.BARE))
    assert (zinc.low, zinc.high) == (pytest.approx(0.03e-3), pytest.approx(0.15e-3))
    assert bare.high < zinc.low
    assert face_growth(300, Coating.GI).value == pytest.approx(3.0 * zinc.value)
    assert face_growth(100, Coating.UNKNOWN) == zinc
    with pytest.raises(BadInput, match="welds_since_dressing"):
        face_growth(-1, Coating.GI)


def test_a_gap_takes_force_as_a_clamped_strip() -> None:
    sheet = Sheet(find_steel("DC04"), 1.5e-3)
    left, factor = force_at_interface(StackUp((sheet, sheet), 1e-3), 4e3)
    assert 4e3 - left == pytest.approx(1.05e3, rel=0.01)
    assert factor < 1.0
    assert force_at_interface(StackUp((sheet, sheet)), 4e3) == (4e3, 1.0)
