"""Steels are found by their exact name, and an unknown one counts as the worst."""

import math
import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.joint.steel import UNKNOWN_STEEL, Family, Steel, aliases, find_steel, steels
from buttonhole.units import BadInput


@pytest.mark.parametrize(
    ("text", "designation"),
    [
        ("DC04", "DC04"),
        ("dc 04", "DC04"),
        ("1.0338", "DC04"),
        ("SAE 1010", "SAE 1010"),
        ("sae1010", "SAE 1010"),
        ("SAE-1010", "SAE 1010"),
        ("AISI 1010", "SAE 1010"),
        ("DP600", "HCT600X"),
        ("DP 600", "HCT600X"),
        ("HC340LA", "HC340LA"),
        ("22MnB5", "22MnB5"),
        ("22MNB5", "22MnB5"),
        ("MS1500", "CR1220Y1500T-MS"),
        ("304", "1.4301"),
        ("CP800", "HCT780C"),
        ("TRIP700", "HCT690T"),
    ],
)
def test_finds_a_steel_whatever_the_case_and_hyphens(text: str, designation: str) -> None:
    assert find_steel(text).designation == designation


@pytest.mark.parametrize(
    "text", ["DC4", "HC340L", "HC34OLA", "DP601", "", "mild", "unknwon", "CR4"]
)
def test_never_guesses(text: str) -> None:
    # CR4 is one steel in BS 1449 and another in VDA 239-100
    with pytest.raises(BadInput, match="no listed steel") as caught:
        find_steel(text)
    assert caught.value.key == "steel"


def test_names_near_ones_but_picks_none() -> None:
    with pytest.raises(BadInput, match=r"near names: .*HC340LA"):
        find_steel("HC340L")


def test_ten_megabytes_of_junk_make_one_short_line() -> None:
    with pytest.raises(BadInput) as caught:
        find_steel("x" * 10_000_000)
    assert len(str(caught.value)) < 300


@given(st.text(max_size=40))
def test_any_text_is_a_steel_or_a_refusal(text: str) -> None:
    try:
        found = find_steel(text)
    except BadInput:
        return
    assert isinstance(found, Steel)


def test_every_family_has_a_steel() -> None:
    assert {steel.family for steel in steels()} == set(Family) - {Family.UNKNOWN}


@pytest.mark.parametrize("steel", steels(), ids=lambda steel: steel.designation)
def test_a_steel_is_consistent(steel: Steel) -> None:
    low, high = steel.yield_range
    assert low <= steel.yield_strength <= high
    assert steel.yield_strength < steel.tensile_strength == steel.tensile_range[0]
    assert steel.tensile_range[0] < steel.tensile_range[1]
    for element, limit in steel.composition_limit.items():
        assert 0.0 <= steel.composition.get(element, 0.0) <= limit, element
    assert find_steel(steel.designation) == steel
    assert all(find_steel(alias) == steel for alias in aliases(steel))
    assert pickle.loads(pickle.dumps(steel)) == steel  # noqa: S301 - our own bytes


def test_unknown_is_a_value_and_the_worst() -> None:
    assert find_steel("Unknown") is UNKNOWN_STEEL
    assert UNKNOWN_STEEL.is_unknown
    assert UNKNOWN_STEEL.is_sensitive
    assert UNKNOWN_STEEL.tensile_strength >= max(s.tensile_strength for s in steels())
    assert UNKNOWN_STEEL not in steels()


def test_who_is_sensitive() -> None:
    sensitive = {steel.designation for steel in steels() if steel.is_sensitive}
    assert {"HCT600X", "HCT780C", "HCT690T", "CR1220Y1500T-MS", "22MnB5"} <= sensitive
    assert not sensitive & {"DC04", "HC220B", "HC340LA", "1.4301"}


def test_no_limit_is_infinite() -> None:
    assert find_steel("HCT600X").tensile_range == (600e6, math.inf)
    assert find_steel("DC04").yield_range == (0.0, 210e6)
