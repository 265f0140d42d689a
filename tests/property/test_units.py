"""Whatever is typed: a finite SI value or one clear refusal, and what is shown reads back."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.units import KINDS, BadInput, parse, show

kinds = st.sampled_from(sorted(KINDS))


def outcome(text: str, kind: str) -> float | BadInput:
    try:
        return parse(text, kind, "key")
    except BadInput as refusal:
        return refusal


def is_clear(found: float | BadInput) -> bool:
    """A finite value, or one line that names the key."""
    if isinstance(found, BadInput):
        return found.key == "key" and bool(found.message) and "\n" not in found.message
    return math.isfinite(found)


@given(st.text(max_size=80), kinds)
def test_any_text_gives_a_finite_value_or_a_refusal(text: str, kind: str) -> None:
    assert is_clear(outcome(text, kind))


units_and_noise = st.text(alphabet='0123456789.,eE+-/*^ mkKNAsinchzHDdagfbl@°µΩ"²', max_size=30)


@given(units_and_noise, kinds)
def test_near_misses_of_a_quantity_do_no_harm(text: str, kind: str) -> None:
    assert is_clear(outcome(text, kind))


@given(
    st.floats(min_value=1e-6, max_value=1e6, allow_nan=False),
    kinds,
    st.sampled_from(["metric", "us"]),
)
def test_what_is_shown_reads_back(value: float, kind: str, system: str) -> None:
    again = parse(show(value, kind, system, digits=6), kind)
    if kind == "temperature":  # shown in whole degrees
        assert again == pytest.approx(value, abs=0.51)
    else:
        # twelve places at most are written, so a value far below its unit loses digits
        unit = next(iter(KINDS[kind].metric if system == "metric" else KINDS[kind].us))
        smallest = float(KINDS[kind].units[unit]) * 1e-12
        assert again == pytest.approx(value, rel=6e-6, abs=smallest)


@given(st.decimals(min_value="0.01", max_value="99.99", places=2))
def test_a_shop_length_keeps_every_digit(millimetres: object) -> None:
    assert parse(f"{millimetres} mm", "length") == float(f"{millimetres}e-3")
