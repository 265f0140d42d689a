"""Figures in the reader's units: exact, never without a unit, never a designation."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.language import Display, Units, shown_figures
from buttonhole.language.display import INCH, UNIT_CHOICES, language_of, units_of
from buttonhole.language.figures import field_unit
from buttonhole.units import parse

GERMAN = Display("de")
INCHES = Display("en", INCH)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("3 to 5 mm", "0.118 to 0.197 in"),
        ("0.8 + 0.8 mm", "0.031 + 0.031 in"),
        ("2.20 kN", "495 lbf"),
        ("160 ms", "9.6 cyc (60 Hz)"),
        ("12 l/min", "25.4 cfh"),
        ("800 to 500 °C", "1472 to 932 °F"),
        ("20 ± 5 °C", "68 ± 9 °F"),
        ("6.0 bar", "87 psi"),
        ("−0.30 mm", "−0.0118 in"),
        ("4.94 mm (3.10 to 6.69)", "0.1945 in (0.1220 to 0.2634)"),
        ("6 mm/s", "14.2 in/min"),
        ("12 N m", "8.85 lbf ft"),
        ("8.5 kA", "8.5 kA"),
    ],
)
def test_a_figure_is_written_in_the_chosen_unit(text: str, said: str) -> None:
    assert shown_figures(text, INCHES) == said


@pytest.mark.parametrize(
    "text",
    [
        "M6", "ISO 14175", "G 3Si1", "HCT600X+Z100MB", "CR4-GI50/50-U", "1.0338", "S Al 5356",
        "25.11.2026 17:12", "0.1.0", "“0.8 mm”", "0.5 °C/s", "500 N/mm²", "J2 wheel arch",
        "4.5-root-t",
    ],
)  # fmt: skip
def test_what_is_no_figure_with_a_unit_of_ours_stays(text: str) -> None:
    assert shown_figures(text, INCHES) == text


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("3.35", "3,35"),
        ("0.8 to 1.5 mm", "0,8 bis 1,5 mm"),
        ("10.3 kA", "10,3 kA"),
        ("1.0338", "1.0338"),
        ("Gun A · program 4.2 · arms 120", "Gun A · program 4.2 · arms 120"),
        ("section 7.2, page 14", "section 7.2, page 14"),
        ("25.11.2026 17:12", "25.11.2026 17:12"),
        ("4.94 mm (0.50 to 6.69), 4.5√t", "4,94 mm (0,50 bis 6,69), 4,5√t"),
        ("“0.8 mm”", "“0.8 mm”"),
    ],
)
def test_german_has_a_decimal_comma(text: str, said: str) -> None:
    assert shown_figures(text, GERMAN) == said


_KINDS = {"mm": "length", "kN": "force", "bar": "pressure", "l/min": "flow", "°C": "temperature"}


@given(
    st.decimals(min_value=0, max_value=9999, places=2, allow_nan=False),
    st.sampled_from(sorted(_KINDS)),
)
def test_a_converted_figure_lies_within_half_the_last_digit_of_the_first(
    number: object, unit: str
) -> None:
    text = f"{number} {unit}"
    said = shown_figures(text, INCHES).replace("−", "-")
    kind = _KINDS[unit]
    half = abs(parse(f"0.005 {unit}", kind) - parse(f"0 {unit}", kind))
    assert abs(parse(said, kind) - parse(text, kind)) <= half * 1.001 + 1e-12


@given(st.text(max_size=200))
def test_texts_of_any_kind_never_break_it(text: str) -> None:
    for display in (GERMAN, INCHES, Display("de", INCH)):
        shown_figures(text, display)


@given(st.text(alphabet="0123456789.,;()ABCXZ+- ", max_size=60))
def test_without_a_unit_no_figure_changes_its_digits(text: str) -> None:
    said = shown_figures(text, Display("de", INCH))
    assert re.sub(r"[.,]", "", said) == re.sub(r"[.,]", "", text)
    assert shown_figures(text, INCHES) == text


@given(
    st.sampled_from(["0.7", "1.2", "4.5", "0.8", "2.20", "160", "350", "12"]),
    st.sampled_from([("mm", "length"), ("kN", "force"), ("ms", "time"), ("l/min", "flow")]),
)
def test_what_is_typed_in_the_shown_unit_is_that_quantity_exactly(
    typed: str, unit: tuple[str, str]
) -> None:
    beside = field_unit(unit[0], INCHES)
    assert parse(f"{typed} {beside.unit}", unit[1]) == pytest.approx(
        float(typed) * parse(f"1 {beside.unit}", unit[1]), rel=1e-15
    )


def test_a_thickness_typed_in_inches_is_stored_as_that_many_metres() -> None:
    assert parse(f"0.03 {field_unit('mm', INCHES).unit}", "length") == 0.000762
    assert parse(f"10 {field_unit('ms', INCHES).unit}", "time") == 10 / 60


@given(st.lists(st.integers(0, 9), max_size=12))
def test_a_cookie_of_any_kind_gives_units(digits: list[int]) -> None:
    code = "".join(map(str, digits))
    units = units_of(code)
    assert all(getattr(units, kind) in names for kind, names in UNIT_CHOICES.items())
    assert units_of(units.code()) == units


def test_every_unit_to_choose_can_be_kept() -> None:
    for kind, names in UNIT_CHOICES.items():
        for name in names:
            assert getattr(units_of(Units(**{kind: name}).code()), kind) == name


@pytest.mark.parametrize(
    ("chosen", "asked", "language"),
    [
        ("", "", "en"),
        ("", "de-CH,de;q=0.9,en;q=0.8", "de"),
        ("", "fr,en;q=0.5,de;q=0.4", "en"),
        ("en", "de", "en"),
        ("xx", "de", "de"),
        ("", ";;;q=,de;q=zero,en;q=0.1", "en"),
    ],
)
def test_the_language_is_the_chosen_one_or_what_the_browser_asks_for(
    chosen: str, asked: str, language: str
) -> None:
    assert language_of(chosen, asked) == language
