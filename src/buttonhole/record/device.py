"""The key of a device, in a file beside the record that only its owner may read."""

import json
import os
from dataclasses import dataclass
from pathlib import Path

from buttonhole.record.identity import Randomness
from buttonhole.record.signing import SigningKey, new_key
from buttonhole.units import BadInput

ENDING = ".device-key"


@dataclass(frozen=True, slots=True)
class Device:
    """A computer that signs heads: what it is called, and its key."""

    name: str
    key: SigningKey


def device_key_path(record: Path) -> Path:
    """Say where the key of the device beside a record is."""
    return record.with_name(record.name + ENDING)


def open_device(path: Path, name: str, randomness: Randomness = os.urandom) -> Device:
    """
    Read the key of this device, making one the first time.

    Parameters
    ----------
    path : Path
        Where it is kept.
    name : str
        What the device is called when it is made.
    randomness : callable, optional
        The system's chance.

    Returns
    -------
    Device
        Its name and key.

    Raises
    ------
    BadInput
        When the file holds no key, or may be read by others.
    """
    text = json.dumps({"name": name, "seed": new_key(randomness).seed.hex()})
    try:
        opened = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return _read(path)
    with os.fdopen(opened, "w", encoding="utf-8") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    return _read(path)


def _read(path: Path) -> Device:
    if os.name == "posix" and path.stat().st_mode & 0o077:
        raise BadInput(str(path), "may be read by others; let only its owner read it (chmod 600)")
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
        return Device(str(found["name"]), SigningKey(bytes.fromhex(found["seed"])))
    except (ValueError, KeyError, TypeError):
        raise BadInput(
            str(path), "holds no key; move it away, and a new one is made and introduced"
        ) from None
