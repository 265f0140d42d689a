"""The locks pin every package by hash, hold no address, and agree with each other."""

import json
import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LOCKS = sorted((ROOT / "requirements").glob("*.lock"))
PIN = re.compile(r"^(?P<name>[a-z0-9][a-z0-9._-]*)==(?P<version>[^\s;]+)(?P<marker> ; [^\\]+)? \\$")
HASH = re.compile(r"^    --hash=sha256:[0-9a-f]{64}( \\)?$")


def pins(text: str) -> dict[str, list[str]]:
    """Return the versions of each package in a lock."""
    found: dict[str, list[str]] = {}
    for line in text.splitlines():
        if match := PIN.match(line):
            found.setdefault(match["name"], []).append(match["version"])
    return found


def requirement_names(lines: list[str]) -> set[str]:
    """Return the package names of requirement lines, in the spelling of the locks."""
    names = set()
    for line in lines:
        bare = line.split("#", 1)[0].strip()
        if bare and not bare.startswith("-"):
            name = re.split(r"[<>=!~\[; ]", bare, maxsplit=1)[0]
            names.add(re.sub(r"[-_.]+", "-", name).lower())
    return names


def test_there_are_three_locks() -> None:
    assert [path.name for path in LOCKS] == ["app.lock", "dev.lock", "node.lock"]


@pytest.mark.parametrize("path", LOCKS, ids=lambda path: path.name)
def test_a_lock_is_nothing_but_pins_and_their_hashes(path: Path) -> None:
    expects_hash = False
    for line in path.read_text("utf-8").splitlines():
        if expects_hash:
            assert HASH.match(line), line
            expects_hash = line.endswith("\\")
        else:
            assert PIN.match(line), line
            expects_hash = True
    assert not expects_hash


@pytest.mark.parametrize("path", LOCKS, ids=lambda path: path.name)
def test_a_lock_holds_no_address(path: Path) -> None:
    text = path.read_text("utf-8")
    assert "://" not in text
    assert "file:" not in text
    # A host name has a dot between letters; in a lock only versions, names and markers have dots.
    assert not re.search(r"\b[a-z0-9-]+\.(org|com|net|io|dev|local)\b", text)


def test_the_developers_lock_holds_the_program_in_the_same_versions() -> None:
    app = pins((ROOT / "requirements/app.lock").read_text("utf-8"))
    dev = pins((ROOT / "requirements/dev.lock").read_text("utf-8"))
    assert len(app) > 20
    assert {name: dev.get(name) for name in app} == app


def test_what_the_package_asks_for_is_what_is_locked() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    asked = requirement_names(project["project"]["dependencies"])
    builder = requirement_names(project["build-system"]["requires"])
    wanted = requirement_names((ROOT / "requirements/app.in").read_text("utf-8").splitlines())
    assert wanted == asked | builder
    locked = pins((ROOT / "requirements/app.lock").read_text("utf-8"))
    assert wanted <= set(locked)


def test_the_front_end_parts_are_pinned_by_integrity_and_without_an_address() -> None:
    lock = json.loads((ROOT / "package-lock.json").read_text("utf-8"))
    asked = json.loads((ROOT / "package.json").read_text("utf-8"))
    parts = {name: part for name, part in lock["packages"].items() if name}
    assert parts
    for name, part in parts.items():
        assert part["integrity"].startswith("sha512-"), name
        assert "resolved" not in part, name
    wanted = asked["dependencies"] | asked["devDependencies"]
    assert {name: parts[f"node_modules/{name}"]["version"] for name in wanted} == wanted
    assert "://" not in (ROOT / "package-lock.json").read_text("utf-8")
    assert "://" not in (ROOT / ".npmrc").read_text("utf-8")


def test_a_line_that_is_no_pin_would_be_noticed() -> None:
    assert not PIN.match("--index-url somewhere")
    assert not PIN.match("numpy>=2 \\")
    assert not PIN.match("thing @ file:///x \\")
    assert not HASH.match("    --hash=md5:0123")
