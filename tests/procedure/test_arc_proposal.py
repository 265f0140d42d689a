"""The surest of some set-ups, with least heat; what is tried; when nothing is proposed."""

import dataclasses
from typing import Any

import pytest

from buttonhole.procedure.arc_proposal import (
    SPEEDS,
    STRAY,
    Chances,
    plug_candidates,
    plug_chances,
    propose,
    seam_candidates,
    with_current,
)
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.machine_map import operating_point
from buttonhole.weld.arc.plug import COARSE, predict
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.transfer import ArcState, usable_current
from buttonhole.weld.arc.wire import WireMetal, find_wire
from tests.procedure.test_arc_what_if import LAP, SEAM
from tests.weld.arc.plug.plugs import alloys, bronze, joint, light, set_up


@pytest.mark.parametrize("current", [60.0, 90.0, 125.0])
def test_the_feed_makes_the_current_that_is_wanted(current: float) -> None:
    found = operating_point(with_current(set_up(), current))
    assert found.current.value == pytest.approx(current, rel=1e-6)
    assert found.state is ArcState.STEADY


def test_only_steady_arcs_in_the_usable_range_are_tried() -> None:
    low, high = usable_current(0.8e-3)
    for one in (*plug_candidates(joint(), set_up()), *seam_candidates(LAP, SEAM)):
        point = operating_point(one)
        assert low < point.current.value < high
        assert point.state is ArcState.STEADY
    assert {one.travel_speed for one in seam_candidates(LAP, SEAM)} == set(SPEEDS[WireMetal.STEEL])


def test_a_plug_is_tried_about_as_long_as_hole_and_head_take() -> None:
    laid = sorted(
        (one.arc_time or 0.0) * operating_point(one).fill_rate
        for one in plug_candidates(joint(), set_up())
    )
    hole = joint().hole_volume
    assert hole < laid[0] < laid[-1] < 3.0 * hole


def test_the_surest_is_taken_and_of_those_alike_the_coolest() -> None:
    listed = [with_current(set_up(), current) for current in (70.0, 90.0, 110.0, 130.0)]

    def chances(_joint: Any, one: ArcSetUp) -> Chances:
        current = operating_point(one).current.value
        return Chances(0.4 if current < 80.0 else 0.9, 0.5 if current > 125.0 else 0.0)

    found = propose(chances, joint(), listed)
    assert found.current == pytest.approx(90.0, rel=1e-6)
    assert found.tried == 4
    assert found.chances == Chances(0.9, 0.0)
    assert len(found.reasons) == 3


def test_margins_are_those_of_a_strayed_wire_feed() -> None:
    asked = []

    def chances(_joint: Any, one: ArcSetUp) -> Chances:
        asked.append(one.wire_feed_speed)
        return Chances(0.8, 0.0)

    found = propose(chances, joint(), [set_up()])
    assert asked[1:] == pytest.approx(
        [(1.0 - STRAY) * set_up().wire_feed_speed, (1.0 + STRAY) * set_up().wire_feed_speed]
    )
    assert found.with_less_feed == found.with_more_feed == Chances(0.8, 0.0)


def test_nothing_is_proposed_where_nothing_is_likely_or_computed() -> None:
    with pytest.raises(BadInput, match="ask the maker"):
        propose(lambda _joint, _one: Chances(0.9, 0.6), joint(), [set_up()])

    def refused(_joint: Any, _one: ArcSetUp) -> Chances:
        raise BadInput("gas", "does not go")

    with pytest.raises(BadInput, match="does not go"):
        propose(refused, joint(), [set_up()])


def test_what_is_taken_is_checked_and_the_next_one_taken_where_it_fails() -> None:
    listed = [with_current(set_up(), current) for current in (80.0, 100.0, 120.0)]

    def finely(_joint: Any, one: ArcSetUp) -> Chances:
        return Chances(0.3 if operating_point(one).current.value < 90.0 else 0.8, 0.0)

    found = propose(lambda _joint, _one: Chances(0.9, 0.0), joint(), listed, check=finely)
    assert found.current == pytest.approx(100.0, rel=1e-6)
    assert found.chances == Chances(0.8, 0.0)
    with pytest.raises(BadInput, match="at best 30 in 100"):
        propose(
            lambda _joint, _one: Chances(0.9, 0.0), joint(), listed,
            check=lambda _joint, _one: Chances(0.3, 0.0),
        )  # fmt: skip


def test_a_braze_that_melts_a_sheet_is_not_good() -> None:
    assert Chances(0.9, 0.0, 0.8).good < 0.2 < Chances(0.9, 0.0, 0.1).good


@pytest.mark.parametrize("name", ["S Cu 6560", "S Al 4043"])
def test_other_wires_have_their_own_range_and_travel(name: str) -> None:
    wire, gas = find_wire(name), find_gas("I1")
    given = dataclasses.replace(SEAM, wire=wire, gas=gas, wire_diameter=1e-3)
    low, high = usable_current(1e-3, wire.metal)
    listed = seam_candidates(LAP, given)
    assert len(listed) >= 9
    for one in listed:
        assert low < operating_point(one).current.value < high
    assert {one.travel_speed for one in listed} == set(SPEEDS[wire.metal])


def test_a_braze_and_an_aluminium_plug_are_proposed() -> None:
    def chances(tried: Any, one: ArcSetUp) -> Chances:
        return plug_chances(predict(tried, one, resolution=COARSE, count=12))

    brazed = propose(chances, joint((1.0, 1.0)), plug_candidates(joint((1.0, 1.0)), bronze()))
    assert brazed.chances.good >= 0.5
    assert brazed.chances.melts < 0.5
    assert any("melts" in one for one in brazed.reasons)
    white = propose(chances, alloys(), plug_candidates(alloys(), light()))
    assert white.chances.good >= 0.5


def test_a_plug_is_proposed_that_beats_the_one_it_began_with() -> None:
    def chances(tried: Any, one: ArcSetUp) -> Chances:
        return plug_chances(predict(tried, one, resolution=COARSE, count=12))

    weak = dataclasses.replace(with_current(set_up(), 80.0), arc_time=1.2)
    found = propose(chances, joint(), plug_candidates(joint(), weak))
    assert found.chances.good > chances(joint(), weak).good
    assert found.chances.good >= 0.5
