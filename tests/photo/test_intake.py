"""What is taken in as a photo, what is left out of it, and what is refused."""

import contextlib
import io
import struct

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageOps

from buttonhole.photo.intake import BROKEN, MOST_BYTES, Kind, take
from buttonhole.photo.picture import brightness, encoded
from buttonhole.units import BadInput

RANDOM = np.random.default_rng(5)
LEVELS = np.kron(RANDOM.integers(0, 256, (44, 52)), np.ones((10, 10))).astype(np.uint8)
PLACE = "PLACE-51.5N-0.1W"


def jpeg(**more: object) -> bytes:
    out = io.BytesIO()
    Image.merge("RGB", [Image.fromarray(LEVELS)] * 3).save(out, "JPEG", quality=90, **more)
    return out.getvalue()


def png(**more: object) -> bytes:
    out = io.BytesIO()
    Image.fromarray(LEVELS).save(out, "PNG", **more)
    return out.getvalue()


def told(orientation: int = 6, focal: int = 26) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = PLACE
    exif.get_ifd(0x8825)[2] = (51.0, 30.0, 0.0)
    exif.get_ifd(0x8825)[29] = PLACE
    exif.get_ifd(0x8769)[0xA405] = focal
    return exif.tobytes()


def test_where_and_by_whom_is_left_out_and_the_pixels_stay() -> None:
    received = jpeg(exif=told(), comment=PLACE.encode())
    assert received.count(PLACE.encode()) >= 3
    taken = take(received)
    assert PLACE.encode() not in taken.content
    with Image.open(io.BytesIO(taken.content)) as kept, Image.open(io.BytesIO(received)) as was:
        assert dict(kept.getexif().get_ifd(0x8825)) == {}
        assert np.array_equal(np.asarray(kept), np.asarray(was))
    assert any("EXIF" in one for one in taken.left_out)
    assert taken.sha256 != taken.received_sha256
    assert taken.focal == pytest.approx(26 / 36)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_photo_is_read_upright_as_the_picture_library_has_it(orientation: int) -> None:
    received = jpeg(exif=told(orientation))
    with Image.open(io.BytesIO(received)) as was:
        upright = np.asarray(ImageOps.exif_transpose(was).convert("L"))
    assert np.array_equal(brightness(take(received)), upright)


@pytest.mark.parametrize("received", [jpeg(), jpeg(exif=told()), jpeg(progressive=True), png()])
def test_taken_in_again_it_is_the_same(received: bytes) -> None:
    once = take(received)
    again = take(once.content)
    assert again.content == once.content
    assert (again.orientation, again.focal) == (once.orientation, once.focal)
    assert again.left_out == ()


def test_what_follows_the_picture_is_left_out() -> None:
    script = b"<script>alert(1)</script>PK\x03\x04"
    for received in (jpeg(), png()):
        taken = take(received + script)
        assert script not in taken.content
        assert "what follows the picture" in taken.left_out


def test_texts_of_a_png_are_left_out() -> None:
    from PIL.PngImagePlugin import PngInfo

    notes = PngInfo()
    notes.add_text("Comment", PLACE)
    received = png(pnginfo=notes)
    assert PLACE.encode() in received
    taken = take(received)
    assert PLACE.encode() not in taken.content
    assert taken.kind is Kind.PNG
    assert np.array_equal(brightness(taken), LEVELS)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "empty"),
        (b"\x00\x00\x00\x18ftypheic" + bytes(100), "HEIC"),
        (b"\x00\x00\x00\x18ftypisom" + bytes(100), "film"),
        (b"GIF89a" + bytes(100), "GIF"),
        (b"%PDF-1.7", "PDF"),
        (b"<svg onload='x()'/>", "drawing"),
        (b"PK\x03\x04" + bytes(50), "archive"),
        (b"hello", "no picture"),
        (b"\xff\xd8\xff" + bytes(40), "damaged"),
        (jpeg()[:-200], "damaged"),
        (png()[:-30], "damaged"),
        (jpeg()[:3], "damaged"),
        (bytes(MOST_BYTES + 1), "MB"),
    ],
)
def test_other_files_are_refused_with_a_word_on_what_they_are(content: bytes, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        take(content)


def _chunk(name: bytes, body: bytes) -> bytes:
    import zlib

    check = struct.pack(">I", zlib.crc32(name + body))
    return struct.pack(">I", len(body)) + name + body + check


def test_a_bomb_is_refused_by_its_size_before_it_is_opened() -> None:
    head = _chunk(b"IHDR", struct.pack(">IIBBBBB", 60_000, 60_000, 8, 0, 0, 0, 0))
    bomb = b"\x89PNG\r\n\x1a\n" + head + _chunk(b"IDAT", bytes(50)) + _chunk(b"IEND", b"")
    with pytest.raises(BadInput, match="pixels"):
        take(bomb)
    big = bytearray(jpeg())
    at = big.index(b"\xff\xc0") + 5
    big[at : at + 4] = struct.pack(">HH", 65_000, 65_000)
    with pytest.raises(BadInput, match="pixels"):
        take(bytes(big))


def test_a_png_of_fewer_pixels_than_it_says_is_damaged() -> None:
    head = _chunk(b"IHDR", struct.pack(">IIBBBBB", 900, 900, 8, 0, 0, 0, 0))
    short = b"\x89PNG\r\n\x1a\n" + head + _chunk(b"IDAT", b"x\x9c\x03\x00\x00\x00\x00\x01")
    with pytest.raises(BadInput, match="damaged"):
        brightness(take(short + _chunk(b"IEND", b"")))


def test_a_picture_of_nothing_is_too_small() -> None:
    out = io.BytesIO()
    Image.new("L", (100, 100)).save(out, "PNG")
    with pytest.raises(BadInput, match="full size"):
        take(out.getvalue())


WHOLE = (jpeg(exif=told()), png())


@settings(max_examples=150, deadline=None)
@given(
    which=st.integers(0, 1),
    at=st.floats(0.0, 1.0),
    put=st.binary(min_size=0, max_size=12),
    gone=st.integers(0, 40),
)
def test_a_damaged_photo_is_read_or_refused_and_breaks_nothing(
    which: int, at: float, put: bytes, gone: int
) -> None:
    whole = WHOLE[which]
    place = int(at * len(whole))
    broken = whole[:place] + put + whole[place + gone :]
    with contextlib.suppress(BadInput):  # anything else is a fault
        assert brightness(take(broken)).ndim == 2


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=400))
def test_any_bytes_are_refused(content: bytes) -> None:
    for start in (b"", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"):
        with pytest.raises(BadInput):
            take(start + content)


def test_what_is_shown_is_made_anew() -> None:
    shown = encoded(LEVELS)
    assert shown == encoded(LEVELS)
    with Image.open(io.BytesIO(shown)) as image:
        assert image.format == "JPEG"
        assert dict(image.getexif()) == {}


def test_the_words_for_a_damaged_file_say_what_to_do() -> None:
    assert "again" in BROKEN
