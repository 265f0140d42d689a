"""Cells that neither current nor heat has reached are left out, and nobody can tell."""

import dataclasses
import math

import numpy as np
import pytest

from buttonhole.weld.spot import active
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse
from buttonhole.weld.spot.shunt import Shunt
from buttonhole.weld.spot.simulation import DEFAULT, simulate
from tests.weld.spot.welds import UNLIKE, joint, set_up

# potentials to the last digit: where they are iterated, two tolerances would be compared
ACTIVE = dataclasses.replace(DEFAULT, tolerance=1e-6)
EVERYWHERE = dataclasses.replace(ACTIVE, everywhere=True)
THIN = joint(("DC04", 0.8), ("DC04", 0.8))
UNEVEN = joint(("DC04", 1.0), ("DC04", 1.2))
DOME = ElectrodeCap(face_diameter=6e-3, radius=40e-3)
WIDE = ElectrodeCap(face_diameter=8e-3)
WELDS = {
    "as it grows": (THIN, set_up(8e3), NORMAL),
    "where it begins": (THIN, set_up(6e3), NORMAL),
    "long": (joint(("DC04", 1.0), ("DC04", 1.0)), set_up(6.5e3, 1.2), NORMAL),
    "thick": (
        joint(("DC04", 3.0), ("DC04", 3.0)),
        set_up(14e3, 0.6, 8e3, cap_a=WIDE, cap_b=WIDE),
        NORMAL,
    ),
    "alternating": (UNEVEN, set_up(8e3, 0.2, current_type=CurrentType.AC50), NORMAL),
    "two pulses": (
        UNLIKE,
        set_up(1.0, pulses=(Pulse(6e3, 0.1, cool_time=0.04), Pulse(8e3, 0.2))),
        NORMAL,
    ),
    "three sheets": (
        joint(("DC04", 0.7), ("DC04", 1.5), ("DC04", 1.2)),
        set_up(8.5e3, 0.3),
        NORMAL,
    ),
    "four sheets": (
        joint(("DC04", 0.7), ("DC04", 0.8), ("DC04", 1.0), ("DC04", 1.2)),
        set_up(9e3, 0.35, 3e3),
        NORMAL,
    ),
    "domes": (UNLIKE, set_up(7e3, 0.35, 3.75e3, cap_a=DOME, cap_b=DOME), NORMAL),
    "warm caps": (UNEVEN, set_up(8e3, 0.2), SpotCondition(cap_temperature=(80.0, 150.0))),
    "beside a weld": (UNEVEN, set_up(9e3, 0.2), SpotCondition(shunt=Shunt(20e-3))),
    "no water": (UNEVEN, set_up(8e3, 0.2), SpotCondition(water_temperature=None)),
}


@pytest.mark.parametrize("name", WELDS)
def test_it_welds_what_all_cells_would(name: str) -> None:
    stack, asked, condition = WELDS[name]
    some = simulate(stack, asked, ACTIVE, condition=condition)
    every = simulate(stack, asked, EVERYWHERE, condition=condition)
    assert some.nugget.max() > 1e-3
    assert some.nugget == pytest.approx(every.nugget, abs=1e-6)  # a thousandth of a millimetre
    assert some.penetration == pytest.approx(every.penetration, abs=1e-6)
    assert some.sunk == pytest.approx(every.sunk, abs=1e-6)
    assert some.cooling_t85 == pytest.approx(every.cooling_t85, rel=5e-4, nan_ok=True)
    assert some.heat == pytest.approx(every.heat, rel=5e-4)
    assert some.passed == pytest.approx(every.passed, rel=1e-5)
    assert abs(some.imbalance) < 1e-9  # what is left out takes no heat away
    metal = float((some.layout.part >= 0).mean())
    assert some.worked <= metal  # warm caps have warmed the sheets all over before the current
    assert every.worked == pytest.approx(1.0)


def test_cells_left_out_are_cold() -> None:
    """After a short weld the outer rings of the sheets have never been worked."""
    stack, asked, condition = WELDS["as it grows"]
    short = dataclasses.replace(asked, pulses=(Pulse(8e3, 0.02),), hold_time=0.0)
    quick = dataclasses.replace(DEFAULT, cooling=False)
    some = simulate(stack, short, quick, condition=condition)
    every = simulate(stack, short, dataclasses.replace(quick, everywhere=True), condition=condition)
    assert some.worked < float((some.layout.part >= 0).mean()) - 0.05
    assert np.abs(some.peak - every.peak).max() < active.FRONT


def rows_of(temperature: float, ring: int) -> np.ndarray:
    """Where sheets reach to, of 30 rings of half a millimetre, one cell of a sheet being warm."""
    t = np.full((4, 30), active.START)
    t[1, ring] = temperature
    part = np.repeat(np.array([0, 1, 2, 3])[:, None], 30, axis=1)
    facts = np.zeros((3, 8))
    facts[:, 3] = (0.0, 1e-3, 2e-3)  # depth of the contacts
    reach = np.array([30, 0, 0, 30])
    active.grow(t, part, 0.5e-3 * np.arange(31), facts, np.full(3, 2.5e-3), reach)
    return reach


def test_sheets_reach_beyond_the_contact_and_beyond_what_is_warm() -> None:
    cold = rows_of(active.START, 0)
    beyond = math.ceil((2.5 + active.SPREADING * 1.0) / 0.5)
    assert cold.tolist() == [30, beyond, beyond, 30]
    warm = rows_of(active.START + 2 * active.FRONT, beyond - active.AHEAD)
    assert warm.tolist() == [30, beyond + 1, beyond + 1, 30]
    assert rows_of(active.START + 0.5 * active.FRONT, beyond - 1).tolist() == cold.tolist()
