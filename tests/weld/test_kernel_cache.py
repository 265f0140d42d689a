"""The folder of compiled kernels: the user's, else a private one that takes files."""

import stat
import tempfile
from pathlib import Path

import pytest

from buttonhole.weld.kernel_cache import _compiled, kernel_cache


def test_it_lies_in_the_users_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert kernel_cache().parent == tmp_path / "buttonhole" / "kernels"
    assert kernel_cache() == kernel_cache()


def test_a_cache_that_takes_no_files_is_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocked = tmp_path / "a file"
    blocked.write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(blocked))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    found = kernel_cache()
    assert found.parent.parent == tmp_path
    assert stat.S_IMODE(found.parent.stat().st_mode) == 0o700
    assert kernel_cache() == found  # the second weld is quick again


def test_a_folder_of_somebody_else_is_not_trusted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "a file"))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    shared = kernel_cache().parent
    shared.chmod(0o777)
    assert kernel_cache().parent == tmp_path


def test_numbers_a_kernel_takes_from_a_plain_module_count_as_its_text() -> None:
    names = {path.name for path in _compiled()}
    assert {"march.py", "conduction.py", "fields.py", "nugget.py"} <= names
    assert "prediction.py" not in names
