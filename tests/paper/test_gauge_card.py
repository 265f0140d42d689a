"""The gauge card as printed: true to scale, readable by the finder, the same each time."""

import io
from datetime import UTC, datetime

import numpy as np
import pytest

from buttonhole.desk.print_gauge_card import print_gauge_card
from buttonhole.paper.gauge_card import GaugeCard, gauge_card
from buttonhole.paper.typesetting import preview
from buttonhole.photo.card import BAR, SIDE, WINDOW, black_fields, code_text, corners
from buttonhole.photo.fiducial import find_corners, read_card_name
from buttonhole.units import BadInput
from tests.paper import pdf

ISSUED = datetime(2026, 11, 25, tzinfo=UTC)
DOTS = 200.0


def seen() -> np.ndarray:
    from PIL import Image

    from buttonhole.paper.gauge_card import _data

    card = GaugeCard("A-1", black_fields(), SIDE, WINDOW, BAR, code_text("A-1"), ISSUED)
    with Image.open(io.BytesIO(preview("gauge_card.typ", _data(card), ISSUED, DOTS))) as image:
        return np.asarray(image.convert("L"))


def test_the_finder_finds_every_corner_where_it_is_printed() -> None:
    grey = seen()
    found = find_corners(grey)
    assert len(found.numbers) >= 96
    basis = np.column_stack((corners()[found.numbers], np.ones(len(found.numbers))))
    solved, *_ = np.linalg.lstsq(basis, found.pixels * 0.0254 / DOTS, rcond=None)
    assert solved[:2] == pytest.approx(np.eye(2), abs=5e-4)
    assert read_card_name(grey) == ("1", "A-1")


def test_a_card_is_the_same_each_time_and_says_what_to_measure() -> None:
    card = print_gauge_card("A-1", ISSUED)
    assert card.pdf == print_gauge_card("A-1", ISSUED).pdf
    words = pdf.text(card.pdf)
    for needed in ("Gauge card A-1", "80.0 mm", "100 %", "calliper"):
        assert needed in words


def test_a_card_without_a_frame_is_refused() -> None:
    with pytest.raises(BadInput, match="scale"):
        gauge_card(GaugeCard("A", (), SIDE, WINDOW, BAR, code_text("A"), ISSUED))
