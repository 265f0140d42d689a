"""A proposal does not change its mind because a number of the model moves by two in a thousand."""

import dataclasses
from functools import partial

import pytest

from buttonhole.coupon.criterion import find_criterion
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.proposal import Proposal, propose
from buttonhole.procedure.schedule import schedule_for
from buttonhole.weld.spot import COARSE, WeldWindow, window
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.robust import STEP
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap

RULE = find_criterion("4.5-root-t")
GUN = SpotMachine(
    "Gun A", 2e3, 14e3, 1e3, 4.5e3, (CurrentType.MFDC,),
    tuple(ElectrodeCap(face_diameter=d * 1e-3) for d in (5, 6, 8)),
)  # fmt: skip
ZINC = StackUp(tuple(Sheet(find_steel("DC04"), t, Coating.GI) for t in (0.8e-3, 1.0e-3)))


def with_constants(constants: ContactConstants) -> Proposal:
    def compute(*stack: object, **given: object) -> WeldWindow:
        return partial(window, constants=constants)(*stack, **{**given, "resolution": COARSE})  # type: ignore[arg-type]  # handed on as it came

    return propose(ZINC, GUN, RULE, compute=compute)


def test_two_in_a_thousand_do_not_change_the_proposal() -> None:
    first = with_constants(CONTACT)
    for name, factor in (("rim", 1.002), ("cap_film", 0.998), ("faying_film", 1.002)):
        moved = dataclasses.replace(CONTACT, **{name: getattr(CONTACT, name) * factor})
        other = with_constants(moved)
        assert other.set_up.weld_time == first.set_up.weld_time, name
        assert other.set_up.electrode_force == first.set_up.electrode_force, name
        assert (other.set_up.cap_a, other.set_up.cap_b) == (first.set_up.cap_a, first.set_up.cap_b)
        current = other.set_up.pulses[0].current
        assert current == pytest.approx(first.set_up.pulses[0].current, abs=STEP + 1.0), name


def test_the_shortest_of_weld_times_that_are_alike_is_proposed() -> None:
    found = with_constants(CONTACT)
    printed = schedule_for(ZINC)
    best = found.robust
    assert best is not None
    assert printed.time_min <= found.set_up.weld_time <= printed.time_max
    alike = [t for t, c in zip(best.times, best.chances, strict=True)
             if c >= max(best.chances) - 0.02]  # fmt: skip
    assert found.set_up.weld_time == pytest.approx(min(alike), abs=1e-3)
