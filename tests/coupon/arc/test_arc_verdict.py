"""Plugs, seams, brazes and aluminium judged, worked by hand."""

from dataclasses import replace

import pytest

from buttonhole.coupon.arc.criterion import (
    find_arc_criterion,
    maker_arc_criterion,
    own_arc_criterion,
    usual_arc_criterion,
)
from buttonhole.coupon.arc.fracture import ArcFracture as How
from buttonhole.coupon.arc.imperfection import Seen
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.arc.verdict import judge_arc
from buttonhole.coupon.criterion import Limits, find_criterion
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.uncertainty import ONE_SIDED
from buttonhole.coupon.verdict import Outcome
from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug.marks import BackMark
from tests.coupon.arc.pieces import (
    ALL,
    ALUMINIUM,
    BRAZE,
    BRAZED_PLUG,
    BUTT,
    LAP,
    PLUG,
    STRONG,
    THREE,
    seam,
    sheet,
    torn,
)

ACCEPT, NOTE = Outcome.ACCEPT, Outcome.ACCEPT_NOTE
UNDECIDED, REJECT = Outcome.UNDECIDED, Outcome.REJECT


def judge(reading, piece=PLUG, **more):
    criterion = more.pop("criterion", None) or usual_arc_criterion(piece)
    return judge_arc(reading, criterion, piece, **more)


def test_a_plug_of_8_mm_must_tear_5_with_its_guard_band():
    # u = hypot(0.10, 0.15) = 0.1803, U = 2 u = 0.3606; 5/8 of 8 mm = 5 mm
    found = judge(torn(5.5e-3, 5.3e-3))
    assert found.limit == pytest.approx(5e-3)
    assert found.expanded_uncertainty == pytest.approx(0.36056e-3, abs=1e-8)
    assert found.guarded_limit == pytest.approx(5.36056e-3, abs=1e-8)
    assert found.measured == pytest.approx(5.4e-3)
    assert found.margin == pytest.approx(0.03944e-3, abs=1e-8)
    assert found.outcome is ACCEPT
    assert found.quantity is Limits.TORN_DIAMETER
    assert judge(torn(5.4e-3, 5.2e-3)).outcome is UNDECIDED
    assert judge(torn(5.2e-3, 4.8e-3)).outcome is UNDECIDED  # just at the limit
    assert judge(torn(5.0e-3, 4.9e-3)).outcome is REJECT
    # with 1.645 u = 0.2966 the guarded limit is 5.297
    assert judge(torn(5.4e-3, 5.2e-3), policy=ONE_SIDED).outcome is ACCEPT


def test_gauge_and_reader_of_a_study_enter_the_guard_band():
    wide = torn(5.5e-3, 5.3e-3, instrument_uncertainty=0.2e-3, reader_uncertainty=0.3e-3)
    assert judge(wide).outcome is UNDECIDED
    sure = torn(5.1e-3, 5.1e-3, instrument_uncertainty=0.02e-3, reader_uncertainty=0.03e-3)
    assert judge(sure).outcome is ACCEPT


def test_the_hole_as_drilled_goes_before_the_one_described():
    larger = torn(5.5e-3, 5.3e-3, hole_max=8.6e-3, hole_min=8.4e-3)
    assert judge(larger).limit == pytest.approx(0.625 * 8.5e-3)


@pytest.mark.parametrize("piece", ALL.values(), ids=ALL)
def test_nobody_looked_at_the_back(piece):
    good = torn(10e-3, 9.8e-3) if piece.holes else seam(leg=3e-3)
    if piece is BUTT:
        good = seam(How.UNBROKEN, test=TestKind.BEND, bend_angle=120.0)
    assert judge(good, piece).outcome.accepted
    found = judge(replace(good, back=None), piece)
    assert found.outcome is UNDECIDED
    assert any("Nobody looked at the back" in one for one in found.reasons)
    assert "Look at the back" in found.next_action


def test_a_look_at_the_back_beside_another_interface_counts():
    first = torn(10e-3, 9.6e-3, back=None)
    second = replace(torn(6.6e-3, 6.2e-3), interface=1)
    assert judge(first, THREE).outcome is UNDECIDED
    assert judge(first, THREE, backing=(second,)).outcome is ACCEPT


@pytest.mark.parametrize(
    ("back", "piece", "outcome"),
    [
        (BackMark.NONE, PLUG, NOTE),
        (BackMark.FAINT, PLUG, ACCEPT),
        (BackMark.CLEAR, PLUG, ACCEPT),
        (BackMark.BUMP, PLUG, ACCEPT),
        (BackMark.DRIP, PLUG, REJECT),
        (BackMark.HOLE, PLUG, REJECT),
        (BackMark.BUMP, BRAZED_PLUG, REJECT),
        (BackMark.NONE, BRAZED_PLUG, ACCEPT),
    ],
)
def test_what_the_back_shows_counts(back, piece, outcome):
    assert judge(torn(7.0e-3, 6.9e-3, back=back), piece).outcome is outcome


@pytest.mark.parametrize(
    ("how", "outcome"),
    [
        (How.HOLE_PULLED, ACCEPT),
        (How.TORN_BEYOND, ACCEPT),
        (How.RING_TORN, ACCEPT),
        (How.PART_HOLE, NOTE),
        (How.PARTED_ROUGH, REJECT),
        (How.PULLED_THROUGH, REJECT),
        (How.RING_ONLY, REJECT),
        (How.SMOOTH_FACE, REJECT),
        (How.POROUS_FACE, REJECT),
        (How.CRACKED, REJECT),
        (How.BURNT_THROUGH, REJECT),
    ],
)
def test_how_a_plug_let_go(how, outcome):
    found = judge(torn(fracture=how))
    assert found.outcome is outcome
    assert found.next_action


def test_a_plug_that_held_is_at_least_its_hole():
    held = torn(None, None, fracture=How.TORN_BEYOND)
    found = judge(held)
    assert found.measured == pytest.approx(8e-3)
    assert found.outcome is ACCEPT
    assert judge(torn(None, None)).outcome is UNDECIDED


def test_in_strong_steel_the_manner_needs_a_section_behind_it():
    ring = torn(None, None, fracture=How.RING_TORN)
    rough = torn(fracture=How.PARTED_ROUGH)
    section = ArcReading(0, TestKind.MACRO, None, 6.4e-3, 6.4e-3, penetrations=(0.5e-3,))
    for reading in (ring, rough):
        assert judge(reading, STRONG).outcome is UNDECIDED
        assert judge(reading, STRONG, backing=(section,)).outcome.accepted
    cold = replace(section, penetrations=(0.0,))
    assert judge(rough, STRONG, backing=(cold,)).outcome is UNDECIDED
    assert any("Strict class" in one for one in judge(rough, STRONG).cautions)
    assert any("3 sheets" in one for one in judge(torn(), THREE).cautions)


def test_a_twisted_plug_may_part_at_its_face():
    twisted = torn(fracture=How.PARTED_ROUGH, test=TestKind.TORSION)
    assert judge(twisted).outcome is NOTE
    assert judge(replace(twisted, smooth_left_out=False)).outcome is UNDECIDED


@pytest.mark.parametrize(
    ("piece", "reading", "outcome"),
    [
        (LAP, seam(), ACCEPT),
        (LAP, seam(leg=1.2e-3), UNDECIDED),
        (LAP, seam(leg=0.9e-3), REJECT),
        (LAP, seam(leg=None), UNDECIDED),
        (LAP, seam(tested_length=None), ACCEPT),
        (LAP, seam(How.TOE_TORN), NOTE),
        (LAP, seam(How.TOE_TORN, test=TestKind.BEND), REJECT),
        (LAP, seam(How.THROAT_TORN), REJECT),
        (LAP, seam(How.PEELED_SMOOTH), REJECT),
        (LAP, seam(How.COLD_ENDS, fused_length=34e-3), REJECT),
        (LAP, seam(How.COLD_ENDS, fused_length=40e-3), NOTE),
        (LAP, seam(test=TestKind.TORSION), UNDECIDED),
        (LAP, seam(throat=0.5e-3), NOTE),
        (BUTT, seam(How.UNBROKEN, test=TestKind.BEND, bend_angle=120.0), ACCEPT),
        (BUTT, seam(How.UNBROKEN, test=TestKind.BEND, bend_angle=45.0), UNDECIDED),
        (BUTT, seam(How.UNBROKEN, test=TestKind.BEND), UNDECIDED),
        (BUTT, seam(How.UNBROKEN), UNDECIDED),
        (BUTT, seam(How.ROOT_OPENED, test=TestKind.BEND), REJECT),
        (BUTT, seam(tested_length=None, test=TestKind.BEND), UNDECIDED),
        (BRAZE, seam(How.BRAZE_ON_BOTH, fused_length=40e-3), NOTE),
        (BRAZE, seam(How.BRAZE_ON_BOTH, fused_length=30e-3), REJECT),
        (BRAZE, seam(How.CLEAN_ON_ONE), REJECT),
        (BRAZE, seam(imperfections=(Seen("melted_edge"),)), REJECT),
        (BRAZE, seam(back=BackMark.BUMP), REJECT),
        (ALUMINIUM, seam(How.SOFT_ZONE_TORN, leg=2.9e-3, back=BackMark.NONE), NOTE),
        (ALUMINIUM, seam(leg=2.9e-3, imperfections=(Seen("crater_crack"),)), REJECT),
        (ALUMINIUM, seam(leg=2.9e-3, imperfections=(Seen("soot_wiped"),)), NOTE),
        (ALUMINIUM, seam(leg=2.9e-3, imperfections=(Seen("cold_hump"),)), UNDECIDED),
    ],
)
def test_seams(piece, reading, outcome):
    found = judge(reading, piece)
    assert found.outcome is outcome, found.reasons
    assert found.reasons


@pytest.mark.parametrize(
    ("depth", "outcome"), [(0.1e-3, NOTE), (0.11e-3, REJECT), (None, UNDECIDED), (0.0, NOTE)]
)
def test_an_undercut_is_permitted_up_to_a_tenth_of_the_thinner_sheet(depth, outcome):
    found = judge(seam(imperfections=(Seen("undercut", depth),)), LAP)
    assert found.outcome is outcome
    assert any("ISO 5817" in one for one in found.reasons)


def test_a_section_of_a_seam_shows_each_sheet():
    section = ArcReading(
        0, TestKind.MACRO, None, leg=1.8e-3, penetrations=(0.3e-3, 0.2e-3), back=BackMark.CLEAR
    )
    assert judge(section, LAP).outcome is ACCEPT
    assert judge(replace(section, penetrations=(0.3e-3, 0.0)), LAP).outcome is REJECT
    shallow = judge(replace(section, penetrations=(0.3e-3, 0.05e-3)), LAP)
    assert shallow.outcome is NOTE  # a tenth of the sheet is from memory: only noted
    assert any("not verified" in one for one in shallow.reasons)
    melted = replace(section, leg=None, penetrations=(0.3e-3, 0.0))
    assert judge(melted, BRAZE).outcome is REJECT


def test_the_makers_own_figure_goes_before_and_has_no_mark():
    maker = maker_arc_criterion("Manual 3, revision 2025", Limits.TORN_DIAMETER, 6e-3)
    assert judge(torn(5.9e-3, 5.9e-3), criterion=maker).outcome is REJECT
    assert maker.mark == ""
    own = own_arc_criterion(Limits.LEG, 1.2e-3, "a customer's drawing")
    assert own.mark == "not the maker's"
    assert judge(seam(leg=1.7e-3), LAP, criterion=own).outcome is ACCEPT


def test_an_unknown_sheet_asks_for_the_whole_hole():
    unknown = replace(
        PLUG, sheets=(replace(PLUG.sheets[0], coating=Coating.UNKNOWN), PLUG.sheets[1])
    )
    assert usual_arc_criterion(unknown).key == "plug-whole-hole"
    assert judge(torn(), unknown).limit == pytest.approx(8e-3)


def test_a_hole_too_small_for_its_wire_is_said():
    small = replace(PLUG, holes=(6e-3,))
    found = judge(torn(), small, wire_diameter=0.8e-3)
    assert any("8 times the wire" in one for one in found.cautions)
    assert not any("times the wire" in one for one in judge(torn(), wire_diameter=0.8e-3).cautions)


@pytest.mark.parametrize(
    ("reading", "piece", "criterion"),
    [
        (torn(), PLUG, find_criterion("4.5-root-t")),
        (replace(torn(), interface=1), PLUG, None),
        (torn(), LAP, None),
        (seam(), PLUG, None),
        (torn(imperfections=(Seen("melted_edge"),)), PLUG, None),
        (torn(penetrations=(1e-4, 1e-4)), PLUG, None),
    ],
)
def test_what_is_of_another_weld_is_refused(reading, piece, criterion):
    with pytest.raises(BadInput):
        judge(reading, piece, criterion=criterion)


@pytest.mark.parametrize(
    "values",
    [
        {"d_max": 5e-3, "d_min": 6e-3},
        {"d_max": 5e-3, "d_min": None},
        {"d_max": 0.05, "d_min": 0.04},
        {"d_max": float("nan"), "d_min": float("nan")},
        {"fracture": None},
        {"reader_uncertainty": 3e-3},
        {"bend_angle": 400.0},
        {"tested_length": 0.0},
        {"fused_length": 30e-3},
    ],
)
def test_what_no_weld_can_be_is_refused(values):
    given = {"d_max": 6e-3, "d_min": 5e-3, "fracture": How.HOLE_PULLED, **values}
    with pytest.raises(BadInput):
        ArcReading(0, TestKind.PEEL, **given)


def test_a_criterion_for_such_a_weld_is_found_by_its_key():
    assert find_arc_criterion("seam-leg-t", LAP).quantity is Limits.LEG
    with pytest.raises(BadInput, match="give one of"):
        find_arc_criterion("seam-leg-t", PLUG)
    with pytest.raises(BadInput, match="say why"):
        own_arc_criterion(Limits.LEG, 1e-3, " ")
    with pytest.raises(BadInput, match="reference and revision"):
        maker_arc_criterion("", Limits.LEG, 1e-3)
    with pytest.raises(BadInput):
        maker_arc_criterion("x", Limits.SHEAR_FORCE, 1e-3)


def test_a_butt_of_unlike_edges_goes_by_the_thinner_and_by_all_of_its_sheets():
    unlike = replace(BUTT, sheets=(sheet(1.0, "HCT780X"), sheet(0.8), sheet(0.8)))
    torn_through = seam(How.THROAT_TORN, test=TestKind.TENSILE_SHEAR)
    assert unlike.interfaces[0].sheet_a.thickness == pytest.approx(0.8e-3)
    assert judge(torn_through, unlike).outcome is UNDECIDED
    assert judge(torn_through, BUTT).outcome is REJECT
