"""The bay card: what to set, where it holds, and when it ends. A6, hung at the gun."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from buttonhole.paper.cautions import ARC_CARD_CAUTIONS, CARD_CAUTIONS
from buttonhole.paper.figure.arc_joint import DrawnArcJoint, arc_joint
from buttonhole.paper.figure.icon import advice as advice_words
from buttonhole.paper.figure.icon import icon
from buttonhole.paper.figure.stack import (
    DrawnStack,
    caps_words,
    limit_words,
    sheet_words,
    stack,
)
from buttonhole.paper.figure.style import Style
from buttonhole.paper.figure.svg import without_ground, words_of
from buttonhole.paper.qr import qr_picture
from buttonhole.paper.typesetting import cleaned, preview, typeset, utc
from buttonhole.units import BadInput

MOST_SETTINGS = 9
_NOT_TEXT = frozenset({"qr", "advice", "language"})


@dataclass(frozen=True, slots=True)
class Setting:
    """One number to set: its name, the value in the shop's unit, the same in a second unit."""

    name: str
    value: str
    second: str = ""


@dataclass(frozen=True, slots=True)
class BayCard:
    """All that a bay card says, as plain values.

    Texts that a mistake could hurt with (method, stack, numbers to set, supply, dressing, welds,
    cautions) are printed whole or the card is refused. Free texts (joints, machine, procedure,
    names) are made smaller, then cut with an ellipsis; the card then says that the whole text is
    in the record under ``card_id``.
    """

    card_id: str
    group: str  # letter of the joints that share this set-up
    subject: str  # job, vehicle, joints
    method: str
    stack: DrawnStack | DrawnArcJoint
    settings: tuple[Setting, ...]
    machine: str  # machine, program version, arm pair
    outlet: str
    lead: str
    dress_after: int | None  # welds
    valid_until: datetime  # with the shop's time zone
    max_welds: int | None
    procedure: str  # the maker's procedure and revision, or the signed deviation
    released_by: str
    issued: datetime  # with the shop's time zone
    qr: str
    ends_when: tuple[str, ...] = ()
    advice: tuple[str, ...] = ("gun_square", "sheets_tight", "no_other_supply")
    limits: tuple[str, ...] = ()  # of an arc weld, in words; a stack-up names its own
    demo: bool = False
    language: str = "en"
    style: Style = field(default_factory=Style)


def bay_card(card: BayCard) -> bytes:
    """Print a bay card.

    Parameters
    ----------
    card : BayCard
        What it says.

    Returns
    -------
    bytes
        One A6 page, PDF/A-2b and PDF/UA-1; the same card gives the same bytes.

    Raises
    ------
    BadInput
        If a part is missing, or a text that must not be cut has no room.
    """
    _check(card)
    return typeset("bay_card.typ", _data(cleaned(card, _NOT_TEXT)), card.issued)


def bay_card_preview(card: BayCard, dots_per_inch: float = 150.0) -> bytes:
    """Show a bay card on a screen, just as it will be printed.

    Parameters
    ----------
    card : BayCard
        What it says.
    dots_per_inch : float
        Fineness [1/in].

    Returns
    -------
    bytes
        PNG.

    Raises
    ------
    BadInput
        As for the print.
    """
    _check(card)
    return preview("bay_card.typ", _data(cleaned(card, _NOT_TEXT)), card.issued, dots_per_inch)


def _check(card: BayCard) -> None:
    if not 1 <= len(card.settings) <= MOST_SETTINGS:
        raise BadInput("settings", f"has {len(card.settings)}; a card has room for 1 to 9 numbers")
    if not 2 <= len(card.stack.sheets) <= 4:
        raise BadInput("stack", f"has {len(card.stack.sheets)} sheets; a card shows 2 to 4")
    if len(card.advice) != 3:
        raise BadInput("advice", f"has {len(card.advice)} pictures; a card shows 3")
    utc(card.issued)
    if card.valid_until.tzinfo is None:
        raise BadInput("valid_until", "has no time zone; give the shop's")
    if card.valid_until <= card.issued:
        raise BadInput("valid_until", "is not after the issue; an ended release gets no card")
    for name in ("method", "outlet", "lead", "released_by", "procedure"):
        if not getattr(card, name).strip():
            raise BadInput(name, "is empty; a card without it can be used wrongly")


def _data(card: BayCard) -> dict[str, Any]:
    style, say = card.style, card.style.say
    picture = _picture(card.stack, Style(40.0, style.system, style.decimal, say))
    spot = isinstance(card.stack, DrawnStack)
    icons = [(name, icon(name, style=style)) for name in card.advice]
    return {
        "title": f"{say('Bay card')} {card.group}: {card.method}",
        "language": card.language,
        "demo": card.demo,
        "card_id": card.card_id,
        "group": card.group,
        "subject": card.subject,
        "method": card.method,
        "stack": {"svg": without_ground(picture), "alt": words_of(picture)},
        "sheets": _sheet_lines(card.stack, style),
        "limits": _limit_lines(card),
        "caps": _under(card.stack, style),
        "settings": [
            {"name": one.name, "value": one.value, "second": one.second} for one in card.settings
        ],
        "machine": card.machine,
        "supply": f"{card.outlet} + {card.lead}",
        "dress": _dress(card),
        "advice": [
            {"svg": without_ground(svg), "alt": advice_words(name, style=style)}
            for name, svg in icons
        ],
        "valid_until": f"{card.valid_until:%H:%M} · {card.valid_until:%Y-%m-%d}",
        "welds": _welds(card),
        "ends_when": f"{say('or until')} "
        + "; ".join((say("anything on this card changes"), *card.ends_when)),
        "qr": {"svg": qr_picture(card.qr), "alt": f"{say('QR code of the record')} {card.card_id}"},
        "release": f"{say('Released by')} {card.released_by}, {card.issued:%Y-%m-%d %H:%M}",
        "procedure": f"{say('Procedure')}: {card.procedure}",
        "cautions": " ".join(say(one) for one in (CARD_CAUTIONS if spot else ARC_CARD_CAUTIONS)),
        "words": {
            "demo_mark": say("DEMO"),
            "demo": say("DEMO, not for a vehicle"),
            "machine": say("Machine, arms" if spot else "Machine"),
            "supply": say("Outlet + lead"),
            "dress": say("Dress caps after" if spot else "Return clamp"),
            "valid_until": say("Valid until"),
            "cut": say("Texts that end in … stand whole in the record under this number."),
        },
    }


def _picture(drawn: DrawnStack | DrawnArcJoint, style: Style) -> str:
    if isinstance(drawn, DrawnStack):
        return stack(drawn, style=style, labelled=False)
    return arc_joint(drawn, style=style, labelled=False)


def _sheet_lines(drawn: DrawnStack | DrawnArcJoint, style: Style) -> list[str]:
    lines = [f"{order}  {sheet_words(one, style)}" for order, one in enumerate(drawn.sheets, 1)]
    holes = () if isinstance(drawn, DrawnStack) else drawn.holes
    for place, hole in enumerate(holes):
        drilled = style.length(hole, 1) if hole > 0.0 else style.say("none")
        lines[place] += f", {style.say('hole')} {drilled}"
    return lines


def _limit_lines(card: BayCard) -> list[str]:
    if not isinstance(card.stack, DrawnStack):
        return list(card.limits)
    say = card.style.say
    return [
        f"{order}-{order + 1} {say('at least')} {limit_words(limits, card.style)}"
        for order, limits in enumerate(card.stack.limits, start=1)
        if limits
    ]


def _under(drawn: DrawnStack | DrawnArcJoint, style: Style) -> str:
    """What touches or meets the sheets: the caps, or wire and gas; a gap where there is one."""
    if isinstance(drawn, DrawnStack):
        return "; ".join(caps_words(drawn, style))
    gap = f"; {style.say('gap')} {style.length(drawn.gap)}" if drawn.gap > 0.0 else ""
    return f"{style.say(drawn.torch)}{gap}"


def _dress(card: BayCard) -> str:
    if not isinstance(card.stack, DrawnStack):
        return card.style.say("beside the weld")
    if card.dress_after is None:
        return card.style.say("no limit set")
    return f"{card.dress_after} {card.style.say('welds')}"


def _welds(card: BayCard) -> str:
    if card.max_welds is None:
        return card.style.say("no count of welds set")
    return f"{card.style.say('or')} {card.max_welds} {card.style.say('welds')}"
