"""As much of ASN.1 DER as a time-stamp needs: read one value after the other, write a few kinds."""

from collections.abc import Iterator
from dataclasses import dataclass

from buttonhole.units import BadInput

INTEGER, OCTETS, NULL, OID, SEQUENCE, SET = 0x02, 0x04, 0x05, 0x06, 0x30, 0x31
BOOLEAN, GENERALIZED_TIME = 0x01, 0x18


@dataclass(frozen=True, slots=True)
class Value:
    """One value: its tag, what it holds, and its whole bytes as they stood."""

    tag: int
    content: bytes
    whole: bytes

    def parts(self) -> list["Value"]:
        """Read what stands inside, one value after the other."""
        return list(_values(self.content))

    def integer(self) -> int:
        """Read a whole number."""
        return int.from_bytes(self.content, "big", signed=True)

    def oid(self) -> str:
        """Read an object identifier as numbers with dots."""
        numbers: list[int] = []
        value = 0
        for byte in self.content:
            value = value << 7 | byte & 0x7F
            if not byte & 0x80:
                numbers.append(value)
                value = 0
        if not numbers:
            raise BadInput("time-stamp", "holds an empty object identifier")
        first = min(numbers[0] // 40, 2)
        return ".".join(map(str, (first, numbers[0] - 40 * first, *numbers[1:])))


def read(data: bytes) -> Value:
    """
    Read one value that fills all the bytes.

    Parameters
    ----------
    data : bytes
        DER.

    Returns
    -------
    Value
        The value.

    Raises
    ------
    BadInput
        When it is cut short, or something stands behind it.
    """
    found = list(_values(data))
    if len(found) != 1:
        raise BadInput("time-stamp", f"holds {len(found)} values where one is due")
    return found[0]


def write(tag: int, *contents: bytes) -> bytes:
    """Write a value of a tag around its contents."""
    content = b"".join(contents)
    size = len(content)
    if size < 0x80:
        return bytes((tag, size)) + content
    length = size.to_bytes((size.bit_length() + 7) // 8, "big")
    return bytes((tag, 0x80 | len(length))) + length + content


def write_oid(dotted: str) -> bytes:
    """Write an object identifier."""
    first, second, *rest = (int(one) for one in dotted.split("."))
    content = b""
    for number in (40 * first + second, *rest):
        groups = [number & 0x7F]
        while number := number >> 7:
            groups.append(number & 0x7F | 0x80)
        content += bytes(reversed(groups))
    return write(OID, content)


def write_integer(number: int) -> bytes:
    """Write a whole number that is not negative."""
    return write(INTEGER, number.to_bytes(number.bit_length() // 8 + 1, "big"))


def _values(data: bytes) -> Iterator[Value]:
    start = 0
    while start < len(data):
        if start + 2 > len(data) or data[start] & 0x1F == 0x1F:
            raise BadInput("time-stamp", "is no DER, or cut short")
        tag, size, at = data[start], data[start + 1], start + 2
        if size == 0x80 or size > 0x84:
            raise BadInput("time-stamp", "holds a length that DER does not allow")
        if size > 0x80:
            count = size & 0x7F
            size = int.from_bytes(data[at : at + count], "big")
            at += count
        if at + size > len(data):
            raise BadInput("time-stamp", "is cut short")
        yield Value(tag, data[at : at + size], data[start : at + size])
        start = at + size
