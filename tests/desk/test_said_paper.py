"""Papers in the reader's language and units."""

from dataclasses import dataclass, field

import pytest

from buttonhole.desk.said_paper import printed, said
from buttonhole.language import ENGLISH, Display
from buttonhole.language.display import INCH
from buttonhole.paper.card import Setting
from buttonhole.paper.figure import Style
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class Sheet:
    """A paper made up for the test."""

    verdict: str
    machine: str
    settings: tuple[Setting, ...] = ()
    language: str = "en"
    style: Style = field(default_factory=Style)


SHEET = Sheet(
    "Released", "Released · program 4.2", (Setting("Electrode force", "3.80 kN", "380 daN"),)
)


def test_words_and_figures_are_said_and_names_are_not() -> None:
    german = said(SHEET, Display("de"))
    assert german.verdict == "Freigegeben"
    assert german.machine == SHEET.machine
    assert german.language == "de"
    assert german.style.length(5.1e-3) == "5,10 mm"
    assert german.settings == (Setting("Elektroden\u00adkraft", "3,80 kN", "380 daN"),)


def test_a_number_to_set_in_another_unit_has_the_si_figure_beside_it() -> None:
    assert said(SHEET, Display("en", INCH)).settings == (
        Setting("Electrode force", "854 lbf", "3.80 kN"),
    )


def test_where_german_has_no_room_the_paper_is_printed_in_english() -> None:
    def narrow(sheet: Sheet) -> bytes:
        if len(sheet.verdict) > 8:
            raise BadInput("verdict", "has no room")
        return sheet.verdict.encode()

    assert printed(narrow, SHEET, Display("de")) == b"Released"
    assert printed(narrow, SHEET, ENGLISH) == b"Released"
    with pytest.raises(BadInput):
        printed(narrow, Sheet("Released for good", "x"), Display("de"))
