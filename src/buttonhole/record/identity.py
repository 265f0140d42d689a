"""Names for things in the record: they sort by time and cannot be guessed or meet by chance."""

from collections.abc import Callable
from datetime import datetime

Randomness = Callable[[int], bytes]
"""Gives so many random bytes; `os.urandom` at the border, a seeded source in tests."""


def new_id(now: datetime, randomness: Randomness) -> str:
    """
    Make a version 7 UUID: 48 bits of time, 74 bits of chance.

    Parameters
    ----------
    now : datetime
        The moment, with its time zone.
    randomness : Callable[[int], bytes]
        Source of chance.

    Returns
    -------
    str
        The name in the usual 8-4-4-4-12 spelling.

    Sources
    -------
    - rfc-9562: section 5.7.
    """
    milliseconds = int(now.timestamp() * 1000) & ((1 << 48) - 1)
    chance = int.from_bytes(randomness(10), "big")
    value = milliseconds << 80
    value |= 0x7 << 76
    value |= ((chance >> 68) & 0xFFF) << 64
    value |= 0b10 << 62
    value |= chance & ((1 << 62) - 1)
    digits = f"{value:032x}"
    return f"{digits[:8]}-{digits[8:12]}-{digits[12:16]}-{digits[16:20]}-{digits[20:]}"
