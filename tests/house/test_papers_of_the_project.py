"""README, decisions, change log and entry script say what is so."""

import re
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DECISIONS = ROOT / "docs" / "decisions"


def requirement_names(path: Path) -> list[str]:
    """Return the package names of an ``.in`` file."""
    lines = (line.split("#", 1)[0].strip() for line in path.read_text("utf-8").splitlines())
    return [re.split(r"[<>=[]", line)[0] for line in lines if line and not line.startswith("-")]


def test_the_readme_starts_with_the_job_and_then_names_two_commands() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    assert re.findall(r"^ {4}(\S.*)$", text, re.MULTILINE) == ["./go demo", "./go test"]
    assert len(text[: text.index("./go demo")].split()) > 60
    assert "```" not in text


@pytest.mark.parametrize("name", ["app.in", "dev.in", "node.in"])
def test_every_dependency_stands_in_the_decision_about_parts(name: str) -> None:
    parts = (DECISIONS / "0004-parts.md").read_text("utf-8")
    front_end = (DECISIONS / "0005-front-end-parts.md").read_text("utf-8")
    names = requirement_names(ROOT / "requirements" / name)
    assert names
    missing = [part for part in names if part not in parts and part not in front_end]
    assert missing == []


# What is started as a program, or found by the program it extends, is imported by nobody; the
# cluster's packages are asked for where they may be missing.
NOT_IMPORTED = {
    "dask",
    "distributed",
    "pytest-timeout",
    "httpx2",
    "ruff",
    "mypy",
    "import-linter",
    "deptry",
    "sphinx",
    "myst-parser",
    "furo",
    "sphinxcontrib-bibtex",
    "towncrier",
}
MODULES = {"opencv-python-headless": "cv2", "scikit-fem": "skfem"}


def test_what_the_developers_install_is_used() -> None:
    text = "\n".join(
        path.read_text("utf-8")
        for folder in ("tests", "checks", "benchmarks")
        for path in (ROOT / folder).rglob("*.py")
    )
    names = set(requirement_names(ROOT / "requirements" / "dev.in")) - NOT_IMPORTED
    unused = [
        name
        for name in names
        if not re.search(rf"^\s*(import|from) {MODULES.get(name, name)}\b", text, re.MULTILINE)
    ]
    assert unused == []


def test_the_decision_about_parts_names_nothing_that_is_not_asked_for() -> None:
    parts = (DECISIONS / "0004-parts.md").read_text("utf-8")
    rows = [line for line in parts.splitlines() if line.startswith("| ")]
    named = {
        word.split("(")[0].strip()
        for row in rows
        for word in re.sub(r"\(.*?\)", "", row.split("|")[1]).split(",")
    }
    asked = {
        part
        for name in ("app.in", "dev.in")
        for part in requirement_names(ROOT / "requirements" / name)
    }
    # The front-end parts go by the names people know them by.
    assert named - asked == {"part", "htmx 4", "axe-core"}


def test_decisions_are_numbered_without_a_gap_and_in_one_form() -> None:
    pages = sorted(DECISIONS.glob("0*.md"))
    assert [page.name[:4] for page in pages] == [f"{n:04d}" for n in range(1, len(pages) + 1)]
    for page in pages:
        text = page.read_text("utf-8")
        assert text.startswith(f"# {page.name[:4]} "), page.name
        assert "**Decided.**" in text, page.name


def test_change_fragments_are_of_a_known_kind() -> None:
    kinds = {
        kind["directory"]
        for kind in tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"][
            "towncrier"
        ]["type"]
    }
    fragments = [path for path in (ROOT / "changes").iterdir() if path.name != "README.md"]
    for path in fragments:
        assert re.fullmatch(rf"[a-z0-9-]+\.({'|'.join(sorted(kinds))})\.md", path.name), path.name
        assert path.read_text("utf-8").strip()


def test_one_version_everywhere() -> None:
    version = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["version"]
    package = (ROOT / "src/buttonhole/__init__.py").read_text("utf-8")
    citation = (ROOT / "CITATION.cff").read_text("utf-8")
    assert f'__version__ = "{version}"' in package
    assert f"\nversion: {version}\n" in citation


@pytest.mark.parametrize("script", ["go", ".ci/run"])
def test_a_script_can_be_started_and_parses(script: str) -> None:
    path = ROOT / script
    assert path.stat().st_mode & 0o111
    shell = "sh" if path.read_text("utf-8").startswith("#!/bin/sh") else "bash"
    subprocess.run([shell, "-n", str(path)], check=True)


def test_the_entry_script_names_what_it_can_do() -> None:
    told = subprocess.run([ROOT / "go", "help"], capture_output=True, text=True, check=True).stdout
    for word in ("demo", "test", "check", "bench", "docs"):
        assert re.search(rf"^  {word}\b", told, re.MULTILINE)
    asked = subprocess.run([ROOT / "go", "dance"], capture_output=True, text=True, check=False)
    assert asked.returncode == 2
    assert "usage" in asked.stderr
