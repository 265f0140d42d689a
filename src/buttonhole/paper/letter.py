"""The letter to the vehicle maker: the joint, what is known, what conflicts, the questions. A4."""

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from buttonhole.paper.cautions import MAKER
from buttonhole.paper.figure.stack import DrawnStack, sheet_words, stack
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import without_ground, words_of
from buttonhole.paper.typesetting import cleaned, typeset, utc
from buttonhole.units import BadInput

MOST_QUESTIONS = 8
_NOT_TEXT = frozenset({"language"})


@dataclass(frozen=True, slots=True)
class Line:
    """A thing and what is said of it."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Statement:
    """What a text says, and whose text it is."""

    says: str
    whose: str
    where: str = ""  # document, revision, day it was read


@dataclass(frozen=True, slots=True)
class Differing:
    """Published statements on one topic that differ."""

    topic: str
    statements: tuple[Statement, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """One question: a yes or no unless it is open, then figures to write in."""

    question: str
    figures: tuple[str, ...] = ()
    is_open: bool = False


@dataclass(frozen=True, slots=True)
class MakerLetter:
    """All that a letter to the maker says, as plain values.

    ``letter_id`` names it in the answer; ``sender`` is the shop or person who asks; ``means`` says
    what the shop could do; an empty text is left out.
    """

    letter_id: str
    vehicle: str
    vin: str
    joint: str  # name and place
    stack: DrawnStack
    known: tuple[Line, ...]
    texts: tuple[Statement, ...]  # what was found in the maker's documents
    conflicts: tuple[Differing, ...]
    questions: tuple[Asked, ...]
    sender: str
    issued: datetime  # with the shop's time zone
    generic: tuple[Line, ...] = ()  # what general rules would do, method by method
    means: str = ""
    needed_by: date | None = None
    demo: bool = False
    language: str = "en"
    style: Style = field(default_factory=Style)


def maker_letter(letter: MakerLetter) -> bytes:
    """Print a letter to the maker.

    Parameters
    ----------
    letter : MakerLetter
        What it says.

    Returns
    -------
    bytes
        A4 pages, PDF/A-2b and PDF/UA-1; the same letter gives the same bytes.

    Raises
    ------
    BadInput
        If it asks nothing or too much, or nobody signs it.
    """
    _check(letter)
    return typeset("maker_letter.typ", _data(cleaned(letter, _NOT_TEXT)), letter.issued)


def _check(letter: MakerLetter) -> None:
    if not 1 <= len(letter.questions) <= MOST_QUESTIONS:
        raise BadInput(
            "questions",
            f"has {len(letter.questions)}; a letter asks 1 to {MOST_QUESTIONS}. Where the maker's "
            "own word decides there is nothing to ask",
        )
    for name in ("letter_id", "vehicle", "joint", "sender"):
        if not getattr(letter, name).strip():
            raise BadInput(name, "is empty; the maker needs it to answer")
    utc(letter.issued)


def _data(letter: MakerLetter) -> dict[str, Any]:
    style, say = letter.style, letter.style.say
    picture = stack(
        letter.stack, style=Style(24.0, style.system, style.decimal, say), labelled=True
    )
    return {
        "title": f"{say('Question to the vehicle maker')} {letter.letter_id}",
        "language": letter.language,
        "demo": letter.demo,
        "letter_id": letter.letter_id,
        "heading": say("Question about a joint that is not in the procedure we have"),
        "head": [
            {"name": say(name), "value": value}
            for name, value in (
                ("Vehicle", letter.vehicle),
                ("VIN", letter.vin),
                ("Joint", letter.joint),
                ("From", letter.sender),
                ("Date", f"{letter.issued:%Y-%m-%d}"),
                ("Answer needed by", letter.needed_by.isoformat() if letter.needed_by else ""),
                ("Our reference", letter.letter_id),
            )
            if value
        ],
        "stack": {"svg": without_ground(picture), "alt": words_of(picture)},
        "sheets": [
            f"{order}  {sheet_words(sheet, style)}"
            for order, sheet in enumerate(letter.stack.sheets, start=1)
        ],
        "known": [{"name": one.name, "value": one.value} for one in letter.known],
        "texts": [_statement(one) for one in letter.texts],
        "generic": [{"name": one.name, "value": one.value} for one in letter.generic],
        "conflicts": [
            {"topic": one.topic, "statements": [_statement(each) for each in one.statements]}
            for one in letter.conflicts
        ],
        "means": letter.means,
        "questions": [
            {"question": one.question, "figures": list(one.figures), "open": one.is_open}
            for one in letter.questions
        ],
        "words": _words(letter),
    }


def _statement(one: Statement) -> dict[str, str]:
    return {"says": one.says, "whose": one.whose, "where": one.where}


def _words(letter: MakerLetter) -> dict[str, str]:
    say = letter.style.say
    return {
        "demo_mark": say("DEMO"),
        "demo": say("DEMO, not for a vehicle"),
        "joint": say("The joint, side A above"),
        "what": say("What"),
        "value": say("As found"),
        "known": say("What we know, and what we do not"),
        "texts": say("What we read in your documents"),
        "no_texts": say("We found no text of yours about this joint."),
        "generic": say("What general rules would do, without your word"),
        "method": say("Way of joining"),
        "stands": say("How it stands"),
        "conflicts": say("Where published rules differ, so that we can't go by them"),
        "topic": say("Topic"),
        "says": say("What it says"),
        "whose": say("Whose"),
        "means": say("Means at hand"),
        "questions": say("Our questions"),
        "yes": say("yes"),
        "no": say("no"),
        "signed": say("Answered by, date, document"),
        "close": say(
            "We weld nothing at this joint before your answer, or follow your procedure where you "
            "name one. Please answer in writing; we file the answer with the record of this "
            "vehicle."
        ),
        "maker": say(MAKER),
    }
