"""A set-up to begin with: what is chosen, and what is said when the machine can't."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from buttonhole.coupon.criterion import find_criterion
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.choice import CannotPropose
from buttonhole.procedure.machine import ArmPair, SpotMachine
from buttonhole.procedure.proposal import Proposal, propose
from buttonhole.procedure.schedule import schedule_for
from buttonhole.units import BadInput
from buttonhole.weld.spot import WeldWindow
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, SpotSetUp

RULE = find_criterion("4.5-root-t")
CAPS = tuple(ElectrodeCap(face_diameter=d * 1e-3) for d in (5, 6, 8))
GUN = SpotMachine(
    "Gun A",
    2e3,
    13e3,
    1e3,
    4.5e3,
    (CurrentType.MFDC,),
    CAPS,
    (ArmPair("120", 0.12, 4.5e3), ArmPair("500", 0.5, 1.5e3)),
)


def stack(*thickness: float, steel: str = "DC04", coating: Coating = Coating.BARE) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(steel), t * 1e-3, coating) for t in thickness))


MILD = stack(0.8, 0.8)


def grown(slope: float = 1.0e-6, splash: float = 10e3) -> Callable[..., WeldWindow]:
    """Stand in for the solver: nuggets that grow with the current from 3 kA [m/A], and splash [A].

    More force moves the splash up, in proportion.
    """

    def compute(
        on: StackUp, set_up: SpotSetUp, required: tuple[float, ...], **given: object
    ) -> WeldWindow:
        currents, times = np.array(given["currents"]), np.array(given["times"])
        one = np.clip(slope * (currents - 3e3), 0.0, None)
        nugget = np.broadcast_to(one, (len(required), len(times), len(currents))).copy()
        at = splash * set_up.electrode_force / 1.8e3
        chance = np.where(currents >= at, 1.0, 0.0)
        upper = at if at <= currents[-1] else math.nan
        n = len(times)
        return WeldWindow(
            currents,
            times,
            nugget,
            np.tile(chance, (n, 1)),
            tuple(required),
            np.full(n, np.nan),
            np.full(n, upper),
            np.full(n, np.nan),
        )

    return compute


def proposed(on: StackUp = MILD, machine: SpotMachine = GUN, **given: object) -> Proposal:
    return propose(on, machine, RULE, **{"compute": grown(), **given})  # type: ignore[arg-type]  # named by test


def test_force_and_time_lie_in_the_published_ranges_and_current_in_the_window() -> None:
    found, printed = proposed(), schedule_for(MILD)
    assert printed.force_min <= found.set_up.electrode_force <= printed.force_max
    assert printed.time_min <= found.set_up.weld_time <= printed.time_max
    margins = found.margins
    assert margins.current_low < found.set_up.pulses[0].current < margins.current_high
    assert margins.current_high == pytest.approx(10e3)
    assert margins.ends_in_splash
    # 4.025 mm and the guard band 0.361 mm at 1 mm/kA from 3 kA
    assert margins.current_low == pytest.approx(7.385e3, abs=30)
    assert min(margins.spreads_to_low, margins.spreads_to_high) > 2.5
    assert found.robust is not None
    assert found.robust.is_robust
    assert found.robust.current == found.set_up.pulses[0].current
    assert any("vehicle maker" in text for text in found.cautions)
    assert len(found.reasons) >= 5


def test_faces_follow_the_sheet_they_press_on() -> None:
    found = proposed(stack(0.8, 1.6))
    assert found.set_up.cap_a.face_diameter == pytest.approx(5e-3)
    assert found.set_up.cap_b.face_diameter == pytest.approx(6e-3)
    given = proposed(cap=CAPS[2])
    assert given.set_up.cap_a == given.set_up.cap_b == CAPS[2]


def test_short_force_is_named_and_time_not_stretched() -> None:
    with pytest.raises(CannotPropose, match="does not make up") as caught:
        proposed(arm_pair="500")
    assert caught.value.key == "force"
    assert "short" in caught.value.message
    assert "1.50 kN" in caught.value.message


def test_what_is_only_advised_for_strong_steel_refuses_no_machine() -> None:
    strong = stack(1.8, 1.8, steel="HCT980X")
    printed = schedule_for(strong)
    limit = 0.5 * (printed.force_min + printed.force_min * (1 + printed.extra_force))
    found = proposed(strong, machine=replace(GUN, force_max=limit), compute=grown(splash=9e3))
    assert printed.force_min < found.set_up.electrode_force <= limit
    assert any("Advised is 20 % more force" in text for text in found.reasons)
    assert any("would be better" in text for text in found.reasons)
    assert not any(text.startswith("Force includes") for text in found.reasons)
    with pytest.raises(CannotPropose, match="short"):
        proposed(strong, machine=replace(GUN, force_max=0.99 * printed.force_min))


def test_short_current_is_named() -> None:
    weak = replace(GUN, current_max=5.5e3)
    with pytest.raises(CannotPropose, match="not stretched") as caught:
        proposed(machine=weak)
    assert caught.value.key == "current"
    assert "short" in caught.value.message
    with pytest.raises(CannotPropose, match="current"):
        proposed(machine=replace(GUN, current_max=3e3))
    with pytest.raises(CannotPropose, match=r"force: is short.* current is short"):
        proposed(machine=replace(GUN, current_max=3e3, force_max=1.2e3))


def test_a_window_closed_by_splash_asks_for_force_not_for_time() -> None:
    with pytest.raises(CannotPropose, match="splashes") as caught:
        proposed(compute=grown(splash=5e3))
    assert caught.value.key == "force"


def test_more_force_is_tried_when_the_window_is_narrow() -> None:
    found = proposed(compute=grown(splash=7.45e3))
    assert found.set_up.electrode_force == pytest.approx(2.0e3)
    assert any("upper end" in text for text in found.reasons)
    assert any("narrower than the scatter" in text for text in found.cautions)


def test_an_unknown_sheet_gets_no_proposal() -> None:
    with pytest.raises(CannotPropose, match="ask the maker"):
        proposed(stack(1.0, 1.0, steel="unknown"))
    with pytest.raises(CannotPropose, match="not known"):
        proposed(stack(1.0, 1.0, coating=Coating.UNKNOWN))


def test_hot_stamped_steel_carries_its_cautions() -> None:
    hot = stack(1.2, 1.2, steel="22MnB5", coating=Coating.ALSI)
    found = proposed(hot, compute=grown(splash=30e3))
    said = " ".join(found.cautions)
    assert "no second pulse" in said
    assert "aluminium-silicon" in said
    assert len(found.set_up.pulses) == 1


def test_progress_never_goes_back() -> None:
    seen: list[float] = []
    solver = grown(splash=7.6e3)

    def compute(*args: object, **given: object) -> WeldWindow:
        for done in (1, 2):
            given["progress"](done, 2)  # type: ignore[operator]  # the callable passed on
        return solver(*args, **given)

    proposed(compute=compute, progress=lambda done, of: seen.append(done / of))
    assert seen == sorted(seen)
    assert seen[-1] <= 1.0


def test_a_machine_that_can_not_be_is_refused() -> None:
    for changes, key in (
        ({"current_min": 14e3}, "current"),
        ({"force_max": math.nan}, "force"),
        ({"caps": ()}, "caps"),
        ({"current_types": ()}, "current_types"),
        ({"name": " "}, "name"),
        ({"current_spread": 0.9}, "current_spread"),
    ):
        with pytest.raises(BadInput) as caught:
            replace(GUN, **changes)  # type: ignore[arg-type]  # fields named by the test
        assert caught.value.key == key
    with pytest.raises(BadInput, match="it has: 120, 500"):
        GUN.arms("250")
    with pytest.raises(BadInput, match="MFDC"):
        proposed(current_type=CurrentType.AC50)
