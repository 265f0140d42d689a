"""Print a gauge card for photos of torn welds."""

import hashlib
from dataclasses import dataclass
from datetime import datetime

from buttonhole.paper.gauge_card import GaugeCard, gauge_card
from buttonhole.photo.card import BAR, SIDE, WINDOW, black_fields, code_text


@dataclass(frozen=True, slots=True)
class PrintedCard:
    """A gauge card as PDF, and its hash."""

    pdf: bytes
    sha256: str
    card_id: str


def print_gauge_card(card_id: str, issued: datetime) -> PrintedCard:
    """Print a gauge card.

    Parameters
    ----------
    card_id : str
        Its name: letters, figures and dashes.
    issued : datetime
        Date of the document, with time zone.

    Returns
    -------
    PrintedCard
        The same name and date give the same bytes.

    Raises
    ------
    BadInput
        A name that a code can't carry.
    """
    card = GaugeCard(
        card_id=card_id,
        fields=black_fields(),
        side=SIDE,
        window=WINDOW,
        bar=BAR,
        qr=code_text(card_id),
        issued=issued,
    )
    pdf = gauge_card(card)
    return PrintedCard(pdf, hashlib.sha256(pdf).hexdigest(), card_id)
