"""A time-stamp made by another program, for the test, by an authority made for the test."""

import base64
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cryptography import x509

from buttonhole.record import der
from buttonhole.record.timestamp import read_response, request
from buttonhole.units import BadInput

HERE = Path(__file__).parent
ANSWER = base64.b64decode((HERE / "time_stamp.b64").read_text("ascii"))
ROOT = x509.load_pem_x509_certificate((HERE / "time_stamp_root.pem").read_bytes())
MESSAGE = b"a head"


def test_it_says_when_and_who_and_what_was_not_checked() -> None:
    found = read_response(ANSWER, MESSAGE)
    assert found.at == datetime(2026, 11, 25, 17, 55, 24, tzinfo=UTC)
    assert found.authority == "CN=Trial time-stamp authority"
    assert any("trust" in one for one in found.unchecked)
    assert not any("trust" in one for one in read_response(ANSWER, MESSAGE, [ROOT]).unchecked)


def test_it_is_of_this_message_alone() -> None:
    with pytest.raises(BadInput, match="not of this head"):
        read_response(ANSWER, b"another head")


def test_an_authority_that_is_not_trusted_is_refused() -> None:
    other = der.read(ANSWER).parts()[1].parts()[1].parts()[0].parts()[3].parts()[0].whole
    stranger = x509.load_der_x509_certificate(other)
    assert read_response(ANSWER, MESSAGE, [stranger]).serial == 2  # the signer itself
    from datetime import timedelta

    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    name = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, "Another root")])
    key = Ed25519PrivateKey.from_private_bytes(b"1" * 32)
    begun = datetime(2026, 1, 1, tzinfo=UTC)
    root = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(7)
        .not_valid_before(begun)
        .not_valid_after(begun + timedelta(days=9999))
        .sign(key, None)
    )
    with pytest.raises(BadInput, match="trust"):
        read_response(ANSWER, MESSAGE, [root])


def test_no_changed_byte_goes_through() -> None:
    """Every byte is covered by a hash, a signature or the form, except a few that say nothing."""
    slips = []
    for place in range(len(ANSWER)):
        altered = bytearray(ANSWER)
        altered[place] ^= 0x01
        try:
            found = read_response(bytes(altered), MESSAGE, [ROOT])
        except BadInput:
            continue
        slips.append((place, found))
    true = read_response(ANSWER, MESSAGE, [ROOT])
    # What may slip: frames, version numbers and names of algorithms that the reader does not use.
    assert len(slips) < 60
    # What the authority said stands in these bytes of the answer, and none of them may.
    assert not any(71 <= place <= 167 for place, _ in slips)
    assert all((one.at, one.serial, one.authority) == _said(true) for _, one in slips)


def _said(found: object) -> tuple[object, ...]:
    return (found.at, found.serial, found.authority)  # type: ignore[attr-defined] # a TimeStamp


@pytest.mark.parametrize("size", [0, 1, 9, 100, 900])
def test_one_that_is_cut_short_is_refused(size: int) -> None:
    with pytest.raises(BadInput):
        read_response(ANSWER[:size], MESSAGE)


def test_the_request_is_what_the_standard_asks_for() -> None:
    parts = der.read(request(MESSAGE, b"\x80" + b"1" * 7)).parts()
    assert parts[0].integer() == 1
    assert len(parts[1].parts()[1].content) == 32
    assert parts[2].integer() > 0
    assert parts[3].content == b"\xff"


def test_a_refusal_of_the_authority_is_told() -> None:
    status = der.write(der.SEQUENCE, der.write(der.SEQUENCE, der.write_integer(2)))
    with pytest.raises(BadInput, match="refused by the authority"):
        read_response(status, MESSAGE)


def test_object_identifiers_go_there_and_back() -> None:
    for dotted in ("1.2.840.113549.1.7.2", "2.16.840.1.101.3.4.2.1", "0.9.1"):
        assert der.read(der.write_oid(dotted)).oid() == dotted
