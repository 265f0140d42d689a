"""The order of authority, and what the rules make of odd joints."""

import itertools
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from buttonhole.joint.coating import Coating
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.authority import Authority
from buttonhole.procedure.joining.book import RuleBook, built_in
from buttonhole.procedure.joining.circumstances import (
    Access,
    Adhesive,
    Circumstances,
    JoinedSheet,
    JointToJoin,
    Near,
    Original,
    RemainingFlange,
    Zone,
)
from buttonhole.procedure.joining.decide import decide
from buttonhole.procedure.joining.decision import Decision, Outcome, Standing
from buttonhole.procedure.joining.maker_text import Says, StatedRule, Whose, rule_of
from buttonhole.procedure.joining.method import ARC, BURNING, JoiningMethod
from buttonhole.procedure.joining.rule import Rule

ON = date(2026, 3, 2)
STEELS = ("DC04", "HC340LA", "HCT600X", "HCT780X", "HCT980X", "DP1180", "22MnB5", "unknown")
REACHED = Circumstances(access=Access.TWO_SIDES, adhesive=Adhesive.NONE, flange_width=20e-3)
ONE_SIDE = replace(REACHED, access=Access.ONE_SIDE)


def joint(
    *sheets: tuple[str, float], told: Circumstances = REACHED, coating: Coating = Coating.GI
) -> JointToJoin:
    found = tuple(
        JoinedSheet(mm * 1e-3, alloy=name)
        if name.startswith("EN AW")
        else JoinedSheet(mm * 1e-3, find_steel(name), coating=coating)
        for name, mm in sheets
    )
    return JointToJoin(found, circumstances=told)


def text(
    methods: str, says: Says = Says.PERMITS, whose: Whose = Whose.PROCEDURE, about: str = ""
) -> Rule:
    stated = StatedRule(
        methods, says, whose, f"{whose} {methods} {says}", "1", ON, "T. Veld", "as read", about
    )
    return rule_of(stated)


def asked(what: JointToJoin, *filed: Rule, book: RuleBook | None = None) -> Decision:
    return decide(what, (book or built_in()).with_filed(filed), ON)


def stands(found: Decision, method: str) -> Standing:
    return found.standing(JoiningMethod(method)).standing


@pytest.mark.parametrize("high", [Whose.PROCEDURE, Whose.GENERAL, Whose.ANSWER])
def test_a_higher_text_of_the_maker_goes_before_a_lower_one(high: Whose) -> None:
    lower = [one for one in (Whose.GENERAL, Whose.ANSWER) if one.rank > high.rank]
    for low, (says, against) in itertools.product(
        lower, [(Says.PERMITS, Says.FORBIDS), (Says.FORBIDS, Says.PERMITS)]
    ):
        found = asked(
            joint(("22MnB5", 1.5), ("DC04", 1.0)),
            text("plug", says, high),
            text("plug", against, low),
        )
        plug = found.standing(JoiningMethod.PLUG)
        assert plug.authority is high.rank
        wanted = Standing.ALLOWED if says is Says.PERMITS else Standing.REJECTED
        assert plug.standing is wanted
        assert any(rule.rank is low.rank for rule in plug.outranked)


def test_texts_of_one_rank_that_contradict_each_other_are_asked_about() -> None:
    what = joint(("DC04", 1.0), ("DC04", 1.0), told=ONE_SIDE)
    found = asked(
        what,
        text("plug", Says.PERMITS, Whose.GENERAL),
        text("plug", Says.FORBIDS, Whose.GENERAL),
    )
    plug = found.standing(JoiningMethod.PLUG)
    assert (plug.standing, plug.in_conflict) == (Standing.ASK, True)
    assert "contradict" in found.questions[0].text


def test_a_maker_who_requires_one_way_rules_the_others_out() -> None:
    found = asked(joint(("DC04", 1.0), ("DC04", 1.0)), text("rivet_bond", Says.REQUIRES))
    assert [one.method for one in found.allowed] == [JoiningMethod.RIVET_BOND]
    assert len(found.rejected) == len(JoiningMethod) - 1
    assert found.releases


def test_the_makers_way_that_cannot_be_gone_is_asked_about_not_replaced() -> None:
    found = asked(joint(("DC04", 1.0), ("DC04", 1.0), told=ONE_SIDE), text("spot", Says.REQUIRES))
    spot = found.standing(JoiningMethod.SPOT)
    assert spot.standing is Standing.ASK
    assert spot.obstacles
    assert not found.allowed


def test_a_shop_without_the_makers_means_does_not_take_another_way() -> None:
    told = replace(REACHED, means=(JoiningMethod.PLUG, JoiningMethod.BRAZE))
    found = asked(joint(("DC04", 1.0), ("DC04", 1.0), told=told), text("spot", Says.REQUIRES))
    assert found.outcome is Outcome.ASK
    assert "give the joint to a shop" in " ".join(found.standing(JoiningMethod.SPOT).why)


def test_a_permission_of_a_guide_goes_before_ours_but_not_before_what_is_possible() -> None:
    guide = text("plug", Says.PERMITS, Whose.GUIDE)
    found = asked(joint(("HCT780X", 1.2), ("HCT780X", 1.2), told=ONE_SIDE), guide)
    plug = found.standing(JoiningMethod.PLUG)
    assert (plug.standing, plug.authority) == (Standing.ALLOWED, Authority.STANDARD)
    assert plug.mark  # still not the maker's
    assert not found.releases
    spot = text("spot", Says.PERMITS, Whose.GUIDE)
    found = asked(joint(("DC04", 1.0), ("DC04", 1.0), told=ONE_SIDE), spot)
    assert stands(found, "spot") is Standing.REJECTED


def test_a_local_code_forbids_whatever_is_not_the_makers_and_is_asked_about_against_him() -> None:
    code = text("plug", Says.FORBIDS, Whose.CODE)
    what = joint(("DC04", 1.0), ("DC04", 1.0), told=ONE_SIDE)
    assert stands(asked(what), "plug") is Standing.ALLOWED
    assert stands(asked(what, code), "plug") is Standing.REJECTED
    found = asked(what, code, text("plug"))
    plug = found.standing(JoiningMethod.PLUG)
    assert (plug.standing, plug.in_conflict) == (Standing.ASK, True)


def test_a_text_that_applies_elsewhere_says_nothing_here() -> None:
    elsewhere = text("plug", Says.FORBIDS, about="zone = pillar_foot")
    what = joint(("DC04", 1.0), ("DC04", 1.0), told=ONE_SIDE)
    assert stands(asked(what, elsewhere), "plug") is Standing.ALLOWED
    there = replace(what, circumstances=replace(ONE_SIDE, zone=Zone.PILLAR_FOOT))
    assert stands(asked(there, elsewhere), "plug") is Standing.REJECTED


@pytest.mark.parametrize(
    ("sheets", "told", "allowed", "rejected"),
    [
        ([("DC04", 3.0), ("DC04", 3.0)], REACHED, ["spot"], ["plug"]),
        ([("DC04", 3.2), ("DC04", 3.0)], REACHED, ["plug"], ["spot"]),
        ([("DC04", 0.7), ("DC04", 2.1)], REACHED, ["spot"], []),
        ([("HCT980X", 1.2), ("22MnB5", 1.5)], ONE_SIDE, [], ["plug", "spot", "butt_backed"]),
        ([("EN AW-5754", 1.0), ("EN AW-5754", 3.0)], REACHED, [], ["spot", "plug", "braze"]),
        ([("DC04", 0.8)] * 4, ONE_SIDE, [], ["spot", "weld_bond"]),
        ([("HC420LA", 1.5), ("DC04", 1.0)], ONE_SIDE, ["plug"], ["spot"]),
    ],
)
def test_odd_joints(sheets, told, allowed, rejected) -> None:
    found = asked(joint(*sheets, told=told))
    assert [one.method.value for one in found.allowed] == allowed
    for name in rejected:
        assert stands(found, name) is Standing.REJECTED, name


def test_holes_in_the_flange_that_stays_lead_to_plugs() -> None:
    told = replace(REACHED, remaining_flange=RemainingFlange.DRILLED)
    found = asked(joint(("DC04", 1.0), ("DC04", 1.0), told=told))
    assert [one.method.value for one in found.allowed] == ["plug"]


def test_what_the_factory_did_another_way_is_asked() -> None:
    told = replace(REACHED, original_joining=Original.LASER)
    assert asked(joint(("DC04", 1.0), ("DC04", 1.0), told=told)).outcome is Outcome.ASK


def test_a_coating_nobody_knows_is_asked_for_where_it_decides() -> None:
    told = Circumstances(Access.ONE_SIDE, adhesive=Adhesive.NONE, visible=True, zone=Zone.COSMETIC)
    found = asked(joint(("DC04", 0.7), ("DC04", 0.7), told=told, coating=Coating.UNKNOWN))
    assert "zinc" in found.tell
    assert not found.allowed


circumstances = st.builds(
    Circumstances,
    access=st.sampled_from([None, *Access]),
    adhesive=st.sampled_from([None, *Adhesive]),
    flange_width=st.sampled_from([None, 6e-3, 12e-3, 25e-3]),
    zone=st.sampled_from([None, *Zone]),
    original_joining=st.sampled_from([None, *Original]),
    visible=st.booleans(),
    sectioning=st.booleans(),
    earlier_repair=st.booleans(),
    near=st.lists(st.sampled_from(list(Near)), unique=True).map(tuple),
)
some_joint = st.builds(
    lambda names, mm, told, coating: joint(
        *zip(names, mm, strict=False), told=told, coating=coating
    ),
    st.lists(st.sampled_from([*STEELS, "EN AW-6016"]), min_size=2, max_size=4),
    st.lists(st.sampled_from([0.6, 0.8, 1.2, 1.6, 2.5, 3.0, 4.0]), min_size=4, max_size=4),
    circumstances,
    st.sampled_from(list(Coating)),
)


@settings(max_examples=150, deadline=None)
@given(some_joint)
def test_whatever_the_joint_nothing_dangerous_is_allowed_without_the_maker(what) -> None:
    found = asked(what)
    ways = {one.method for one in found.allowed}
    assert not found.releases
    assert all(one.mark for one in found.methods)
    assert all(one.why for one in found.methods)
    steels = [one.steel for one in what.sheets if one.steel is not None]
    if any(one.is_unknown for one in steels) or what.circumstances.earlier_repair:
        assert found.outcome is Outcome.HOLD
        assert not ways
    if any(one.tensile_strength > 980e6 for one in steels):
        assert not ways & set(ARC)
    if len(steels) < len(what.sheets):
        assert not ways
    if what.circumstances.adhesive not in (None, Adhesive.NONE):
        assert not ways & set(BURNING)
    if what.circumstances.access is not Access.TWO_SIDES:
        assert not ways & {JoiningMethod.SPOT, JoiningMethod.WELD_BOND}
    if found.outcome is Outcome.TELL:
        assert found.tell
    elif not found.tell:
        assert found.questions


@settings(max_examples=60, deadline=None)
@given(some_joint, st.integers(0, 3), st.sampled_from(list(JoiningMethod)))
def test_not_knowing_never_allows_more(what, place, method) -> None:
    place = min(place, len(what.sheets) - 1)
    sheets = list(what.sheets)
    if sheets[place].steel is None:
        return
    sheets[place] = replace(sheets[place], steel=find_steel("unknown"))
    before, after = asked(what), asked(replace(what, sheets=tuple(sheets)))
    assert not after.allowed
    if stands(before, method.value) is Standing.REJECTED and method not in (
        JoiningMethod.PLUG,  # rejected where the gun reaches, which is then not sure
        JoiningMethod.SPOT,
    ):
        assert stands(after, method.value) is Standing.REJECTED
