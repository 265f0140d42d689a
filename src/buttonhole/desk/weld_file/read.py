"""Opens a file somebody named and refuses, in one line, whatever is no weld file."""

import os
import re
import stat
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from buttonhole.desk.weld_file.arc_schema import PlugWeldFile, arc_weld_file_from, is_arc_weld
from buttonhole.desk.weld_file.schema import WeldFile, weld_file_from
from buttonhole.desk.weld_file.seam_schema import SeamWeldFile
from buttonhole.units import BadInput

SIZE_LIMIT = 64 * 1024  # bytes; a weld file has about forty lines
LINE_LIMIT = 2000  # letters; tomllib needs a time that grows with the square of a dotted key


class BadFile(BadInput):
    """Bad input that came from a file; its text reads ``file: key: message``."""

    def __init__(self, file: str, key: str, message: str) -> None:
        super().__init__(key, message)
        self.file = file
        self.args = (f"{file}: {key}: {message}",)

    def __reduce__(self) -> tuple[type["BadFile"], tuple[str, ...]]:
        return BadFile, (self.file, self.key, self.message)


def read_weld_file(path: str | Path) -> WeldFile:
    """Read one weld from a TOML file.

    Parameters
    ----------
    path : str or Path
        Where the file is.

    Returns
    -------
    WeldFile
        The stack-up, the set-up and the rule for the minimum diameter, if one is named.

    Raises
    ------
    BadFile
        The file can't be read, is no TOML, or describes no weld; names the file, the key and what
        would be right.
    """
    data = read_toml(path, what="a weld file")
    with named_file(path):
        return weld_file_from(data)


def read_any_weld_file(path: str | Path) -> WeldFile | PlugWeldFile | SeamWeldFile:
    """Read one weld of any process from a TOML file.

    Parameters
    ----------
    path : str or Path
        Where the file is.

    Returns
    -------
    WeldFile, PlugWeldFile or SeamWeldFile
        What is joined and how it is set, by what the file says its process is.

    Raises
    ------
    BadFile
        As for `read_weld_file`.
    """
    data = read_toml(path, what="a weld file")
    with named_file(path):
        return arc_weld_file_from(data) if is_arc_weld(data) else weld_file_from(data)


def read_arc_keys(path: str | Path) -> dict[str, Any] | None:
    """Read the keys of an arc weld's file as they are written.

    Parameters
    ----------
    path : str or Path
        Where the file is.

    Returns
    -------
    dict or None
        Tables and values, checked; None where the file is of a spot weld.

    Raises
    ------
    BadFile
        As for `read_weld_file`.
    """
    data = read_toml(path, what="a weld file")
    if not is_arc_weld(data):
        return None
    with named_file(path):
        arc_weld_file_from(data)
    return data


@contextmanager
def named_file(path: str | Path) -> Iterator[None]:
    """Name the file in every refusal of what was read from it.

    Parameters
    ----------
    path : str or Path
        The file.

    Raises
    ------
    BadFile
        In place of any `BadInput`.
    """
    try:
        yield
    except BadFile:
        raise
    except BadInput as bad:
        raise BadFile(str(path), bad.key, bad.message) from bad


def read_toml(path: str | Path, *, what: str) -> dict[str, Any]:
    """Read a small TOML file written by a person.

    Parameters
    ----------
    path : str or Path
        Where the file is.
    what : str
        What the file should be, for the message when it is something else.

    Returns
    -------
    dict
        The tables and values of the file.

    Raises
    ------
    BadFile
        No such file, no permission, not a regular file, over 64 KiB, not UTF-8, or not TOML.
    """
    name = str(path)
    text = _text(name, what)
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > LINE_LIMIT:
            raise BadFile(
                name,
                f"line {number}",
                f"is {len(line)} letters long; {what} has lines of at most {LINE_LIMIT}",
            )
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadFile(name, *_where(str(error), text)) from error
    except (ValueError, RecursionError) as error:
        # tomllib lets through what int() and its own recursion raise on absurd values
        raise BadFile(
            name, "file", f"holds a value no one would write; give {what} in TOML"
        ) from error


def _text(name: str, what: str) -> str:
    raw = _bytes(name, what)
    if b"\0" in raw:
        raise BadFile(name, "file", f"is not text; give {what} in TOML, saved as UTF-8")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        message = "holds a letter that is not UTF-8; save the file as UTF-8 text"
        raise BadFile(name, f"line {line}", message) from error


def _bytes(name: str, what: str) -> bytes:
    try:
        # without O_NONBLOCK the opening of a pipe that nobody writes to would wait for ever
        handle = os.open(name, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    except (OSError, ValueError) as error:
        raise BadFile(name, "file", f"{_reason(error)}; give the path of {what}") from error
    try:
        found = os.fstat(handle)
        if not stat.S_ISREG(found.st_mode):
            kind = "a folder" if stat.S_ISDIR(found.st_mode) else "no ordinary file"
            raise BadFile(name, "file", f"is {kind}; give the path of {what}")
        if found.st_size > SIZE_LIMIT:
            raise BadFile(name, "file", _too_long(found.st_size, what))
        raw = _read_all(handle)
    except OSError as error:
        raise BadFile(name, "file", f"{_reason(error)}; give the path of {what}") from error
    finally:
        os.close(handle)
    if len(raw) > SIZE_LIMIT:  # it grew while it was read, or it did not tell its size
        raise BadFile(name, "file", _too_long(len(raw), what))
    return raw


def _read_all(handle: int) -> bytes:
    parts = []
    left = SIZE_LIMIT + 1
    while left > 0 and (part := os.read(handle, left)):
        parts.append(part)
        left -= len(part)
    return b"".join(parts)


def _too_long(size: int, what: str) -> str:
    return f"is {size / 1024:,.0f} KiB long; {what} has at most {SIZE_LIMIT // 1024} KiB"


def _reason(error: OSError | ValueError) -> str:
    if isinstance(error, FileNotFoundError):
        return "does not exist"
    if isinstance(error, PermissionError):
        return "may not be read by you"
    if isinstance(error, OSError) and error.strerror:
        return f"can't be read ({error.strerror.lower()})"
    return "is no name a file can have"


def _where(message: str, text: str) -> tuple[str, str]:
    """Key and message of a syntax error, with the line in place of the parser's own words."""
    found = re.search(r" \(at line (\d+), column (\d+)\)$", message)
    said = re.sub(r" \(at .*\)$", "", message)
    said = said[:1].lower() + said[1:]
    right = 'write key = "value with its unit" on one line'
    if said.startswith("cannot"):
        right = "give each key once, and [[sheet]] and [[set_up.pulse]] with two brackets"
    if found is None:
        line = max(1, len(text.splitlines()))
        return f"line {line}", f"is the last one and not complete ({said}); {right}"
    return f"line {found[1]}", f"is not TOML at column {found[2]} ({said}); {right}"
