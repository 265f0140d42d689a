"""What is taken from outside as a photo, and what is left of it: the picture and nothing else.

A file is read part by part. Kept are the parts a picture is made of, byte for byte; where it was
taken, by what and by whom, thumbnails, comments and whatever follows the picture are left out. The
pixels are those the camera wrote; only which way up they go and the focal length are carried over.
What is not a whole JPEG or PNG is refused.

Sources: itu-t-81 (JPEG, order of its parts); iso-15948 (PNG); cipa-dc-008 (EXIF, tags).
"""

import hashlib
import struct
import zlib
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.units import BadInput

MOST_BYTES = 24 * 1024 * 1024
MOST_PIXELS = 64_000_000
LEAST_SIDE, MOST_SIDE = 400, 12_000  # px

PNG_MARK = b"\x89PNG\r\n\x1a\n"
PNG_KEPT = (b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"sRGB", b"gAMA")
ORIENTATION, FOCAL_35, EXIF_TABLE = 0x0112, 0xA405, 0x8769
EXIF_MARK = b"Exif\x00\x00"
FULL_FRAME = 36.0  # mm, longer side of the picture that the told focal length is for


class Kind(StrEnum):
    """What a photo is kept as."""

    JPEG = "jpeg"
    PNG = "png"

    @property
    def media_type(self) -> str:
        """As browsers name it."""
        return f"image/{self.value}"


@dataclass(frozen=True, slots=True)
class Taken:
    """A photo as it is kept.

    ``content``: without anything but the picture. ``sha256`` is its hash, ``received_sha256`` that
    of the file as it came. ``orientation`` 1 to 8 as cameras count. ``focal`` [-]: focal length
    over the longer side, when the file told it. ``left_out``: parts that were not kept.
    """

    content: bytes
    kind: Kind
    width: int  # px
    height: int  # px
    orientation: int
    focal: float | None  # -
    left_out: tuple[str, ...]
    sha256: str
    received_sha256: str


def take(content: bytes) -> Taken:
    """Take a photo from outside.

    Parameters
    ----------
    content : bytes
        The file, whatever it claims to be.

    Returns
    -------
    Taken
        What is kept of it.

    Raises
    ------
    BadInput
        Not a whole JPEG or PNG picture of a usable size; says what it is and what to do.
    """
    if not content:
        raise BadInput("photo", "is empty; choose a photo")
    if len(content) > MOST_BYTES:
        raise BadInput(
            "photo",
            f"has {len(content) / 1048576:.0f} MB; at most {MOST_BYTES // 1048576} MB are taken. "
            "Choose a lower size or quality in the camera's settings",
        )
    if content.startswith(b"\xff\xd8\xff"):
        found = _jpeg(content)
    elif content.startswith(PNG_MARK):
        found = _png(content)
    else:
        raise BadInput("photo", _not_ours(content))
    sides = sorted((found.width, found.height))
    if sides[0] < LEAST_SIDE:
        raise BadInput(
            "photo", f"is {found.width} x {found.height} pixels; send the photo in its full size"
        )
    if sides[1] > MOST_SIDE or found.width * found.height > MOST_PIXELS:
        raise BadInput(
            "photo",
            f"is {found.width} x {found.height} pixels; at most {MOST_PIXELS // 1_000_000} million "
            "are taken",
        )
    return found


def _not_ours(content: bytes) -> str:
    brand = content[4:12]
    if brand[:4] == b"ftyp":
        if brand[4:] in (b"heic", b"heix", b"hevc", b"mif1", b"msf1", b"heim", b"avif"):
            return (
                "is a HEIC or AVIF picture, which is not read here; set the camera to JPEG "
                "('most compatible') and take it again"
            )
        return "is a film; take a single photo as JPEG"
    known = {
        b"GIF8": "is a GIF picture",
        b"RIFF": "is a WebP picture or a film",
        b"%PDF": "is a PDF",
        b"PK\x03\x04": "is an archive",
        b"II*\x00": "is a raw or TIFF picture",
        b"MM\x00*": "is a raw or TIFF picture",
        b"<svg": "is a drawing",
        b"<?xm": "is a drawing or a text",
    }
    said = known.get(content[:4], "is no picture")
    return f"{said}; send a JPEG or PNG photo as the camera makes it"


def _made(
    content: bytes,
    received: bytes,
    kind: Kind,
    size: tuple[int, int],
    told: tuple[int, float | None],
    left_out: list[str],
) -> Taken:
    return Taken(
        content,
        kind,
        size[0],
        size[1],
        told[0],
        told[1],
        tuple(dict.fromkeys(left_out)),
        hashlib.sha256(content).hexdigest(),
        hashlib.sha256(received).hexdigest(),
    )


# --- JPEG --------------------------------------------------------------------------------------

FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
CODED = frozenset({0xC0, 0xC1, 0xC2})  # the ways of coding that cameras use
TABLES = frozenset({0xC4, 0xDB, 0xDD})
APP0, APP1, APP14, APP15, COMMENT = 0xE0, 0xE1, 0xEE, 0xEF, 0xFE
SCAN, END = 0xDA, 0xD9
BROKEN = "is damaged or cut short; take it or send it again"


@dataclass(slots=True)
class _Jpeg:
    """What was read of a JPEG so far."""

    kept: list[bytes]
    left_out: list[str]
    told: tuple[int, float | None] = (1, None)
    size: tuple[int, int] | None = None
    scans: int = 0

    def add(self, marker: int, part: bytes) -> None:
        """Keep a part or leave it out; refuse what no camera writes."""
        body = part[4:]
        if marker in FRAMES:
            if self.size is not None or marker not in CODED or len(body) < 6:
                raise BadInput("photo", "is a JPEG of an unusual kind; take it with a camera")
            self.size = (int.from_bytes(body[3:5], "big"), int.from_bytes(body[1:3], "big"))
            self.kept.append(part)
        elif marker in TABLES or marker == APP14:
            self.kept.append(part)
        elif marker == SCAN:
            if self.size is None:
                raise BadInput("photo", BROKEN)
            self.kept.append(part)
            self.scans += 1
        elif APP0 <= marker <= APP15 or marker == COMMENT:
            self._note(marker, part, body)
        else:
            raise BadInput("photo", BROKEN)

    def _note(self, marker: int, part: bytes, body: bytes) -> None:
        if marker == APP1 and body.startswith(EXIF_MARK) and self.told == (1, None):
            self.told = _told(body[len(EXIF_MARK) :])
            if part == _telling(*self.told):  # our own, from an earlier time
                return
        self.left_out.append(_name(marker, body))


def _jpeg(content: bytes) -> Taken:
    read = _Jpeg([b"\xff\xd8"], [])
    at = 2
    while True:
        marker, at = _next_marker(content, at)
        if marker == END:
            break
        length = int.from_bytes(content[at : at + 2], "big")
        if length < 2 or at + length > len(content):
            raise BadInput("photo", BROKEN)
        read.add(marker, b"\xff" + bytes((marker,)) + content[at : at + length])
        at += length
        if marker == SCAN:
            end = _end_of_scan(content, at)
            read.kept.append(content[at:end])
            at = end
    if read.size is None or read.scans == 0:
        raise BadInput("photo", BROKEN)
    if content[at:].strip(b"\x00"):
        read.left_out.append("what follows the picture")
    read.kept.append(b"\xff\xd9")
    if read.told != (1, None):
        read.kept.insert(1, _telling(*read.told))
    kept = b"".join(read.kept)
    return _made(kept, content, Kind.JPEG, read.size, read.told, read.left_out)


def _next_marker(content: bytes, at: int) -> tuple[int, int]:
    """The next marker and where its part begins."""
    if at >= len(content) or content[at] != 0xFF:
        raise BadInput("photo", BROKEN)
    while at < len(content) and content[at] == 0xFF:
        at += 1
    if at >= len(content):
        raise BadInput("photo", BROKEN)
    return content[at], at + 1


def _end_of_scan(content: bytes, at: int) -> int:
    """Where coded data ends: at a marker that is no restart and no stuffed byte."""
    while True:
        at = content.find(b"\xff", at)
        if at < 0 or at + 1 >= len(content):
            raise BadInput("photo", BROKEN)
        after = content[at + 1]
        if after == 0xFF:
            at += 1
        elif after == 0x00 or 0xD0 <= after <= 0xD7:
            at += 2
        else:
            return at


def _name(marker: int, body: bytes) -> str:
    if marker == APP1 and body.startswith(EXIF_MARK):
        return "place, time, device, thumbnail (EXIF)"
    if marker == COMMENT:
        return "comment"
    if marker == APP0:
        return "density (JFIF)"
    return "notes of the camera or of a program"


def _told(table: bytes) -> tuple[int, float | None]:
    """Which way up and the focal length; whatever is wrong with the table, nothing is told."""
    try:
        order = {b"II": "<", b"MM": ">"}[table[:2]]
        entries = _entries(table, struct.unpack_from(order + "I", table, 4)[0], order)
        orientation = entries.get(ORIENTATION, 1)
        inner = _entries(table, entries[EXIF_TABLE], order) if EXIF_TABLE in entries else {}
    except (KeyError, struct.error):
        return 1, None
    focal = inner.get(FOCAL_35, 0)
    return (
        orientation if 1 <= orientation <= 8 else 1,
        # of a picture of 36 mm by 24 mm; only what lenses of telephones and cameras have
        focal / FULL_FRAME if 13 <= focal <= 200 else None,
    )


def _telling(orientation: int, focal: float | None) -> bytes:
    """A part that says which way up and the focal length, and nothing else."""
    first = 8
    second = first + 2 + 2 * 12 + 4
    length = 0 if focal is None else round(focal * FULL_FRAME)
    table = b"MM\x00*" + struct.pack(">I", first)
    table += struct.pack(">HHHIHH", 2, ORIENTATION, 3, 1, orientation, 0)
    table += struct.pack(">HHII", EXIF_TABLE, 4, 1, second) + bytes(4)
    table += struct.pack(">HHHIHH", 1, FOCAL_35, 3, 1, length, 0) + bytes(4)
    body = EXIF_MARK + table
    return b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body


def _entries(table: bytes, at: int, order: str) -> dict[int, int]:
    """Tags of one directory whose value is a short or a long number."""
    (count,) = struct.unpack_from(order + "H", table, at)
    found = {}
    for k in range(min(count, 200)):
        tag, form, many = struct.unpack_from(order + "HHI", table, at + 2 + 12 * k)
        if many == 1 and form in (3, 4):
            value = struct.unpack_from(order + ("H" if form == 3 else "I"), table, at + 10 + 12 * k)
            found[tag] = value[0]
    return found


# --- PNG ---------------------------------------------------------------------------------------


def _png(content: bytes) -> Taken:
    kept, left_out = [PNG_MARK], []
    size: tuple[int, int] | None = None
    at, data, ended = len(PNG_MARK), False, False
    while not ended:
        if at + 12 > len(content):
            raise BadInput("photo", BROKEN)
        length = int.from_bytes(content[at : at + 4], "big")
        name = content[at + 4 : at + 8]
        end = at + 12 + length
        if end > len(content):
            raise BadInput("photo", BROKEN)
        body = content[at + 8 : at + 8 + length]
        if zlib.crc32(name + body) != int.from_bytes(content[end - 4 : end], "big"):
            raise BadInput("photo", BROKEN)
        if (name == b"IHDR") != (size is None):
            raise BadInput("photo", BROKEN)
        if name == b"IHDR":
            if length != 13:
                raise BadInput("photo", BROKEN)
            size = (int.from_bytes(body[:4], "big"), int.from_bytes(body[4:8], "big"))
        if name in PNG_KEPT:
            kept.append(content[at:end])
        elif name[:1].isupper():
            raise BadInput("photo", "is a PNG of an unusual kind; take a JPEG photo")
        else:
            left_out.append("notes of the camera or of a program")
        data = data or name == b"IDAT"
        ended = name == b"IEND"
        at = end
    if size is None or not data:
        raise BadInput("photo", BROKEN)
    if content[at:].strip(b"\x00"):
        left_out.append("what follows the picture")
    return _made(b"".join(kept), content, Kind.PNG, size, (1, None), left_out)
