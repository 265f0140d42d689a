"""Dangers of an arc on a body: when each is said."""

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.weld.arc.dangers import dangers, shade


def codes(*coatings: Coating, current: float = 100.0) -> list[str]:
    return [one.code for one in dangers(coatings, current)]


def test_the_maker_comes_first_and_fire_is_never_left_out() -> None:
    assert codes(Coating.BARE)[:2] == ["maker", "fire"]
    assert {"fume", "eyes", "vehicle"} <= set(codes(Coating.BARE))


@pytest.mark.parametrize("coating", Coating)
def test_zinc_is_said_where_it_may_be(coating: Coating) -> None:
    said = "zinc-fume" in codes(Coating.BARE, coating)
    assert said == (coating not in (Coating.BARE, Coating.ALSI, Coating.PRIMER))


@pytest.mark.parametrize(
    ("current", "number"), [(30, 7), (60, 11), (159, 11), (160, 12), (300, 14)]
)
def test_more_current_needs_a_darker_filter(current: float, number: int) -> None:
    assert shade(current) == number
