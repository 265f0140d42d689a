"""The gauge card: a frame that gives a photo of a torn weld its scale. A6, printed at 100 %."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from buttonhole.paper.figure.style import Style
from buttonhole.paper.qr import qr_picture
from buttonhole.paper.typesetting import cleaned, typeset
from buttonhole.units import BadInput

_NOT_TEXT = frozenset({"qr", "language"})


@dataclass(frozen=True, slots=True)
class GaugeCard:
    """What a gauge card shows; lengths in metres.

    ``fields``: left, top, width, height of what is black in the frame. ``window``: side of the
    square that is cut out of its middle. ``bar``: length of the two bars that a calliper checks.
    """

    card_id: str
    fields: tuple[tuple[float, float, float, float], ...]  # m
    side: float  # m
    window: float  # m
    bar: float  # m
    qr: str
    issued: datetime
    language: str = "en"
    style: Style = field(default_factory=Style)


def gauge_card(card: GaugeCard) -> bytes:
    """Print a gauge card.

    Parameters
    ----------
    card : GaugeCard
        What it shows.

    Returns
    -------
    bytes
        One A6 page, PDF/A-2b and PDF/UA-1; the same card gives the same bytes.

    Raises
    ------
    BadInput
        If it has no name or no frame.
    """
    if not card.card_id.strip():
        raise BadInput("card", "has no name; give one")
    if not card.fields:
        raise BadInput("fields", "are none; a card without its frame has no scale")
    return typeset("gauge_card.typ", _data(cleaned(card, _NOT_TEXT)), card.issued)


def _data(card: GaugeCard) -> dict[str, Any]:
    say = card.style.say
    bar = f"{card.bar * 1e3:.1f} mm"
    return {
        "title": f"{say('Gauge card')} {card.card_id}",
        "language": card.language,
        "card_id": card.card_id,
        "side": card.side * 1e3,
        "bar": card.bar * 1e3,
        "frame": {
            "svg": _frame(card),
            "alt": say(
                "Frame of black and white squares with codes; the square window in its middle is "
                "to be cut out"
            ),
        },
        "qr": {"svg": qr_picture(card.qr), "alt": f"{say('QR code of the gauge card')}"},
        "steps": [
            say("Print at 100 %, not fitted to the page. Glue it flat on stiff card. Cut out the")
            + " "
            + say("window along the dotted line."),
            f"{say('Measure both bars with a calliper; each should have')} {bar}. "
            + say("Tell the program what you measured."),
            say("Lay the card on the coupon, the weld in the window. Hold the camera straight")
            + " "
            + say("above, near enough that the frame fills the picture. No glare on the weld."),
        ],
        "words": {"bar": bar, "window": say("cut out")},
    }


def _frame(card: GaugeCard) -> str:
    """SVG of the frame, one unit a millimetre."""
    side, window = card.side * 1e3, card.window * 1e3
    start = 0.5 * (side - window)
    fields = "".join(
        f"M{x * 1e3:.4f} {y * 1e3:.4f}h{w * 1e3:.4f}v{h * 1e3:.4f}h{-w * 1e3:.4f}z"
        for x, y, w, h in card.fields
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side:g} {side:g}">'
        f'<path d="{fields}" fill="#000000"/>'
        f'<rect x="{start:g}" y="{start:g}" width="{window:g}" height="{window:g}" fill="none" '
        'stroke="#000000" stroke-width="0.15" stroke-dasharray="0.4 0.8"/></svg>'
    )
