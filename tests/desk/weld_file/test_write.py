"""A weld written to a file is the same weld when it is read."""

import os
from pathlib import Path

import pytest

from buttonhole.desk.weld_file import quantity_text, read_weld_file, weld_file_text, write_weld_file
from buttonhole.units import parse


@pytest.mark.parametrize("path", sorted(Path("examples").glob("*sheets.toml")), ids=str)
def test_the_examples_come_back(path: Path, tmp_path: Path) -> None:
    weld = read_weld_file(path)
    copy = tmp_path / "copy.toml"
    write_weld_file(copy, weld)
    assert read_weld_file(copy) == weld
    assert copy.read_text() == weld_file_text(weld)


def test_quantities_are_short_and_exact() -> None:
    assert quantity_text(0.8e-3, "length") == "0.8 mm"
    assert quantity_text(8500.0, "current") == "8.5 kA"
    odd = 0.1 + 0.2
    assert parse(quantity_text(odd, "time"), "time") == odd


def test_a_failed_write_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    weld = read_weld_file("examples/two_sheets.toml")
    target = tmp_path / "weld.toml"
    target.write_text("old")

    def no_room(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", no_room)
    with pytest.raises(OSError, match="No space left"):
        write_weld_file(target, weld)
    assert [one.name for one in tmp_path.iterdir()] == ["weld.toml"]
    assert target.read_text() == "old"
