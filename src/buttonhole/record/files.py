"""Files beside the record, each under the name of its own hash.

A file is written beside its place, brought to the disk and then moved there in one step, so that a
name never leads to half a file. What is there is never changed; read back it is checked.
"""

import hashlib
import os
import re
import tempfile
from pathlib import Path

from buttonhole.units import BadInput

_NAME = re.compile(r"[0-9a-f]{64}")


def folder_beside(store: str | Path) -> Path:
    """The folder of the files of a record: beside it, called after it."""
    path = Path(store)
    return path.with_name(f"{path.name}.files")


class FileShelf:
    """Files by their SHA-256 in one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def put(self, content: bytes) -> str:
        """Keep a file.

        Parameters
        ----------
        content : bytes
            What it holds.

        Returns
        -------
        str
            Its SHA-256, which is its name; on the disk when this returns.
        """
        name = hashlib.sha256(content).hexdigest()
        place = self._place(name)
        if place.is_file() and place.stat().st_size == len(content):
            return name
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, beside = tempfile.mkstemp(dir=place.parent, prefix=".new-")
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(content)
                out.flush()
                os.fsync(out.fileno())
            os.replace(beside, place)
        except BaseException:
            Path(beside).unlink(missing_ok=True)
            raise
        for folder in (place.parent, self.folder, self.folder.parent):
            _to_disk(folder)
        return name

    def get(self, name: str) -> bytes:
        """Read a file back.

        Parameters
        ----------
        name : str
            Its SHA-256.

        Returns
        -------
        bytes
            What was kept.

        Raises
        ------
        BadInput
            No such file, or one that was altered.
        """
        if not _NAME.fullmatch(name):
            raise BadInput("photo", "is not named by its hash; 64 figures and letters a to f")
        try:
            content = self._place(name).read_bytes()
        except FileNotFoundError:
            raise BadInput(
                "photo", f"{name[:12]} is not beside this record; take it again"
            ) from None
        if hashlib.sha256(content).hexdigest() != name:
            raise BadInput("photo", f"{name[:12]} was altered on the disk; it counts no more")
        return content

    def _place(self, name: str) -> Path:
        return self.folder / name[:2] / name


def _to_disk(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
