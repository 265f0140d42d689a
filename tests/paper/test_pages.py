"""What holds for both papers: standards, sameness, safe text, one page, DEMO."""

import hashlib
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any

import cv2
import numpy as np
import pypdf
import pytest

from buttonhole.paper.card import BayCard, bay_card, bay_card_preview
from buttonhole.paper.cautions import CAUTIONS
from buttonhole.paper.coupon_sheet import CouponSheet, coupon_sheet, coupon_sheet_preview
from tests.paper import examples, pdf

Paper = BayCard | CouponSheet


def printed(paper: Paper) -> bytes:
    return bay_card(paper) if isinstance(paper, BayCard) else coupon_sheet(paper)


def shown(paper: Paper, dots_per_inch: float = 200.0) -> np.ndarray:
    draw: Callable[..., bytes] = (
        bay_card_preview if isinstance(paper, BayCard) else coupon_sheet_preview
    )
    return pdf.pixels(draw(paper, dots_per_inch))


PAPERS: dict[str, Paper] = {
    **{f"card of {count}": examples.bay_card_of(count, 3 * (count - 1)) for count in (2, 3, 4)},
    **{f"sheet of {count}": examples.coupon_sheet_of(count) for count in (2, 3, 4)},
}
SIZES = {BayCard: (105.0, 148.0), CouponSheet: (148.0, 210.0)}
papers = pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)


@papers
def test_one_page_of_its_size(paper: Paper):
    read = pdf.reader(printed(paper))
    assert len(read.pages) == 1
    box = read.pages[0].mediabox
    millimetres = (float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4)
    assert millimetres == pytest.approx(SIZES[type(paper)], abs=0.05)


@papers
def test_it_declares_the_standards_for_archives_and_for_readers(paper: Paper):
    page = printed(paper)
    xmp = pdf.metadata(page)
    assert re.search(r"<pdfaid:part>2</pdfaid:part>", xmp)
    assert re.search(r"<pdfaid:conformance>B</pdfaid:conformance>", xmp)
    assert re.search(r"<pdfuaid:part>1</pdfuaid:part>", xmp)
    root = pdf.reader(page).trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"].value is True
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/OutputIntents"]
    assert pdf.reader(page).metadata.title.endswith(("SPOT WELD", "K7-03B"))


@papers
def test_every_font_is_in_the_file(paper: Paper):
    resources = pdf.reader(printed(paper)).pages[0]["/Resources"]
    fonts = [font.get_object() for font in resources["/Font"].values()]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object()["/FontDescriptor"]
        assert {"/FontFile2", "/FontFile3"} & set(inner)
        assert "/ToUnicode" in font


@papers
def test_every_figure_has_words_and_a_heading_leads(paper: Paper):
    structure = pdf.structure(printed(paper))
    figures = [words for kind, words in structure if kind == "/Figure"]
    assert len(figures) >= 2
    assert all(words.strip() for words in figures)
    assert any("DC04" in words and "HCT600X" in words for words in figures)
    assert "/H1" in [kind for kind, _ in structure]


def test_the_tables_of_the_sheet_are_tables():
    structure = [kind for kind, _ in pdf.structure(coupon_sheet(examples.coupon_sheet_of()))]
    assert structure.count("/Table") == 3
    assert "/TH" in structure


@papers
def test_the_same_input_gives_the_same_bytes(paper: Paper):
    assert printed(paper) == printed(replace(paper))


def test_another_process_gives_the_same_bytes():
    program = (
        "import hashlib;from tests.paper import examples;"
        "from buttonhole.paper.card import bay_card;"
        "from buttonhole.paper.coupon_sheet import coupon_sheet;"
        "print(hashlib.sha256(bay_card(examples.bay_card_of())).hexdigest(),"
        "hashlib.sha256(coupon_sheet(examples.coupon_sheet_of())).hexdigest())"
    )
    here = [bay_card(examples.bay_card_of()), coupon_sheet(examples.coupon_sheet_of())]
    expected = [hashlib.sha256(page).hexdigest() for page in here]
    for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo")):
        done = subprocess.run(  # our own interpreter, our own text
            [sys.executable, "-c", program],
            env=os.environ | {"PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": os.getcwd()},
            capture_output=True,
            text=True,
            check=True,
            timeout=120,
        )
        assert done.stdout.split() == expected


def test_the_date_is_that_of_the_input():
    found = pdf.reader(bay_card(examples.bay_card_of())).metadata
    assert found.creation_date.isoformat() == "2026-11-25T08:05:00+00:00"


@papers
def test_the_cautions_stand_on_it(paper: Paper):
    words = pdf.text(printed(paper))
    for caution in CAUTIONS:
        assert caution in words


@papers
def test_demo_is_marked_and_only_demo(paper: Paper):
    assert "DEMO" not in pdf.text(printed(paper))
    marked = replace(paper, demo=True)
    assert pdf.text(printed(marked)).count("DEMO") == 2  # across the page, and boxed at the top
    plain, grey = shown(paper), shown(marked)
    assert np.count_nonzero(np.abs(plain.astype(int) - grey) > 20) > 0.03 * plain.size


def with_texts(value: Any, text: str, keep: frozenset[str]) -> Any:
    """Put one text into every free text of a paper."""
    if isinstance(value, str):
        return text
    if isinstance(value, tuple):
        return tuple(with_texts(one, text, keep) for one in value)
    if is_dataclass(value):
        return replace(
            value,
            **{
                field.name: with_texts(getattr(value, field.name), text, keep)
                for field in fields(value)
                if field.name not in keep
            },
        )
    return value


WHOLE = frozenset(  # may not be cut, so a monster is refused there: tested on its own
    {
        "method",
        "settings",
        "outlet",
        "lead",
        "verdict",
        "coupon_id",
        "card_id",
        "stack",
        "ends_when",
    }
)
NOT_TEXT = frozenset({"qr", "language", "style", "advice", "issued", "image", "readings"})


@papers
@pytest.mark.parametrize(
    "text",
    [
        examples.HOSTILE,
        "x" * 500,
        '#panic() #import "@x/y:1.0.0"',
        "$sqrt(2)$ *bold* _it_ `raw` <label> @ref // no /* no */ \\ ~ --",
        "مرحبا بالعالم " * 20,
        "\U0001f600" * 50,
        "日本語" * 40,
        "a\u0301" * 300,
        "",
        " ",
    ],
    ids=[
        "all at once",
        "long",
        "code",
        "markup",
        "right to left",
        "emoji",
        "no glyph",
        "marks",
        "empty",
        "blank",
    ],
)
def test_any_text_of_a_person_is_printed_or_cut_and_stays_on_its_page(paper: Paper, text: str):
    needed = frozenset({"procedure", "released_by"}) if not text.strip() else frozenset()
    odd = with_texts(paper, text, WHOLE | NOT_TEXT | needed)
    page = printed(odd)
    assert len(pdf.reader(page).pages) == 1
    assert "pdfuaid" in pdf.metadata(page)
    pixels = shown(odd, 100.0)
    rim = int(3.5 / 25.4 * 100)  # the page keeps 3.8 mm free
    edge = np.concatenate(
        [
            pixels[:rim].ravel(),
            pixels[-rim:].ravel(),
            pixels[:, :rim].ravel(),
            pixels[:, -rim:].ravel(),
        ]
    )
    assert edge.min() > 250


def test_code_in_a_text_is_printed_as_it_was_typed():
    card = replace(examples.bay_card_of(), subject='#panic("x") $a$ *b* <i>')
    assert '#panic("x") $a$ *b* <i>' in pdf.text(bay_card(card))


def test_a_cut_text_says_where_the_rest_is():
    whole = pdf.text(bay_card(examples.bay_card_of()))
    cut = pdf.text(bay_card(replace(examples.bay_card_of(), procedure="very long " * 80)))
    note = "Texts that end in … stand whole in the record under this number."
    assert note not in whole
    assert note in cut


def test_direction_characters_and_controls_do_not_reach_the_page():
    card = replace(examples.bay_card_of(), subject="J1\u202e1J\x07\u200f")
    assert "J11J" in pdf.text(bay_card(card))


@papers
def test_the_code_on_the_page_is_read_back(paper: Paper):
    for seen in (shown(paper, 300.0), cv2.GaussianBlur(shown(paper, 400.0), (0, 0), 1.5)):
        found, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(seen)
        assert found == examples.CODE


@papers
def test_lettering_is_dark_enough_for_a_black_and_white_printer(paper: Paper):
    inks: list[tuple[float, ...]] = []
    now: list[tuple[float, ...]] = [(0.0,)]

    def watch(operator: bytes, operands: list[Any], _cm: object, _tm: object) -> None:
        if operator in (b"scn", b"g", b"rg"):
            now[0] = tuple(float(one) for one in operands if not isinstance(one, str))
        elif operator in (b"Tj", b"TJ"):
            inks.append(now[0])

    pdf.reader(printed(paper)).pages[0].extract_text(visitor_operand_before=watch)
    assert len(inks) > 20
    greys = {round(sum(ink) / len(ink), 2) for ink in inks}
    assert 0.0 in greys
    dark = {grey for grey in greys if grey <= 0.36}  # 7:1 on white at the least
    assert greys - dark <= ({1.0} if isinstance(paper, BayCard) else set())  # the group letter


@papers
def test_a_page_takes_milliseconds(paper: Paper):
    printed(paper)
    taken = []
    for index in range(5):
        other = replace(paper, subject=f"another text {index}")
        start = time.perf_counter()
        printed(other)
        taken.append(time.perf_counter() - start)
    assert min(taken) < 0.5


def test_the_pages_hold_no_script_and_no_outward_link():
    for paper in PAPERS.values():
        for _, one in _objects(printed(paper)):
            assert not {"/JS", "/JavaScript", "/URI", "/Launch", "/EmbeddedFile"} & set(one)


def _objects(page: bytes) -> list[tuple[int, pypdf.generic.DictionaryObject]]:
    read = pdf.reader(page)
    found = []
    for number in range(1, int(read.trailer["/Size"])):
        one = read.get_object(number)
        if isinstance(one, pypdf.generic.DictionaryObject):
            found.append((number, one))
    return found
