"""The questions about a coupon of an arc weld follow from the answers; the back comes first."""

from functools import partial

import pytest

from buttonhole.coupon.arc.criterion import usual_arc_criterion
from buttonhole.coupon.arc.fracture import ArcFracture, offered
from buttonhole.coupon.arc.imperfection import offered_imperfections
from buttonhole.coupon.arc.judgement import suited_arc
from buttonhole.coupon.arc.piece import ArcPiece
from buttonhole.coupon.arc.verdict import judge_arc
from buttonhole.coupon.gauge import GaugeKind, usual_gauge
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.arc_piece import arc_piece
from buttonhole.web.arc_tearing import measured_of, questions, readings
from buttonhole.web.asking import Question, open_question
from buttonhole.web.fields import Answers
from buttonhole.weld.arc.plug.marks import BackMark
from tests.desk import arc_steps

GAUGES = tuple(usual_gauge(one) for one in GaugeKind)
PIECES = {kind: arc_piece(keys) for kind, keys in arc_steps.KINDS.items()}
LOOKED = {"back": "clear", "seen": "yes", "head_max": "", "gauge": "calliper"}
PLUG = {**LOOKED, "test-0": "peel", "mode-0": "hole_pulled", "d_max-0": "6,6", "d_min-0": "6.2"}
LAP = {**LOOKED, "test-0": "peel", "mode-0": "sheet_torn", "tested_length-0": "40", "leg-0": "1.8"}


def now_asked(piece: ArcPiece, given: dict[str, str]) -> tuple[Question | None, Answers]:
    form = Answers(given)
    every = questions(piece, given, GAUGES)
    return open_question(every, form, partial(measured_of, piece)), form


def key_asked(piece: ArcPiece, given: dict[str, str]) -> str:
    now, _ = now_asked(piece, given)
    return now.keys[0] if now else ""


def test_one_question_follows_the_other_on_a_plug():
    given: dict[str, str] = {}
    for key, answer in (
        ("back", "clear"),
        ("seen", "yes"),
        ("outside", ""),
        ("test-0", "peel"),
        ("mode-0", "hole_pulled"),
        ("d_max-0", "6.6"),
        ("gauge", "calliper"),
    ):
        assert key_asked(PIECES["plug"], given) == key
        given[key] = answer
        if key == "d_max-0":
            given["d_min-0"] = "6.2"
    assert key_asked(PIECES["plug"], given) == ""


@pytest.mark.parametrize("kind", PIECES)
def test_nothing_is_judged_before_the_back_was_looked_at(kind: str):
    given = {**PLUG, **LAP}
    del given["back"]
    assert key_asked(PIECES[kind], given) == "back"


@pytest.mark.parametrize("kind", PIECES)
def test_each_answer_about_back_fault_and_fracture_has_its_picture(kind: str):
    piece = PIECES[kind]
    every = {one.keys[0]: one for one in questions(piece, {"test-0": "peel"}, GAUGES)}
    assert {one.value for one in every["back"].choices} == set(BackMark)
    assert len(every["seen"].choices) == len(offered_imperfections(piece))
    assert {one.value for one in every["mode-0"].choices} == set(offered(piece))
    for key in ("back", "seen", "mode-0"):
        for one in every[key].choices:
            assert "<svg" in one.picture, one.value
            assert one.words
            assert one.more


@pytest.mark.parametrize("kind", PIECES)
def test_every_way_of_letting_go_can_be_read_to_its_end_and_judged(kind: str):
    piece = PIECES[kind]
    figures = {
        "d_max-0": "6", "d_min-0": "5", "tested_length-0": "40", "fused_length-0": "30",
        "leg-0": "2", "bend_angle-0": "120", "twist_angle-0": "40",
    }  # fmt: skip
    for test in (one for one in suited_arc(piece.form) if one is not TestKind.MACRO):
        for one in offered(piece):
            given = {
                **LOOKED,
                **figures,
                "test-0": test.value,
                "mode-0": one.value,
                "rough-only-0": "yes",
            }
            now, form = now_asked(piece, given)
            assert now is None, (one, form.faults)
            (read,) = readings(piece, Answers(given), GAUGES)
            assert (read.test, read.fracture, read.back) == (test, one, BackMark.CLEAR)
            verdict = judge_arc(read, usual_arc_criterion(piece), piece)
            if not one.fused:
                assert verdict.outcome is Outcome.REJECT


@pytest.mark.parametrize(("kind", "sheets"), [("plug", 1), ("lap", 2), ("butt", 2), ("braze", 2)])
def test_a_section_asks_how_deep_each_sheet_melted(kind: str, sheets: int):
    given = {**LOOKED, "test-0": "macro", "d_max-0": "6", "d_min-0": "6"}
    piece = PIECES[kind]
    now, _ = now_asked(piece, given)
    assert now is not None
    assert [one for one in now.keys if one.startswith("melted")] == [
        f"melted-{number}-0" for number in range(1, sheets + 1)
    ]
    given |= {f"melted-{number}-0": "0,3" for number in range(1, sheets + 1)}
    (read,) = readings(piece, Answers(given), GAUGES)
    assert read.fracture is None
    assert read.penetrations == pytest.approx((0.3e-3,) * sheets)


def test_what_was_seen_goes_with_its_depth_where_a_depth_has_a_limit():
    given = {**LAP, "seen-undercut": "yes", "seen-spatter": "yes"}
    assert key_asked(PIECES["lap"], given) == "size-undercut"
    given["size-undercut"] = "0.05"
    assert key_asked(PIECES["lap"], given) == ""
    (read,) = readings(PIECES["lap"], Answers(given), GAUGES)
    assert [(one.key, one.size) for one in read.imperfections] == [
        ("undercut", pytest.approx(0.05e-3)),
        ("spatter", None),
    ]


def test_who_measured_the_smooth_face_too_is_not_trusted():
    given = {**PLUG, "mode-0": "parted_rough"}
    assert key_asked(PIECES["plug"], given) == "rough-only-0"
    given["rough-only-0"] = "no"
    (read,) = readings(PIECES["plug"], Answers(given), GAUGES)
    assert not read.smooth_left_out
    given["rough-only-0"] = "perhaps"
    assert key_asked(PIECES["plug"], given) == "rough-only-0"


@pytest.mark.parametrize(
    ("kind", "given", "key"),
    [
        ("plug", {**PLUG, "d_min-0": "7"}, "d_min-0"),
        ("plug", {**PLUG, "d_max-0": "66 cm"}, "d_max-0"),
        ("plug", {**PLUG, "head_max": "10"}, "head_min"),
        ("lap", {**LAP, "tested_length-0": "0"}, "tested_length-0"),
        ("lap", {**LAP, "leg-0": ""}, "leg-0"),
        ("lap", {**LAP, "seen-undercut": "yes", "size-undercut": "900"}, "size-undercut"),
        ("lap", {**LAP, "mode-0": "partly_peeled", "fused_length-0": "50"}, "fused_length-0"),
    ],
)
def test_a_figure_no_weld_has_is_marked_in_its_field(kind: str, given: dict[str, str], key: str):
    now, form = now_asked(PIECES[kind], given)
    assert now is not None
    assert key in form.faults, form.faults


def test_an_answer_of_another_kind_of_weld_is_asked_again():
    assert key_asked(PIECES["plug"], {**PLUG, "mode-0": "throat_torn"}) == "mode-0"
    assert key_asked(PIECES["plug"], {**PLUG, "back": "blue"}) == "back"
    assert key_asked(PIECES["lap"], {**LAP, "test-0": "bite"}) == "test-0"


def test_tests_are_offered_by_the_form_of_the_weld():
    first = {
        kind: next(one for one in questions(piece, {}, GAUGES) if one.keys[0] == "test-0")
        for kind, piece in PIECES.items()
    }
    assert first["plug"].choices[0].value == "peel"
    assert first["butt"].choices[0].value == "bend"
    assert "peel" not in {one.value for one in first["butt"].choices}
    assert all("Visor and gloves on" in one.hint for one in first.values())
    assert all("fume hood" in one.hint for one in first.values())


def test_a_strong_sheet_warns_that_it_can_snap():
    keys = {
        **arc_steps.LAP,
        "sheet": [{"steel": "22MnB5", "thickness": "1.5 mm", "coating": "AlSi"}] * 2,
    }
    every = questions(arc_piece(keys), {}, GAUGES)
    asked = next(one for one in every if one.keys[0] == "test-0")
    assert "can snap" in asked.hint


def test_three_sheets_of_plugs_are_read_at_each_interface():
    sheet = {"steel": "DC04", "thickness": "1 mm", "coating": "bare", "hole_diameter": "8 mm"}
    below = {key: value for key, value in sheet.items() if key != "hole_diameter"}
    piece = arc_piece({**arc_steps.PLUG, "sheet": [sheet, sheet, below]})
    given = {**PLUG, "test-1": "peel", "mode-1": "part_hole", "d_max-1": "5", "d_min-1": "4.6",
             "rough-only-1": "yes"}  # fmt: skip
    assert key_asked(piece, given) == ""
    one, two = readings(piece, Answers(given), GAUGES)
    assert (one.back, two.back) == (BackMark.CLEAR, None)  # the back is seen once
    assert two.fracture is ArcFracture.PART_HOLE
    assert two.instrument_uncertainty == GAUGES[0].face
