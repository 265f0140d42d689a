"""Is there anything in the tree that must not be published?

Looks at every file that git knows or would add: unfinished work, paths of one machine, addresses in
locks, files of third parties, huge files, secrets. Run as ``python checks/sweep.py``; prints one
line for each find and ends with 1 if any.
"""

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LARGEST = 1_000_000  # bytes; reference tables are far smaller

# Put together here so that this file does not find itself.
UNFINISHED = re.compile(r"\b(TO" r"DO|FIX" r"ME|XX" r"X|Not" r"ImplementedError|x" r"fail)\b")
MACHINE_PATH = re.compile(
    r"(?<![\w./])/(?:wo" r"rk|ho" r"me|ro" r"ot|Us" r"ers)/[\w.-]+|/t" r"mp/[\w.-]+/[\w.-]+"
)
LOCK_ADDRESS = re.compile(
    r"[a-z][a-z0-9+.-]*://|\bfile:|\bgit\+|--index-url|--find-links|--extra-index", re.IGNORECASE
)
REGISTRY = re.compile(
    r"(pypi\.o" r"rg|pythonhost" r"ed|registry\.npm" r"js|npmj" r"s\.com|deb\.deb" r"ian\.org)",
    re.IGNORECASE,
)
SECRET = re.compile(
    r"-----BEGIN [A-Z ]*PRIVATE KEY-----|\bAKIA[0-9A-Z]{16}\b|\bghp_[A-Za-z0-9]{36}\b"
)
BLANKET = re.compile(r"#\s*noqa(?!:\s?[A-Z]+\d)|#\s*type:\s*ignore(?!\[)")

LOCKS = ("requirements/", "package-lock.json", ".npmrc", "package.json")
THIRD_PARTY = ("node_modules/", "src/buttonhole/web/static/parts/", ".venv/")
MINIFIED = re.compile(r"\.min\.(js|css|mjs)$")
PICTURES = {".png", ".jpg", ".jpeg", ".gif", ".ico"}
BINARY = {*PICTURES, ".woff", ".woff2", ".ttf", ".otf", ".pdf", ".db", ".npz"}
FORBIDDEN_BINARY = {".woff", ".woff2", ".ttf", ".otf", ".db", ".whl", ".gz", ".zip"}


def finds_in_name(name: str, size: int) -> Iterator[str]:
    """Yield what is wrong with a file by its name and size alone."""
    if name.startswith(THIRD_PARTY) or MINIFIED.search(name):
        yield f"{name}: a file of third parties; take it at install time"
    if Path(name).suffix in FORBIDDEN_BINARY:
        yield f"{name}: this kind of file is not kept in the repository"
    if size > LARGEST:
        yield f"{name}: {size} bytes, at most {LARGEST}"


def finds_in_text(name: str, text: str) -> Iterator[str]:
    """Yield what is wrong with a file by what it says."""
    in_code = name.startswith(("src/", "tests/", "checks/", "benchmarks/"))
    is_lock = name.startswith(LOCKS)
    for number, line in enumerate(text.splitlines(), 1):
        place = f"{name}:{number}"
        if in_code and (found := UNFINISHED.search(line)):
            yield f"{place}: unfinished work ({found[0]})"
        if found := MACHINE_PATH.search(line):
            yield f"{place}: a path of one machine ({found[0]})"
        if is_lock and (found := LOCK_ADDRESS.search(line)):
            yield f"{place}: an address in a lock or its settings ({found[0]})"
        if found := REGISTRY.search(line):
            yield f"{place}: the host of a registry ({found[0]})"
        if found := SECRET.search(line):
            yield f"{place}: looks like a secret"
        if name.endswith(".py") and (found := BLANKET.search(line)):
            yield f"{place}: silences a check without naming it ({found[0]})"


def listed_files() -> list[str]:
    """Return the files that git follows, or would on the next add; all but ignored ones."""
    listing = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    return [name for name in listing.split("\0") if name and (ROOT / name).is_file()]


def main() -> int:
    """Sweep the whole tree and print what is found."""
    finds: list[str] = []
    names = listed_files()
    for name in names:
        path = ROOT / name
        finds.extend(finds_in_name(name, path.stat().st_size))
        if path.suffix.lower() in BINARY:
            continue
        try:
            finds.extend(finds_in_text(name, path.read_text("utf-8")))
        except UnicodeDecodeError:
            finds.append(f"{name}: is not UTF-8 text")
    for find in finds:
        print(find)
    print(f"{len(names)} files, {len(finds)} finds")
    return 1 if finds else 0


if __name__ == "__main__":
    sys.exit(main())
