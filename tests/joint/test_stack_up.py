"""Stack-ups: what is none, which thickness governs, and what to mind."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import (
    StackUp,
    ThicknessRule,
    cautions,
    governing_steel,
    governing_thickness,
)
from buttonhole.joint.steel import UNKNOWN_STEEL, find_steel
from buttonhole.sources import bibliography
from buttonhole.units import BadInput

MILD = find_steel("DC04")


def stack(*millimetres: float, gap: float = 0.0) -> StackUp:
    return StackUp(tuple(Sheet(MILD, t * 1e-3) for t in millimetres), gap)


def codes(found: StackUp) -> set[str]:
    return {caution.code for caution in cautions(found)}


@pytest.mark.parametrize("thickness", [0.0, -0.8, math.nan, math.inf, 0.19, 6.1])
def test_no_such_sheet(thickness: float) -> None:
    with pytest.raises(BadInput, match=r"^thickness: is .* mm; give the measured sheet thickness"):
        Sheet(MILD, thickness * 1e-3)


@pytest.mark.parametrize(("count", "words"), [(0, "0 sheets"), (1, "1 sheet "), (5, "5 sheets")])
def test_two_to_four_sheets(count: int, words: str) -> None:
    with pytest.raises(BadInput, match=f"^sheet: {words}.*2 to 4 sheets"):
        stack(*[0.8] * count)


@pytest.mark.parametrize("gap", [-1e-6, math.nan, math.inf, 6e-3])
def test_no_such_gap(gap: float) -> None:
    with pytest.raises(BadInput, match=r"^gap: "):
        stack(0.8, 0.8, gap=gap)


def test_interfaces_count_from_side_a() -> None:
    first, second = stack(0.7, 1.2, 1.6).interfaces
    assert (first.index, second.index) == (0, 1)
    assert first.thinner_thickness == pytest.approx(0.7e-3)
    assert second.thinner_thickness == pytest.approx(1.2e-3)
    assert not first.coated


@pytest.mark.parametrize("coating", [c for c in Coating if c is not Coating.BARE])
def test_one_coated_face_makes_a_coated_interface(coating: Coating) -> None:
    pair = StackUp((Sheet(MILD, 1e-3), Sheet(MILD, 1e-3, coating)))
    assert pair.interfaces[0].coated


# AWS D8.1M: thinner of two, second thickest of three. BS 1140: thinner of two, second thinnest of
# three (both read). For three sheets they agree, for four they do not.
@pytest.mark.parametrize(
    ("millimetres", "aws", "bs", "outside"),
    [
        ((0.8, 1.5), 0.8, 0.8, 0.8),
        ((0.7, 1.2, 1.6), 1.2, 1.2, 0.7),
        ((1.2, 0.7, 1.5), 1.2, 1.2, 1.2),
        ((0.7, 1.0, 1.2, 1.6), 1.2, 1.0, 0.7),
    ],
)
def test_governing_thickness(
    millimetres: tuple[float, ...], aws: float, bs: float, outside: float
) -> None:
    found = stack(*millimetres)
    assert governing_thickness(found, ThicknessRule.AWS_GMT) == pytest.approx(aws * 1e-3)
    assert governing_thickness(found, "BS 1140 second thinnest") == pytest.approx(bs * 1e-3)
    assert governing_thickness(found, ThicknessRule.THINNEST_OUTSIDE) == pytest.approx(
        outside * 1e-3
    )


def test_the_interface_rule_needs_an_interface() -> None:
    found = stack(0.7, 1.2, 1.6)
    rule = ThicknessRule.THINNER_OF_INTERFACE
    assert governing_thickness(found, rule, 1) == pytest.approx(1.2e-3)
    for wrong in (None, -1, 2):
        with pytest.raises(BadInput, match=r"^interface: "):
            governing_thickness(found, rule, wrong)
    with pytest.raises(BadInput, match=r"^rule: .*AWS D8.1M GMT"):
        governing_thickness(found, "thickest")


def test_ratio_over_three_to_one_names_the_standard() -> None:
    assert "thickness-ratio" not in codes(stack(0.7, 2.1))  # 3:1 itself, in floats a little over
    found = {c.code: c for c in cautions(stack(0.7, 2.2))}["thickness-ratio"]
    assert "ISO 14373" in found.text
    assert "3:1" in found.rule
    assert found.source == "iso-14373"


def test_what_sizes_bring_up() -> None:
    assert codes(stack(0.8, 0.8)) == set()
    assert "pile-up" in codes(stack(0.7, 1.2, 1.6))
    assert codes(stack(0.8, 1.0, 1.0, gap=2e-4)) == {"gap"}
    assert "thin-outer-sheet" in codes(stack(0.7, 1.5, 1.5))
    assert "total-thickness" in codes(stack(3.0, 3.0, 3.5))
    assert "total-thickness" in codes(stack(2.0, 2.5, 2.0))
    assert "out-of-scope" in codes(stack(0.3, 0.5))
    assert "four-sheets" in codes(stack(0.8, 0.8, 0.8, 0.8))


def sheets(*pairs: tuple[str, Coating]) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(name), 1e-3, coating) for name, coating in pairs))


def test_what_materials_bring_up() -> None:
    bare, zinc = Coating.BARE, Coating.GI
    assert codes(sheets(("DC04", zinc), ("DC04", bare))) == {"zinc-fume"}
    assert codes(sheets(("DC04", zinc), ("HCT780X", bare))) == {
        "zinc-fume",
        "zinc-on-high-strength",
        "interfacial-fracture",
    }
    assert {"hot-stamped", "aluminium-silicon"} <= codes(
        sheets(("22MnB5", Coating.ALSI), ("DC04", bare))
    )
    assert "martensitic" in codes(sheets(("MS1500", bare), ("DC04", bare)))
    assert "dissimilar" in codes(sheets(("304", bare), ("DC04", bare)))
    assert "primer" in codes(sheets(("DC04", Coating.PRIMER), ("DC04", bare)))


def test_unknown_is_taken_for_the_worst() -> None:
    found = sheets(("unknown", Coating.UNKNOWN), ("22MnB5", Coating.BARE))
    assert found.has_unknown
    assert governing_steel(found) is UNKNOWN_STEEL
    assert {"unknown-steel", "unknown-coating", "zinc-on-high-strength"} <= codes(found)
    hidden = sheets(("unknown", Coating.GI), ("DC04", Coating.BARE))
    known = sheets(("DC04", Coating.GI), ("DC04", Coating.BARE))
    assert codes(known) < codes(hidden)


def test_the_most_sensitive_steel_governs() -> None:
    assert governing_steel(sheets(("DC04", Coating.BARE), ("DP600", Coating.BARE))).family == "DP"


steel = st.sampled_from(["DC04", "HC340LA", "DP600", "22MnB5", "304", "unknown"])
sheet = st.builds(
    lambda name, thickness, coating: Sheet(find_steel(name), thickness, coating),
    steel,
    st.floats(0.2e-3, 6e-3),
    st.sampled_from(Coating),
)


@given(st.lists(sheet, min_size=2, max_size=4), st.floats(0.0, 5e-3))
def test_every_caution_says_its_rule_and_source(drawn: list[Sheet], gap: float) -> None:
    found = StackUp(tuple(drawn), gap)
    for caution in cautions(found):
        assert caution.text.endswith(".")
        assert caution.rule
        assert caution.source in bibliography()
    assert len(codes(found)) == len(cautions(found))


@given(st.lists(sheet, min_size=2, max_size=4))
def test_turning_the_stack_over_changes_no_limit(drawn: list[Sheet]) -> None:
    found, turned = StackUp(tuple(drawn)), StackUp(tuple(reversed(drawn)))
    for rule in (ThicknessRule.AWS_GMT, ThicknessRule.BS_1140, ThicknessRule.THINNEST_OUTSIDE):
        assert governing_thickness(found, rule) == governing_thickness(turned, rule)
    assert codes(found) == codes(turned)
