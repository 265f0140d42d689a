"""What is written into events reads back as the same domain value."""

import math
from dataclasses import dataclass, field
from datetime import UTC, date, datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.desk.written import read, written
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.record.canonical import canonical, parse
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp


@dataclass(frozen=True)
class Everything:
    when: datetime
    day: date
    maybe: float | None
    many: tuple[float, ...]
    pair: tuple[int, str]
    named: dict[str, float]
    grid: NDArray[np.float64]
    kind: Coating | None = None
    later: tuple[str, ...] = field(default=("as it was",))


def there_and_back(kind, value):
    return read(kind, parse(canonical(written(value))))


thicknesses = st.floats(0.3e-3, 3e-3)
sheets = st.builds(
    Sheet,
    st.sampled_from(["DC04", "HCT600X", "22MnB5", "unknown"]).map(find_steel),
    thicknesses,
    st.sampled_from(Coating),
)
stacks = st.builds(StackUp, st.lists(sheets, min_size=2, max_size=4).map(tuple), st.floats(0, 2e-3))
caps = st.builds(ElectrodeCap, st.none() | st.floats(4e-3, 8e-3), st.none() | st.floats(20e-3, 1))
pulses = st.builds(Pulse, st.floats(1e3, 2e4), st.floats(0.01, 1), st.floats(0, 1))
set_ups = st.builds(
    SpotSetUp,
    st.lists(pulses, min_size=1, max_size=3).map(tuple),
    st.sampled_from(CurrentType),
    st.floats(500, 6000),
    caps,
    caps,
    st.floats(0, 1),
    st.floats(0, 1),
)


@given(stacks)
def test_a_stack_up_comes_back_bit_for_bit(stack):
    assert there_and_back(StackUp, stack) == stack


@given(set_ups)
def test_a_set_up_comes_back_bit_for_bit(set_up):
    assert there_and_back(SpotSetUp, set_up) == set_up


def test_a_reading_comes_back():
    reading = Reading(0, TestKind.MACRO, None, 5.1e-3, 4.9e-3, force=None, twist_angle=40.0)
    assert there_and_back(Reading, reading) == reading


def test_every_kind_of_field_comes_back():
    value = Everything(
        when=datetime(2026, 1, 2, 3, 4, 5, 6, tzinfo=UTC),
        day=date(2026, 1, 2),
        maybe=None,
        many=(1.0, math.nan),
        pair=(3, "x"),
        named={"C": 0.1},
        grid=np.array([[1.0, np.nan], [0.1 + 0.2, 4.0]]),
        kind=Coating.GA,
    )
    found = there_and_back(Everything, value)
    assert (found.when, found.day, found.maybe, found.pair) == (
        value.when,
        value.day,
        None,
        (3, "x"),
    )
    assert math.isnan(found.many[1])
    np.testing.assert_array_equal(found.grid, value.grid)
    assert (found.named, found.kind, found.later) == ({"C": 0.1}, Coating.GA, ("as it was",))


def test_an_older_event_without_a_newer_field_can_be_read():
    found = read(ElectrodeCap, {"face_diameter": 0.006})
    assert found == ElectrodeCap(face_diameter=0.006)


@pytest.mark.parametrize("value", [b"bytes", object(), {"a": 1j}])
def test_what_nobody_thought_of_is_refused(value):
    with pytest.raises(BadInput):
        written(value)


@pytest.mark.parametrize(
    ("kind", "value"), [(Pulse, 3), (str, 3), (float | None, "x"), (StackUp, {"sheets": [{}, {}]})]
)
def test_what_is_something_else_is_refused(kind, value):
    with pytest.raises((BadInput, TypeError)):
        read(kind, value)
