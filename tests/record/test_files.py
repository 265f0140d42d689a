"""Files beside the record: named by their hash, whole or not there."""

from pathlib import Path

import pytest

from buttonhole.record.files import FileShelf, folder_beside
from buttonhole.units import BadInput


def test_what_was_put_is_got(tmp_path: Path) -> None:
    shelf = FileShelf(folder_beside(tmp_path / "record.db"))
    name = shelf.put(b"a picture")
    assert shelf.put(b"a picture") == name
    assert shelf.get(name) == b"a picture"
    assert [one.name for one in shelf.folder.rglob("*") if one.is_file()] == [name]
    assert shelf.folder.parent == tmp_path


def test_an_altered_file_counts_no_more(tmp_path: Path) -> None:
    shelf = FileShelf(tmp_path / "files")
    name = shelf.put(b"a picture")
    (shelf.folder / name[:2] / name).write_bytes(b"b picture")
    with pytest.raises(BadInput, match="altered"):
        shelf.get(name)


@pytest.mark.parametrize("name", ["", "../../record.db", "A" * 64, "0" * 63])
def test_only_hashes_are_names(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadInput, match="hash"):
        FileShelf(tmp_path).get(name)


def test_one_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="not beside"):
        FileShelf(tmp_path).get("0" * 64)
