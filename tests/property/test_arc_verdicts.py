"""Whatever was read on an arc weld: nothing under its limit is accepted, larger is never worse."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.coupon.arc.criterion import arc_criteria, smallest, usual_arc_criterion
from buttonhole.coupon.arc.fracture import offered
from buttonhole.coupon.arc.imperfection import Seen, offered_imperfections
from buttonhole.coupon.arc.piece import ArcForm, ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.arc.verdict import WORST_FIRST, judge_arc
from buttonhole.coupon.criterion import Criterion, Limits
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.uncertainty import EXPANDED, ONE_SIDED
from buttonhole.desk.written import read, written
from buttonhole.weld.arc.plug.marks import BackMark
from tests.coupon.arc.pieces import ALL

sizes = st.none() | st.floats(0.0, 12e-3)
small = st.floats(0.0, 0.5e-3)
# Which field of a reading a larger size of each kind stands in.
FIELDS = {
    Limits.TORN_DIAMETER: ("d_max", "d_min"),
    Limits.HEAD_DIAMETER: ("head_max", "head_min"),
    Limits.FUSED_LENGTH: ("fused_length",),
    Limits.LEG: ("leg",),
    Limits.THROAT: ("throat",),
    Limits.WETTED_WIDTH: ("wetted_width",),
}


@st.composite
def read_welds(draw: st.DrawFn) -> tuple[ArcPiece, ArcReading, Criterion]:
    piece = draw(st.sampled_from(list(ALL.values())))
    test = draw(st.sampled_from(TestKind))
    how = draw(st.sampled_from(offered(piece)))
    if test is TestKind.MACRO and draw(st.booleans()):
        how = None
    values = {}
    for pair in ("d", "head", "hole"):
        size = draw(sizes if pair != "hole" else st.none() | st.floats(4e-3, 12e-3))
        values |= {f"{pair}_max": size, f"{pair}_min": None if size is None else 0.9 * size}
    tested = draw(st.none() | st.floats(10e-3, 100e-3))
    fused = None if tested is None else draw(st.none() | st.floats(0.0, tested))
    depths = 1 if piece.form is ArcForm.PLUG else len(piece.sheets)
    seen = [Seen(one.key, draw(st.none() | small)) for one in offered_imperfections(piece)]
    reading = ArcReading(
        draw(st.integers(0, len(piece.interfaces) - 1)),
        test,
        how,
        **values,
        tested_length=tested,
        fused_length=fused,
        leg=draw(sizes),
        throat=draw(sizes),
        wetted_width=draw(sizes),
        penetrations=tuple(draw(small) for _ in range(depths if draw(st.booleans()) else 0)),
        back=draw(st.none() | st.sampled_from(BackMark)),
        bend_angle=draw(st.none() | st.floats(0.0, 180.0)),
        imperfections=tuple(draw(st.lists(st.sampled_from(seen), max_size=2))),
        smooth_left_out=draw(st.booleans()),
        instrument_uncertainty=draw(small),
        reader_uncertainty=draw(small),
    )
    return piece, reading, draw(st.sampled_from(arc_criteria(piece)))


@given(read_welds(), st.sampled_from((EXPANDED, ONE_SIDED)))
def test_nothing_is_accepted_under_its_limit_or_unseen_from_behind(read_weld, policy) -> None:
    piece, reading, criterion = read_weld
    found = judge_arc(reading, criterion, piece, policy=policy)
    assert found.reasons
    assert found.next_action
    if not found.outcome.accepted:
        return
    assert found.measured >= found.limit - 1e-9
    assert found.margin >= -1e-9
    assert reading.back not in (None, BackMark.DRIP, BackMark.HOLE)
    assert reading.fracture is None or reading.fracture.fused
    if criterion.quantity is not Limits.PENETRATION:
        due = smallest(criterion, piece.interfaces[reading.interface], reading)
        assert found.limit == pytest.approx(due)


@given(read_welds(), st.floats(1.0, 3.0), st.sampled_from(list(FIELDS)))
def test_a_larger_size_is_never_worse(read_weld, factor, quantity) -> None:
    piece, reading, criterion = read_weld
    changes = {}
    for key in FIELDS[quantity]:
        value = getattr(reading, key)
        if value is None:
            return
        most = reading.tested_length if key == "fused_length" else 19e-3
        changes[key] = min(value * factor, max(most or 0.0, value))
    larger = replace(reading, **changes)
    before = judge_arc(reading, criterion, piece).outcome
    after = judge_arc(larger, criterion, piece).outcome
    assert WORST_FIRST.index(after) >= WORST_FIRST.index(before)


@given(read_welds())
def test_a_look_at_a_sound_back_is_never_worse_than_none(read_weld) -> None:
    piece, reading, criterion = read_weld
    before = judge_arc(replace(reading, back=None), criterion, piece).outcome
    after = judge_arc(replace(reading, back=BackMark.FAINT), criterion, piece).outcome
    assert WORST_FIRST.index(after) >= WORST_FIRST.index(before)


@given(read_welds())
def test_what_is_written_down_is_read_back(read_weld) -> None:
    piece, reading, _ = read_weld
    assert read(ArcReading, written(reading)) == reading
    assert read(ArcPiece, written(piece)) == piece
    rule = usual_arc_criterion(piece)
    assert read(Criterion, written(rule)) == rule
