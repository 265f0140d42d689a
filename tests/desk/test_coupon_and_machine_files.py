"""Coupon files and machine files: what they hold, and one line when they are wrong."""

import math
from pathlib import Path

import pytest

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.test import TestKind
from buttonhole.desk.coupon_file import read_coupon_file, reading_in_words
from buttonhole.desk.machine_file import read_machine_file
from buttonhole.desk.weld_file import BadFile
from buttonhole.weld.spot.set_up import CurrentType

COUPON = """\
[[reading]]
interface = 1
test = "torsion"
mode = "interfacial"
largest = "5.4 mm"
smallest = "5.0 mm"
twist_angle = "35 deg"
instrument_uncertainty = "0.05 mm"
[[reading]]
interface = 2
test = "macro"
largest = "6,1 mm"
smallest = "6,1 mm"
"""
MACHINE = Path("examples/machine.toml").read_text()


def test_a_coupon_file(tmp_path: Path) -> None:
    path = tmp_path / "coupon.toml"
    path.write_text(COUPON)
    first, second = read_coupon_file(path)
    assert (first.interface, second.interface) == (0, 1)
    assert first.test is TestKind.TORSION
    assert first.mode is FractureMode.INTERFACIAL
    assert first.twist_angle == pytest.approx(35.0)
    assert first.instrument_uncertainty == pytest.approx(0.05e-3)
    assert second.mode is None
    assert math.isclose(second.mean_diameter, 6.1e-3)


@pytest.mark.parametrize(
    ("old", "new", "key", "told"),
    [
        ("[[reading]]", "[reading]", None, "TOML"),
        ("interface = 1", "interface = 0", "reading 1 interface", "from 1"),
        ("interface = 1", 'interface = "one"', "reading 1 interface", "whole number"),
        ('"torsion"', '"twist"', "reading 1 test", "torsion"),
        ('"5.0 mm"', '"5.8 mm"', "reading 1 smallest", "largest first"),
        ('"5.0 mm"', '"5.0"', "reading 1 smallest", "unit"),
        ("twist_angle", "twist_angel", "reading 1 twist_angel", "twist_angle"),
        ("largest", "d_max", "reading 1 d_max", "largest"),
        (COUPON, "", "reading", "[[reading]]"),
    ],
)
def test_a_wrong_coupon_file(
    tmp_path: Path, old: str, new: str, key: str | None, told: str
) -> None:
    path = tmp_path / "coupon.toml"
    path.write_text(COUPON.replace(old, new, 1))
    with pytest.raises(BadFile) as caught:
        read_coupon_file(path)
    assert key is None or caught.value.key == key
    assert told in caught.value.message


def test_a_comma_inside_a_number_is_no_end_of_a_word() -> None:
    read = reading_in_words("1, peel, full_button, 5,4 mm, 4,8 mm, expulsion")
    assert read.d_max == pytest.approx(5.4e-3)
    assert read.d_min == pytest.approx(4.8e-3)
    assert read.expulsion


def test_the_example_machine() -> None:
    machine = read_machine_file("examples/machine.toml")
    assert machine.current_max == pytest.approx(13e3)
    assert machine.current_types == (CurrentType.MFDC,)
    assert [one.radius for one in machine.caps] == [None, pytest.approx(50e-3)]
    assert machine.force_limit("250") == pytest.approx(3.8e3)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"13 kA"', '"1 kA"', "smallest and the largest"),
        ('"13 kA"', "13", '"8.5 kA"'),
        ('["MFDC"]', '["DC"]', "AC50"),
        ('["MFDC"]', '"MFDC"', "list"),
        ("current_max", "current_maximum", "current_max"),
        ('face = "6 mm"', 'body = "16 mm"', "face"),
        (MACHINE[MACHINE.index("[[cap]]") :], "", "[[cap]]"),
    ],
)
def test_a_wrong_machine_file(tmp_path: Path, old: str, new: str, told: str) -> None:
    path = tmp_path / "machine.toml"
    assert old in MACHINE
    path.write_text(MACHINE.replace(old, new, 1))
    with pytest.raises(BadFile) as caught:
        read_machine_file(path)
    assert told in caught.value.message
    assert str(caught.value).startswith(f"{path}: ")
