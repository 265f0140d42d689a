"""The wheel carries everything that the program reads at run time, and nothing else."""

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "buttonhole"


@pytest.fixture(scope="module")
def members(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """Names in a wheel built from this tree."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = folder.glob("buttonhole-*.whl")
    with zipfile.ZipFile(wheel) as archive:
        assert archive.testzip() is None
        return archive.namelist()


def files_of_the_package() -> set[str]:
    """Return every file under the package that is not a left-over of running it."""
    return {
        path.relative_to(ROOT / "src").as_posix()
        for path in PACKAGE.rglob("*")
        if path.is_file()
        and "__pycache__" not in path.parts
        and path.suffix not in {".nbi", ".nbc"}
    }


def test_every_file_of_the_package_is_in_the_wheel(members: list[str]) -> None:
    assert files_of_the_package() <= set(members)


def test_nothing_else_is_in_the_wheel(members: list[str]) -> None:
    rest = set(members) - files_of_the_package()
    assert all(name.split("/")[0].endswith(".dist-info") for name in rest), rest
    assert any(name.endswith("/licenses/LICENSE") for name in rest)


@pytest.mark.parametrize(
    "what",
    [
        "buttonhole/sources/data/sources.bib",
        "buttonhole/sources/data/MANIFEST",
        "buttonhole/web/static/parts/htmx/htmx.min.js",
        "buttonhole/web/static/parts/htmx/LICENSE",
        "buttonhole/py.typed",
    ],
)
def test_the_wheel_carries(what: str, members: list[str]) -> None:
    assert what in members


@pytest.mark.parametrize(
    ("folder", "suffix"),
    [
        ("buttonhole/web/templates/", ".html"),
        ("buttonhole/web/static/", ".css"),
        ("buttonhole/sources/data/", ".csv"),
        ("buttonhole/sources/data/", ".toml"),
        ("buttonhole/paper/", ".typ"),
        ("buttonhole/record/store/", ".py"),
    ],
)
def test_the_wheel_carries_some(folder: str, suffix: str, members: list[str]) -> None:
    assert any(name.startswith(folder) and name.endswith(suffix) for name in members)
