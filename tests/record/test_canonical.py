"""Canonical JSON: the examples of RFC 8785, and what any value must keep."""

import csv
import hashlib
import json
import math
import struct
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.record.canonical import canonical, number_text, parse
from buttonhole.units import BadInput

# RFC 8785 appendix B: IEEE 754 bits and the text (from memory of the table; each row is checked
# below to read back as the very bits it names, so a wrong digit cannot slip through).
APPENDIX_B = [
    ("0000000000000000", "0"),
    ("8000000000000000", "0"),
    ("0000000000000001", "5e-324"),
    ("8000000000000001", "-5e-324"),
    ("7fefffffffffffff", "1.7976931348623157e+308"),
    ("ffefffffffffffff", "-1.7976931348623157e+308"),
    ("4340000000000000", "9007199254740992"),
    ("c340000000000000", "-9007199254740992"),
    ("4430000000000000", "295147905179352830000"),
    ("44b52d02c7e14af5", "9.999999999999997e+22"),
    ("44b52d02c7e14af6", "1e+23"),
    ("44b52d02c7e14af7", "1.0000000000000001e+23"),
    ("444b1ae4d6e2ef4e", "999999999999999700000"),
    ("444b1ae4d6e2ef4f", "999999999999999900000"),
    ("444b1ae4d6e2ef50", "1e+21"),
    ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
    ("3eb0c6f7a0b5ed8d", "0.000001"),
    ("41b3de4355555553", "333333333.3333332"),
    ("41b3de4355555554", "333333333.33333325"),
    ("41b3de4355555555", "333333333.3333333"),
    ("41b3de4355555556", "333333333.3333334"),
    ("41b3de4355555557", "333333333.33333343"),
    ("becbf647612f3696", "-0.0000033333333333333333"),
    ("43143ff3c1cb0959", "1424953923781206.2"),
]


@pytest.mark.parametrize(("bits", "text"), APPENDIX_B)
def test_numbers_are_written_as_in_appendix_b(bits, text):
    number = struct.unpack(">d", bytes.fromhex(bits))[0]
    assert float(text) == number
    assert number_text(number) == text


def test_the_example_of_section_3_2_2():
    given_text = (
        r'{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],'
        r'"string":"\u20ac$\u000F\u000aA\u0027\u0042\u0022\u005c\\\"\/",'
        r'"literals":[null,true,false]}'
    )
    expected = (
        r'{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"\u20ac$' + r"\u000f\nA" + "'" + r'B\"\\\\\"/"}'
    )
    assert canonical(parse(given_text)) == expected


def test_keys_sort_by_utf_16_units_as_in_section_3_2_3():
    keys = ["\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\u0080", "\u00f6"]
    found = list(json.loads(canonical(dict.fromkeys(keys, 0))))
    assert found == ["\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]


def test_the_chain_of_three_gives_the_printed_hashes():
    with (Path(__file__).parent / "hash_chain_example.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    before = "0" * 64
    for row in rows:
        value = parse(row["canonical_json"])
        assert value["prev"] == before
        assert canonical(value) == row["canonical_json"]
        before = hashlib.sha256(canonical(value).encode()).hexdigest()
        assert before == row["sha256_hex"]
    assert len(rows) == 3
    assert before == "b4c68d62ac6937d4b1cb61c599cb76b11ab1bc8e51b4d60d32e73ec3d6bb6e36"


@pytest.mark.parametrize(
    "value",
    [
        math.nan,
        math.inf,
        -math.inf,
        2**53 + 1,
        {1: "a"},
        {"a": b"bytes"},
        {"a": {1, 2}},
        "half \ud800 a pair",
        {"\udc00": 1},
    ],
)
def test_what_json_has_no_word_for_is_refused(value):
    with pytest.raises(BadInput):
        canonical(value)


def test_nesting_without_end_is_refused():
    deep: list = []
    deep.append(deep)
    with pytest.raises(BadInput, match="nested"):
        canonical(deep)
    with pytest.raises(BadInput, match="nested"):
        parse("[" * 100_000)


@pytest.mark.parametrize("text", ['{"a":1,"a":2}', '{"a":NaN}', "[Infinity]", "{", "", "[1,]"])
def test_text_that_is_no_plain_json_is_refused(text):
    with pytest.raises(BadInput):
        parse(text)


numbers = st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(2**53), 2**53)
texts = st.text(st.characters(exclude_categories=["Cs"]))
values = st.recursive(
    st.none() | st.booleans() | numbers | texts,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=20,
)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_reads_back_bit_for_bit(number):
    assert float(number_text(number)) == number


@given(values)
def test_writing_what_was_read_gives_the_same_text(value):
    text = canonical(value)
    assert canonical(parse(text)) == text


@given(values)
def test_any_json_reader_finds_the_same_value(value):
    # Every number is a double, also the one that is written without a point.
    assert json.loads(canonical(value), parse_int=float) == value


@given(st.dictionaries(texts, values, max_size=6))
def test_the_order_of_keys_does_not_matter(value):
    backwards = dict(reversed(list(value.items())))
    assert canonical(backwards) == canonical(value)


@given(st.floats(allow_nan=False, allow_infinity=False), st.floats(allow_nan=False))
def test_two_numbers_share_a_text_only_when_they_are_equal(one, other):
    if math.isfinite(other):
        assert (number_text(one) == number_text(other)) == (one == other)
