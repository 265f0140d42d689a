"""A label's code: every single slip and every swap of neighbours is found."""

import pytest

from buttonhole.coupon.label import LENGTH, SIGNS, label_code, read_label
from buttonhole.units import BadInput

CODES = [label_code(number) for number in (0, 1, 22, 23, 7_654_321, 23**LENGTH - 1)]


@pytest.mark.parametrize("code", CODES)
def test_a_code_is_read_as_it_was_made(code):
    assert read_label(code) == code
    assert read_label(f" {code[:3].lower()}-{code[3:]} ") == code


def test_every_wrong_sign_is_found():
    for code in CODES:
        for place in range(LENGTH + 1):
            for sign in SIGNS:
                if sign != code[place]:
                    with pytest.raises(BadInput, match="one sign is wrong"):
                        read_label(code[:place] + sign + code[place + 1 :])


def test_every_swap_of_neighbours_is_found():
    for code in CODES:
        for place in range(LENGTH):
            swapped = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
            if swapped != code:
                with pytest.raises(BadInput, match="one sign is wrong"):
                    read_label(swapped)


def test_no_two_numbers_share_a_code():
    assert len({label_code(number) for number in range(20_000)}) == 20_000


@pytest.mark.parametrize("text", ["", "ACD", "ACDEFHJ", "😀😀😀😀😀😀", "S2S2S2"])
def test_what_is_no_code_is_refused(text):
    with pytest.raises(BadInput, match="a label has 6 signs"):
        read_label(text)


def test_a_look_alike_is_taken_for_what_is_printed():
    code = next(one for one in map(label_code, range(400)) if "L" in one)
    assert read_label(code.replace("L", "1")) == code


def test_below_nought_is_refused():
    with pytest.raises(BadInput):
        label_code(-1)
