"""A VIN: its length, its letters, its check digit in the regions that have one."""

import pytest

from buttonhole.units import BadInput
from buttonhole.vehicle.vin import check_digit, read_vin

ONES = "1" * 17  # weights add up to 89, remainder 1 by 11: the ninth sign fits


def test_seventeen_ones_fit():
    found = read_vin(ONES)
    assert found.check_applies
    assert found.check_fits
    assert found.remarks == ()


def test_ten_is_written_as_x():
    # 89, and the last but one sign weighs 3: three more of it are 98, remainder 10 by 11
    number = ONES[:15] + "41"
    assert check_digit(number) == "X"
    assert read_vin(number[:8] + "X" + number[9:]).check_fits


def test_every_wrong_figure_is_remarked_and_none_refused():
    for place in range(1, 17):
        for figure in "023456789":
            number = ONES[:place] + figure + ONES[place + 1 :]
            found = read_vin(number)
            assert not found.check_fits, number
            assert "Read the plate again" in found.remarks[0]


def test_outside_these_regions_the_ninth_sign_means_nothing():
    found = read_vin("0BHDEM01000000017")
    assert not found.check_applies
    assert found.remarks == ()


def test_blanks_and_small_letters_do_not_matter():
    assert read_vin(" 0bhdem01-0000 00017").text == "0BHDEM01000000017"


@pytest.mark.parametrize(
    ("number", "said"),
    [
        ("0BHDEM0100000001O", "sign 17 is O, look whether it is 0"),
        ("0BHDEMI1000000017", "sign 7 is I, look whether it is 1"),
        ("QBHDEM01000000017", "sign 1 is Q"),
        ("0BHDEM01000000Ä17", "sign 15 is Ä"),
        ("0BHDEM0100000017", "16 signs"),
        ("0BHDEM010000000171", "18 signs"),
        ("٣BHDEM01000000017", "sign 1 is"),
    ],
)
def test_what_no_plate_says_is_refused_with_the_place(number, said):
    with pytest.raises(BadInput) as told:
        read_vin(number)
    assert told.value.key == "vin"
    assert said in told.value.message


def test_letters_at_the_end_are_remarked():
    assert "last four" in read_vin("0BHDEM0100000A017").remarks[0]
