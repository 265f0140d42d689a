"""The solver as a whole: it grows the right way, does not hang on its grid, and never dies."""

import dataclasses
import itertools
import math

import numpy as np
import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.spot.programme import segments
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp
from buttonhole.weld.spot.simulation import (
    AFTER_HOLD,
    COARSE,
    DEFAULT,
    Resolution,
    Simulation,
    is_symmetric,
    simulate,
)

FINE = Resolution(cell=0.05e-3, t_step=30.0, longest_step=1.5e-3)


def joint(*sheets: tuple[str, float], coating: Coating = Coating.BARE, gap: float = 0) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(s), t * 1e-3, coating) for s, t in sheets), gap)


TWO = joint(("DC04", 0.8), ("DC04", 0.8))
UNLIKE = joint(("DP1180", 1.2), ("DC06", 0.8))


def set_up(current: float, time: float = 0.16, force: float = 2e3, **changes: object) -> SpotSetUp:
    cap = ElectrodeCap(face_diameter=5e-3)
    plain = SpotSetUp((Pulse(current, time),), CurrentType.MFDC, force, cap, cap, 0.3, 0.1)
    return dataclasses.replace(plain, **changes)


def nugget(
    stack: StackUp, current: float, resolution: Resolution = DEFAULT, **more: float
) -> float:
    return float(simulate(stack, set_up(current, **more), resolution).nugget[0])


@pytest.mark.parametrize("current", [6.0e3, 7.0e3, 8.0e3, 9.5e3])
def test_the_nugget_does_not_hang_on_the_grid(current: float) -> None:
    # two halvings from here change it by less than the last one did: 0.025 mm was tried by hand
    assert nugget(TWO, current) == pytest.approx(nugget(TWO, current, FINE), rel=0.025)


def test_the_nugget_does_not_hang_on_the_step() -> None:
    finer = dataclasses.replace(DEFAULT, t_step=20.0, longest_step=0.75e-3)
    for current in (6e3, 8e3):
        assert nugget(TWO, current) == pytest.approx(nugget(TWO, current, finer), rel=0.01)


@pytest.mark.parametrize("stack", [TWO, UNLIKE])
def test_more_current_or_time_makes_a_larger_nugget(stack: StackUp) -> None:
    by_current = [nugget(stack, i, COARSE) for i in (5e3, 6e3, 7e3, 8e3, 9e3, 10e3)]
    assert all(b >= a for a, b in itertools.pairwise(by_current))
    assert by_current[-1] > by_current[1] > 0.0
    by_time = [nugget(stack, 7.5e3, COARSE, time=t) for t in (0.06, 0.1, 0.16, 0.3)]
    assert all(b >= a for a, b in itertools.pairwise(by_time))
    assert by_time[-1] > by_time[1]


def test_more_force_makes_a_smaller_nugget() -> None:
    found = [nugget(TWO, 7.5e3, COARSE, force=f) for f in (1.5e3, 2e3, 2.6e3)]
    assert found[0] > found[1] > found[2]


def test_zinc_takes_more_current() -> None:
    coated = joint(("DC04", 0.8), ("DC04", 0.8), coating=Coating.GI)
    assert nugget(coated, 8e3) < nugget(TWO, 8e3)


def test_resistance_dips_rises_and_falls() -> None:
    record = simulate(TWO, set_up(8e3)).record
    time, ohms = record[:, 0], record[:, 2]
    early = ohms[time < 4e-3].max()
    dip = ohms[(time > 1e-3) & (time < 30e-3)].min()
    beta = ohms[(time > 15e-3) & (time < 120e-3)].max()
    assert early > dip
    assert beta > 1.02 * dip
    assert ohms[-1] < beta
    assert 50e-6 < ohms[-1] < 200e-6


def test_a_dome_starts_narrow_and_sinks() -> None:
    cap = ElectrodeCap(radius=50e-3)
    weld = simulate(TWO, set_up(7e3, cap_a=cap, cap_b=cap), COARSE)
    assert weld.sunk.min() > 5e-6
    assert weld.nugget[0] > 0.0


def test_unlike_caps_and_three_sheets() -> None:
    stack = joint(("DC04", 0.7), ("HCT600X", 1.2), ("22MnB5", 1.6))
    dome = ElectrodeCap(face_diameter=6e-3, radius=40e-3)
    weld = simulate(stack, set_up(8.5e3, 0.3, 3.2e3, cap_b=dome), COARSE)
    assert weld.nugget.shape == (2,)
    assert weld.record.shape[1] == 5
    assert np.isfinite(weld.record).all()
    assert (weld.penetration <= np.array([[0.7e-3, 1.2e-3], [1.2e-3, 1.6e-3]]) + 1e-9).all()


def test_only_like_halves_are_mirrored() -> None:
    assert is_symmetric(TWO, set_up(8e3))
    assert not is_symmetric(UNLIKE, set_up(8e3))
    assert not is_symmetric(TWO, set_up(8e3, cap_b=ElectrodeCap(face_diameter=6e-3)))
    assert is_symmetric(joint(("DC04", 0.8), ("DP1180", 1.2), ("DC04", 0.8)), set_up(8e3))
    assert not is_symmetric(joint(("DC04", 0.8), ("DC04", 0.8), ("DP1180", 1.2)), set_up(8e3))


@pytest.mark.parametrize("sheets", [2, 3, 4])
def test_a_mirrored_half_gives_what_the_whole_gives(sheets: int) -> None:
    stack, asked = joint(*[("DC04", 0.8)] * sheets), set_up(8e3)
    half = simulate(stack, asked, COARSE)
    whole = simulate(stack, asked, dataclasses.replace(COARSE, whole=True))
    for name in ("nugget", "contact_radius", "sunk", "penetration", "cooling_t85", "peak"):
        assert getattr(half, name) == pytest.approx(getattr(whole, name), rel=5e-3), name
    assert half.record[-1] == pytest.approx(whole.record[-1], rel=5e-3)
    assert half.heat == pytest.approx(whole.heat, rel=1e-3)


def test_pieces_of_a_programme() -> None:
    pulses = (Pulse(6e3, 0.1, 0.03, up_slope=0.04), Pulse(8e3, 0.2, down_slope=0.05))
    found = segments(set_up(1.0, pulses=pulses, hold_time=0.1), AFTER_HOLD)
    assert found[:, 0] == pytest.approx([0.0, 0.04, 0.1, 0.13, 0.28, 0.33])
    assert found[:-1, 1] == pytest.approx(found[1:, 0])
    assert found[:, 2:].tolist() == [
        [0.0, 6e3], [6e3, 6e3], [0.0, 0.0], [8e3, 8e3], [8e3, 0.0], [0.0, 0.0],
    ]  # fmt: skip


def everything_finite(weld: Simulation) -> None:
    for name in ("nugget", "penetration", "contact_radius", "sunk", "record", "peak", "at_off"):
        assert np.isfinite(getattr(weld, name)).all(), name
    assert math.isfinite(weld.heat)


@pytest.mark.parametrize("current", [100.0, 3e3, 30e3, 60e3])
@pytest.mark.parametrize("face", [1e-3, 5e-3, 16e-3])
@pytest.mark.parametrize("kind", [CurrentType.MFDC, CurrentType.AC60])
def test_wild_settings_end_with_finite_numbers(
    current: float, face: float, kind: CurrentType
) -> None:
    cap = ElectrodeCap(face_diameter=face)
    asked = set_up(current, 0.05, 500.0, cap_a=cap, cap_b=cap, current_type=kind)
    everything_finite(simulate(joint(("1.4301", 0.3), ("DC04", 4.0)), asked, COARSE))


@pytest.mark.parametrize(
    ("key", "changes"),
    [
        ("pulse", {"pulses": ()}),
        ("welding_current", {"pulses": (Pulse(math.nan, 0.1),)}),
        ("weld_time", {"pulses": (Pulse(8e3, math.inf),)}),
        ("electrode_force", {"electrode_force": 0.0}),
        ("hold_time", {"hold_time": -1.0}),
        ("electrode_face", {"cap_a": ElectrodeCap()}),
    ],
)
def test_what_can_not_be_set_is_refused(key: str, changes: dict[str, object]) -> None:
    with pytest.raises(BadInput) as refused:
        simulate(TWO, set_up(8e3, **changes))
    assert refused.value.key == key
