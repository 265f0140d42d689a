"""Coatings: their names in a weld file and what they do when heated."""

import pytest

from buttonhole.joint.coating import ZINC, Coating, facts
from buttonhole.sources import bibliography


def test_the_words_of_a_weld_file() -> None:
    words = {"bare", "GI", "GA", "EG", "ZM", "AlSi", "primer", "unknown"}
    assert {coating.value for coating in Coating} == words


@pytest.mark.parametrize("coating", sorted(ZINC - {Coating.UNKNOWN}))
def test_zinc_boils_long_before_steel_melts(coating: Coating) -> None:
    # from memory: zinc melts at 419.5 and boils at 907 degC
    boils = [fact for fact in facts(coating) if "boils" in fact.event]
    assert [fact.low for fact in boils] == [907.0]
    assert all(fact.source in bibliography() for fact in facts(coating))
    assert all(fact.low <= fact.high for fact in facts(coating))


def test_nothing_is_said_of_a_bare_or_unknown_surface() -> None:
    assert facts(Coating.BARE) == ()
    assert facts(Coating.UNKNOWN) == ()
