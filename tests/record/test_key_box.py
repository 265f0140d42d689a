"""A key under a PIN opens by that PIN alone."""

import os
from dataclasses import asdict, replace

import pytest

from buttonhole.record.key_box import WrongPin, box_of, check_pin, lock, unlock
from buttonhole.record.signing import SigningKey, new_key
from buttonhole.units import BadInput


@pytest.fixture(scope="module")
def locked():
    key = new_key(os.urandom)
    return key, lock(key, "torn-4471", os.urandom)


def test_it_opens_by_its_pin(locked):
    key, box = locked
    assert unlock(box, "torn-4471") == key
    assert box.public == key.public
    assert key.seed.hex() not in repr(box) + repr(key)


def test_another_pin_or_a_changed_box_does_not_open(locked):
    _, box = locked
    with pytest.raises(WrongPin):
        unlock(box, "torn-4472")
    with pytest.raises(WrongPin):
        unlock(replace(box, public="00" * 32), "torn-4471")


@pytest.mark.parametrize("pin", ["", "12345", "111111", "123456", "987654", "x" * 129])
def test_a_pin_that_is_easy_to_guess_is_refused(pin):
    with pytest.raises(BadInput, match="pin"):
        check_pin(pin)


def test_a_box_that_asks_for_too_much_is_refused(locked):
    values = asdict(locked[1])
    assert box_of(values) == locked[1]
    for change in ({"memory_kib": 1 << 30}, {"passes": 10**6}, {"salt": "zz"}, {"locked": "00"}):
        with pytest.raises(BadInput, match="new key"):
            box_of(values | change)
    with pytest.raises(BadInput, match="new key"):
        box_of({"public": "00"})


def test_a_key_has_32_bytes():
    with pytest.raises(BadInput, match="32"):
        SigningKey(b"short")
