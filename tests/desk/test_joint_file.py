"""A joint file: read, refused, written back; a weld file may carry the same."""

import tomllib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.desk.joint_file import around_text, joint_file_from
from buttonhole.desk.weld_file import arc_weld_file_from, weld_file_from
from buttonhole.joint.coating import Coating
from buttonhole.joint.hints import Magnet
from buttonhole.procedure.joining.circumstances import (
    Access,
    Adhesive,
    Circumstances,
    Near,
    Original,
    RemainingFlange,
    Zone,
)
from buttonhole.procedure.joining.method import JoiningMethod
from buttonhole.units import BadInput

TWO = [{"steel": "DC04", "thickness": "1 mm", "coating": "GI"}] * 2
lengths = st.one_of(st.none(), st.integers(1, 299).map(lambda mm: mm * 1e-3))


def told(**around: object) -> Circumstances:
    return joint_file_from({"sheet": TWO, "circumstances": around}).joint.circumstances


@given(
    st.builds(
        Circumstances,
        access=st.sampled_from([None, *Access]),
        flange_width=lengths,
        reach_needed=lengths,
        arm_reach=lengths,
        adhesive=st.sampled_from([None, *Adhesive]),
        visible=st.booleans(),
        sectioning=st.booleans(),
        zone=st.sampled_from([None, *Zone]),
        original_joining=st.sampled_from([None, *Original]),
        original_count=st.one_of(st.none(), st.integers(1, 500)),
        remaining_flange=st.sampled_from([None, *RemainingFlange]),
        near=st.sets(st.sampled_from(list(Near))).map(
            lambda found: tuple(one for one in Near if one in found)
        ),
        earlier_repair=st.booleans(),
        model_year=st.one_of(st.none(), st.integers(1950, 2100)),
        means=st.lists(st.sampled_from(list(JoiningMethod)), unique=True).map(tuple),
    )
)
def test_what_is_written_is_read_again(around: Circumstances) -> None:
    written = tomllib.loads(around_text(around))
    again = told(**written.get("circumstances", {}))
    for name in ("flange_width", "reach_needed", "arm_reach"):
        value = getattr(around, name)
        assert getattr(again, name) == pytest.approx(value)
        again = replace(again, **{name: value})
    assert again == around


def test_sheets_are_steel_or_aluminium_as_printed() -> None:
    sheets = [
        {"alloy": "6016", "thickness": "1 mm"},
        {"steel": "unknown", "thickness": "1 mm", "hardness": "210 HV", "magnet": "sticks"},
        {"steel": "DX51D+Z100", "thickness": "0.8 mm"},
    ]
    first, second, third = joint_file_from({"sheet": sheets}).joint.sheets
    assert first.alloy == "EN AW-6016"
    assert (second.hardness, second.magnet) == (210.0, Magnet.STICKS)
    assert third.coating is Coating.GI


@pytest.mark.parametrize(
    ("around", "key"),
    [
        ({"acess": "one_side"}, "circumstances acess"),
        ({"access": "roof"}, "circumstances access"),
        ({"visible": "perhaps"}, "circumstances visible"),
        ({"flange_width": "16"}, "circumstances flange_width"),
        ({"model_year": 1800}, "circumstances model_year"),
        ({"near": "airbag"}, "circumstances near"),
        ({"means": ["glue"]}, "circumstances means 1"),
    ],
)
def test_what_is_wrong_is_named(around: dict[str, object], key: str) -> None:
    with pytest.raises(BadInput) as caught:
        told(**around)
    assert caught.value.key == key


def test_a_text_that_names_nothing_is_refused() -> None:
    text = {
        "method": "glue",
        "says": "permits",
        "rank": "procedure",
        "reference": "a",
        "revision": "b",
        "read_on": "2026-01-01",
        "read_by": "c",
        "text": "d",
    }
    with pytest.raises(BadInput, match="none of: spot"):
        joint_file_from({"sheet": TWO, "maker_text": [text]})
    code = {**text, "method": "plug", "rank": "code", "says": "requires"}
    with pytest.raises(BadInput, match="only the maker's text requires"):
        joint_file_from({"sheet": TWO, "maker_text": [code]})


@pytest.mark.parametrize("name", ["two_sheets", "plug", "seam"])
def test_weld_files_carry_it_and_old_ones_stay_valid(name: str) -> None:
    from pathlib import Path

    paths = [one for one in Path("examples").glob("*.toml") if one.stem.startswith(name)]
    assert paths
    for path in paths:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        around = {"circumstances": {"access": "one_side", "adhesive": "none"}}
        if "process" not in data:
            continue
        read = arc_weld_file_from if data["process"] != "spot" else weld_file_from
        read(data)
        read({**data, **around})
        if len(data["sheet"]) > 1:
            assert joint_file_from({**data, **around}).joint.circumstances.access is Access.ONE_SIDE
