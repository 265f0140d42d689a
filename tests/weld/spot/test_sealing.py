"""What opens the ring round a nugget: directions and limits of the balance of pressures."""

import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.expulsion import (
    after_expulsion,
    interface_expulsion,
    splash,
    surface_expulsion,
)
from buttonhole.weld.spot.fields import OPENS_AT
from buttonhole.weld.spot.sealing import load, pocket_pressure, zinc_pressure
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import COARSE, Simulation, simulate

STACK = StackUp((Sheet(find_steel("DC04"), 1e-3),) * 2)
CAP = ElectrodeCap(face_diameter=6e-3)


def weld(current: float, force: float = 2.5e3) -> Simulation:
    asked = SpotSetUp((Pulse(current, 0.2),), CurrentType.MFDC, force, CAP, CAP, 0.3, 0.1)
    return simulate(STACK, asked, COARSE)


def test_a_nugget_as_wide_as_its_contact_is_not_held() -> None:
    assert load(2e3, 3e-3, 3e-3, 20e6, 50e6, 1.0, 0.0) > 1.0


def test_no_melt_presses_nothing() -> None:
    assert load(2e3, 0.0, 3e-3, 20e6, 50e6, 1.0, 0.0) == 0.0


@pytest.mark.parametrize(("argument", "step"), [(1, 0.3e-3), (3, 20e6), (5, 5.0), (6, 10e6)])
def test_wider_melt_stronger_walls_faster_growth_and_zinc_press_more(
    argument: int, step: float
) -> None:
    plain = [2e3, 2e-3, 3.5e-3, 20e6, 50e6, 1.0, 0.0]
    more = [*plain[:argument], plain[argument] + step, *plain[argument + 1 :]]
    assert load(*more) > load(*plain)


@pytest.mark.parametrize(("argument", "step"), [(0, 1e3), (2, 0.5e-3), (4, 50e6)])
def test_force_a_wider_contact_and_a_stronger_ring_hold_more(argument: int, step: float) -> None:
    plain = [2e3, 2e-3, 3.5e-3, 20e6, 50e6, 1.0, 0.0]
    more = [*plain[:argument], plain[argument] + step, *plain[argument + 1 :]]
    assert load(*more) < load(*plain)


def test_zinc_at_its_boiling_point_has_the_pressure_of_the_air() -> None:
    """Clausius and Clapeyron through 1180 K; the boiling point of zinc is 907 degC (handbooks)."""
    assert zinc_pressure(906.85, 1.0, 1.0) == pytest.approx(101_325.0, rel=1e-6)
    assert zinc_pressure(1600.0, 7e-6, 1e-3) > zinc_pressure(1500.0, 7e-6, 1e-3)
    assert zinc_pressure(1600.0, 0.0, 1e-3) == 0.0


def test_a_pocket_that_grows_at_the_rate_of_the_table_meets_the_flow_stress() -> None:
    assert pocket_pressure(30e6, 0.1) == pytest.approx(30e6)
    assert pocket_pressure(30e6, 10.0) > pocket_pressure(30e6, 1.0)


def test_the_chance_is_even_where_the_ring_opens() -> None:
    assert interface_expulsion(OPENS_AT) == pytest.approx(0.5)
    assert interface_expulsion(0.0) == 0.0
    assert interface_expulsion(2.0) > 0.99
    assert surface_expulsion(1200.0, 1528.0) < 1e-6 < 0.99 < surface_expulsion(1800.0, 1528.0)


def test_more_current_is_nearer_to_splash_and_more_force_farther() -> None:
    loads = [float(weld(current).load[0]) for current in (7e3, 8e3, 9e3, 10e3, 12e3)]
    assert loads == sorted(loads)
    assert splash(weld(12e3), STACK) > splash(weld(8e3), STACK)
    assert weld(9e3, force=3.5e3).load[0] < weld(9e3).load[0]


def test_what_is_left_counts_from_the_moment_the_ring_opened() -> None:
    assert after_expulsion(6e-3, 5e-3).value < 5e-3
    assert after_expulsion(6e-3, 0.0).high == pytest.approx(6e-3)
