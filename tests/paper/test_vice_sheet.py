"""Prediction against vice: the figures stand there, with room beside them for the vice."""

import io
from datetime import UTC, datetime

import pypdf
import pytest

from buttonhole.paper.figure.arc_back import DrawnBack, DrawnRing, arc_back
from buttonhole.paper.vice_sheet import Row, ViceSheet, Weld, vice_sheet
from buttonhole.units import BadInput

PICTURE = arc_back(DrawnBack((DrawnRing("tint", "straw colour", 9e-3, 8e-3, 1e-2),), "a print"))
ROWS = (Row("nugget", "mm", (6.1, 5.0, 7.2), (5.374, 4.0, 6.5)),)


def sheet(rows=ROWS):
    weld = Weld("as set", PICTURE, PICTURE)
    moment = datetime(2026, 3, 2, tzinfo=UTC)
    return ViceSheet("Tip worn", "It says so.", "So does it.", (weld, weld), rows, "-", "7", moment)


def test_figures_ranges_and_one_page():
    first = vice_sheet(sheet())
    assert first == vice_sheet(sheet())
    pages = pypdf.PdfReader(io.BytesIO(first)).pages
    assert len(pages) == 1
    text = pages[0].extract_text()
    for said in ("nugget, mm", "6.10", "5.00 - 7.20", "5.37", "in the vice", "Tip worn"):
        assert said in text


@pytest.mark.parametrize("count", [0, 9])
def test_a_sheet_without_figures_or_with_too_many_is_refused(count):
    with pytest.raises(BadInput):
        vice_sheet(sheet(ROWS * count))
