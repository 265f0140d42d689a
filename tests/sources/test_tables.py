"""The tables the program ships: whole, sourced, and refused when somebody changed them."""

import math
import re
import shutil
from pathlib import Path

import pytest

from buttonhole.sources import (
    Status,
    TableError,
    bibliography,
    checksum,
    is_quantity,
    loader,
    manifest,
    names,
    table,
    tables,
)
from buttonhole.units import BadInput

HEADER = re.compile(r"[^\[\]]+ \[[^\[\]]+\]")


@pytest.mark.parametrize("name", names())
def test_every_table_says_where_it_came_from(name: str) -> None:
    found = table(name)
    where = found.provenance
    assert found.cells
    assert len(set(found.header)) == len(found.header)
    assert where.source in bibliography(), where.source
    for text in (where.title, where.edition, where.place, where.uncertainty, where.valid_range):
        assert text.strip()
    assert where.checked_by == "maintainers"
    if "source" in found.header:
        assert set(found.text("source")) <= set(bibliography())
    assert len(found.row_status()) == len(found.cells)


@pytest.mark.parametrize("name", names())
def test_numbers_stand_under_a_unit_and_words_do_not(name: str) -> None:
    found = table(name)
    for header in found.header:
        if is_quantity(header):
            assert HEADER.fullmatch(header), header
            values = found.column(header)  # raises for a cell that is no number
            assert not all(math.isnan(value) for value in values), header
        else:
            assert "[" not in header


@pytest.mark.parametrize("name", names())
def test_no_address_and_no_shop_in_a_table(name: str) -> None:
    for suffix in (".csv", ".toml"):
        text = (checksum.DATA / f"{name}{suffix}").read_text(encoding="utf-8")
        assert not re.search(r"https?:|www\.|\.(com|org|info|net)\b", text)


def test_the_list_names_every_table_once() -> None:
    listed = tables()
    assert [one.name for one in listed] == list(names())
    assert all(one.status in set(Status) for one in listed)


def test_an_unknown_table_is_refused_by_name() -> None:
    with pytest.raises(BadInput, match="schedule_bs1140"):
        table("schedule_bs1141")


def test_the_manifest_is_fresh() -> None:
    assert checksum.differences() == ()
    assert (checksum.DATA / checksum.NAME).read_text(encoding="utf-8") == checksum.build()


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    for name in ("slug_bs1140.csv", "slug_bs1140.toml"):
        shutil.copy(checksum.DATA / name, tmp_path / name)
    (tmp_path / checksum.NAME).write_text(checksum.build(tmp_path), encoding="utf-8")
    return tmp_path


def test_an_untouched_copy_loads(copy: Path) -> None:
    assert loader.load("slug_bs1140", copy).column("t [mm]")[0] == 0.6


def test_line_ends_of_another_system_are_no_change(copy: Path) -> None:
    file = copy / "slug_bs1140.csv"
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    assert loader.load("slug_bs1140", copy).column("slug_min [mm]")[0] == 3.9


def test_one_changed_digit_is_noticed(copy: Path) -> None:
    file = copy / "slug_bs1140.csv"
    file.write_text(file.read_text(encoding="utf-8").replace("3.9", "2.9"), encoding="utf-8")
    with pytest.raises(TableError, match=r"slug_bs1140\.csv: changed since it was checked"):
        loader.load("slug_bs1140", copy)
    checksum.listed.cache_clear()
    assert checksum.differences(copy) == ("slug_bs1140.csv: changed",)


def test_changed_provenance_is_noticed(copy: Path) -> None:
    file = copy / "slug_bs1140.toml"
    text = file.read_text(encoding="utf-8").replace('status = "read"', 'status = "derived"')
    file.write_text(text, encoding="utf-8")
    with pytest.raises(TableError, match=r"slug_bs1140\.toml: changed"):
        loader.load("slug_bs1140", copy)


def test_a_missing_or_unlisted_file_is_noticed(copy: Path) -> None:
    (copy / "slug_bs1140.csv").unlink()
    with pytest.raises(TableError, match="missing"):
        loader.load("slug_bs1140", copy)
    with pytest.raises(TableError, match="not in the manifest"):
        loader.load("slug_bs1141", copy)
    assert checksum.differences(copy) == ("slug_bs1140.csv: missing",)


def test_a_torn_row_is_noticed(copy: Path) -> None:
    file = copy / "slug_bs1140.csv"
    file.write_text(file.read_text(encoding="utf-8")[:-5], encoding="utf-8")
    (copy / checksum.NAME).write_text(checksum.build(copy), encoding="utf-8")
    checksum.listed.cache_clear()
    with pytest.raises(TableError, match="line 15 has 2 cells, not 3"):
        loader.load("slug_bs1140", copy)


def test_the_command_only_compares_when_asked_to(capsys: pytest.CaptureFixture[str]) -> None:
    assert manifest.main(["--check"]) == 0
    assert "as listed" in capsys.readouterr().out
    assert manifest.main(["--chekc"]) == 2


def test_interpolation_stays_inside_the_table() -> None:
    factors = table("reduction_factors_en1993")
    # EN 1993-1-2 table 3.1: 0.78 at 500 and 0.47 at 600 degC
    assert factors.interpolate("T [degC]", "ky [-]", 550.0) == pytest.approx(0.625)
    assert factors.interpolate("T [degC]", "ky [-]", 1200.0) == 0.0
    for outside in (19.9, 1200.1, math.nan):
        with pytest.raises(BadInput, match="covers 20 to 1200"):
            factors.interpolate("T [degC]", "ky [-]", outside)
    with pytest.raises(TableError, match="does not rise"):
        table("steel_curves").interpolate("T [degC]", "k [W/m/K]", 500.0)


def test_columns_rows_and_choices() -> None:
    grades = table("steel_grades")
    dc04 = grades.where("designation", "DC04").rows()
    assert len(dc04) == 1
    assert dc04[0]["Rm_min [MPa]"] == 270.0
    assert dc04[0]["Re_min [MPa]"] is None
    assert dc04[0]["family"] == "low-carbon"
    with pytest.raises(TableError, match="no column 'Rm'"):
        grades.column("Rm")
    with pytest.raises(TableError, match="family"):
        grades.column("family")
    # one row was read, the others are from memory
    assert Status.READ in grades.row_status()
    assert Status.MEMORY in grades.row_status()


def test_every_source_has_a_title_and_reads_as_a_line() -> None:
    for reference in bibliography().values():
        assert reference.title
        assert "\n" not in str(reference)
    assert "Andrews" in str(bibliography()["andrews-1965"])
