"""From wire feed, voltage and distance to current, powers and metal laid down."""

import dataclasses
import math

import pytest

from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.machine_map import (
    IN_A_HOLE,
    droplet_heat,
    droplet_temperature,
    operating_point,
)
from buttonhole.weld.arc.melting import (
    DisplayedReading,
    current_spread,
    learn,
    length_slope,
    melting_current,
    melting_feed,
    melting_law,
)
from buttonhole.weld.arc.set_up import ArcSetUp, Polarity
from buttonhole.weld.arc.transfer import ArcState, assess_arc, conventional_load_voltage
from buttonhole.weld.arc.wire import WireMetal, find_wire, wires

STEEL, M21 = find_wire("G 3Si1"), find_gas("M21")
BASE = ArcSetUp(STEEL, 0.8e-3, M21, 6.0 / 60.0, 18.0, 13e-3, arc_time=1.5)


@pytest.mark.parametrize("wire", wires(), ids=lambda wire: wire.designation)
def test_current_and_feed_undo_each_other(wire: object) -> None:
    for diameter in (0.8e-3, 1.0e-3):
        law = melting_law(wire, diameter)  # type: ignore[arg-type]  # ids want an object
        for feed in (0.02, 0.1, 0.3):
            current = melting_current(feed, 8e-3, law)
            assert melting_feed(current, 8e-3, law) == pytest.approx(feed, rel=1e-12)


def test_slope_of_the_current_is_its_derivative() -> None:
    law, step = melting_law(STEEL, 0.8e-3), 1e-6
    above, below = (melting_current(0.1, 10e-3 + by, law) for by in (step, -step))
    middle = melting_current(0.1, 10e-3, law)
    slope = (above - below) / (2 * step) / middle
    assert length_slope(0.1, 10e-3, law) == pytest.approx(slope, rel=1e-6)


def test_a_longer_wire_takes_current_and_arc_heat_but_no_drops() -> None:
    points = [
        operating_point(dataclasses.replace(BASE, contact_tube_distance=d * 1e-3))
        for d in (8, 10, 12, 15, 20)
    ]
    currents = [point.current.value for point in points]
    assert currents == sorted(currents, reverse=True)
    splits = [point.heat_split(IN_A_HOLE.value) for point in points]
    assert all(split.droplets == splits[0].droplets for split in splits)
    lost = 1.0 - currents[-1] / currents[0]
    lost_arc = 1.0 - splits[-1].arc / splits[0].arc
    assert lost_arc > 1.4 * lost > 0.2  # the arc pays for the wire


def test_the_heat_of_the_drops_is_part_of_the_net_heat() -> None:
    point = operating_point(BASE)
    split = point.heat_split(0.8)
    assert split.net == pytest.approx(0.8 * point.voltage * point.current.value)
    assert split.arc + split.droplets == pytest.approx(split.net)
    assert 0.3 < split.droplets / split.net < 0.6


def test_deposition_is_wire_area_times_feed() -> None:
    point = operating_point(BASE)
    assert point.fill_rate == pytest.approx(math.pi / 4 * 0.8e-3**2 * 0.1)
    assert point.deposition_rate.value == pytest.approx(point.fill_rate * 7850.0)


def test_every_figure_lies_inside_its_interval() -> None:
    point = operating_point(BASE)
    for figure in (
        point.current,
        point.arc_power,
        point.droplet_power,
        point.deposition_rate,
        droplet_temperature(STEEL),
    ):
        assert figure.low < figure.value < figure.high


def test_drops_of_steel_carry_the_heat_of_the_sheets_own_curves() -> None:
    from buttonhole.joint.material import curves
    from buttonhole.joint.steel import find_steel
    from buttonhole.weld.heat.tables import material_tables

    tables = material_tables([curves(find_steel("DC04"))])
    sheets = tables.enthalpy[0, 2000 - 20] / 7850.0
    assert droplet_heat(STEEL, 2000.0) == pytest.approx(sheets, rel=2e-3)


def test_two_displayed_readings_settle_a_machine() -> None:
    prior = melting_law(STEEL, 0.8e-3)
    true = dataclasses.replace(prior, alpha=0.90 * prior.alpha, beta=0.8 * prior.beta)
    readings = [
        DisplayedReading(0.1, length, melting_current(0.1, length, true))
        for length in (7e-3, 17e-3)
    ]
    learned = learn(prior, readings)
    for length in (7e-3, 10e-3, 17e-3):
        said = melting_current(0.1, length, learned)
        assert said == pytest.approx(melting_current(0.1, length, true), rel=0.015)
        before = abs(melting_current(0.1, length, prior) / said - 1.0)
        assert before > 0.06
    assert current_spread(0.1, 10e-3, learned) < 0.45 * current_spread(0.1, 10e-3, prior)


def test_one_distance_leaves_the_share_of_the_free_length_open() -> None:
    prior = melting_law(STEEL, 0.8e-3)
    same = [DisplayedReading(0.1, 10e-3, 100.0)] * 2
    apart = [DisplayedReading(0.1, 6e-3, 100.0), DisplayedReading(0.1, 18e-3, 88.0)]
    spread_same, spread_apart = (learn(prior, r).covariance[2] for r in (same, apart))
    assert spread_same > 1.05 * spread_apart


def test_learning_in_two_goes_is_learning_at_once() -> None:
    prior = melting_law(STEEL, 0.8e-3)
    one, two = DisplayedReading(0.1, 7e-3, 118.0), DisplayedReading(0.1, 15e-3, 100.0)
    at_once, in_turn = learn(prior, [one, two]), learn(learn(prior, [one]), [two])
    assert in_turn.alpha == pytest.approx(at_once.alpha, rel=2e-3)
    assert in_turn.covariance == pytest.approx(at_once.covariance, rel=2e-2)


def test_aluminium_learns_alpha_alone() -> None:
    prior = melting_law(find_wire("AlSi5"), 1.0e-3)
    learned = learn(prior, [DisplayedReading(0.12, 12e-3, 100.0)])
    assert learned.beta == 0.0
    assert learned.alpha != prior.alpha


def test_a_reading_that_can_not_be_is_refused() -> None:
    prior = melting_law(STEEL, 0.8e-3)
    for bad in (DisplayedReading(0.1, 10e-3, 0.0), DisplayedReading(0.1, 10e-3, 300.0)):
        with pytest.raises(BadInput, match="current"):
            learn(prior, [bad])


def test_load_voltage_of_the_test_bench() -> None:
    # IEC 60974-1, from memory: 14 + 0.05 I up to 600 A, 44 V beyond
    assert conventional_load_voltage(100.0) == pytest.approx(19.0)
    assert conventional_load_voltage(600.0) == conventional_load_voltage(900.0) == 44.0


@pytest.mark.parametrize(
    ("current", "voltage", "state"),
    [
        (100.0, 18.0, ArcState.STEADY),
        (100.0, 14.0, ArcState.STUBS),
        (100.0, 23.0, ArcState.LONG),
        (20.0, 15.0, ArcState.STARVED),
        (180.0, 21.0, ArcState.OVERLOADED),
    ],
)
def test_states_of_the_arc(current: float, voltage: float, state: ArcState) -> None:
    found = assess_arc(current, voltage, STEEL, 0.8e-3, M21)
    assert found.state is state
    assert bool(found.text) is (state is not ArcState.STEADY)


def test_spray_and_what_is_not_known() -> None:
    assert assess_arc(175.0, 23.0, STEEL, 0.9e-3, M21).state is ArcState.SPRAY
    wire = find_wire("AlSi5")
    assert wire.metal is WireMetal.ALUMINIUM
    assert assess_arc(90.0, 19.0, wire, 1.0e-3, find_gas("argon")).state is ArcState.NOT_KNOWN


def test_a_torch_held_far_off_or_on_the_wrong_pole_is_told() -> None:
    far = operating_point(dataclasses.replace(BASE, contact_tube_distance=22e-3))
    near = operating_point(dataclasses.replace(BASE, contact_tube_distance=5e-3))
    swapped = operating_point(dataclasses.replace(BASE, polarity=Polarity.NEGATIVE))
    assert any("22 mm" in text for text in far.warnings)
    assert any("5 mm" in text for text in near.warnings)
    assert any("negative" in text for text in swapped.warnings)
    assert operating_point(BASE).warnings == ()


def test_wire_without_arc_is_told() -> None:
    cold = operating_point(dataclasses.replace(BASE, arc_voltage=9.0, wire_feed_speed=0.15))
    assert cold.state is ArcState.STUBS
    assert any("Nearly all of the heat" in text for text in cold.warnings)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("wire_diameter", 3e-3),
        ("wire_feed_speed", 0.0),
        ("arc_voltage", math.nan),
        ("contact_tube_distance", 0.1),
        ("arc_time", -1.0),
        ("travel_speed", 0.0),
        ("work_angle", 4.0),
        ("travel_angle", 2.0),
        ("aim_offset", math.inf),
    ],
)
def test_a_set_up_that_can_not_be_is_refused_by_its_key(key: str, value: float) -> None:
    with pytest.raises(BadInput, match=key):
        dataclasses.replace(BASE, **{key: value})
