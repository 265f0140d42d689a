"""What lies where in an archive, and how large it may be."""

import re
from importlib.resources import files
from typing import Final

FORMAT: Final = "buttonhole archive 1"
MANIFEST: Final = "manifest.json"
SIGNATURE: Final = "signature.json"
EVENTS: Final = "events.jsonl"
NAMES: Final = "names.json"
README: Final = "README.txt"
VERIFIER: Final = "verify.py"
CONTEXT: Final = "buttonhole archive manifest 1\n"

FOLDER: Final = "files/"
ENDINGS: Final = {
    "application/pdf": "pdf",
    "image/jpeg": "jpg",
    "image/png": "png",
    "image/svg+xml": "svg",
    "application/timestamp-reply": "tsr",
    "text/csv": "csv",
}
FILE_NAME: Final = re.compile(r"files/[0-9a-f]{64}\.[a-z0-9]{1,8}")

MOST_ENTRIES: Final = 20_000
LARGEST_TEXT: Final = 128 * 1024 * 1024  # bytes, of events, names and manifest
LARGEST_FILE: Final = 256 * 1024 * 1024  # bytes, of one photo or paper
LARGEST_ARCHIVE: Final = 2 * 1024 * 1024 * 1024  # bytes, of all together


def verifier() -> bytes:
    """Give the program that checks an archive without this one."""
    return files("buttonhole.record.archive").joinpath("verify.py.txt").read_bytes()


def file_name(sha256: str, media: str) -> str:
    """Say under which name a file of the record lies in an archive."""
    return f"{FOLDER}{sha256}.{ENDINGS.get(media, 'bin')}"


def readme(vin: str, titles: list[str], public: str) -> bytes:
    """Write what a reader without the program has to know."""
    return f"""THE WELDS OF ONE VEHICLE

Vehicle: {vin or "no identification number was given"}
Jobs: {"; ".join(titles)}

This file holds what a body shop wrote down about the welds of this vehicle, as it was written.

{EVENTS}     one line for each entry, the oldest first. "type" says what happened, "at" when
                (UTC), "actor" who says so, "payload" the figures: metres, seconds, amperes,
                newtons, degrees Celsius, unless a name says otherwise.
{NAMES}      the names of people. In the entries a name is a long code; look the code up there.
                A code that is not there belongs to a name that was withheld.
{FOLDER}          photos and printed papers. Entries name them by their SHA-256, which is the
                name of the file.
{MANIFEST}   the list of everything, with hashes, the place of each entry in the record of the
                shop, and the path from it to the root of the Merkle tree (RFC 6962) over that
                record. "head" is the root with the signature (Ed25519, RFC 8032) of the device.
{SIGNATURE}  the signature of the device under {MANIFEST}: under "context" followed by its bytes.
{VERIFIER}       checks all of it: python {VERIFIER}. It needs Python and the package
                "cryptography", and nothing of the program that wrote this file.

The device that signed has this public key. Compare it with a paper of the shop, or ask there:
{public}

The hash of an entry is the SHA-256 of its line without the part "hash". The text is canonical JSON
(RFC 8785), so it can be made again from the values in any language.

A prediction in an entry is an estimate; what was torn and measured decides. A criterion stands
there as it was in force that day. The procedure of the vehicle's maker prevails.
""".encode()
