"""Rules as data: read, marked, versioned, superseded, in force on a day."""

from dataclasses import replace
from datetime import date

import pytest

from buttonhole.procedure.authority import Authority
from buttonhole.procedure.joining.book import RuleBook, built_in
from buttonhole.procedure.joining.condition import conditions
from buttonhole.procedure.joining.rule import METHOD, Effect
from buttonhole.sources import Status, bibliography
from buttonhole.units import BadInput

OLD, NEW = date(2026, 1, 1), date(2026, 6, 1)


def test_every_rule_of_ours_has_a_source_a_reason_and_a_mark() -> None:
    for one in built_in().rules:
        assert one.source in bibliography(), one.key
        assert one.reason.endswith("."), one.key
        assert one.mark, one.key
        assert one.rank >= Authority.STANDARD, one.key
        if one.status in (Status.MEMORY, Status.COMMON_PRACTICE):
            assert "not verified" in one.mark or "no source" in one.mark


def test_nothing_from_memory_rejects() -> None:
    against = [one for one in built_in().rules if one.status is Status.MEMORY]
    assert against
    assert {one.effect for one in against} <= {Effect.MIND, Effect.FIRST, Effect.SAYS}


def test_published_topics_that_differ_have_more_than_one_voice() -> None:
    topics: dict[str, set[str]] = {}
    for one in built_in().rules:
        if one.topic != METHOD:
            topics.setdefault(one.topic, set()).add(one.reason)
    assert len(topics) >= 12
    assert all(len(found) > 1 for found in topics.values())


def test_a_filed_version_takes_the_place_of_the_old_one_from_its_day() -> None:
    ours = built_in().find("flange-too-narrow")
    filed = replace(ours, version=2, reason="Ours: 14 mm.", valid_from=NEW)
    book = built_in().with_filed([filed])
    assert book.find("flange-too-narrow@1").superseded_by == "flange-too-narrow@2"
    before = {one.name for one in book.in_force(OLD)}
    after = {one.name for one in book.in_force(NEW)}
    assert "flange-too-narrow@1" in before
    assert "flange-too-narrow@2" not in before
    assert "flange-too-narrow@2" in after
    assert "flange-too-narrow@1" not in after
    assert [one.version for one in book.versions("flange-too-narrow")] == [1, 2]


def test_a_rule_filed_for_one_joint_is_not_in_force_at_another() -> None:
    own = replace(built_in().find("thickness-ratio"), key="own", scope="joint/a")
    book = built_in().with_filed([own])
    assert "own@1" in {one.name for one in book.in_force(OLD, "joint/a")}
    assert "own@1" not in {one.name for one in book.in_force(OLD, "joint/b")}


def test_one_name_stands_for_one_rule() -> None:
    with pytest.raises(BadInput, match="file the next version"):
        RuleBook((*built_in().rules, built_in().rules[0]))


def test_a_rule_nobody_has_names_near_ones() -> None:
    with pytest.raises(BadInput, match="flange-too-narrow"):
        built_in().find("flange-to-narrow")
    with pytest.raises(BadInput, match="no version"):
        built_in().find("flange-too-narrow@9")


@pytest.mark.parametrize(
    ("text", "facts", "holds"),
    [
        ("ratio > 3", {"ratio": 3.0}, False),
        ("ratio <= 3", {"ratio": 3.0000000001}, True),
        ("strongest > 980 MPa", {"strongest": 980e6}, False),
        ("strongest > 980 MPa", {"strongest": 1180e6}, True),
        ("access = one_side|closed_section", {"access": "closed_section"}, True),
        ("access != two_sides", {"access": "two_sides"}, False),
        ("access = two_sides; gap > 0.2 mm", {"access": None, "gap": 0.0}, False),
        ("access = two_sides; gap > 0.2 mm", {"access": None, "gap": 1e-3}, None),
        ("", {}, True),
    ],
)
def test_conditions(text, facts, holds) -> None:
    results = [one.holds(facts) for one in conditions(text)]
    found = False if False in results else None if None in results else True
    assert found is holds


@pytest.mark.parametrize(
    "text", ["colour = red", "ratio is 3", "strongest > 980", "gap > 0.2 kN", "access > one_side"]
)
def test_a_condition_that_cannot_be_read_says_what_would_be_right(text) -> None:
    with pytest.raises(BadInput) as caught:
        conditions(text)
    assert len(caught.value.message) > 20
