"""What gun, caps, mains and the last weld do to a weld: directions, limits, energy books."""

import dataclasses
import math

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.constants import CONTACT
from buttonhole.weld.spot.cost import condition_costs, pitch_for_loss
from buttonhole.weld.spot.expulsion import splash
from buttonhole.weld.spot.prediction import predict
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.shunt import Shunt
from buttonhole.weld.spot.simulation import COARSE, Simulation, simulate
from buttonhole.weld.spot.supply import ElectricSupply
from buttonhole.weld.spot.window import window

FAST = dataclasses.replace(COARSE, cooling=False)
SHEET = Sheet(find_steel("DC04"), 0.8e-3)
TWO = StackUp((SHEET, SHEET))
UNLIKE = StackUp((SHEET, Sheet(find_steel("DP1180"), 1.2e-3)))
FLAT, RADIUSED = ElectrodeCap(5e-3), ElectrodeCap(6e-3, 50e-3)
LONG_LEAD = {"lead_length": 50.0, "lead_area": 2.5e-6}


def set_up(current: float = 8e3, cap: ElectrodeCap = FLAT, **more: object) -> SpotSetUp:
    plain = SpotSetUp((Pulse(current, 0.16),), CurrentType.MFDC, 2.2e3, cap, cap, 0.3, 0.1)
    return dataclasses.replace(plain, **more)


def weld(condition: SpotCondition = NORMAL, stack: StackUp = TWO, **more: object) -> Simulation:
    return simulate(stack, set_up(**more), FAST, condition=condition)


def expulsion_limit(
    condition: SpotCondition, cap: ElectrodeCap = FLAT, stack: StackUp = TWO
) -> float:
    """Lowest current [A] at which one weld in ten throws metal."""
    low, high = 4.0e3, 14e3
    while high - low > 20.0:
        middle = 0.5 * (low + high)
        chance = splash(weld(condition, stack, current=middle, cap=cap), stack)
        low, high = (middle, high) if chance < 0.1 else (low, middle)
    return low


ALL = SpotCondition(
    tilt=math.radians(2.0),
    misalignment=0.5e-3,
    wear=(0.5e-3, 0.2e-3),
    shunt=Shunt(15e-3),
    cap_temperature=(120.0, 60.0),
    water_temperature=None,
    supply=ElectricSupply(mains_voltage=380.0, **LONG_LEAD, regulated=False),
)


@pytest.mark.parametrize("stack", [TWO, UNLIKE])
@pytest.mark.parametrize("kind", [CurrentType.MFDC, CurrentType.AC50])
@pytest.mark.parametrize(
    "condition",
    [ALL, SpotCondition(shunt=Shunt(12e-3)), SpotCondition(cap_temperature=(90.0, 90.0))],
)
def test_the_energy_books_close(
    stack: StackUp, kind: CurrentType, condition: SpotCondition
) -> None:
    found = weld(condition, stack, current_type=kind)
    assert found.heat > 100.0
    assert abs(found.imbalance) < 1e-12


def test_a_normal_condition_changes_nothing() -> None:
    strong = SpotCondition(supply=ElectricSupply())  # regulated, with headroom
    plain, normal, fed = weld(), weld(SpotCondition()), weld(strong)
    for other in (normal, fed):
        assert np.array_equal(plain.record, other.record)
        assert np.array_equal(plain.peak, other.peak)
    assert (plain.given, plain.passed) == (1.0, 1.0)
    assert NORMAL.is_normal
    assert not strong.is_normal


def test_the_record_holds_the_current_through_the_weld() -> None:
    found = weld(SpotCondition(shunt=Shunt(15e-3)))
    through = found.record[:, 1]
    assert through.max() < 8e3
    assert math.sqrt((through**2).mean()) == pytest.approx(found.passed * 8e3, rel=0.02)


def test_half_a_shunted_weld_is_as_good_as_the_whole() -> None:
    beside = SpotCondition(shunt=Shunt(15e-3))
    fine = dataclasses.replace(FAST, tolerance=1e-5)
    half = simulate(TWO, set_up(), fine, condition=beside)
    whole = simulate(TWO, set_up(), dataclasses.replace(fine, whole=True), condition=beside)
    assert half.passed == pytest.approx(whole.passed, rel=1e-4)
    assert half.nugget == pytest.approx(whole.nugget, rel=1e-3)


def test_the_nearer_the_last_weld_the_smaller_the_nugget() -> None:
    found = [weld(SpotCondition(shunt=Shunt(s * 1e-3))) for s in (10, 15, 25, 50)]
    nuggets = [float(one.nugget[0]) for one in found] + [float(weld().nugget[0])]
    passed = [one.passed for one in found] + [1.0]
    assert nuggets == sorted(nuggets)
    assert passed == sorted(passed)
    assert nuggets[0] < 0.98 * nuggets[-1]


def test_worn_flat_caps_make_a_smaller_nugget() -> None:
    found = [float(weld(SpotCondition(wear=(w, w))).nugget[0]) for w in (0.0, 0.5e-3, 1e-3)]
    assert found[0] > found[1] > found[2]
    assert found[2] < 0.99 * found[0]


def test_worn_radiused_caps_dent_less_and_hardly_change_the_nugget() -> None:
    """Their mark comes from force and hot strength before the curve; a wider edge isn't reached."""
    found = [weld(SpotCondition(wear=(w, w)), cap=RADIUSED) for w in (0.0, 0.5e-3, 1e-3)]
    sunk = [float(one.sunk[0]) for one in found]
    assert sunk[0] > sunk[1] > sunk[2]
    assert float(found[2].nugget[0] / found[0].nugget[0]) == pytest.approx(1.0, abs=0.03)


def test_low_mains_and_long_leads_make_a_smaller_nugget() -> None:
    loose = ElectricSupply(regulated=False)
    low = dataclasses.replace(loose, mains_voltage=370.0)
    long = dataclasses.replace(loose, **LONG_LEAD)
    nuggets = [float(weld(SpotCondition(supply=one)).nugget[0]) for one in (loose, low, long)]
    assert nuggets[1] < nuggets[0] > nuggets[2]


def test_a_regulated_gun_with_headroom_makes_up_for_the_mains() -> None:
    held = ElectricSupply(mains_voltage=370.0, lead_length=20.0, lead_area=6e-6)
    assert weld(SpotCondition(supply=held)).nugget == weld().nugget
    weak = dataclasses.replace(held, no_load_voltage=5.0, loop_resistance=500e-6)
    found = weld(SpotCondition(supply=weak))
    assert found.given < 0.9
    assert found.nugget < 0.95 * weld().nugget


def test_warm_caps_leave_the_nugget_and_warm_the_copper() -> None:
    """More comes in through hot copper and less is made at its film: the two nearly cancel.

    With next to no film at the caps only the first is left.
    """
    clean = dataclasses.replace(CONTACT, cap_film=1e-11)
    long = (Pulse(8.5e3, 0.4),)
    for constants, least, most in ((CONTACT, 0.98, 1.02), (clean, 1.0, 1.5)):
        cold, warm = (
            simulate(
                TWO, set_up(pulses=long), FAST, constants,
                condition=SpotCondition(cap_temperature=(t, t)),
            )
            for t in (20.0, 200.0)
        )  # fmt: skip
        assert least < float(warm.nugget[0] / cold.nugget[0]) < most
        copper = cold.layout.part == 0
        assert warm.peak[copper].mean() > cold.peak[copper].mean() + 100.0
    assert warm.sunk[0] > cold.sunk[0]


@pytest.mark.parametrize("cap", [FLAT, RADIUSED])
def test_gap_tilt_and_misalignment_lower_the_expulsion_limit(cap: ElectrodeCap) -> None:
    normal, pressed = expulsion_limit(NORMAL, cap), weld(current=7.5e3, cap=cap).load[0]
    for one in (SpotCondition(tilt=math.radians(2.0)), SpotCondition(misalignment=0.5e-3)):
        # where a face melts through before the ring opens, the limit is the same, the load is not
        assert expulsion_limit(one, cap) <= normal + 40.0  # A, two steps of the search
        # a curved cap leans on its curve and seals in nearly as well
        assert weld(one, current=7.5e3, cap=cap).load[0] > (1.0 if cap is FLAT else 0.99) * pressed
    gapped = StackUp(TWO.sheets, 0.3e-3)
    assert expulsion_limit(NORMAL, cap, gapped) < normal
    assert weld(stack=gapped, current=7.5e3, cap=cap).load[0] > pressed


def test_more_tilt_and_more_misalignment_lower_it_more() -> None:
    tilts = [expulsion_limit(SpotCondition(tilt=math.radians(a))) for a in (1.0, 2.0, 3.0)]
    assert tilts == sorted(tilts, reverse=True)
    asides = [expulsion_limit(SpotCondition(misalignment=e)) for e in (0.0, 0.3e-3, 0.8e-3)]
    assert asides == sorted(asides, reverse=True)


def test_what_costs_is_told_with_its_figure() -> None:
    costs = condition_costs(TWO, set_up(6e3), SpotCondition(shunt=Shunt(8e-3)))
    (text,) = costs.texts
    assert "8 mm away takes about " in text
    assert "% of the current" in text
    assert "mm) smaller" in text
    assert "more current beside a weld" in text
    assert text.endswith("mm between welds.")
    far = condition_costs(TWO, set_up(), SpotCondition(shunt=Shunt(30e-3)))
    assert all("between welds" not in one for one in far.texts)  # there already
    assert condition_costs(TWO, set_up(), NORMAL).costs == ()


def test_a_condition_that_costs_nothing_is_not_told() -> None:
    headroom = SpotCondition(supply=ElectricSupply(mains_voltage=390.0))
    found = condition_costs(TWO, set_up(), headroom)
    assert [one.name for one in found.costs] == ["supply"]
    assert found.texts == ()


def test_the_pitch_at_which_five_percent_are_lost() -> None:
    pitch = pitch_for_loss(TWO, set_up())
    beside = weld(SpotCondition(shunt=Shunt(pitch)))
    assert float(1.0 - beside.nugget[0] / weld().nugget[0]) == pytest.approx(0.05, abs=0.006)
    assert pitch_for_loss(TWO, set_up(), loss=0.02) > pitch
    assert pitch_for_loss(TWO, set_up(), loss=0.9) == 5e-3


def test_a_prediction_says_what_it_was_made_for() -> None:
    found = predict(TWO, set_up(), resolution=COARSE, condition=ALL)
    assert found.condition == ALL
    assert 0.0 < found.current_passed < 1.0
    assert found.current_given < 1.0
    assert found.nugget_offset > 0.0
    assert 0.0 < found.nugget_ovality < 1.0
    assert {one.name for one in found.condition_costs} == {
        "tilt", "misalignment", "wear", "shunt", "warm_caps", "supply"
    }  # fmt: skip


def test_a_window_moves_with_the_condition() -> None:
    currents = np.linspace(5e3, 10e3, 6)
    least = (4.0e-3,)
    plain, shunted = (
        window(TWO, set_up(), least, currents=currents, resolution=COARSE, condition=one)
        for one in (NORMAL, SpotCondition(shunt=Shunt(12e-3)))
    )
    assert shunted.lower_limit[0] > plain.lower_limit[0]


@pytest.mark.parametrize(
    ("key", "value"),
    [("tilt", -0.1), ("tilt", 1.0), ("misalignment", 9e-3), ("wear", (0.0, math.nan)),
     ("cap_temperature", (20.0, 900.0)), ("cap_temperature", (10.0, 20.0)),
     ("water_temperature", 90.0)],
)  # fmt: skip
def test_what_no_gun_meets_is_refused(key: str, value: object) -> None:
    with pytest.raises(BadInput) as caught:
        SpotCondition(**{key: value})
    assert caught.value.key == key
    assert "give" in caught.value.message
