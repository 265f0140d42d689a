"""A designation is taken apart exactly, or refused with what it might have been."""

import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from buttonhole.joint.coating import Coating
from buttonhole.joint.designation import read_designation
from buttonhole.joint.steel import aliases, every_steel, find_steel, normal_form
from buttonhole.units import BadInput


@pytest.mark.parametrize(
    ("text", "steel", "coating", "per_side"),
    [
        ("HCT600X+Z100MB", "HCT600X", Coating.GI, 50.0),
        ("hct 600x + z100-m-b-o", "HCT600X", Coating.GI, 50.0),
        ("HC340LA+ZE25/25", "HC340LA", Coating.EG, 17.75),
        ("DX54D+ZF120RB", "DX54D", Coating.GA, 60.0),
        ("HX340LAD+ZM120", "HX340LAD", Coating.ZM, 60.0),
        ("22MnB5+AS150", "22MnB5", Coating.ALSI, 75.0),
        ("1.0952+Z140", "DX54D", Coating.GI, 70.0),
        ("DIN EN 10346 DX54D+Z140", "DX54D", Coating.GI, 70.0),
        ("VDA239-100 CR330Y590T-DP-GA40/40-U", "CR330Y590T-DP", Coating.GA, 40.0),
        ("CR4-GI50/50-E", "VDA 239-100 CR4", Coating.GI, 50.0),
        ("CR210BH EG29/29", "CR210BH", Coating.EG, 29.0),
        ("SGCC Z12", "SGCC", Coating.GI, 60.0),
        ("JAC270E-45/45", "JAC270E", Coating.GA, 45.0),
        ("SECC-E16/E16", "SECC", Coating.EG, 20.0),
        ("DX51D Z275", "DX51D", Coating.GI, 137.5),
        ("HX420LAD Z100 MB", "HX420LAD", Coating.GI, 50.0),
        ("HCT600XD+Z100MBO", "HCT600X", Coating.GI, 50.0),
    ],
)
def test_steel_and_coating_are_told_apart(
    text: str, steel: str, coating: Coating, per_side: float
) -> None:
    found = read_designation(text)
    assert found.steel is find_steel(steel)
    assert found.coating is not None
    assert found.coating.coating is coating
    assert [1e3 * side for side in found.coating.mass] == pytest.approx([per_side] * 2)


def test_the_surface_is_told() -> None:
    assert read_designation("HCT600X+Z100MB").surface == ("small spangle", "improved surface")
    assert read_designation("DC01 AM").surface == read_designation("DC01-A-m").surface
    assert read_designation("DC04-B-m-O").surface == ("surface B: for paint", "matt", "oiled")
    assert read_designation("SPCC-SD").surface == ("standard temper", "dull")
    assert read_designation("CR3-UC-U").uncoated
    bare = read_designation("DC04")
    assert (bare.coating, bare.surface, bare.uncoated) == (None, (), False)


@pytest.mark.parametrize(
    ("text", "designation", "coating", "surface"),
    [
        ("Steel EN 10130 - DC04 - B - m", "DC04", None, 2),
        ("EN 10130-DC04", "DC04", None, 0),
        ("EN 10130-1.0338", "DC04", None, 0),
        ("steel EN 10346-DX53D+Z100-M-B-O", "DX53D", Coating.GI, 3),
        ("DC04 EN 10130:2006", "DC04", None, 0),
        ("DC04+ZE25/25 (EN 10152)", "DC04", Coating.EG, 0),
        ("SPCC-SD JIS G 3141", "SPCC", None, 2),
        ("CR4 VDA 239-100", "VDA 239-100 CR4", None, 0),
        ("CR4-GI50/50-U, VDA 239-100", "VDA 239-100 CR4", Coating.GI, 1),
    ],
)
def test_the_standard_stands_where_labels_put_it(
    text: str, designation: str, coating: Coating | None, surface: int
) -> None:
    found = read_designation(text)
    assert found.text == text
    assert found.steel.designation == designation
    assert (found.coating.coating if found.coating else None) is coating
    assert len(found.surface) == surface


def test_a_grade_that_is_coated_by_its_name_says_so() -> None:
    found = read_designation("SECC").coating
    assert found is not None
    assert found.coating is Coating.EG


@pytest.mark.parametrize("name", ["CR1", "CR2", "CR3", "CR4", "CR5"])
def test_a_name_of_two_standards_is_refused_with_both(name: str) -> None:
    with pytest.raises(BadInput, match=r"stands for: VDA 239-100 CR\d; .*none is picked"):
        find_steel(name)
    assert find_steel(f"VDA 239-100 {name}").designation == f"VDA 239-100 {name}"


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("HC340LAD", "HX340LAD"),
        ("IF", "HC180Y"),
        ("boron steel", "34MnB5"),
        ("HSLA 340", "CR340LA"),
        ("BS 1449 CR4", "nothing is guessed"),
        ("EN 10346 DC04", "nothing is guessed"),
        ("EN 10346-DC04", "nothing is guessed"),
        ("DC04 EN 10346", "nothing is guessed"),
        ("DC04 DC05 EN 10130", "nothing is guessed"),
        ("HCT600X+QX", "no coating name"),
        ("HCT600X+Z100XX", "no coating name"),
        ("HCT600X-Z100MB", "nothing is guessed"),
        ("DC04+C390", "delivery condition"),
        ("SPCC-1B", "full hard"),
        ("DC04-C", "nothing is guessed"),
        ("CR4-GI50", "nothing is guessed"),
        ("SAE J2329 CR4-GI50/50", "nothing is guessed"),
        ("JAC270E-45", "nothing is guessed"),
        ("JSC590Y Z100", "nothing is guessed"),
        ("DX51D Z2750", "nothing is guessed"),
        ("SECC Z12", "nothing is guessed"),
        ("x" * 1_000_000, "nothing is guessed"),
    ],
)
def test_what_is_not_understood_is_refused_in_one_short_line(text: str, hint: str) -> None:
    with pytest.raises(BadInput) as caught:
        read_designation(text)
    assert hint in str(caught.value)
    assert len(str(caught.value)) < 400


def test_a_coating_in_the_name_of_the_steel_is_not_lost() -> None:
    with pytest.raises(BadInput, match=r"names a coating too\. Give HCT600X as the steel"):
        find_steel("HCT600X+Z100MB")


STANDARD = re.compile(
    r"^(steel)?(din|bs|nf|uni)?(en\d{5}\d?|vda239(\d00)?|jisg\d{4}|jfsa\d{4}|saej\d{3,4})(:\d{4}(\+a\d)?)?[:,]*"
)


def is_a_name_of(designation: str, text: str) -> bool:
    """The text is one of the steel's names once case, blanks, hyphens and a standard are gone."""
    names = {normal_form(n) for n in (designation, *aliases(find_steel(designation)))}
    key = normal_form(text)
    return key in names or STANDARD.sub("", key) in names


@given(st.text(max_size=30))
@example("DC04\n")
@example("D\u200bC04")
@example("１.０３３０")
def test_no_text_finds_a_steel_that_it_is_no_name_of(text: str) -> None:
    try:
        found = find_steel(text)
    except BadInput:
        return
    assert found.is_unknown or is_a_name_of(found.designation, text)


LETTERS = "CDHXTLAYBPRSMNEGJKFO0123456789.+-/ "


@given(st.text(alphabet=LETTERS, max_size=14))
def test_no_text_of_their_own_letters_does_either(text: str) -> None:
    try:
        found = find_steel(text)
    except BadInput:
        return
    assert is_a_name_of(found.designation, text)


NAMES = sorted(
    name for steel in every_steel().values() for name in (steel.designation, *aliases(steel))
)


@given(st.sampled_from(NAMES), st.data())
def test_one_letter_more_less_or_other_is_another_name_or_refused(
    name: str, data: st.DataObject
) -> None:
    at = data.draw(st.integers(0, len(name) - 1))
    letter = data.draw(st.sampled_from(LETTERS))
    how = data.draw(st.sampled_from(["drop", "put", "swap"]))
    end = at if how == "put" else at + 1
    changed = name[:at] + ("" if how == "drop" else letter) + name[end:]
    try:
        found = find_steel(changed)
    except BadInput:
        return
    assert is_a_name_of(found.designation, changed)


@given(st.sampled_from(NAMES), st.data())
def test_case_blanks_and_hyphens_do_not_count(name: str, data: st.DataObject) -> None:
    written = "".join(
        letter.swapcase() if data.draw(st.booleans()) else letter for letter in name
    ).replace(" ", data.draw(st.sampled_from([" ", "-", "_", ""])))
    assert find_steel(written) is find_steel(name)


COATINGS = [
    "+Z100MB",
    "+ZF100",
    "+ZE25/25",
    "-GI50/50-U",
    " EG29/29",
    "-45/45",
    " Z12",
    "-B-m",
    "-SD",
]


@given(st.sampled_from(NAMES), st.sampled_from(COATINGS), st.text(alphabet=LETTERS, max_size=3))
def test_what_stands_before_a_coating_is_the_steel(name: str, coating: str, more: str) -> None:
    try:
        found = read_designation(f"{name}{coating}{more}")
    except BadInput:
        return
    key, own = normal_form(name), find_steel(name)
    # nothing of the name is lost: it is that steel, or a longer name that goes on with the rest
    assert found.steel is own or any(
        normal_form(other).startswith(key)
        for other in (found.steel.designation, *aliases(found.steel))
    )


@given(st.text(alphabet=LETTERS + "MZU", max_size=22))
def test_no_text_is_taken_apart_into_a_steel_it_does_not_begin_with(text: str) -> None:
    try:
        found = read_designation(text).steel
    except BadInput:
        return
    key = STANDARD.sub("", normal_form(text))
    names = {normal_form(n) for n in (found.designation, *aliases(found))}
    names |= {STANDARD.sub("", name) for name in names}
    assert any(key.startswith(name) for name in names)
