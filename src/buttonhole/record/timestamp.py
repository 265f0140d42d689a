"""A time-stamp after RFC 3161: an authority outside says that a head existed at a moment.

Nothing here goes online. `request` makes the file that is sent to an authority by whatever means,
`read_response` checks the file that comes back.
"""

import contextlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import new as new_hash
from hashlib import sha256

from cryptography import x509
from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec, ed25519, padding, rsa
from cryptography.x509.oid import ExtendedKeyUsageOID

from buttonhole.record import der
from buttonhole.units import BadInput

SIGNED_DATA = "1.2.840.113549.1.7.2"
TST_INFO = "1.2.840.113549.1.9.16.1.4"
MESSAGE_DIGEST = "1.2.840.113549.1.9.4"
CONTENT_TYPE = "1.2.840.113549.1.9.3"
SHA256 = "2.16.840.1.101.3.4.2.1"
HASHES = {
    SHA256: "sha256",
    "2.16.840.1.101.3.4.2.2": "sha384",
    "2.16.840.1.101.3.4.2.3": "sha512",
}
LARGEST = 256 * 1024  # bytes; a response with certificates has a few thousand
FIRST = 0xA0  # the tag of a first optional part
UNREADABLE = (
    ValueError,
    TypeError,
    x509.InvalidVersion,
    x509.DuplicateExtension,
    x509.UnsupportedGeneralNameType,
)


@dataclass(frozen=True, slots=True)
class TimeStamp:
    """What an authority said: when, under which number, and who; and what could not be checked."""

    at: datetime
    serial: int
    authority: str
    policy: str
    unchecked: tuple[str, ...]


def request(message: bytes, nonce: bytes) -> bytes:
    """
    Make a request for a time-stamp.

    Parameters
    ----------
    message : bytes
        What is to be stamped; only its SHA-256 leaves the house.
    nonce : bytes
        Chance, so that an old answer is no answer.

    Returns
    -------
    bytes
        The request, DER; it is sent as application/timestamp-query.

    Sources
    -------
    - rfc-3161: section 2.4.1.
    """
    return der.write(
        der.SEQUENCE,
        der.write_integer(1),
        _imprint(message),
        der.write_integer(int.from_bytes(nonce, "big")),
        der.write(der.BOOLEAN, b"\xff"),  # the certificate is to come with it
    )


def read_response(
    data: bytes, message: bytes, trusted: Sequence[x509.Certificate] = ()
) -> TimeStamp:
    """
    Check the answer of an authority.

    Parameters
    ----------
    data : bytes
        The response or the bare token, DER.
    message : bytes
        What was to be stamped.
    trusted : sequence of Certificate, optional
        Of authorities the reader trusts; without one it is only said who signed.

    Returns
    -------
    TimeStamp
        What it says.

    Raises
    ------
    BadInput
        When it was refused, is of something else, or its signature does not hold.

    Sources
    -------
    - rfc-3161: sections 2.4.2 and 2.2.
    - rfc-5652: section 5.4, what the signature covers.
    """
    if len(data) > LARGEST:
        raise BadInput("time-stamp", f"has {len(data)} bytes; at most {LARGEST} are read")
    try:
        content, certificates, signer = _opened(_token(der.read(data)))
        info = der.read(content).parts()
        if info[2].whole != _imprint(message):
            raise BadInput("time-stamp", "is not of this head, or not by SHA-256")
        certificate = _certificate_of(signer, certificates)
        _check_signature(signer, content, certificate)
        at = _moment(info[4].content.decode("ascii"))
        return TimeStamp(
            at=at,
            serial=info[3].integer(),
            authority=certificate.subject.rfc4514_string(),
            policy=info[1].oid(),
            unchecked=_unchecked(certificate, certificates, trusted, at),
        )
    except (IndexError, OverflowError, UnsupportedAlgorithm, *UNREADABLE) as fault:
        if isinstance(fault, BadInput):
            raise
        raise BadInput("time-stamp", f"cannot be read: {fault}") from None


def _imprint(message: bytes) -> bytes:
    algorithm = der.write(der.SEQUENCE, der.write_oid(SHA256), der.write(der.NULL))
    return der.write(der.SEQUENCE, algorithm, der.write(der.OCTETS, sha256(message).digest()))


def _token(value: der.Value) -> der.Value:
    parts = value.parts()
    if parts[0].tag == der.OID:
        return value
    status = parts[0].parts()[0].integer()
    if status not in (0, 1):
        raise BadInput("time-stamp", f"was refused by the authority, status {status}")
    return parts[1]


def _opened(token: der.Value) -> tuple[bytes, list[x509.Certificate], list[der.Value]]:
    kind, inside = token.parts()
    if kind.oid() != SIGNED_DATA:
        raise BadInput("time-stamp", "is no signed message")
    parts = inside.parts()[0].parts()
    content_type, content = parts[2].parts()
    if content_type.oid() != TST_INFO:
        raise BadInput("time-stamp", "is a signed message, but no time-stamp")
    certificates = []
    for part in parts[3:]:
        if part.tag == FIRST:
            for one in part.parts():
                with contextlib.suppress(*UNREADABLE):
                    certificates.append(x509.load_der_x509_certificate(one.whole))
    signers = parts[-1].parts()
    if len(signers) != 1:
        raise BadInput("time-stamp", f"has {len(signers)} signatures where one is due")
    return content.parts()[0].content, certificates, signers[0].parts()


def _certificate_of(
    signer: list[der.Value], certificates: Sequence[x509.Certificate]
) -> x509.Certificate:
    issuer, serial = signer[1].parts()
    for one in certificates:
        if one.serial_number == serial.integer() and one.issuer.public_bytes() == issuer.whole:
            return one
    raise BadInput("time-stamp", "came without the certificate of who signed it; ask for it anew")


def _check_signature(
    signer: list[der.Value], content: bytes, certificate: x509.Certificate
) -> None:
    digest = HASHES.get(signer[2].parts()[0].oid())
    if digest is None or signer[3].tag != FIRST:
        raise BadInput("time-stamp", "is signed in a way that is not known here")
    said = {one.parts()[0].oid(): one.parts()[1].parts()[0] for one in signer[3].parts()}
    if CONTENT_TYPE not in said or said[CONTENT_TYPE].oid() != TST_INFO:
        raise BadInput("time-stamp", "is signed as something else")
    if (
        MESSAGE_DIGEST not in said
        or said[MESSAGE_DIGEST].content != new_hash(digest, content).digest()
    ):
        raise BadInput("time-stamp", "was altered: what was signed has another hash")
    signed = bytes((der.SET,)) + signer[3].whole[1:]  # RFC 5652: signed as the set it stands for
    key, signature = certificate.public_key(), signer[5].content
    algorithm = {"sha256": hashes.SHA256(), "sha384": hashes.SHA384(), "sha512": hashes.SHA512()}
    try:
        if isinstance(key, rsa.RSAPublicKey):
            key.verify(signature, signed, padding.PKCS1v15(), algorithm[digest])
        elif isinstance(key, ec.EllipticCurvePublicKey):
            key.verify(signature, signed, ec.ECDSA(algorithm[digest]))
        elif isinstance(key, ed25519.Ed25519PublicKey):
            key.verify(signature, signed)
        else:
            raise BadInput("time-stamp", "is signed by a kind of key that is not known here")
    except InvalidSignature:
        raise BadInput("time-stamp", "has a signature that does not hold") from None


def _unchecked(
    certificate: x509.Certificate,
    certificates: Sequence[x509.Certificate],
    trusted: Sequence[x509.Certificate],
    at: datetime,
) -> tuple[str, ...]:
    found = []
    try:
        usage = certificate.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
        if ExtendedKeyUsageOID.TIME_STAMPING not in usage:
            raise BadInput("time-stamp", "is signed by a key that is not for time-stamps")
    except x509.ExtensionNotFound:
        raise BadInput("time-stamp", "is signed by a key that is not for time-stamps") from None
    if not certificate.not_valid_before_utc <= at <= certificate.not_valid_after_utc:
        raise BadInput("time-stamp", "was made when the key of the authority was not valid")
    if not trusted:
        found.append("whether the authority is one you trust: give its certificate")
    elif not _leads_to(certificate, certificates, trusted):
        raise BadInput("time-stamp", "does not lead to an authority you trust")
    found.append("whether the authority has taken its certificate back since")
    return tuple(found)


def _leads_to(
    certificate: x509.Certificate,
    between: Sequence[x509.Certificate],
    trusted: Sequence[x509.Certificate],
) -> bool:
    here = certificate
    for _ in range(8):  # longer chains are none of time-stamps
        if here in trusted or any(_issued(here, one) for one in trusted):
            return True
        above = [one for one in between if one != here and _issued(here, one)]
        if not above:
            return False
        here = above[0]
    return False


def _issued(certificate: x509.Certificate, issuer: x509.Certificate) -> bool:
    try:
        certificate.verify_directly_issued_by(issuer)
    except (ValueError, TypeError, InvalidSignature):
        return False
    return True


def _moment(text: str) -> datetime:
    form = "%Y%m%d%H%M%S.%fZ" if "." in text else "%Y%m%d%H%M%SZ"
    return datetime.strptime(text, form).replace(tzinfo=UTC)
