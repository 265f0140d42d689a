"""Hardness and tensile strength: one from the other and back, inside the table only."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.joint.hardness_tensile import hardness_of_tensile, tensile_of_hardness
from buttonhole.joint.steel import Family
from buttonhole.sources import Status
from buttonhole.units import BadInput


@given(st.floats(80.0, 650.0))
def test_there_and_back(hardness: float) -> None:
    there = tensile_of_hardness(hardness)
    assert there.low < there.value < there.high
    assert hardness_of_tensile(there.value).value == pytest.approx(hardness, abs=1e-6)


@given(st.floats(100.0, 550.0), st.floats(-0.1, 0.1))
def test_the_band_of_one_is_the_band_of_the_other(hardness: float, off: float) -> None:
    true = tensile_of_hardness(hardness).value * (1.0 + off)
    band = hardness_of_tensile(true)
    assert band.low * 0.999 <= hardness <= band.high * 1.001


def test_harder_is_stronger() -> None:
    found = [tensile_of_hardness(float(hv)).value for hv in range(80, 651, 5)]
    assert found == sorted(found)


def test_what_was_read_is_told_from_what_was_remembered() -> None:
    assert tensile_of_hardness(470.0).status is Status.READ
    assert tensile_of_hardness(480.0).status is Status.MEMORY


def test_stainless_steel_has_a_wider_band() -> None:
    plain, austenitic = (tensile_of_hardness(200.0, f) for f in (Family.HSLA, Family.STAINLESS))
    assert austenitic.high - austenitic.low == pytest.approx(3.0 * (plain.high - plain.low))


@pytest.mark.parametrize("hardness", [79.9, 650.1, math.nan, -1.0])
def test_nothing_is_said_outside_the_table(hardness: float) -> None:
    with pytest.raises(BadInput, match="covers 80 to 650"):
        tensile_of_hardness(hardness)


@pytest.mark.parametrize("tensile", [249e6, 2181e6, math.nan])
def test_nor_the_other_way(tensile: float) -> None:
    with pytest.raises(BadInput, match="covers 250 to 2180"):
        hardness_of_tensile(tensile)
