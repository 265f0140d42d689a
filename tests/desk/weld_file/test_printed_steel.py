"""A weld file takes a steel as it is printed, its coating with it, and loses neither."""

import tomllib
from pathlib import Path

import pytest

from buttonhole.desk.weld_file import arc_weld_file_from, weld_file_from, weld_file_text
from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput

EXAMPLES = Path(__file__).parents[3] / "examples"
PLAIN = tomllib.loads((EXAMPLES / "two_sheets.toml").read_text(encoding="utf-8"))
SEAM = tomllib.loads((EXAMPLES / "seam_lap.toml").read_text(encoding="utf-8"))


def with_sheet(weld: dict[str, object], **keys: str) -> dict[str, object]:
    first, *others = weld["sheet"]  # type: ignore[misc] # the tables of a weld file
    kept = {key: value for key, value in first.items() if key != "coating"}
    return {**weld, "sheet": [{**kept, **keys}, *others]}


def test_the_coating_of_the_name_is_taken() -> None:
    weld = weld_file_from(with_sheet(PLAIN, steel="HCT600X+ZF100RB"))
    sheet = weld.stack.sheets[0]
    assert (sheet.steel.designation, sheet.coating) == ("HCT600X", Coating.GA)
    again = weld_file_from(tomllib.loads(weld_file_text(weld)))
    assert again.stack == weld.stack


def test_a_seam_takes_it_too() -> None:
    weld = arc_weld_file_from(with_sheet(SEAM, steel="DX54D+Z100"))
    assert weld.coatings[0] is Coating.GI
    assert weld.joint.upper.zinc


def test_a_name_without_coating_leaves_it_unknown() -> None:
    weld = weld_file_from(with_sheet(PLAIN, steel="1.0338"))
    assert weld.stack.sheets[0].coating is Coating.UNKNOWN


@pytest.mark.parametrize("coating", ["bare", "GA", "AlSi"])
def test_two_coatings_that_differ_are_refused(coating: str) -> None:
    with pytest.raises(BadInput, match="names GI") as caught:
        weld_file_from(with_sheet(PLAIN, steel="HCT600X+Z100MB", coating=coating))
    assert caught.value.key == "sheet 1 coating"


def test_a_name_of_two_standards_is_refused_by_its_place() -> None:
    with pytest.raises(BadInput, match="stands for: VDA 239-100 CR4") as caught:
        weld_file_from(with_sheet(PLAIN, steel="CR4"))
    assert caught.value.key == "sheet 1 steel"
