"""The way of joining at the desk: told, decided, asked, answered, and kept as it was."""

import dataclasses
import tomllib
from datetime import date
from pathlib import Path

import pytest

from buttonhole.cli.view_text import joint_lines
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.desk.accept_arc_set_up import AcceptArcSetUp, accept_arc_set_up
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.cite_procedure import (
    CiteProcedure,
    SignDeviation,
    cite_procedure,
    sign_deviation,
)
from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.decide_method import (
    ChooseMethod,
    TellCircumstances,
    choose_method,
    joint_decision,
    tell_circumstances,
)
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.file_rule import FileRule, file_rule
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.print_letter import PrintLetter, print_letter
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.release_set_up import what_is_lacking
from buttonhole.desk.rule_book import rule_book
from buttonhole.desk.verify_record import verify_record
from buttonhole.desk.view import State
from buttonhole.procedure.authority import Authority
from buttonhole.procedure.joining.circumstances import Access, Adhesive, Circumstances
from buttonhole.procedure.joining.decision import NOT_MAKERS, Outcome, Standing
from buttonhole.procedure.joining.maker_text import Says, Whose
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.units import BadInput

TOLD = Circumstances(Access.TWO_SIDES, 18e-3, adhesive=Adhesive.NONE)
ONE_SIDE = Circumstances(Access.ONE_SIDE, adhesive=Adhesive.NONE)


@pytest.fixture
def told(desk, joint):
    return tell_circumstances(desk, TellCircumstances(joint.id, joint.seen, TOLD))


def answer(desk, joint, method="spot", says=Says.PERMITS, **more):
    command = FileRule(
        methods=method,
        whose=Whose.ANSWER,
        reference="Letter of 2026-02-20",
        revision="none printed",
        read_on=date(2026, 3, 1),
        text="That is permitted at this joint.",
        says=says,
        joint_id=joint.id,
        seen=joint.seen,
    )
    return file_rule(desk, dataclasses.replace(command, **more))


def codes(desk, joint):
    return {one.code for one in what_is_lacking(desk, joint.id)}


def test_what_is_around_a_joint_is_kept_and_decides(desk, told):
    assert told.circumstances == TOLD
    found = joint_decision(desk, told)
    assert [one.method for one in found.allowed] == [JoiningMethod.SPOT]
    assert found.joint.circumstances.original_count == 14  # as counted at the joint
    assert not found.releases


def test_a_way_is_chosen_with_the_rules_of_the_day(desk, told):
    chosen = choose_method(desk, ChooseMethod(told.id, told.seen, JoiningMethod.SPOT, "as it was"))
    view = chosen.decision
    assert chosen.state is State.METHOD_DECIDED
    assert view.mark == NOT_MAKERS
    assert "spot-where-the-gun-reaches@1" in view.rules
    assert view.found["allowed"] == ["spot"]


def test_what_no_rule_allows_is_not_chosen(desk, told):
    with pytest.raises(BadInput, match="is rejected"):
        choose_method(desk, ChooseMethod(told.id, told.seen, JoiningMethod.PLUG))
    with pytest.raises(BadInput, match="waits for the maker's word"):
        choose_method(desk, ChooseMethod(told.id, told.seen, JoiningMethod.BRAZE))
    command = SignDeviation(told.id, told.seen, "no gun on the island", "A. One", "B. Two")
    signed = sign_deviation(desk, command)
    chosen = choose_method(desk, ChooseMethod(told.id, signed.seen, JoiningMethod.PLUG))
    assert chosen.decision.mark


def test_an_old_decision_keeps_its_rule_when_another_version_is_filed(desk, told, clock, store):
    chosen = choose_method(desk, ChooseMethod(told.id, told.seen, JoiningMethod.SPOT))
    words = [
        rule["reason"]
        for one in chosen.decision.found["methods"]
        for rule in one["reasons"]
        if rule["key"] == "spot-where-the-gun-reaches"
    ]
    clock.wait(days=2)
    filed = file_rule(
        desk,
        FileRule(
            methods="spot",
            whose=Whose.SHOP,
            reference="shop instruction 7",
            revision="2",
            read_on=date(2026, 3, 3),
            text="Our gun is out for repair.",
            says=Says.FORBIDS,
            key="spot-where-the-gun-reaches",
        ),
    )
    assert filed.name == "spot-where-the-gun-reaches@2"
    now = joint_decision(desk, read_joint(desk, told.id))
    assert now.standing(JoiningMethod.SPOT).standing is Standing.REJECTED
    kept = read_joint(desk, told.id).decision
    assert kept == chosen.decision
    assert words == [rule_book(desk).find("spot-where-the-gun-reaches@1").reason]
    assert verify_record(store).whole


def test_the_makers_answer_is_filed_and_goes_before_ours(desk, joint, set_up):
    joint = tell_circumstances(desk, TellCircumstances(joint.id, joint.seen, ONE_SIDE))
    rule = answer(desk, joint, "braze")
    assert (rule.rank, rule.scope) == (Authority.MAKER_ANSWER, f"joint/{joint.id}")
    joint = read_joint(desk, joint.id)
    found = joint_decision(desk, joint)
    assert found.releases
    assert found.allowed[0].method is JoiningMethod.BRAZE
    assert joint.procedure.authority.method == "braze"
    assert any("Maker's written answer cited" in one.what for one in joint.history)
    said = "\n".join(joint_lines(joint))
    assert "Maker's written answer: Letter of 2026-02-20" in said
    assert "Maker's procedure" not in said
    assert joint.procedure.rule == rule.name
    # His word is about brazing: it does not release a spot.
    accept_set_up(desk, AcceptSetUp(joint.id, joint.seen, set_up, "Gun A"))
    assert "maker-forbids" in codes(desk, joint)


def test_an_answer_for_a_spot_is_the_authority_of_a_release(desk, told, set_up):
    accepted = accept_set_up(desk, AcceptSetUp(told.id, told.seen, set_up, "Gun A"))
    assert accepted.set_up.mark == NOT_MAKERS
    assert codes(desk, told) == {"no-authority", "interface"}
    answer(desk, accepted, "spot", spots_factor=1.3)
    joint = read_joint(desk, told.id)
    assert codes(desk, joint) == {"interface"}
    assert joint.required_spots == 19
    again = accept_set_up(desk, AcceptSetUp(joint.id, joint.seen, set_up, "Gun A"))
    assert again.set_up.mark == ""


def test_a_page_of_the_maker_stands_before_his_answer(desk, told):
    command = CiteProcedure(
        told.id, told.seen, "manual 7", "1", date(2026, 3, 1), "No spots here.", permits=False
    )
    joint = cite_procedure(desk, command)
    answer(desk, joint, "spot")
    joint = read_joint(desk, joint.id)
    assert joint.procedure.authority.authority is Authority.MAKER_PROCEDURE
    spot = joint_decision(desk, joint).standing(JoiningMethod.SPOT)
    assert spot.standing is Standing.REJECTED
    assert any(rule.rank is Authority.MAKER_ANSWER for rule in spot.outranked)


def test_against_the_makers_word_a_set_up_is_not_accepted(desk, told, set_up):
    command = CiteProcedure(
        told.id, told.seen, "manual 7", "1", date(2026, 3, 1), "Rivets here.", method="rivet_bond"
    )
    joint = cite_procedure(desk, command)
    assert joint.is_forbidden
    with pytest.raises(BadInput, match="names another way"):
        accept_set_up(desk, AcceptSetUp(joint.id, joint.seen, set_up, "Gun A"))
    command = SignDeviation(joint.id, joint.seen, "rivets can't be had", "A. One", "B. Two")
    signed = sign_deviation(desk, command)
    assert accept_set_up(desk, AcceptSetUp(joint.id, signed.seen, set_up, "Gun A")).set_up


def test_an_answer_taken_back_counts_no_more(desk, told):
    rule = answer(desk, told, "spot")
    joint = read_joint(desk, told.id)
    entry = next(one for one in joint.history if one.kind == "rule_filed")
    correct_entry(desk, CorrectEntry(entry.event_id, "was about another joint", joint.seen))
    joint = read_joint(desk, told.id)
    assert joint.procedure is None
    assert not joint_decision(desk, joint).releases
    with pytest.raises(BadInput):
        rule_book(desk).find(rule.name)


def test_a_hold_or_a_local_code_stands_against_a_release(desk, told, set_up):
    answer(desk, told, "spot")
    joint = read_joint(desk, told.id)
    joint = accept_set_up(desk, AcceptSetUp(joint.id, joint.seen, set_up, "Gun A"))
    file_rule(
        desk,
        FileRule(
            methods="spot",
            whose=Whose.CODE,
            reference="vehicle act 12",
            revision="2020",
            read_on=date(2026, 3, 1),
            text="No spots within 50 mm of a fuel tank.",
            says=Says.FORBIDS,
        ),
    )
    assert "local-code" in codes(desk, joint)
    again = dataclasses.replace(TOLD, earlier_repair=True)
    joint = tell_circumstances(desk, TellCircumstances(joint.id, joint.seen, again))
    assert "hold" in codes(desk, joint)


def test_a_figure_of_the_maker_is_shown_beside_those_that_differ(desk, told):
    answer(desk, told, "spot", topic="number of spots", value="1.5", unit="new per old")
    found = joint_decision(desk, read_joint(desk, told.id))
    spots = next(one for one in found.conflicts if one.topic == "number of spots")
    assert spots.rules[0].is_makers
    assert len(spots.rules) > 3


@pytest.mark.parametrize(
    ("more", "key"),
    [
        ({"read_on": date(2030, 1, 1)}, "read_on"),
        ({"methods": "glue"}, "method"),
        ({"text": " "}, "text"),
        ({"applies_to": "colour = red"}, "applies_to"),
        ({"key": "thickness-ratio"}, "key"),
        ({"joint_id": None}, "applies_to"),
    ],
)
def test_a_rule_nobody_could_follow_is_refused(desk, told, store, more, key):
    before = store.head()
    with pytest.raises(BadInput) as caught:
        answer(desk, told, **more)
    assert caught.value.key == key
    assert store.head() == before


def test_the_letter_is_the_same_to_the_byte_and_its_hash_is_kept(desk, told, clock):
    first = print_letter(desk, PrintLetter(told.id))
    clock.wait(hours=2)
    second = print_letter(desk, PrintLetter(told.id))
    assert first.pdf == second.pdf
    assert [one.kind for one in second.joint.papers] == ["letter to the maker"] * 2
    assert second.joint.papers[0].sha256 == first.sha256


def test_where_the_maker_decides_there_is_no_letter(desk, told):
    answer(desk, told, "spot", says=Says.REQUIRES)
    joint = read_joint(desk, told.id)
    found = joint_decision(desk, joint)
    assert found.outcome is Outcome.ALLOWED
    count = [one.text for one in found.questions]
    assert all("14 welds" in one for one in count)  # only how many, where he did not say


def test_changed_circumstances_take_a_chosen_way_away(desk, told):
    chosen = choose_method(desk, ChooseMethod(told.id, told.seen, JoiningMethod.SPOT))
    command = TellCircumstances(told.id, chosen.seen, ONE_SIDE)
    assert tell_circumstances(desk, command).decision is None


def test_a_sheet_that_is_not_there_is_not_aluminium(desk, joint):
    wrong = dataclasses.replace(TOLD, aluminium=(3,))
    with pytest.raises(BadInput, match="sheet 3"):
        tell_circumstances(desk, TellCircumstances(joint.id, joint.seen, wrong))
    there = dataclasses.replace(TOLD, aluminium=(2,))
    joint = tell_circumstances(desk, TellCircumstances(joint.id, joint.seen, there))
    spot = joint_decision(desk, joint).standing(JoiningMethod.SPOT)
    assert spot.standing is Standing.REJECTED


@pytest.fixture
def plug(desk, joint):
    keys = tomllib.loads(Path("examples/plug.toml").read_text(encoding="utf-8"))
    keys["circumstances"] = {"access": "one_side", "adhesive": "none"}
    return describe_arc_joint(desk, DescribeArcJoint(joint.job_id, "J2", keys))


def test_an_arc_weld_is_decided_and_marked_as_well(desk, plug):
    found = joint_decision(desk, plug)
    assert found.allowed[0].method is JoiningMethod.PLUG
    accepted = accept_arc_set_up(desk, AcceptArcSetUp(plug.id, plug.seen, machine="Feeder C"))
    assert accepted.arc.set_up.mark == NOT_MAKERS
    command = CiteProcedure(
        plug.id, accepted.seen, "manual 7", "1", date(2026, 3, 1), "Plug 8 mm.", method="plug"
    )
    cited = cite_procedure(desk, command)
    assert not cited.is_forbidden
    again = accept_arc_set_up(desk, AcceptArcSetUp(plug.id, cited.seen, machine="Feeder C"))
    assert again.arc.set_up.mark == ""


def test_against_the_makers_word_an_arc_is_not_set_up(desk, plug):
    command = CiteProcedure(
        plug.id, plug.seen, "manual 7", "1", date(2026, 3, 1), "Spots only.", method="spot"
    )
    cited = cite_procedure(desk, command)
    assert cited.is_forbidden
    with pytest.raises(BadInput, match="names another way"):
        accept_arc_set_up(desk, AcceptArcSetUp(plug.id, cited.seen, machine="Feeder C"))


def test_an_old_verdict_keeps_the_rule_it_was_judged_by(desk, welded):
    good = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 5.4e-3, 5.0e-3)
    coupon = welded.coupons[-1]
    judged = judge_coupon(desk, JudgeCoupon(welded.id, welded.seen, coupon.id, readings=(good,)))
    before = judged.coupons[-1].judged[0]
    assert before.criterion.mark == "not the maker's"
    command = CiteProcedure(
        judged.id,
        judged.seen,
        "manual 7.2",
        "2026-02",
        date(2026, 3, 1),
        "Spot, 6 mm.",
        minimum_diameter=6e-3,
    )
    later = cite_procedure(desk, command)
    assert later.coupons[-1].judged[0] == before
    again = judge_coupon(desk, JudgeCoupon(later.id, later.seen, coupon.id, readings=(good,)))
    now = again.coupons[-1].judged[0]
    assert (now.criterion.key, now.criterion.mark) == ("maker", "")
