"""The dials of a spot weld: what they read, what they put together, how far they may go."""

from dataclasses import replace

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.web.fields import Answers
from buttonhole.web.pages.spot_try import CURRENT, FACE, GAP, read_dials, turned_weld
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

STACK = StackUp((Sheet(find_steel("DC04"), 0.8e-3, Coating.GI),) * 2)
CAP = ElectrodeCap(face_diameter=6e-3)
SET_UP = SpotSetUp(
    pulses=(Pulse(9e3, 0.2, cool_time=0.04), Pulse(6e3, 0.1)),
    electrode_force=2.4e3,
    cap_a=CAP,
    cap_b=replace(CAP, face_diameter=7e-3),
    squeeze_time=0.3,
    hold_time=0.2,
    current_type=CurrentType.MFDC,
)


def turned_by(**typed: str) -> tuple[SpotSetUp, StackUp]:
    dials = read_dials(Answers(typed), SET_UP, STACK)
    return turned_weld(dials, SET_UP, STACK)


def test_untouched_dials_leave_the_weld_as_it_is() -> None:
    set_up, stack = turned_by()
    assert stack == STACK
    assert [one.current for one in set_up.pulses] == pytest.approx([9e3, 6e3])
    assert [one.time for one in set_up.pulses] == pytest.approx([0.2, 0.1])


def test_all_pulses_follow_the_first() -> None:
    set_up, _ = turned_by(welding_current="8.1", weld_time="240")
    assert [one.current for one in set_up.pulses] == pytest.approx([8.1e3, 5.4e3])
    assert [one.time for one in set_up.pulses] == pytest.approx([0.24, 0.12])
    assert set_up.pulses[0].cool_time == pytest.approx(0.04)


def test_less_and_more_go_one_step_and_stop_at_the_ends() -> None:
    more = read_dials(Answers({"more": "welding_current"}), SET_UP, STACK)
    assert next(one.value for one in more if one.dial is CURRENT) == pytest.approx(9.1)
    less = read_dials(Answers({"less": "gap"}), SET_UP, STACK)
    assert next(one.value for one in less if one.dial is GAP) == 0.0
    far = read_dials(Answers({"welding_current": "1e9"}), SET_UP, STACK)
    assert next(one.value for one in far if one.dial is CURRENT) == CURRENT.high


@pytest.mark.parametrize("typed", ["nan", "abc", "", "9,0"])
def test_what_is_no_number_leaves_the_dial(typed: str) -> None:
    dials = read_dials(Answers({"welding_current": typed}), SET_UP, STACK)
    assert next(one.value for one in dials if one.dial is CURRENT) == pytest.approx(9.0)


def test_a_dome_has_no_face_to_turn() -> None:
    dome = ElectrodeCap(radius=50e-3)
    domed = replace(SET_UP, cap_a=dome, cap_b=dome)
    assert FACE not in [one.dial for one in read_dials(Answers({}), domed, STACK)]
