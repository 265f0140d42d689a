"""What a coupon sheet must say, and what it refuses."""

from dataclasses import replace

import cv2
import numpy as np
import pytest

from buttonhole.paper.coupon_sheet import (
    CouponSheet,
    Difference,
    Photo,
    SetAndRead,
    SheetReading,
    coupon_sheet,
)
from buttonhole.paper.typesetting import DoesNotFit
from buttonhole.units import BadInput
from tests.paper import examples, pdf


def photo(kind: str) -> bytes:
    pixels = np.random.default_rng(7).integers(0, 255, (60, 80, 3), dtype=np.uint8)
    return bytes(cv2.imencode(kind, pixels)[1])


def test_everything_a_coupon_proves_is_on_the_sheet():
    words = pdf.text(coupon_sheet(examples.coupon_sheet_of(3)))
    for needed in (
        "Coupon K7-03B",
        "Welding current 9.1 kA 8.7 kA",
        "outlet, lead W1, L10 W3, L25 ✗ OTHER",
        "stack order 0.7/1.2/1.6 0.7/1.2/1.6 same",
        "? unknown",
        "1-2 peel full button 5.00 4.60 4.80 3.35 ± 0.36 3.71 accept",
        "Criterion: 4√t",
        "ACCEPT",
        "Counting alone: 2 passed of 2 proves little.",
        "Next: Release the set-up.",
        "Tomas Veld",
        "examiner",
        "calibrated 2026-06-01",
    ):
        assert needed in words, needed


def test_the_margin_bar_is_that_of_the_smallest_margin():
    sheet = examples.coupon_sheet_of(3)
    assert "Smallest margin: interface 2-3" in pdf.text(coupon_sheet(sheet))
    worse = replace(sheet.readings[0], d_max=3.2e-3, d_min=3.0e-3, verdict="reject")
    page = coupon_sheet(replace(sheet, readings=(worse, sheet.readings[1])))
    assert "Smallest margin: interface 1-2" in pdf.text(page)
    bars = [words for kind, words in pdf.structure(page) if "Margin between" in words]
    assert len(bars) == 1
    assert "reject; diameter 3.10 mm ± 0.36; limit 3.35 mm" in bars[0]


def test_a_torn_interface_without_a_diameter_leaves_its_cells_open():
    sheet = examples.coupon_sheet_of(2)
    stuck = replace(sheet.readings[0], mode="stuck weld", d_max=None, d_min=None, verdict="reject")
    words = pdf.text(coupon_sheet(replace(sheet, readings=(stuck,))))
    assert "stuck weld" in words
    assert "Margin: nothing measured" in words


def test_an_empty_sheet_is_a_form_to_write_on():
    form = CouponSheet(
        coupon_id="K7-09",
        subject="",
        stack=examples.drawn_stack(4),
        settings=(SetAndRead("Welding current", ""),) * 8,
        readings=tuple(
            SheetReading(f"{i}-{i + 1}", "", "", None, None, 4e-3, 0.36e-3, 0.36e-3, "")
            for i in (1, 2, 3)
        ),
        qr="http://192.0.2.10/r/K7-09",
        issued=examples.ISSUED,
        differences=(Difference("", "", "", None),) * 6,
    )
    words = pdf.text(coupon_sheet(form))
    assert "unknown" not in words.split("Readings")[0]
    assert words.count("Photo here, with a scale in it") == 2


@pytest.mark.parametrize("kind", [".jpg", ".png"])
def test_photos_are_printed_with_their_words(kind: str):
    sheet = examples.coupon_sheet_of()
    page = coupon_sheet(
        replace(sheet, photos=(Photo("before: front", photo(kind)), Photo("after", photo(kind))))
    )
    words = [words for kind, words in pdf.structure(page) if kind == "/Figure"]
    assert "before: front" in words
    assert "Photo here" not in pdf.text(page)


@pytest.mark.parametrize(
    "file", [b"GIF89a......", b"<svg onload='x'/>", b"", b"\xff\xd8\xff not a photo at all"]
)
def test_a_file_that_is_no_photo_is_refused(file: bytes):
    sheet = examples.coupon_sheet_of()
    with pytest.raises(BadInput) as caught:
        coupon_sheet(replace(sheet, photos=(Photo("before", file), Photo("after"))))
    assert caught.value.key == "photos"


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"settings": (SetAndRead("a", "1"),) * 9}, "settings"),
        ({"differences": (Difference("a", "b", "c", None),) * 7}, "differences"),
        ({"readings": ()}, "readings"),
        ({"readings": (SheetReading("1-2", "", "", 3e-3, None, 4e-3, 0, 0, ""),)}, "readings"),
        ({"readings": (SheetReading("1-2", "", "", 3e-3, 5e-3, 4e-3, 0, 0, ""),)}, "readings"),
    ],
)
def test_a_sheet_that_cannot_be_right_is_refused(change: dict[str, object], key: str):
    with pytest.raises(BadInput) as caught:
        coupon_sheet(replace(examples.coupon_sheet_of(), **change))
    assert caught.value.key == key


@pytest.mark.parametrize("field", ["verdict", "coupon_id"])
def test_what_must_be_whole_is_refused_rather_than_cut(field: str):
    with pytest.raises(DoesNotFit) as caught:
        coupon_sheet(replace(examples.coupon_sheet_of(), **{field: "monster " * 90}))
    assert caught.value.key == field
