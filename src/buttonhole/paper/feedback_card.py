"""The feedback card of a trainee: what was welded, what it showed, what to try next. A4."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from buttonhole.paper.figure.style import Style
from buttonhole.paper.typesetting import cleaned, typeset, utc
from buttonhole.units import BadInput

_NOT_TEXT = frozenset({"language"})


@dataclass(frozen=True, slots=True)
class TypeRow:
    """One weld type: passed of counted, mean margin, and how it stands."""

    name: str
    passed: str
    margin: str
    stands: str
    ready: bool


@dataclass(frozen=True, slots=True)
class PieceRow:
    """One piece: its label, what, size, limit, what was seen; ``passed`` None: not torn yet."""

    code: str
    what: str
    size: str
    limit: str
    seen: str
    passed: bool | None


@dataclass(frozen=True, slots=True)
class FeedbackCard:
    """All that a card says."""

    trainee: str
    title: str
    types: tuple[TypeRow, ...]
    pieces: tuple[PieceRow, ...]
    next_cues: tuple[str, ...]
    issued: datetime  # with the shop's time zone
    language: str = "en"
    style: Style = field(default_factory=Style)


def feedback_card(card: FeedbackCard) -> bytes:
    """Print a card.

    Parameters
    ----------
    card : FeedbackCard
        What it says.

    Returns
    -------
    bytes
        PDF/A-2b and PDF/UA-1; the same card gives the same bytes.

    Raises
    ------
    BadInput
        If it has no piece.
    """
    if not card.pieces:
        raise BadInput("pieces", "are none; a card shows what was welded")
    utc(card.issued)
    return typeset("feedback_card.typ", _data(cleaned(card, _NOT_TEXT)), card.issued)


def _data(card: FeedbackCard) -> dict[str, Any]:
    say = card.style.say
    marks = {True: say("passed"), False: say("not yet"), None: "-"}
    return {
        "title": f"{say('Feedback')}: {card.trainee}",
        "language": card.language,
        "trainee": card.trainee,
        "subject": f"{card.title}, {card.issued:%Y-%m-%d}",
        "types": [[one.name, one.passed, one.margin, one.stands] for one in card.types],
        "pieces": [
            [one.code, one.what, one.size, one.limit, marks[one.passed], one.seen]
            for one in card.pieces
        ],
        "cues": list(card.next_cues),
        "words": {
            "types": say("How it stands"),
            "type_head": [say("Weld"), say("Passed"), say("Mean over the limit"), say("Test")],
            "pieces": say("Piece by piece"),
            "piece_head": [
                say("Label"), say("What"), say("Size"), say("At least"), say("Result"), say("Seen"),
            ],
            "cues": say("Try next (common practice, no source)"),
            "good": say("No fault was seen. Keep to it, and weld the next ones in another order."),
            "spoken": say("Said by the trainer"),
            "mind": say(
                "Practice pieces show a skill on this day, on these sheets. They release no set-up "
                "and judge no vehicle."
            ),
        },
    }  # fmt: skip
