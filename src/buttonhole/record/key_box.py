"""A private key under a PIN: readable only with it, and worth little to who copies the file alone.

A PIN is short. So the key that opens the box is made by Argon2id, which takes a third of a second
and 64 MiB for each guess, and the record counts wrong guesses. Who steals the whole record can
still try every PIN of six digits within days on one machine: so a box never goes into an archive,
and letters are welcome in a PIN.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305
from cryptography.hazmat.primitives.kdf.argon2 import Argon2id

from buttonhole.record.identity import Randomness
from buttonhole.record.signing import SigningKey
from buttonhole.units import BadInput

SHORTEST_PIN: Final = 6
LONGEST_PIN: Final = 128
# Second recommended choice of RFC 9106, section 4: 64 MiB, three passes. One lane, so that it costs
# the same on a tablet with one core.
MEMORY_KIB: Final = 64 * 1024
PASSES: Final = 3
# A box comes from a file: what it asks for is bounded before any of it is granted.
MOST_MEMORY_KIB: Final = 1024 * 1024
MOST_PASSES: Final = 16


class WrongPin(Exception):
    """The PIN does not open the box."""


@dataclass(frozen=True, slots=True)
class KeyBox:
    """A locked key: how the PIN becomes a key, and what that key opens. All texts hexadecimal."""

    public: str
    salt: str
    nonce: str
    locked: str
    memory_kib: int
    passes: int


def check_pin(pin: str) -> None:
    """
    Refuse a PIN that is too easy to guess.

    Raises
    ------
    BadInput
        When it is too short, too long, one sign repeated, or counts up or down.
    """
    if not SHORTEST_PIN <= len(pin) <= LONGEST_PIN:
        raise BadInput("pin", f"has {len(pin)} signs; give {SHORTEST_PIN} or more")
    steps = {ord(after) - ord(before) for before, after in pairwise(pin)}
    if len(steps) == 1 and steps <= {-1, 0, 1}:
        raise BadInput("pin", "is one sign repeated, or counts; take one that is hard to guess")


def lock(key: SigningKey, pin: str, randomness: Randomness) -> KeyBox:
    """
    Put a key under a PIN.

    Parameters
    ----------
    key : SigningKey
        The key.
    pin : str
        Known to its owner alone.
    randomness : callable
        The system's chance.

    Returns
    -------
    KeyBox
        The locked key.

    Raises
    ------
    BadInput
        When the PIN is too easy to guess.

    Sources
    -------
    - rfc-9106: Argon2id.
    - rfc-8439: ChaCha20-Poly1305.
    """
    check_pin(pin)
    salt, nonce = randomness(16), randomness(12)
    public = key.public
    cipher = ChaCha20Poly1305(_stretch(pin, salt, MEMORY_KIB, PASSES))
    locked = cipher.encrypt(nonce, key.seed, bytes.fromhex(public))
    return KeyBox(public, salt.hex(), nonce.hex(), locked.hex(), MEMORY_KIB, PASSES)


def unlock(box: KeyBox, pin: str) -> SigningKey:
    """
    Open a box. Who calls this counts the tries.

    Parameters
    ----------
    box : KeyBox
        The locked key.
    pin : str
        As typed.

    Returns
    -------
    SigningKey
        The key.

    Raises
    ------
    WrongPin
        When the PIN is another one, or the box was changed.
    """
    stretched = _stretch(pin, bytes.fromhex(box.salt), box.memory_kib, box.passes)
    try:
        seed = ChaCha20Poly1305(stretched).decrypt(
            bytes.fromhex(box.nonce), bytes.fromhex(box.locked), bytes.fromhex(box.public)
        )
    except InvalidTag:
        raise WrongPin from None
    return SigningKey(seed)


def box_of(values: Mapping[str, Any]) -> KeyBox:
    """
    Read a box that was written as an object.

    Raises
    ------
    BadInput
        When it is none, or asks for more memory or passes than are granted.
    """
    try:
        box = KeyBox(**values)
        lengths = [len(bytes.fromhex(one)) for one in (box.public, box.salt, box.nonce, box.locked)]
    except (TypeError, ValueError):
        raise BadInput("key box", "cannot be read; have a new key made") from None
    if lengths != [32, 16, 12, 48]:
        raise BadInput("key box", "cannot be read; have a new key made")
    granted = 8 <= box.memory_kib <= MOST_MEMORY_KIB and 1 <= box.passes <= MOST_PASSES
    if not granted:
        raise BadInput("key box", "asks for more work than is granted; have a new key made")
    return box


def _stretch(pin: str, salt: bytes, memory_kib: int, passes: int) -> bytes:
    return Argon2id(
        salt=salt, length=32, iterations=passes, lanes=1, memory_cost=memory_kib
    ).derive(pin.encode("utf-8"))
