"""Where the compiled kernels are kept."""

import getpass
import hashlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path


def kernel_cache() -> Path:
    """Folder for compiled kernels: the user's own, and another one when a kernel's text changes.

    A kernel holds the code of those it calls, but is found again by its own file only: after an
    update of a callee the old machine code would go on being used.
    """
    text = hashlib.sha256()
    here = Path(__file__).parent
    for folder in (here.parent / "heat", here):
        for path in sorted(folder.glob("*.py")):
            text.update(path.read_bytes())
    name = text.hexdigest()[:16]
    return _first_that_takes_files(name, (_users, _temporary))


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
