"""Liquid zinc: flagged where zinc, steel, heat and stress meet, and only there."""

import dataclasses

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.steel import UNKNOWN_STEEL, find_steel
from buttonhole.weld.hardness.liquid_zinc import Meeting, Risk, susceptible, window, zinc_flags

MET = Meeting(
    sheet=2,
    steel=find_steel("HCT980X"),
    coatings=frozenset({Coating.GI}),
    place="face under cap B",
    peak=850.0,
    always="the cap presses its edge into the hot sheet",
    advice="Square the gun",
)


def test_all_four_together_are_flagged_with_reasons_and_sources() -> None:
    (flag,) = zinc_flags([MET])
    assert flag.risk is Risk.POSSIBLE
    assert "HCT980X" in flag.text
    assert "lens" in flag.text
    assert len(flag.reasons) == 4
    assert flag.sources


@pytest.mark.parametrize(
    "changes",
    [
        {"coatings": frozenset({Coating.BARE})},
        {"coatings": frozenset({Coating.ALSI})},
        {"steel": find_steel("DC04")},
        {"steel": find_steel("HCT600X")},
        {"peak": 500.0},
    ],
)
def test_one_missing_and_there_is_no_flag(changes: dict[str, object]) -> None:
    assert zinc_flags([dataclasses.replace(MET, **changes)]) == ()  # type: ignore[arg-type]  # fields of a meeting


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"besides": ("the gun is tilted by 5°",)}, "tilted"),
        ({"coatings": frozenset({Coating.ZM})}, "zinc-magnesium"),
        ({"steel": find_steel("HCT690T")}, "retained austenite"),
    ],
)
def test_more_stress_or_worse_zinc_or_steel_makes_it_likely(
    changes: dict[str, object], words: str
) -> None:
    (flag,) = zinc_flags([dataclasses.replace(MET, **changes)])  # type: ignore[arg-type]  # fields of a meeting
    assert flag.risk is Risk.LIKELY
    assert words in " ".join(flag.reasons)


def test_unknown_counts_as_the_worst() -> None:
    assert susceptible(UNKNOWN_STEEL)
    (flag,) = zinc_flags([dataclasses.replace(MET, coatings=frozenset({Coating.UNKNOWN}))])
    assert "not known" in flag.reasons[0]


def test_the_likely_ones_come_first() -> None:
    likely = dataclasses.replace(MET, sheet=1, besides=("a gap",))
    assert [one.sheet for one in zinc_flags([MET, likely])] == [1, 2]


def test_the_window_lies_between_zinc_melting_and_steel_melting() -> None:
    low, high = window()
    assert 420.0 < low < 700.0 < high < 1100.0
