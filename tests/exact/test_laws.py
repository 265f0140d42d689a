"""Small laws with an exact answer: mean of the sine's square, melting voltage, energy books.

Role: verification. Sources: calculus; Kohlrausch's relation between voltage and temperature of a
contact with the Lorenz number 2.44e-8 W ohm/K2 (from memory).
"""

import itertools
import math

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.contact_law import LORENZ, pressure, spot_temperature
from buttonhole.weld.spot.contact_mechanics import inside
from buttonhole.weld.spot.current import mean_square
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import COARSE, Resolution, simulate


def test_the_mean_square_of_a_half_wave_is_the_rms() -> None:
    level = np.array([0.0, 0.2, 8000.0, 8000.0])
    assert mean_square(level, 0.01, 0.02, 50.0) == pytest.approx(8000.0**2)
    assert mean_square(level, 0.0, 0.005, 50.0) == pytest.approx(8000.0**2)  # a quarter wave
    # the first millisecond of a sine holds little: 2 I^2 * (1/2 - sin(2 w t) / (4 w t))
    w = 2.0 * math.pi * 50.0
    share = 2.0 * (0.5 - math.sin(2.0 * w * 1e-3) / (4.0 * w * 1e-3))
    assert mean_square(level, 0.0, 1e-3, 50.0) == pytest.approx(share * 8000.0**2)


def test_the_mean_square_of_a_slope() -> None:
    slope = np.array([0.0, 0.1, 0.0, 9000.0])
    assert mean_square(slope, 0.0, 0.1, 0.0) == pytest.approx(9000.0**2 / 3.0)


def test_iron_melts_at_its_melting_voltage() -> None:
    volts = 2.0 * math.sqrt(LORENZ * (1811.0**2 - 300.0**2))
    assert volts == pytest.approx(0.56, abs=0.005)
    assert spot_temperature(300.0 - 273.15, volts) == pytest.approx(1811.0 - 273.15, abs=0.5)


@pytest.mark.parametrize("shape", [0.0, 0.5, 1.0])
def test_pressure_over_a_contact_adds_up_to_the_force(shape: float) -> None:
    r = (np.arange(4000) + 0.5) * 3e-3 / 4000
    p = np.array([pressure(x, 3e-3, 3e3, shape) for x in r])
    assert (p * 2.0 * math.pi * r * 3e-3 / 4000).sum() == pytest.approx(3e3, rel=5e-3)


def test_the_area_inside_a_faded_edge_is_that_of_the_circle() -> None:
    faces = np.linspace(0.0, 5e-3, 51)
    rings = math.pi * np.diff(faces**2)
    shares = [inside(a, b, 2.57e-3, 0.3e-3) for a, b in itertools.pairwise(faces)]
    # a linear fade over w adds pi w^2 / 12
    exact = math.pi * (2.57e-3**2 + 0.3e-3**2 / 12)
    assert float((rings * np.array(shares)).sum()) == pytest.approx(exact, rel=1e-3)


def joint(*thicknesses: float) -> StackUp:
    return StackUp(tuple(Sheet(find_steel("DC04"), t) for t in thicknesses))


def set_up(kind: CurrentType, hold: float = 0.1) -> SpotSetUp:
    cap = ElectrodeCap(face_diameter=5e-3)
    pulses = (Pulse(8.5e3, 0.1, cool_time=0.02), Pulse(7e3, 0.06, up_slope=0.02, down_slope=0.01))
    return SpotSetUp(pulses, kind, 2.1e3, cap, cap, 0.2, hold)


@pytest.mark.parametrize("kind", list(CurrentType))
@pytest.mark.parametrize("sheets", [(0.8e-3, 0.8e-3), (0.7e-3, 1.2e-3), (0.8e-3,) * 4])
def test_the_energy_books_close(kind: CurrentType, sheets: tuple[float, ...]) -> None:
    weld = simulate(joint(*sheets), set_up(kind), COARSE)
    assert weld.heat > 100.0
    assert abs(weld.imbalance) < 1e-12


def test_half_a_symmetric_stack_is_as_good_as_the_whole() -> None:
    # both to a tight tolerance: what the solver leaves is not what is asked for here
    half = Resolution(COARSE.cell, COARSE.t_step, COARSE.longest_step, tolerance=1e-5)
    whole = Resolution(COARSE.cell, COARSE.t_step, COARSE.longest_step, tolerance=1e-5, whole=True)
    for sheets in ((0.8e-3, 0.8e-3), (0.8e-3, 1.2e-3, 1.2e-3, 0.8e-3)):
        one = simulate(joint(*sheets), set_up(CurrentType.MFDC), half)
        both = simulate(joint(*sheets), set_up(CurrentType.MFDC), whole)
        assert one.nugget == pytest.approx(both.nugget, rel=1e-3, abs=1e-6)
        assert one.penetration == pytest.approx(both.penetration, rel=1e-3, abs=1e-6)
        assert one.heat == pytest.approx(both.heat, rel=1e-4)
        assert one.record.shape == both.record.shape
        assert one.peak == pytest.approx(both.peak, rel=1e-3, abs=1.0)
