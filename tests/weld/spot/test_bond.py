"""The corona: outside the nugget, inside the contact, by a law known in closed form."""

import dataclasses
import math

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.weld.spot import predict
from buttonhole.weld.spot.bond import REACH, SHARE, bonded_radius, corona_width
from buttonhole.weld.spot.edge import edge_radius
from buttonhole.weld.spot.fields import CREEP
from buttonhole.weld.spot.prediction import BUTTON_OVER_NUGGET
from buttonhole.weld.spot.simulation import COARSE, DEFAULT, simulate
from buttonhole.weld.spot.watch import FLATTENING, STRAIN_RATE, STRENGTH_FLOOR, closing, diffusivity
from buttonhole.weld.spot.zones import fusion_temperature
from tests.weld.spot.welds import MILD, UNLIKE, joint, set_up

THREE = joint(("DC04", 0.7), ("HCT600X", 1.2), ("22MnB5", 1.6))


def test_asperities_close_as_power_law_creep_has_it() -> None:
    # df/dt = f rate (p / 3 f s)^n from nothing: f = p / 3 s (n rate t)^(1/n)
    p, strength, time = 60e6, 80e6 - STRENGTH_FLOOR, 0.2
    exact = p / (FLATTENING * 80e6) * (CREEP * STRAIN_RATE * time) ** (1.0 / CREEP)
    assert (closing(p, strength) * time) ** (1.0 / CREEP) == pytest.approx(exact, rel=1e-12)
    begun = 0.05
    step, f = 1e-5, begun
    for _ in range(round(time / step)):  # the differential equation itself, in small steps
        f += step * f * STRAIN_RATE * (p / (FLATTENING * f * 80e6)) ** CREEP
    assert f == pytest.approx((exact**CREEP + begun**CREEP) ** (1.0 / CREEP), rel=1e-3)


def test_atoms_move_as_arrhenius_has_it() -> None:
    hot, cold = diffusivity(1200.0), diffusivity(900.0)
    slope = math.log(hot / cold) / (1.0 / (900.0 + 273.15) - 1.0 / (1200.0 + 273.15))
    assert slope * 8.314 == pytest.approx(270e3, rel=1e-9)


def test_an_edge_between_rings_is_met_exactly() -> None:
    faces = np.linspace(0.0, 1.0, 11)
    values = 10.0 - 10.0 * (faces[1:] + faces[:-1]) / 2
    assert edge_radius(faces, values, 4.2) == pytest.approx(0.58)
    assert edge_radius(faces, values, 11.0) == 0.0


@pytest.mark.parametrize(
    ("stack", "current", "time", "force"),
    [
        (MILD, 5e3, 0.16, 2e3),
        (MILD, 8e3, 0.16, 2e3),
        (UNLIKE, 7.5e3, 0.2, 3e3),
        (THREE, 9e3, 0.3, 3.5e3),
    ],
)
def test_it_lies_between_the_nugget_and_the_edge_of_the_contact(
    stack: object, current: float, time: float, force: float
) -> None:
    for one in predict(stack, set_up(current, time, force)).interfaces:
        ring = one.corona
        assert one.nugget_diameter.value <= ring.inner_diameter * 1.03
        assert ring.inner_diameter <= ring.outer_diameter.value <= ring.contact_diameter
        exact = math.pi / 4 * (ring.outer_diameter.value**2 - ring.inner_diameter**2)
        assert ring.area.value == pytest.approx(exact, rel=1e-9)
        assert ring.area.low <= ring.area.value <= ring.area.high


def test_none_of_it_is_counted_into_the_button() -> None:
    (one,) = predict(MILD, set_up(8e3)).interfaces
    assert one.corona.area.value > 1e-6
    assert one.button_diameter.value == pytest.approx(
        BUTTON_OVER_NUGGET * one.nugget_diameter.value
    )


def test_a_weld_that_does_not_melt_is_stuck_and_no_weld() -> None:
    weld = predict(MILD, set_up(4e3))
    (one,) = weld.interfaces
    assert one.nugget_diameter.value == 0.0
    assert one.button_diameter.value == 0.0
    assert one.corona.inner_diameter == 0.0
    assert one.corona.outer_diameter.value > 0.0
    assert any("stuck weld is no weld" in text for text in weld.warnings)


def test_a_cold_weld_joins_nothing() -> None:
    (one,) = predict(MILD, set_up(2e3, 0.05)).interfaces
    assert one.corona.outer_diameter.value == 0.0
    assert one.corona.area.value == 0.0


def test_of_coated_faces_it_is_not_sure_that_they_join() -> None:
    coated = joint(("DC04", 0.8), ("DC04", 0.8), coating=Coating.GI)
    (one,) = predict(coated, set_up(9.5e3)).interfaces
    assert one.corona.area.low == 0.0
    (bare,) = predict(MILD, set_up(8e3)).interfaces
    assert bare.corona.area.low > 0.0


def test_longer_at_heat_joins_farther() -> None:
    radii = []
    for time in (0.08, 0.16, 0.32):
        weld = simulate(MILD, set_up(5e3, time), COARSE)
        radii.append(bonded_radius(weld, 0, SHARE.value, REACH.value))
    assert radii == sorted(radii)
    assert radii[-1] > radii[0]


def test_a_harder_condition_joins_less() -> None:
    weld = simulate(MILD, set_up(8e3))
    shares = [bonded_radius(weld, 0, share, REACH.value) for share in (0.1, 0.2, 0.5)]
    ways = [bonded_radius(weld, 0, SHARE.value, reach) for reach in (2e-9, 5e-9, 50e-9, 500e-9)]
    assert shares == sorted(shares, reverse=True)
    assert ways == sorted(ways, reverse=True)


def test_its_width_does_not_hang_on_the_grid_or_the_step() -> None:
    melted = fusion_temperature(MILD.interfaces[0])
    fine = dataclasses.replace(DEFAULT, cell=0.05e-3, longest_step=0.75e-3, t_step=30.0)
    for current in (6e3, 8e3):
        widths = [
            corona_width(simulate(MILD, set_up(current), one), 0, melted, SHARE.value, REACH.value)
            for one in (DEFAULT, fine)
        ]
        assert widths[0] == pytest.approx(widths[1], abs=0.05e-3)
