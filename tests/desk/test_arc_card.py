"""The bay card of a released arc weld: what is set, what is asked for, no word of a spot gun."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from buttonhole.desk.arc_view import Keys
from buttonhole.desk.desk import Desk
from buttonhole.desk.drawn_arc import arc_set_values, drawn_arc_joint
from buttonhole.desk.load_demo import load_demo
from buttonhole.desk.print_card import PrintCard, print_card
from buttonhole.language import Display
from buttonhole.language.display import units_of
from buttonhole.record.store import open_store
from tests.desk.test_arc_joint import PLUG, SEAM
from tests.paper.pdf import text as text_of

NOW = datetime(2026, 3, 2, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def cards(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """The card of the demonstration's plugs in both languages, and once more in English."""
    path: Path = tmp_path_factory.mktemp("card") / "record.db"
    with open_store(path) as store:
        job = load_demo(store, NOW)
        joint = next(one for one in job.joints if one.arc is not None and one.coupons)
        desk = Desk(store, lambda: NOW + timedelta(minutes=1), "Tomas Brindeval")

        def card(language: str) -> bytes:
            display = Display(language, units_of(""))
            return print_card(desk, PrintCard(joint.id, display=display)).pdf

        return {"en": card("en"), "de": card("de"), "again": card("en")}


def test_it_says_what_is_set_and_asked_for(cards: dict[str, bytes]) -> None:
    text = text_of(cards["en"])
    for word in ("PLUG WELD (135)", "hole 8.0 mm", "torn diameter at least 5.00 mm", "Wire feed"):
        assert word in text
    for word in ("caps", "the gun", "Dress", "arms"):
        assert word not in text


def test_it_is_said_in_german(cards: dict[str, bytes]) -> None:
    text = text_of(cards["de"])
    for word in ("LOCHSCHWEISSUNG (135)", "Drahtvorschub", "Masseklemme", "mindestens 5,00 mm"):
        assert word in text


def test_printed_again_it_is_the_same_to_the_byte(cards: dict[str, bytes]) -> None:
    assert cards["en"] == cards["again"]


@pytest.mark.parametrize("keys", [PLUG, SEAM])
def test_the_numbers_to_set_fit_a_card(keys: Keys) -> None:
    rows = arc_set_values(keys)
    assert 5 <= len(rows) <= 9
    assert all(name and value for name, value, _ in rows)
    assert {"Wire", "Gas", "Wire feed", "Voltage"} <= {name for name, _, _ in rows}
    assert drawn_arc_joint(keys).sheets
