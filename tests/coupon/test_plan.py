"""How many coupons, in which order, from what, torn how."""

import pytest

from buttonhole.coupon.plan import Occasion, Process, Purpose, plan_coupons
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput

SILL = StackUp(
    (
        Sheet(find_steel("DC04"), 0.7e-3, Coating.GI),
        Sheet(find_steel("HCT600X"), 1.2e-3, Coating.GI),
        Sheet(find_steel("22MnB5"), 1.6e-3, Coating.ALSI),
    )
)
THICK = [0.7e-3, 1.2e-3, 1.6e-3]


def test_a_new_stack_gets_three_coupons_of_two_spots_and_a_spare():
    plan = plan_coupons(Process.SPOT, THICK, Occasion.NEW, stack=SILL)
    assert [one.purpose for one in plan.coupons] == [Purpose.CONFIRM] * 3 + [Purpose.SPARE]
    assert [one.order for one in plan.coupons] == [1, 2, 3, 4]
    assert {(one.welds, one.judged) for one in plan.coupons} == {(2, 2)}
    assert [one.count for one in plan.strips] == [4, 4, 4]


def test_the_end_coupon_comes_last_whatever_the_spares():
    plan = plan_coupons(Process.SPOT, THICK, Occasion.KNOWN, stack=SILL, spares=2)
    order = [one.purpose.value for one in plan.coupons]
    assert order == ["start", "spare", "spare", "end"]


def test_both_spots_at_the_pitch_find_room_on_the_strip():
    near = plan_coupons(Process.SPOT, THICK, Occasion.NEW, stack=SILL, pitch=25e-3)
    far = plan_coupons(Process.SPOT, THICK, Occasion.NEW, stack=SILL, pitch=50e-3)
    assert far.strips[0].width - near.strips[0].width == pytest.approx(25e-3)
    # edge distance beside each of the two spots stays half of the strip of one spot
    assert (near.strips[0].width - 25e-3) / 2 == pytest.approx(30e-3)


def test_thick_sheets_get_larger_pieces():
    thin = plan_coupons(Process.PLUG, [0.8e-3, 1.5e-3], Occasion.NEW, hole=8e-3)
    thick = plan_coupons(Process.PLUG, [0.8e-3, 1.6e-3], Occasion.NEW, hole=8e-3)
    assert (thin.strips[0].length, thin.strips[0].width, thin.overlap) == (105e-3, 45e-3, 35e-3)
    assert thick.strips[0].length > thin.strips[0].length
    assert "hole of 8 mm" in thin.strips[0].note
    assert thin.strips[1].note == ""


def test_each_interface_is_torn_by_what_suits_it():
    plan = plan_coupons(Process.SPOT, THICK, Occasion.NEW, stack=SILL)
    assert plan.tests[0].startswith("Sheet 1 to 2: peel.")
    assert plan.tests[1].startswith("Sheet 2 to 3: macro.")


def test_a_butt_on_a_backing_needs_two_edges_a_coupon():
    plan = plan_coupons(Process.BUTT_SEAM, [0.8e-3, 0.8e-3], Occasion.NEW, spares=0)
    assert [one.count for one in plan.strips] == [4, 2]
    assert plan.overlap == 0.0
    assert plan.strips[0].width >= 60e-3


def test_the_strip_length_counts_every_piece_and_its_cut():
    plan = plan_coupons(Process.LAP_SEAM, [1e-3, 1e-3], Occasion.SHIFT, spares=0)
    assert plan.strip_length(0) == pytest.approx(105e-3 + 2e-3)
    assert plan.strip_length(5) == 0.0


@pytest.mark.parametrize(
    ("more", "key"),
    [({"spares": 30}, "spares"), ({"spares": -1}, "spares"), ({"pitch": float("nan")}, "pitch")],
)
def test_what_nobody_welds_is_refused(more, key):
    with pytest.raises(BadInput) as told:
        plan_coupons(Process.SPOT, THICK, Occasion.NEW, stack=SILL, **more)
    assert told.value.key == key


def test_one_sheet_is_no_joint():
    with pytest.raises(BadInput):
        plan_coupons(Process.SPOT, [1e-3], Occasion.NEW)
