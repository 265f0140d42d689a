"""How far sheets part, and the resistance through a weld."""

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.separation import sheet_separation
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import COARSE, Simulation, simulate

CAP = ElectrodeCap(face_diameter=6e-3)


def two(thickness: float) -> StackUp:
    return StackUp((Sheet(find_steel("DC04"), thickness),) * 2)


def weld(stack: StackUp, current: float, time: float) -> Simulation:
    asked = SpotSetUp((Pulse(current, time),), CurrentType.MFDC, 2.5e3, CAP, CAP, 0.3, 0.1)
    return simulate(stack, asked, COARSE)


@pytest.mark.parametrize(
    ("thickness", "current", "time"), [(0.5e-3, 8e3, 0.1), (1.5e-3, 10e3, 0.3)]
)
def test_it_lies_where_finite_elements_put_it(
    thickness: float, current: float, time: float
) -> None:
    """Role: verification. 27 to 111 um at 0.5 and 1.5 mm, docs/validation/contact.md."""
    (found,) = sheet_separation(weld(two(thickness), current, time), two(thickness))
    assert found.low < 111e-6
    assert found.high > 27e-6


def test_a_cold_weld_parts_nothing_and_a_hotter_one_more() -> None:
    stack = two(1e-3)
    parted = [sheet_separation(weld(stack, one, 0.2), stack)[0].value for one in (1e3, 7e3, 9e3)]
    assert parted[0] < 5e-6
    assert parted[0] < parted[1] < parted[2]


@pytest.mark.parametrize(("thickness", "current", "time"), [(0.8e-3, 8e3, 0.16), (1e-3, 9e3, 0.2)])
def test_the_resistance_dips_early_peaks_and_falls(
    thickness: float, current: float, time: float
) -> None:
    """The known course: films burn, steel warms to the beta peak, contacts grow and melt forms.

    Common practice, no source for the sizes.
    """
    resistance = weld(two(thickness), current, time).record[:, 2]
    dip = int(np.argmin(resistance[: len(resistance) // 3]))
    peak = dip + int(np.argmax(resistance[dip:]))
    assert resistance[0] > 1.2 * resistance[dip]
    assert resistance[peak] > 1.03 * resistance[dip]
    assert resistance[-1] < 0.97 * resistance[peak]
