"""Zones of a weld: nested, where the steel has them, and moved by what moves them."""

import dataclasses
import math

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.steel import find_steel
from buttonhole.weld.metallurgy import softens, transformation_line
from buttonhole.weld.spot import predict
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import ElectrodeCap
from tests.weld.spot.welds import MILD, joint, set_up


def steel_weld(steel: str) -> SpotWeld:
    return predict(joint((steel, 1.2), (steel, 1.2)), set_up(8e3, 0.24, 3e3))


def test_mild_steel_has_no_softened_ring() -> None:
    for one in predict(MILD, set_up(8e3)).sheets:
        assert one.softened_diameter is None


@pytest.mark.parametrize("steel", ["HCT600X", "DP1180", "22MnB5"])
def test_steel_of_martensite_has_a_ring_of_some_width(steel: str) -> None:
    for one in steel_weld(steel).sheets:
        assert one.softened_diameter.value > one.haz_diameter.value + 0.3e-3
        assert one.haz_diameter.value > one.austenitised_diameter.value


def test_stainless_steel_does_not_transform() -> None:
    for one in steel_weld("304").sheets:
        assert one.ac1 is None
        assert one.ac3 is None
        assert one.austenitised_diameter is None
        assert one.softened_diameter is None
        assert one.haz_diameter.value > 0.0


def test_zones_lie_inside_each_other_and_round_the_nugget() -> None:
    weld = predict(MILD, set_up(8e3))
    nugget = weld.interfaces[0].nugget_diameter.value
    for one in weld.sheets:
        assert nugget < one.austenitised_diameter.value < one.haz_diameter.value
        assert one.haz_diameter.low < one.haz_diameter.value < one.haz_diameter.high


def test_the_lines_rise_with_the_heating_rate() -> None:
    steel = find_steel("DP1180")
    for line in ("Ac1", "Ac3"):
        found = [transformation_line(steel, line, rate) for rate in (0.1, 1.0, 100.0, 1e4)]
        assert found[0] == found[1]  # at rest
        values = [one.value for one in found]
        assert values == sorted(values)
        widths = [one.high - one.low for one in found]
        assert widths == sorted(widths)


def test_mild_steel_transforms_where_spot_welds_are_said_to() -> None:
    # 760 to 800 degC at 1000 K/s, from memory: the interval has to hold the whole of it
    found = transformation_line(find_steel("DC04"), "Ac1", 1000.0)
    assert 760.0 < found.value < 800.0
    assert found.low < 760.0
    assert found.high > 795.0


def test_a_rate_that_is_not_known_counts_as_slow() -> None:
    steel = find_steel("DC04")
    assert transformation_line(steel, "Ac1", math.nan) == transformation_line(steel, "Ac1", 1.0)
    assert transformation_line(find_steel("304"), "Ac1", 1000.0) is None


@pytest.mark.parametrize(
    ("steel", "ring"),
    [("DC04", False), ("HC340LA", False), ("304", False), ("HCT600X", True), ("unknown", True)],
)
def test_which_steels_soften(steel: str, ring: bool) -> None:
    assert softens(find_steel(steel)) is ring


def test_only_outer_sheets_are_dented() -> None:
    three = joint(("DC04", 0.8), ("DC04", 0.8), ("DC04", 0.8))
    weld = predict(three, set_up(9e3, 0.3))
    first, middle, last = (one.indentation for one in weld.sheets)
    assert middle is None
    assert first.value == pytest.approx(last.value)
    assert weld.indentation.value == pytest.approx(first.value)


# A thin sheet outside four thick zinc-coated ones melts first where the current crowds.
CROWDED = joint(
    ("HCT600X", 0.6), ("HCT600X", 1.5), ("22MnB5", 2.3), ("304", 2.3), coating=Coating.GI
)
DOME = ElectrodeCap(face_diameter=4.9e-3, radius=50e-3)


def test_a_ring_that_closes_is_told_with_the_time() -> None:
    weld = predict(CROWDED, set_up(11e3, 0.25, 5.4e3, cap_a=DOME, cap_b=DOME))
    one = weld.interfaces[0]
    assert one.melting.began_as_ring
    assert not one.ring
    assert one.melting.centre_melted.value > one.melting.began.value + 5e-3
    told = [text for text in weld.warnings if "begins as a ring" in text]
    assert told
    assert f"{one.melting.centre_melted.value * 1e3:.0f} ms" in told[0]


def test_a_ring_whose_weld_ends_first_stays_one() -> None:
    asked = set_up(11e3, 0.25, 5.4e3, cap_a=DOME, cap_b=DOME)
    melted = predict(CROWDED, asked).interfaces[0].melting
    between = 0.5 * (melted.began.value + melted.centre_melted.value)
    pulse = dataclasses.replace(asked.pulses[0], time=between)
    weld = predict(CROWDED, dataclasses.replace(asked, pulses=(pulse,)))
    one = weld.interfaces[0]
    assert one.ring
    assert one.melting.began_as_ring
    assert one.melting.centre_melted is None
    assert any("centre stayed solid" in text for text in weld.warnings)


def test_a_weld_that_melts_in_the_middle_is_no_ring() -> None:
    (one,) = predict(MILD, set_up(8e3)).interfaces
    assert not one.ring
    assert not one.melting.began_as_ring
    assert one.melting.centre_melted.value - one.melting.began.value < 1e-3


def test_caps_that_open_on_a_molten_nugget_are_warned_of() -> None:
    weld = predict(MILD, set_up(9e3, hold_time=0.02))
    assert not weld.hold.solid_before_release
    assert any("still be molten" in text for text in weld.warnings)
    held = predict(MILD, set_up(8e3, hold_time=0.4))
    assert held.hold.solid_before_release
    assert not any("still be molten" in text for text in held.warnings)
    assert held.hold.temperature_at_release.value < weld.hold.temperature_at_release.value
    assert held.hold.cooling_t85_without_hold.value > held.cooling_t85.value


def test_more_current_melts_sooner_and_freezes_later() -> None:
    welds = [predict(MILD, set_up(current)).interfaces[0].melting for current in (7e3, 8e3, 9e3)]
    began = [one.began.value for one in welds]
    solid = [one.solid_after.value for one in welds]
    assert began == sorted(began, reverse=True)
    assert solid == sorted(solid)
