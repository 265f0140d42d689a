"""Aluminium alloys are found by their exact name, and no steel is one."""

import pytest

from buttonhole.joint.aluminium_book import aluminium_book, find_aluminium
from buttonhole.joint.steel import find_steel, normal_form
from buttonhole.joint.steel_book import book
from buttonhole.sources import Status, bibliography, table
from buttonhole.units import BadInput


def test_the_book_holds_the_alloys_that_can_be_computed() -> None:
    assert set(aluminium_book()) == set(table("aluminium_alloys").text("designation"))
    for one in aluminium_book().values():
        assert one.yield_range[0] < one.tensile_range[0] < one.tensile_range[1]
        assert 0.05 < one.elongation < 0.3
        assert one.usual[0] < one.usual[1]
        assert one.composition_limit["Mg"] > 0.3
        assert one.status is Status.MEMORY
        assert one.source in bibliography()


@pytest.mark.parametrize(
    "text", ["EN AW-6016", "aw 6016", "AA6016", "6016", "EN AW-6016-T4", "AlSi1,2Mg0,4"]
)
def test_an_alloy_is_found_by_its_names(text: str) -> None:
    found = find_aluminium(text)
    assert found is not None
    assert found.designation == "EN AW-6016"


@pytest.mark.parametrize("text", ["6016-T6", "EN AW-6017", "", "aluminium", "AW", "DC04", "601 6T"])
def test_nothing_else_is_one(text: str) -> None:
    assert find_aluminium(text) is None


def test_no_steel_is_an_alloy_and_no_alloy_a_steel() -> None:
    for one in book():
        for name in (one.steel.designation, *one.names):
            assert find_aluminium(name) is None, normal_form(name)
    for designation in aluminium_book():
        with pytest.raises(BadInput, match="no listed steel"):
            find_steel(designation)
