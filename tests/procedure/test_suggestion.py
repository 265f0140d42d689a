"""Other ways to weld: each is predicted, shown only if it helps, and inside what the gun can do."""

import dataclasses

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.material import curves
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.suggestion import HELD, Suggestion, suggestions
from buttonhole.procedure.temper import COLD, fitted_temper, temper_gain
from buttonhole.procedure.variant import Trouble, troubles, variants
from buttonhole.weld.spot import COARSE, WeldWindow, window
from buttonhole.weld.spot.robust import TIE
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import simulate

FLAT, SMALL, DOME = (
    ElectrodeCap(6e-3),
    ElectrodeCap(5e-3),
    ElectrodeCap(6e-3, 50e-3),
)
GUN = SpotMachine("Gun A", 2e3, 14e3, 1e3, 5e3, (CurrentType.MFDC,), (SMALL, FLAT, DOME))


def sheet(steel: str, thickness: float, coating: Coating = Coating.BARE) -> Sheet:
    return Sheet(find_steel(steel), thickness * 1e-3, coating)


def set_up(current: float, time: float, force: float, hold: float = 0.2) -> SpotSetUp:
    return SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, FLAT, FLAT, 0.3, hold)


PLAIN = StackUp((sheet("DC04", 0.8), sheet("DC04", 0.8)))
ZINC = StackUp((sheet("DC04", 0.8, Coating.GI), sheet("DC04", 0.8, Coating.GI)))
HOT = StackUp((sheet("22MnB5", 1.2, Coating.ALSI), sheet("22MnB5", 1.2, Coating.ALSI)))
THIN = StackUp((sheet("DC04", 0.6), sheet("HC340LA", 1.4), sheet("HC340LA", 1.4)))
STRONG = StackUp((sheet("HCT980X", 1.2), sheet("HCT980X", 1.2)))


@pytest.mark.parametrize(
    ("on", "named"),
    [
        (PLAIN, ()),
        (ZINC, (Trouble.ZINC,)),
        (HOT, (Trouble.ALSI, Trouble.STRONG)),
        (THIN, (Trouble.THIN_OUTER,)),
        (STRONG, (Trouble.STRONG,)),
    ],
)
def test_each_trouble_brings_its_own_ways(on: StackUp, named: tuple[Trouble, ...]) -> None:
    assert troubles(on) == named
    found = variants(on, set_up(8e3, 0.2, 2.6e3), GUN)
    assert {one.trouble for one in found} == set(named)
    assert all(one.reason and one.source for one in found)


def test_ways_stay_inside_what_gun_and_caps_bear() -> None:
    for force in (2.6e3, 3.6e3, 3.9e3):
        for one in variants(THIN, set_up(8e3, 0.3, force), GUN) + variants(
            STRONG, set_up(8e3, 0.3, force), GUN
        ):
            assert one.set_up.electrode_force <= 4e3  # a 16 mm cap bears 4 kN
    names = {one.name for one in variants(STRONG, set_up(8e3, 0.3, 3.9e3), GUN)}
    assert "more force" not in names


def test_the_smaller_or_domed_cap_goes_on_the_thin_side_only() -> None:
    turned = StackUp(THIN.sheets[::-1])
    for on, side, other in ((THIN, "cap_a", "cap_b"), (turned, "cap_b", "cap_a")):
        changed = [
            one.set_up for one in variants(on, set_up(9e3, 0.3, 3e3), GUN)
            if one.set_up.cap_a != one.set_up.cap_b
        ]  # fmt: skip
        assert {getattr(one, side) for one in changed} == {SMALL, DOME}
        assert {getattr(one, other) for one in changed} == {FLAT}


@pytest.fixture(scope="module")
def strong() -> tuple[Suggestion, ...]:
    return suggestions(STRONG, set_up(8.5e3, 0.3, 3.2e3), [4.9e-3], GUN)


def test_every_suggestion_helps_by_its_figures(strong: tuple[Suggestion, ...]) -> None:
    assert strong
    for one in strong:
        assert one.gains
        assert one.found.chance >= one.plain.chance - TIE / 2
        assert max(pulse.current for pulse in one.found.set_up.pulses) <= GUN.current_max


def test_a_longer_hold_is_suggested_because_the_weld_is_hot_when_the_caps_open(
    strong: tuple[Suggestion, ...],
) -> None:
    held = next(one for one in strong if one.name == "longer hold")
    assert held.found.at_release <= HELD < held.plain.at_release
    assert held.found.set_up.hold_time > held.plain.set_up.hold_time


def test_a_temper_pulse_finds_cold_metal_and_stays_under_ac1(
    strong: tuple[Suggestion, ...],
) -> None:
    found = next(one.found for one in strong if one.name == "temper pulse")
    assert found.before_temper <= COLD
    assert 500.0 < found.tempered <= curves(STRONG.sheets[0].steel).ac1
    # the nugget it is shown with is that of the welding pulse
    welding = dataclasses.replace(found.set_up, pulses=found.set_up.pulses[:1])
    assert found.diameters[0] == pytest.approx(simulate(STRONG, welding).nugget[0])


def test_a_temper_pulse_that_is_too_hot_or_comes_too_soon_is_none() -> None:
    assert temper_gain(400.0, 650.0, STRONG) == ()
    assert temper_gain(200.0, 900.0, STRONG) == ()
    assert temper_gain(200.0, 450.0, STRONG) == ()
    assert temper_gain(200.0, 650.0, STRONG)
    endless = set_up(8.5e3, 0.3, 3.2e3, hold=5.0)
    pulses = (endless.pulses[0], Pulse(4e3, 0.3))
    assert fitted_temper(STRONG, dataclasses.replace(endless, pulses=pulses)) is None


def test_nothing_is_suggested_for_plain_sheet_or_when_nothing_helps() -> None:
    assert suggestions(PLAIN, set_up(8e3, 0.16, 2e3), [4e-3], GUN) == ()
    told: list[float] = []

    def flat(*given: object, **more: object) -> WeldWindow:
        """Every way the same as the plain one."""
        return window(PLAIN, set_up(8e3, 0.16, 2e3), [4e-3],
                      currents=more["currents"], resolution=COARSE)  # type: ignore[arg-type]  # fmt: skip

    found = suggestions(
        ZINC, set_up(9.5e3, 0.2, 2.2e3), [4e-3], GUN, compute=flat,
        progress=lambda done, of: told.append(done / of),
    )  # fmt: skip
    assert all("window" not in gain for one in found for gain in one.gains)
