"""The SHA-256 of every data file, so that a changed number is noticed."""

import hashlib
from functools import cache
from pathlib import Path

DATA = Path(__file__).parent / "data"
NAME = "MANIFEST"
KINDS = (".csv", ".toml")  # the bibliography holds no number


def digest(content: bytes) -> str:
    """Return the SHA-256 of a file's content in hexadecimal digits.

    Line ends count as a line feed, so that a checkout which rewrites them is no change.
    """
    return hashlib.sha256(content.replace(b"\r\n", b"\n")).hexdigest()


def data_files(folder: Path = DATA) -> tuple[Path, ...]:
    """Return the data files of a folder in the order of their names."""
    return tuple(sorted(path for path in folder.iterdir() if path.suffix in KINDS))


def build(folder: Path = DATA) -> str:
    """Return the text of the manifest for the files as they are now."""
    return "".join(f"{digest(path.read_bytes())}  {path.name}\n" for path in data_files(folder))


@cache
def listed(folder: Path = DATA) -> dict[str, str]:
    """Return file name -> SHA-256 as the manifest lists it."""
    lines = (folder / NAME).read_text(encoding="utf-8").splitlines()
    pairs = (line.split(maxsplit=1) for line in lines if line)
    return {name: value for value, name in pairs}


def differences(folder: Path = DATA) -> tuple[str, ...]:
    """Return one line for every file that is changed, missing or not listed."""
    wanted = listed(folder)
    found = {path.name: digest(path.read_bytes()) for path in data_files(folder)}
    lines = [f"{name}: missing" for name in wanted if name not in found]
    lines += [f"{name}: not in the manifest" for name in found if name not in wanted]
    lines += [
        f"{name}: changed" for name, value in found.items() if wanted.get(name, value) != value
    ]
    return tuple(sorted(lines))
