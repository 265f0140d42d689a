"""The emulator: near the solver, alike from both sides, quick, and honest about its ground."""

import dataclasses
import math
import subprocess
import sys
import time

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.emulator import QuickWeld, quick, quick_window
from buttonhole.weld.spot.emulator.stored import about
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

CAP = ElectrodeCap(face_diameter=6e-3)


def stack(*thicknesses: float, steel: str = "DC04", coating: Coating = Coating.BARE) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(steel), t * 1e-3, coating) for t in thicknesses))


def set_up(current: float = 9e3, time: float = 0.2, force: float = 2.4e3) -> SpotSetUp:
    return SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, CAP, CAP, 0.3, 0.16)


TWO = stack(1.0, 1.0)


def figures(weld: QuickWeld) -> list[float]:
    found = [weld.expulsion_probability, weld.indentation, weld.haz_diameter, weld.cooling_t85]
    found += [weld.heat, *(one.nugget_diameter for one in weld.interfaces)]
    found += [one.button_diameter for one in weld.interfaces]
    for one in found:
        assert 0.0 <= one.low <= one.value <= one.high
    return [number for one in found for number in (one.low, one.value, one.high)]


@pytest.mark.parametrize("sheets", [(1.0, 1.0), (0.8, 1.2, 0.8), (0.8, 1.0, 1.5, 1.0)])
def test_a_weld_of_the_shop_is_inside_and_has_figures(sheets: tuple[float, ...]) -> None:
    weld = quick(stack(*sheets), set_up())
    assert weld.inside_ground, weld.why_outside
    assert weld.why_outside == ""
    assert all(math.isfinite(one) for one in figures(weld))
    assert len(weld.interfaces) == len(weld.emulator_error) == len(sheets) - 1
    assert all(one.nugget_diameter.value > 2e-3 for one in weld.interfaces)


def test_a_weld_seen_from_the_other_side_is_the_same_weld() -> None:
    joint = StackUp(
        (
            Sheet(find_steel("DC04"), 0.8e-3, Coating.GI),
            Sheet(find_steel("22MnB5"), 1.4e-3, Coating.ALSI),
            Sheet(find_steel("HC340LA"), 1.0e-3),
        )
    )
    setting = dataclasses.replace(set_up(), cap_b=ElectrodeCap(8e-3, 60e-3))
    turned = dataclasses.replace(setting, cap_a=setting.cap_b, cap_b=setting.cap_a)
    one, other = quick(joint, setting), quick(StackUp(joint.sheets[::-1]), turned)
    for a, b in zip(one.interfaces, other.interfaces[::-1], strict=True):
        assert a.nugget_diameter.value == pytest.approx(b.nugget_diameter.value, rel=1e-5)
        assert a.penetration_a == pytest.approx(b.penetration_b, rel=1e-4, abs=1e-9)
    assert one.sunk == pytest.approx(other.sunk[::-1], rel=1e-4)
    assert one.heat.value == pytest.approx(other.heat.value, rel=1e-5)


def test_more_current_gives_more_nugget_and_more_splash() -> None:
    currents = np.linspace(5e3, 17e3, 17)
    mapped = quick_window(TWO, set_up(), [4e-3], currents=currents.tolist())
    nugget = mapped.window.nugget[0, 0]
    assert nugget[0] == 0.0
    assert nugget[-1] > 5e-3
    assert (np.diff(nugget) > -0.1e-3).all()
    assert mapped.window.expulsion[0, 0] < 0.05 < 0.5 < mapped.window.expulsion[0, -1]
    assert 5e3 < mapped.window.lower_limit[0] < 10e3


def test_a_window_is_made_of_the_same_welds() -> None:
    currents, times = [7e3, 9e3], [0.15, 0.3]
    mapped = quick_window(TWO, set_up(), [4e-3], currents=currents, times=times)
    assert mapped.inside_ground.all()
    for t, duration in enumerate(times):
        for c, current in enumerate(currents):
            one = quick(TWO, set_up(current, duration))
            found = mapped.window.nugget[0, t, c]
            assert found == pytest.approx(one.interfaces[0].nugget_diameter.value, rel=1e-5)
            chance = mapped.window.expulsion[t, c]
            assert chance == pytest.approx(one.expulsion_probability.value, abs=1e-5)


def test_a_window_says_where_it_leaves_the_ground() -> None:
    mapped = quick_window(TWO, set_up(), [4e-3], currents=[9e3], times=[0.2, 2.0])
    assert mapped.inside_ground.ravel().tolist() == [True, False]
    assert "weld time is 2e+03 ms" in mapped.why_outside or "2000" in mapped.why_outside
    thick = quick_window(stack(4.0, 4.0), set_up(force=9e3), [4e-3], currents=[12e3, 14e3])
    assert not thick.inside_ground.any()
    assert "thickness of sheet 1" in thick.why_outside


PULSES = (Pulse(8e3, 0.1, 0.04), Pulse(9e3, 0.2))


@pytest.mark.parametrize(
    ("joint", "setting", "condition", "said"),
    [
        (stack(4.0, 4.0), set_up(force=9e3), NORMAL, "thickness of sheet 1"),
        (stack(0.6, 3.0), set_up(), NORMAL, "thickest over the thinnest"),
        (TWO, set_up(time=2.0), NORMAL, "weld time"),
        (TWO, set_up(current=30e3), NORMAL, "welding current"),
        (TWO, set_up(force=9.5e3), NORMAL, "electrode force"),
        (TWO, dataclasses.replace(set_up(), pulses=PULSES), NORMAL, "2 pulses"),
        (TWO, dataclasses.replace(set_up(), hold_time=3.0), NORMAL, "hold time"),
        (TWO, dataclasses.replace(set_up(), cap_a=ElectrodeCap(radius=8e-3)), NORMAL, "radius"),
        (TWO, set_up(), SpotCondition(tilt=0.05), "tilt"),
        (TWO, set_up(), SpotCondition(cap_temperature=(80.0, 20.0)), "cap temperature"),
        (StackUp(TWO.sheets, gap=3e-3), set_up(), NORMAL, "gap"),
    ],
)
def test_outside_its_ground_it_says_which_input(
    joint: StackUp, setting: SpotSetUp, condition: SpotCondition, said: str
) -> None:
    weld = quick(joint, setting, condition)
    assert not weld.inside_ground
    assert said in weld.why_outside
    assert all(math.isfinite(one) for one in figures(weld))


def test_worn_caps_are_looked_at() -> None:
    worn = SpotCondition(wear=(1e-3, 1e-3))
    found = quick(TWO, set_up(), worn)
    assert found.inside_ground
    wide = dataclasses.replace(set_up(), cap_a=ElectrodeCap(7e-3), cap_b=ElectrodeCap(7e-3))
    assert found.interfaces == quick(TWO, wide).interfaces
    assert found.interfaces != quick(TWO, set_up()).interfaces


def test_nets_that_part_are_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    known = about()
    strict = {**known["apart"]["2"], "limit": 0.0}
    apart = {**known["apart"], "2": strict}
    monkeypatch.setattr(
        "buttonhole.weld.spot.emulator.at_once.about", lambda: {**known, "apart": apart}
    )
    weld = quick(TWO, set_up())
    assert not weld.inside_ground
    assert "least usual" in weld.why_outside


def test_nets_of_another_model_are_not_believed(monkeypatch: pytest.MonkeyPatch) -> None:
    known = {**about(), "model_version": "spot-0"}
    monkeypatch.setattr("buttonhole.weld.spot.emulator.at_once.about", lambda: known)
    weld = quick(TWO, set_up())
    assert not weld.inside_ground
    assert "spot-0" in weld.why_outside


def test_what_can_not_be_set_is_refused() -> None:
    with pytest.raises(BadInput):
        quick(TWO, set_up(current=-5.0))


def test_it_takes_less_than_twenty_milliseconds() -> None:
    quick(TWO, set_up())  # the files are read
    four = stack(0.8, 1.0, 1.5, 1.0)
    for joint in (TWO, four):
        taken = []
        for i in range(15):
            before = time.process_time()
            quick(joint, set_up(8e3 + 10.0 * i))
            taken.append(time.process_time() - before)
        assert min(taken) < 0.02


def test_it_needs_no_compiled_kernel() -> None:
    code = (
        "import sys; from buttonhole.weld.spot import emulator; "
        "from tests.weld.spot.emulator.test_at_once import TWO, set_up; "
        "emulator.quick(TWO, set_up()); sys.exit('numba' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
