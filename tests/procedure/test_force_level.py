"""The second force of a lobe stays inside what machine and caps bear, and says so."""

from dataclasses import replace

import pytest

from buttonhole.procedure.force_level import cap_limit, second_force
from buttonhole.procedure.machine import ArmPair, SpotMachine
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

CAP = ElectrodeCap(face_diameter=6e-3)
SET_UP = SpotSetUp((Pulse(8e3, 0.16),), CurrentType.MFDC, 2e3, CAP, CAP, 0.3, 0.2)
GUN = SpotMachine(
    "Gun A", 2e3, 13e3, 1e3, 4.5e3, (CurrentType.MFDC,), (CAP,), (ArmPair("500", 0.5, 2.2e3),)
)


def test_a_quarter_more_where_it_can_be() -> None:
    assert second_force(SET_UP) == (2.5e3, "2.50 kN, a quarter more than set")
    assert second_force(SET_UP, GUN)[0] == 2.5e3


def test_the_weakest_part_bounds_it_and_is_named() -> None:
    force, words = second_force(SET_UP, GUN, "500")
    assert force == 2.2e3
    assert "most that Gun A gives" in words
    force, words = second_force(replace(SET_UP, electrode_force=3.5e3), GUN)
    assert force == 4e3
    assert "16 mm cap" in words


def test_where_there_is_no_more_it_goes_down() -> None:
    force, words = second_force(replace(SET_UP, electrode_force=4e3), GUN)
    assert force == 3e3
    assert "a quarter less" in words
    assert "no more than 4.00 kN" in words


def test_what_somebody_names_is_taken_and_its_excess_said() -> None:
    assert second_force(SET_UP, GUN, None, 3e3)[0] == 3e3
    assert "more than the 16 mm cap bears" in second_force(SET_UP, GUN, None, 4.2e3)[1]
    with pytest.raises(BadInput, match="another"):
        second_force(SET_UP, GUN, None, 2e3)


def test_caps_between_two_diameters_bear_what_the_smaller_one_bears() -> None:
    assert cap_limit(replace(CAP, body_diameter=15e-3)) == 2.5e3
    assert cap_limit(replace(CAP, body_diameter=10e-3)) is None
