"""Ed25519 signatures: of a device under the record's head, of a person under an event.

Both name keys by their public half, so a signature says which key made it; whose key that is stands
in the record, in the event that introduced the key.
"""

from dataclasses import dataclass
from typing import Final

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import (
    Ed25519PrivateKey,
    Ed25519PublicKey,
)

from buttonhole.record.event import moment
from buttonhole.record.identity import Randomness
from buttonhole.units import BadInput

SEED_BYTES: Final = 32
# What is signed begins with what it is, so that a signature for one thing fits no other.
EVENT_CONTEXT: Final = b"buttonhole event signature 1\n"


@dataclass(frozen=True, slots=True)
class SigningKey:
    """A private key, as the 32 bytes it is made from. Keep it where nobody else reads."""

    seed: bytes

    def __post_init__(self) -> None:
        if len(self.seed) != SEED_BYTES:
            raise BadInput("key", f"has {len(self.seed)} bytes; a signing key has {SEED_BYTES}")

    def __repr__(self) -> str:
        """Name it without showing it."""
        return f"SigningKey(public={self.public})"

    @property
    def public(self) -> str:
        """The public half, 64 hexadecimal digits."""
        return self._key().public_key().public_bytes_raw().hex()

    def sign(self, message: bytes) -> str:
        """
        Sign a message.

        Parameters
        ----------
        message : bytes
            What is signed.

        Returns
        -------
        str
            128 hexadecimal digits.

        Sources
        -------
        - rfc-8032: Ed25519.
        """
        return self._key().sign(message).hex()

    def _key(self) -> Ed25519PrivateKey:
        return Ed25519PrivateKey.from_private_bytes(self.seed)


def new_key(randomness: Randomness) -> SigningKey:
    """Make a key out of chance, which must be the system's own."""
    return SigningKey(randomness(SEED_BYTES))


def is_signed(public: str, message: bytes, signature: str) -> bool:
    """
    Check a signature.

    Parameters
    ----------
    public : str
        The public key, hexadecimal.
    message : bytes
        What was signed.
    signature : str
        The signature, hexadecimal.

    Returns
    -------
    bool
        False for a signature of another key or message, and for what is none.
    """
    try:
        key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(public))
        key.verify(bytes.fromhex(signature), message)
    except (InvalidSignature, ValueError):
        return False
    return True


@dataclass(frozen=True, slots=True)
class TreeHead:
    """The record at one moment: how many events, and the Merkle root over their hashes.

    `at` is UTC text as in events; `root` is hexadecimal.
    """

    size: int
    root: str
    at: str

    def message(self) -> bytes:
        """
        Give the bytes that are signed.

        Returns
        -------
        bytes
            Version 1, tree hash, milliseconds since 1970, size, root.

        Sources
        -------
        - rfc-6962: section 3.5, TreeHeadSignature. The standard signs it by ECDSA or RSA; here it
          is Ed25519.
        """
        milliseconds = int(moment(self.at).timestamp() * 1000)
        return (
            b"\x00\x01"
            + milliseconds.to_bytes(8, "big")
            + self.size.to_bytes(8, "big")
            + bytes.fromhex(self.root)
        )


def event_message(event_hash: str) -> bytes:
    """Give the bytes a person signs for an event."""
    return EVENT_CONTEXT + event_hash.encode("ascii")
