"""Every way an arc weld lets go, every mark and every fault of the core has a drawing."""

import pytest

from buttonhole.coupon.arc.fracture import WORDS, ArcFracture
from buttonhole.coupon.arc.imperfection import imperfections
from buttonhole.paper import figure
from buttonhole.weld.arc.plug.marks import BackMark

FORMS = {
    "plug": ("plug",),
    "plug aluminium": ("plug",),
    "plug braze": ("brazed plug",),
    "seam": ("lap", "butt_backed"),
    "aluminium seam": ("lap", "butt_backed"),
    "braze": ("brazed lap", "brazed butt_backed"),
}


@pytest.mark.parametrize("how", ArcFracture)
def test_each_fracture_is_drawn_on_each_weld_it_is_offered_on(how: ArcFracture):
    for family in WORDS[how].on:
        for form in FORMS[family]:
            assert how.value in figure.ARC_SCENES[form], (form, how)


def test_nothing_is_drawn_that_is_never_offered():
    for form, scenes in figure.ARC_SCENES.items():
        offered = {
            one.value
            for one in ArcFracture
            for family in WORDS[one].on
            if form in FORMS[family] or form.endswith("butt_backed")
        }
        assert set(scenes) <= offered, form


@pytest.mark.parametrize("how", [one for one in ArcFracture if not one.fused])
def test_nothing_is_to_be_measured_where_nothing_fused(how: ArcFracture):
    for scenes in figure.ARC_SCENES.values():
        if how.value in scenes:
            assert scenes[how.value].halves is None


def test_each_fault_and_each_mark_is_drawn():
    assert {one.key for one in imperfections()} == set(figure.WELD_FAULTS)
    assert tuple(one.value for one in BackMark) == figure.BACK_MARKS
