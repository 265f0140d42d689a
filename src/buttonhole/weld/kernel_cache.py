"""Where the compiled kernels are kept."""

import getpass
import hashlib
import os
import re
import tempfile
from collections.abc import Callable
from pathlib import Path

HERE = Path(__file__).parent
KERNEL = re.compile(r"^import numba", re.MULTILINE)
OURS = re.compile(r"^from buttonhole\.weld\.?([\w.]*) import ([\w, ]*)", re.MULTILINE)


def kernel_cache() -> Path:
    """Folder for compiled kernels: the user's own, and another one when a kernel's text changes.

    A kernel holds the code of those it calls and the numbers it uses, but is found again by its own
    file only: after an update of a callee the old machine code would go on being used.
    """
    text = hashlib.sha256()
    for path in sorted(_compiled()):
        text.update(path.read_bytes())
    name = text.hexdigest()[:16]
    return _first_that_takes_files(name, (_users, _temporary))


def _compiled() -> set[Path]:
    """Every module of the package's welds that holds kernels, and what these take from ours."""
    kernels = [path for path in HERE.rglob("*.py") if KERNEL.search(path.read_text("utf-8"))]
    found = set(kernels)
    for path in kernels:
        for package, names in OURS.findall(path.read_text("utf-8")):
            folder = HERE.joinpath(*package.split(".")) if package else HERE
            modules = [folder.with_suffix(".py")]
            modules += [folder / f"{name.strip()}.py" for name in names.split(",")]
            found.update(module for module in modules if module.is_file())
    return found


def _users() -> Path:
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "buttonhole" / "kernels"


def _temporary() -> Path:
    # compiled code is run: nobody else may have put it there
    folder = Path(tempfile.gettempdir()) / f"buttonhole-kernels-{getpass.getuser()}"
    folder.mkdir(mode=0o700, exist_ok=True)
    found = folder.lstat()
    if hasattr(os, "getuid") and (found.st_uid != os.getuid() or found.st_mode & 0o077):
        raise PermissionError(folder)
    return folder


def _first_that_takes_files(name: str, places: tuple[Callable[[], Path], ...]) -> Path:
    """A read-only home must not stop a weld; a fresh folder makes the first one slow, no more."""
    for place in places:
        try:
            folder = place() / name
            folder.mkdir(parents=True, exist_ok=True)
        except (OSError, RuntimeError, KeyError):  # no home, nobody's user id, no permission
            continue
        if os.access(folder, os.W_OK | os.X_OK):
            return folder
    return Path(tempfile.mkdtemp(prefix="buttonhole-kernels-"))
