"""Cues: what is claimed is compared, sizes come from the model, and no claim is made up."""

import pytest

from buttonhole.desk.arc_cues import ARC_CUES, ARC_FIGURES, Explained
from buttonhole.desk.cues import compared, find_cue, statement
from buttonhole.desk.predict_arc import predict_arc
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.units import BadInput


def test_each_cue_names_figures_that_are_known_and_cases_that_can_be_welded():
    assert len({one.key for one in ARC_CUES}) == len(ARC_CUES)
    for cue in ARC_CUES:
        assert statement(cue).startswith(cue.explained.words)
        assert bool(cue.cases) == (cue.explained is not Explained.NO), cue.key
        for case in cue.cases:
            arc_weld_file_from(case.keys)
        for one in cue.watched:
            assert one.figure in ARC_FIGURES
            assert one.bad_is in ("more", "less", "same", "")
        assert 0 <= cue.bad < max(len(cue.cases), 1)


def test_all_three_answers_occur():
    assert {one.explained for one in ARC_CUES} == set(Explained)


@pytest.mark.parametrize("key", ["stick-out", "path", "small-head"])
def test_what_is_said_to_be_explained_goes_the_way_of_the_trade(key):
    cue = find_cue(key)
    good, bad = (predict_arc(arc_weld_file_from(cue.cases[place].keys)) for place in (0, cue.bad))
    rows = compared(cue, good, bad)
    assert all(one.agrees for one in rows if one.agrees is not None)
    assert any(one.agrees for one in rows)
    for one in rows:
        assert one.good[1] <= one.good[0] <= one.good[2]


def test_a_weld_beside_itself_does_not_go_any_way():
    cue = find_cue("path")
    answer = predict_arc(arc_weld_file_from(cue.cases[0].keys))
    assert [one.agrees for one in compared(cue, answer, answer)] == [False, False, False, None]


def test_an_unknown_cue_is_refused_with_the_known_ones():
    with pytest.raises(BadInput, match="stick-out"):
        find_cue("no such")
