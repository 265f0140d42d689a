"""``buttonhole photo``: the gauge card, and diameters of a torn weld in a photo."""

from math import degrees
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.papers import write_paper
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.read_photo import PhotoReading, SeenPhoto
    from buttonhole.photo.gauge import Handles

DiameterOption = Annotated[
    str | None,
    typer.Option(
        metavar="ENDS",
        help=_("Two ends in mm from the middle of the window: '-2.1,0.3 3.0,0.5'."),
    ),
]


def card(
    pdf: Annotated[Path, typer.Argument(metavar="PDF", help=_("File to write."))],
    name: Annotated[
        str, typer.Option("--name", help=_("Name of the card: letters, figures, dashes."))
    ] = "A",
    json: JsonOption = False,
) -> None:
    """Print the card that gives photos their scale; print it at 100 %, measure its two bars."""
    from datetime import UTC, datetime

    from buttonhole.desk.print_gauge_card import print_gauge_card

    today = datetime.now(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
    write_paper(pdf, lambda: print_gauge_card(name, today), json)


def read(
    file: Annotated[Path, typer.Argument(metavar="FILE", help=_("JPEG or PNG photo."))],
    face: Annotated[
        str, typer.Option("--face", help=_("What is seen: button, disc (parted face) or hole."))
    ] = "button",
    height: Annotated[
        str,
        typer.Option(
            metavar="LENGTH", help=_("How far that face stands above the card; minus for below.")
        ),
    ] = "0 mm",
    height_uncertainty: Annotated[
        str, typer.Option(metavar="LENGTH", help=_("Standard uncertainty of that height."))
    ] = "0.2 mm",
    bars: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTHS", help=_("Measured bars across and down: '80.1 mm, 79.9 mm'.")
        ),
    ] = None,
    largest: DiameterOption = None,
    across: DiameterOption = None,
    keep: Annotated[
        bool, typer.Option("--keep", help=_("Leave the ends where they are set; do not snap."))
    ] = False,
    accept: Annotated[
        bool,
        typer.Option("--accept", help=_("You have looked at the proposal on the loupe: take it.")),
    ] = False,
    loupe: Annotated[
        Path | None, typer.Option(metavar="JPEG", help=_("Write the rectified window here."))
    ] = None,
    json: JsonOption = False,
) -> None:
    """Read two diameters of a torn weld in a photo with a gauge card; without ends it proposes."""
    from buttonhole.desk.read_photo import face_named, photo_answer, read_photo, see_photo
    from buttonhole.photo.gauge import FaceSetting

    if file.stat().st_size > 64 * 1024 * 1024:
        raise BadInput(str(file), _("is far too large for a photo"))
    setting = FaceSetting(
        face_named(face),
        quantity("--height", height, "length"),
        quantity("--height-uncertainty", height_uncertainty, "length"),
    )
    handles = _handles(largest, across)
    if handles is not None and accept:
        raise BadInput("--accept", _("takes the proposal; leave it out when you give the ends"))
    seen = see_photo(file.read_bytes(), _bars(bars))
    reading = read_photo(seen, setting, handles, snapped=not keep, accept_proposal=accept)
    if loupe is not None:
        _write_loupe(loupe, seen, setting.height)
    if json:
        say.give_json(dict(photo_answer(seen, reading)))
        return
    say.give_lines(_lines(seen, reading))


def _bars(text: str | None) -> tuple[float, float] | None:
    if text is None:
        return None
    parts = [one.strip() for one in text.replace(";", ", ").split(", ") if one.strip()]
    if len(parts) != 2:
        raise BadInput("--bars", _("give two lengths, e.g. '80.1 mm, 79.9 mm'"))
    return (quantity("--bars", parts[0], "length"), quantity("--bars", parts[1], "length"))


def _handles(largest: str | None, across: str | None) -> "Handles | None":
    if largest is None and across is None:
        return None
    if largest is None or across is None:
        raise BadInput("--across", _("give both diameters, --largest and --across, or none"))
    from buttonhole.photo.gauge import Handles, Placed

    ends = [*_ends("--largest", largest), *_ends("--across", across)]
    return Handles(tuple(ends), Placed.HAND)


def _ends(option: str, text: str) -> list[tuple[float, float]]:
    try:
        found = [tuple(float(x) * 1e-3 for x in one.split(",")) for one in text.split()]
    except ValueError:
        found = []
    if len(found) != 2 or any(len(one) != 2 for one in found):
        raise BadInput(option, _("is {!r}; give two places, e.g. '-2.1,0.3 3.0,0.5'").format(text))
    return [(one[0], one[1]) for one in found]


def _write_loupe(target: Path, seen: "SeenPhoto", height: float) -> None:
    from buttonhole.photo.picture import encoded
    from buttonhole.photo.sight import loupe as rectified

    if target.exists():
        raise BadInput(str(target), _("is there already; give another name"))
    target.write_bytes(encoded(rectified(seen.sight, height)))


def _lines(seen: "SeenPhoto", reading: "PhotoReading") -> list[str]:
    camera = seen.sight.camera
    lines = [
        _("Card {}: {} corners; camera {:.0f} mm away, {:.0f}° aslant, {:.1f} pixels/mm").format(
            seen.card or _("(name not readable)"),
            camera.used,
            camera.place[2] * 1e3,
            degrees(camera.tilt),
            camera.pixels_per_metre(reading.setting.height) / 1e3,
        ),
        _("Left out of the photo: {}").format(", ".join(seen.taken.left_out) or _("nothing")),
    ]
    if reading.measured is not None:
        found = reading.measured
        lines += [
            _("Largest diameter {:.2f} mm, across it {:.2f} mm, each ± {:.2f} mm (90 %)").format(
                found.d_max * 1e3, found.d_min * 1e3, 1.645e3 * found.uncertainty
            )
        ]
        lines += _shares(found.parts)
        return lines
    lines += [
        _("Expected of a diameter of 5 mm: ± {:.2f} mm (90 %)").format(
            1.645e3 * reading.expected.total
        )
    ]
    if reading.proposal is None:
        return [*lines, _("No outline stands out: give the ends with --largest and --across.")]
    ends = reading.proposal.handles.ends
    told: list[Any] = [f"{x * 1e3:.2f},{y * 1e3:.2f}" for x, y in ends]
    return [
        *lines,
        _("PROPOSED, not measured: --largest '{} {}' --across '{} {}'").format(*told),
        _("Look at it on the loupe; then give the ends, or take the proposal with --accept."),
    ]


def _shares(parts: Any) -> list[str]:
    named = (
        (_("printed scale"), parts.printed),
        (_("camera"), parts.camera),
        (_("flatness"), parts.flatness),
        (_("height"), parts.height),
        (_("edge"), parts.edge),
    )
    told = ", ".join(f"{name} {value * 1e3:.3f}" for name, value in named)
    return say.wrapped(_("Standard uncertainty by source [mm]: {}").format(told), first="")
