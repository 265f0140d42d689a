"""Hints bound an unknown steel and never name it; the true steel is never taken out."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from buttonhole.joint.hardness_tensile import SPREAD, hardness_of_tensile, spread
from buttonhole.joint.hints import (
    HARDNESS_OFF,
    LOOKS,
    THICKENED,
    THINNED,
    Bounded,
    HardnessTester,
    Hints,
    Look,
    Magnet,
    Spark,
    bounds,
    on_the_body,
    places,
)
from buttonhole.joint.steel import UNKNOWN_STEEL, Family, find_steel
from buttonhole.joint.steel_book import Entry, book
from buttonhole.units import BadInput


def names(found: Bounded) -> set[str]:
    return {one.steel.designation for one in found.possible}


def test_without_hints_everything_is_possible() -> None:
    found = bounds(Hints())
    assert len(found.possible) == len(book())
    assert Hints().nothing
    assert found.aluminium


@pytest.mark.parametrize(
    "hints",
    [
        Hints(),
        Hints(magnet=Magnet.NOT, hardness=180.0),
        Hints(
            thickness=1.6e-3, magnet=Magnet.STICKS, hardness=480.0, tester=HardnessTester.VICKERS
        ),
        Hints(thickness=0.7e-3, hardness=100.0, hardness_off=5.0, tester=HardnessTester.VICKERS),
        Hints(thickness=0.3e-3, hardness=600.0, hardness_off=1.0, tester=HardnessTester.VICKERS),
    ],
)
def test_the_steel_stays_unknown_whatever_was_found(hints: Hints) -> None:
    assert bounds(hints).steel is UNKNOWN_STEEL
    assert bounds(hints).steel.is_sensitive


@st.composite
def sheets_on_a_body(draw: st.DrawFn) -> tuple[Entry, Hints, float]:
    """A true steel, readings no farther off than they say, and the true tensile strength [Pa]."""
    one = draw(st.sampled_from(book()))
    share = st.floats(0.0, 1.0)
    low, high = on_the_body(one.steel)
    strength = low + draw(share) * (high - low)
    band = hardness_of_tensile(min(max(strength, 250e6), 2180e6), one.steel.family)
    hardness = band.low + draw(share) * (band.high - band.low)
    reading = hardness * (1.0 + draw(st.floats(-0.13, 0.13)))
    t_low, t_high = one.habit.made
    thickness = (THINNED + draw(share) * (THICKENED - THINNED)) * (
        t_low + draw(share) * (t_high - t_low)
    )
    measured = float(np.clip(thickness + draw(st.floats(-0.05e-3, 0.05e-3)), 0.2e-3, 6.5e-3))
    magnet = Magnet.STICKS
    if one.steel.family is Family.STAINLESS:
        magnet = draw(st.sampled_from(list(Magnet)))
    hints = Hints(
        thickness=draw(st.sampled_from([None, measured])),
        magnet=draw(st.sampled_from([None, magnet])),
        hardness=float(np.clip(reading, 80.0, 650.0)),
        tester=draw(st.sampled_from(list(HardnessTester))),
        look=draw(st.sampled_from([None, *Look])),
        place=draw(st.sampled_from(["", *places()])),
        spark=draw(st.sampled_from([None, *Spark])),
    )
    return one, hints, strength


@settings(max_examples=400)
@given(sheets_on_a_body())
def test_the_true_steel_is_never_taken_out(case: tuple[Entry, Hints, float]) -> None:
    one, hints, strength = case
    found = bounds(hints)
    assert one in found.possible
    low, high = found.tensile
    assert low <= strength * 1.000001
    assert strength <= high * 1.000001
    least, most = found.carbon
    assert least <= one.steel.composition.get("C", 0.0) <= most
    assert one.steel.family in found.families


@given(sheets_on_a_body(), st.data())
def test_one_hint_more_never_widens(case: tuple[Entry, Hints, float], data: st.DataObject) -> None:
    _, hints, _ = case
    name = data.draw(st.sampled_from(["hardness", "magnet", "look", "spark"]))
    fewer = bounds(dataclasses.replace(hints, **{name: None}))
    assert names(bounds(hints)) <= names(fewer)
    more = bounds(hints)
    assert {one.steel.designation for one in more.usual} <= names(more)


def test_habits_take_nothing_out() -> None:
    every = names(bounds(Hints()))
    assert names(bounds(Hints(place="outer skin", spark=Spark.BURSTS, look=Look.DARK))) == every


def test_a_magnet_that_does_not_pull_leaves_austenitic_steel_and_aluminium() -> None:
    found = bounds(Hints(magnet=Magnet.NOT))
    assert found.families == (Family.STAINLESS,)
    assert found.aluminium
    assert not bounds(Hints(magnet=Magnet.STICKS)).aluminium
    assert bounds(Hints(hardness=100.0)).aluminium
    assert not bounds(Hints(hardness=400.0)).aluminium  # no alloy is that hard
    assert bounds(Hints(hardness=400.0, tester=HardnessTester.REBOUND)).aluminium  # set aside
    # pressed austenitic steel pulls, so it stays
    assert Family.STAINLESS in bounds(Hints(magnet=Magnet.STICKS)).families


def test_a_soft_sheet_is_no_hot_stamped_one_and_a_hard_one_no_mild_one() -> None:
    soft = bounds(Hints(hardness=100.0, hardness_off=10.0, tester=HardnessTester.VICKERS))
    assert not {"22MnB5", "HCT780X", "HC420LA"} & names(soft)
    assert {"DC04", "DX54D", "SPCE"} <= names(soft)
    hard = bounds(Hints(hardness=480.0, hardness_off=20.0, tester=HardnessTester.VICKERS))
    assert {"22MnB5", "20MnB5", "CR1220Y1500T-MS"} <= names(hard)
    assert not {"DC04", "HC340LA", "HCT600X"} & names(hard)


def test_a_thin_sheet_is_no_hot_rolled_one() -> None:
    found = bounds(Hints(thickness=0.7e-3))
    assert "HDT580X" not in names(found)
    assert dict(found.dropped)["thickness"] > 5


def test_a_rebound_reading_on_sheet_is_set_aside() -> None:
    aside = bounds(Hints(hardness=480.0, tester=HardnessTester.REBOUND, thickness=1.0e-3))
    assert names(aside) == names(bounds(Hints(thickness=1.0e-3)))
    assert any("set aside" in note for note in aside.notes)


def test_a_thin_wall_widens_what_ultrasonic_contact_says() -> None:
    cut = Hints(hardness=200.0, tester=HardnessTester.VICKERS, thickness=1.0e-3)
    assert names(bounds(cut)) < names(bounds(dataclasses.replace(cut, tester=HardnessTester.UCI)))
    assert HARDNESS_OFF > SPREAD / 2.0


def test_one_steel_left_is_not_said_to_be_it() -> None:
    found = bounds(
        Hints(magnet=Magnet.NOT, hardness=100.0, hardness_off=1.0, tester=HardnessTester.VICKERS)
    )
    assert len(found.possible) <= 4
    text = " ".join(found.notes)
    assert "still not known" in text or len(found.possible) != 1


def test_nothing_that_fits_is_said_plainly() -> None:
    found = bounds(
        Hints(magnet=Magnet.NOT, hardness=85.0, hardness_off=1.0, tester=HardnessTester.VICKERS)
    )
    assert found.possible == ()
    assert any("measure again" in note for note in found.notes)
    assert np.isnan(found.tensile).all()


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"thickness": 0.1e-3}, "thickness"),
        ({"thickness": float("nan")}, "thickness"),
        ({"thickness": 1e-3, "thickness_off": 0.0}, "thickness_off"),
        ({"hardness": 20.0}, "hardness"),
        ({"hardness": 200.0, "hardness_off": -1.0}, "hardness_off"),
        ({"place": "keel"}, "place"),
    ],
)
def test_a_figure_that_no_body_sheet_has_is_refused(keys: dict[str, object], said: str) -> None:
    with pytest.raises(BadInput) as caught:
        Hints(**keys)  # type: ignore[arg-type] # wrong on purpose
    assert caught.value.key == said


def test_the_worst_case_is_not_bettered_by_any_remaining_steel() -> None:
    low, high = on_the_body(find_steel("34MnB5"))
    assert low < 1800e6 < high
    assert spread(Family.STAINLESS) > spread(Family.PHS)
    assert set(LOOKS) == set(Look)
