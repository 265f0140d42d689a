"""Cues of spots: cases that can be welded, and what is said to be explained goes that way."""

import pytest

from buttonhole.desk.arc_cues import Explained
from buttonhole.desk.cue_answer import cue_answer
from buttonhole.desk.cues import CUES, FIGURES, compared, find_cue
from buttonhole.desk.spot_cues import SPOT_CUES, SPOT_FIGURES
from buttonhole.desk.weld_file import weld_file_from


def test_each_cue_names_figures_that_are_known_and_cases_that_can_be_welded():
    assert len({one.key for one in CUES}) == len(CUES)
    assert len(FIGURES) == len({name for name, _, _ in FIGURES.values()})
    for cue in SPOT_CUES:
        assert cue.process == "spot"
        assert bool(cue.cases) == (cue.explained is not Explained.NO), cue.key
        for case in cue.cases:
            assert weld_file_from(case.keys).set_up is not None
        assert {one.figure for one in cue.watched} <= set(SPOT_FIGURES)
        assert 0 <= cue.bad < max(len(cue.cases), 1)


@pytest.mark.parametrize("cue", [one for one in SPOT_CUES if one.cases], ids=lambda one: one.key)
def test_the_figures_go_the_way_that_is_said_of_them(cue):
    good, bad = (cue_answer(cue.cases[place].keys) for place in (0, cue.bad))
    rows = compared(cue, good, bad)
    for one in rows:
        assert one.good[1] <= one.good[0] <= one.good[2]
    claims = [one.agrees for one in rows if one.agrees is not None]
    if cue.explained is Explained.YES:
        assert all(claims), rows
    else:
        assert any(claims), rows


def test_a_gap_is_not_said_to_be_explained_while_the_model_goes_the_other_way():
    cue = find_cue("spot-gap")
    good, bad = (cue_answer(cue.cases[place].keys) for place in (0, cue.bad))
    nugget = next(one for one in compared(cue, good, bad) if one.name == "nugget")
    assert nugget.agrees is False
    assert cue.explained is Explained.PARTLY
    assert "no leave to weld over a gap" in cue.model
