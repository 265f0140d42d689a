"""``buttonhole record``: keys, signatures and witnesses."""

import platform
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import ByOption, RecordOption, desk_at, reading, record_path
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.record.device import Device
    from buttonhole.record.store import EventStore

DeviceOption = Annotated[
    Path | None,
    typer.Option(
        "--device-key",
        metavar="FILE",
        envvar="BUTTONHOLE_DEVICE_KEY",
        help=_("Key of this device; beside the record unless you say where, made the first time."),
    ),
]
PinOption = Annotated[
    str | None,
    typer.Option("--pin", envvar="BUTTONHOLE_PIN", help=_("Your PIN; asked for if left out.")),
]


def sign(
    by: ByOption,
    request: Annotated[
        Path | None,
        typer.Option("--stamp-request", help=_("Write a request for a time-stamp (RFC 3161).")),
    ] = None,
    device: DeviceOption = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Sign the record as it is now, by the key of this device."""
    from buttonhole.desk.sign_head import sign_head
    from buttonhole.desk.witness import stamp_request

    if request is not None:
        new_file(request)
    with desk_at(record, by) as desk:
        signed = sign_head(desk, cast("EventStore", desk.store), device_of(record, device))
        if request is not None:
            request.write_bytes(stamp_request(desk, signed))
    told = {
        "events": signed.head.size,
        "root": signed.head.root,
        "at": signed.head.at,
        "public_key": signed.public,
        "signature": signed.signature,
    }
    if json:
        say.give_json(told)
        return
    say.give_lines(
        [
            _("Signed: {} events.").format(signed.head.size),
            _("Merkle root: {}").format(signed.head.root),
            _("Key of this device: {}").format(signed.public),
        ]
    )


def key(
    by: ByOption, pin: PinOption = None, record: RecordOption = None, json: JsonOption = False
) -> None:
    """Make your signing key, locked by a PIN that only you know."""
    from buttonhole.desk.sign_entry import make_key

    with desk_at(record, by) as desk:
        public = make_key(desk, cast("EventStore", desk.store), _pin(pin, twice=True))
    if json:
        say.give_json({"person": by, "public_key": public})
        return
    say.give_lines([_("Made. Your key: {}").format(public)])


def sign_entry(
    entry: Annotated[str, typer.Argument(metavar="ENTRY", help=_("Id, as `record show --json`."))],
    by: ByOption,
    pin: PinOption = None,
    meaning: Annotated[
        str, typer.Option(help=_("What you say: written, checked, witnessed or approved."))
    ] = "written",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Sign an entry in person."""
    from buttonhole.desk.sign_entry import SignEntry
    from buttonhole.desk.sign_entry import sign_entry as signing

    with desk_at(record, by) as desk:
        store = cast("EventStore", desk.store)
        event = signing(desk, store, SignEntry(entry, _pin(pin), meaning))
    if json:
        keys = ("entry", "entry_hash", "meaning", "public", "signature")
        say.give_json({"id": event.id, **{one: event.payload[one] for one in keys}})
        return
    say.give_lines([_("Signed.")])


def witness(
    code: Annotated[
        str | None,
        typer.Argument(metavar="CODE", help=_("What a printed code says; left out, one is made.")),
    ] = None,
    picture: Annotated[
        Path | None, typer.Option(help=_("Write the code as a picture, SVG."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Hold a printed code against the record, or make one to be printed and kept elsewhere."""
    from buttonhole.desk.witness import check_code, code_picture, head_code

    with reading(record) as desk:
        store = cast("EventStore", desk.store)
        if code is None:
            words = head_code(store)
            if picture is not None:
                new_file(picture)
                picture.write_bytes(code_picture(words))
            if json:
                say.give_json({"code": words})
            else:
                say.give_lines([words])
            return
        found = check_code(store, code)
    if json:
        say.give_json({"agrees": found.agrees, "found": found.words})
    if not found.agrees:
        raise BadInput(str(record_path(record)), found.words)
    if not json:
        say.give_lines([found.words[0].upper() + found.words[1:] + "."])


def stamp(
    answer: Annotated[Path, typer.Argument(metavar="FILE", help=_("What the authority sent."))],
    by: ByOption,
    trust: Annotated[
        Path | None, typer.Option(help=_("Certificates of authorities you trust, PEM."))
    ] = None,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Take in a time-stamp (RFC 3161) of a signed head; nothing here goes online."""
    from buttonhole.desk.witness import certificates, take_stamp

    trusted = certificates(trust) if trust else []
    with desk_at(record, by) as desk:
        found = take_stamp(desk, cast("EventStore", desk.store), answer.read_bytes(), trusted)
    told = {
        "at": found.at.isoformat(),
        "authority": found.authority,
        "serial": str(found.serial),
        "policy": found.policy,
        "not_checked": list(found.unchecked),
    }
    if json:
        say.give_json(told)
        return
    lines = [_("Stamped {} by {}.").format(found.at.isoformat(), found.authority)]
    say.give_lines(lines + [_("Not checked: {}.").format(one) for one in found.unchecked])


def device_of(record: Path | None, key: Path | None) -> "Device":
    """Open the key of this device.

    Parameters
    ----------
    record : Path or None
        The record beside which it is.
    key : Path or None
        Another place.

    Returns
    -------
    Device
        Named like the computer when it is made.
    """
    from buttonhole.record.device import device_key_path, open_device

    place = key or device_key_path(record_path(record))
    return open_device(place, platform.node() or "device")


def new_file(path: Path) -> None:
    """Refuse a file that is there already, or whose folder is not.

    Raises
    ------
    BadInput
        With what would be right.
    """
    if path.exists():
        raise BadInput(str(path), _("is there already; give another name"))
    if not path.absolute().parent.is_dir():
        raise BadInput(str(path), _("its folder is not there; make it first"))


def _pin(given: str | None, *, twice: bool = False) -> str:
    if given is not None:
        return given
    return str(typer.prompt(_("PIN"), hide_input=True, confirmation_prompt=twice, err=True))
