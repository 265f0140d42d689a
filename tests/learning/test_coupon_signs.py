"""What a judged coupon shows: rows of the list of signs, and evidence of the machine."""

from dataclasses import replace

import pytest

from buttonhole.coupon.arc.criterion import usual_arc_criterion
from buttonhole.coupon.arc.fracture import ArcFracture as How
from buttonhole.coupon.arc.fracture import offered
from buttonhole.coupon.arc.imperfection import Seen
from buttonhole.coupon.arc.verdict import judge_arc
from buttonhole.coupon.criterion import find_criterion
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import judge
from buttonhole.learning.coupon_signs import (
    arc_signs,
    plug_evidence_of,
    process_of,
    spot_signs,
)
from buttonhole.learning.evidence import Kind
from buttonhole.learning.faults import signs
from buttonhole.weld.arc.plug.marks import BackMark
from tests.coupon.arc.pieces import ALL, ALUMINIUM, BRAZE, BUTT, LAP, PLUG, seam, torn
from tests.coupon.test_difference import STACK


def rows(reading, piece=PLUG):
    verdict = judge_arc(reading, usual_arc_criterion(piece), piece)
    return arc_signs(reading, verdict, piece)


@pytest.mark.parametrize(
    ("reading", "piece", "first"),
    [
        (torn(None, None, fracture=How.SMOOTH_FACE, back=BackMark.NONE), PLUG, "P1"),
        (torn(3.6e-3, 3.4e-3, back=BackMark.NONE), PLUG, "P1"),
        (torn(3.6e-3, 3.4e-3), PLUG, "P7"),
        (torn(back=BackMark.DRIP), PLUG, "P2"),
        (torn(fracture=How.PULLED_THROUGH), PLUG, "P3"),
        (torn(imperfections=(Seen("brittle_ring"),)), PLUG, "P8"),
        (seam(How.PEELED_SMOOTH), LAP, "M1"),
        (seam(How.ROOT_OPENED, test=TestKind.BEND), BUTT, "M6"),
        (seam(How.COLD_ENDS, fused_length=30e-3), LAP, "M7"),
        (seam(How.CLEAN_ON_ONE), BRAZE, "B5"),
        (seam(imperfections=(Seen("melted_edge"),)), BRAZE, "B1"),
        (seam(How.TOE_TORN, test=TestKind.BEND, leg=3e-3), ALUMINIUM, "A7"),
        (seam(leg=3e-3, imperfections=(Seen("soot_stays"),)), ALUMINIUM, "A1"),
    ],
)
def test_the_most_telling_row_comes_first(reading, piece, first):
    found = rows(reading, piece)
    assert found[0] == first
    assert all(signs()[row].process == process_of(piece) for row in found)


def test_a_good_weld_shows_no_row():
    assert rows(torn()) == ()
    assert rows(seam(), LAP) == ()


@pytest.mark.parametrize("piece", ALL.values(), ids=ALL)
def test_every_bad_fracture_that_is_offered_leads_to_a_row_of_its_process(piece):
    for how in offered(piece):
        reading = torn(fracture=how) if piece.holes else seam(how, fused_length=20e-3)
        verdict = judge_arc(reading, usual_arc_criterion(piece), piece)
        found = arc_signs(reading, verdict, piece)
        assert all(signs()[row].process == process_of(piece) for row in found)


@pytest.mark.parametrize(
    ("reading", "first"),
    [
        (Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 2e-3, 2e-3), ("S1",)),
        (Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 6e-3, 6e-3), ()),
        (Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 8e-3, 5e-3), ("S6",)),
        (Reading(0, TestKind.PEEL, FractureMode.STUCK_WELD, 0.0, 0.0), ("S2",)),
        (Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 6e-3, 6e-3, expulsion=True), ("S3",)),
        (Reading(0, TestKind.PEEL, FractureMode.INTERFACIAL, 6e-3, 6e-3), ("S7",)),
    ],
)
def test_rows_of_spots(reading, first):
    assert spot_signs(reading, judge(reading, find_criterion("4.5-root-t"), STACK)) == first


def test_what_a_plug_teaches():
    face = PLUG.interfaces[0]

    def kinds(reading):
        return [one.kind for one in plug_evidence_of(reading, face)]

    good = plug_evidence_of(torn(zinc_ring=14e-3), face)
    assert [one.kind for one in good] == [Kind.BACK_MARK, Kind.SHOWN, Kind.MEASURED]
    assert good[-1].value == pytest.approx(6.4e-3)
    assert good[-1].uncertainty == pytest.approx(0.1803e-3, rel=1e-3)
    held = plug_evidence_of(torn(None, None, fracture=How.TORN_BEYOND), face)
    assert (held[-1].kind, held[-1].value) == (Kind.AT_LEAST, 8e-3)
    assert kinds(torn(back=BackMark.HOLE)) == [Kind.EXPULSION]
    assert kinds(torn(None, None, fracture=How.SMOOTH_FACE)) == [Kind.BACK_MARK, Kind.NO_BUTTON]
    assert kinds(replace(torn(), smooth_left_out=False)) == [Kind.BACK_MARK]
    assert kinds(torn(None, None, back=None)) == []
