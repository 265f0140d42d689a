"""Labels: each has a code that is given once and leads to its coupon for ever."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from buttonhole.coupon.label import LENGTH, SIGNS, label_code, read_label
from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import append
from buttonhole.record.event import Event, moment
from buttonhole.record.store import Conflict as StoreConflict
from buttonhole.units import BadInput

CODES = len(SIGNS) ** LENGTH
TRIES = 8


@dataclass(frozen=True, slots=True)
class LabelView:
    """A label: what it was printed for; the joint or the training session it belongs to."""

    code: str
    issued_at: datetime
    issued_by: str
    about: Mapping[str, Any]  # as it was written when it was issued
    job_id: str = ""
    joint_id: str = ""
    session_id: str = ""
    coupon_id: str = ""  # of the coupon it is on; empty: on none yet


def issue_labels(
    desk: Desk,
    kind: str,
    about: Sequence[str],
    payload: Mapping[str, Any],
    pieces: Sequence[Mapping[str, Any]],
) -> tuple[str, ...]:
    """
    Give each piece a code that no label ever had, and write them down in one event.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    kind : str
        Type of the event.
    about : sequence of str
        What else it concerns.
    payload : mapping
        What else it holds.
    pieces : sequence of mapping
        What each label is for.

    Returns
    -------
    tuple of str
        The codes, in the order of the pieces.

    Raises
    ------
    SentTwice
        When this very form was saved before.
    """
    for _ in range(TRIES):
        codes = _fresh(desk, len(pieces))
        subjects = [f"label/{one}" for one in codes]
        labels = [{"code": code, **one} for code, one in zip(codes, pieces, strict=True)]
        draft = desk.draft(kind, [*about, *subjects], {**payload, "labels": labels})
        try:
            append(desk, [draft], dict.fromkeys(subjects))
        except StoreConflict:  # somebody drew one of them at this moment
            continue
        return codes
    raise BadInput("label", "no free code was found; try again")


def _fresh(desk: Desk, count: int) -> tuple[str, ...]:
    found: dict[str, None] = {}
    while len(found) < count:
        code = label_code(int.from_bytes(desk.randomness(8), "big") % CODES)
        if desk.store.last(f"label/{code}") is None:
            found[code] = None
    return tuple(found)


def find_label(desk: Desk, text: str) -> LabelView:
    """
    Find what a label is on.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    text : str
        The code as typed or scanned.

    Returns
    -------
    LabelView
        The label.

    Raises
    ------
    BadInput
        When it is no code, or one sign is wrong.
    NotThere
        When no label of this record has it.
    """
    code = read_label(text)
    events = desk.store.events(f"label/{code}")
    if not events:
        raise NotThere("label", code)
    return _view(events[0], code, events[1:])


def _view(issued: Event, code: str, later: Sequence[Event]) -> LabelView:
    payload = issued.payload
    about = next(one for one in payload["labels"] if one["code"] == code)
    used = [one for one in later if one.type == "label_tied"]
    return LabelView(
        code=code,
        issued_at=moment(issued.at),
        issued_by=issued.actor,
        about=about,
        job_id=payload.get("job", ""),
        joint_id=payload.get("joint", ""),
        session_id=payload.get("session", ""),
        coupon_id=used[-1].payload["coupon"] if used else "",
    )


def views_of(desk: Desk, issued: Event) -> tuple[LabelView, ...]:
    """
    Show the labels that were issued together.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    issued : Event
        The event that issued them.

    Returns
    -------
    tuple of LabelView
        In their order.
    """
    found = []
    for one in issued.payload["labels"]:
        later = desk.store.events(f"label/{one['code']}", after=issued.id)
        found.append(_view(issued, one["code"], later))
    return tuple(found)


def tie_label(desk: Desk, text: str, joint_id: str, coupon_id: str) -> LabelView:
    """
    Say on which coupon a label is. It stays there; another coupon gets another label.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    text : str
        The code.
    joint_id, coupon_id : str
        The coupon.

    Returns
    -------
    LabelView
        The label.

    Raises
    ------
    BadInput
        When the label belongs to another joint, or is on another coupon.
    NotThere
        When no label of this record has this code.
    """
    label = free_label(desk, text, joint_id, coupon_id)
    if label.coupon_id == coupon_id:
        return label
    payload = {"label": label.code, "coupon": coupon_id, "joint": joint_id, "job": label.job_id}
    subject = f"label/{label.code}"
    once = replace(desk, sent="")  # the form was noted with the coupon itself
    draft = once.draft("label_tied", [subject, f"job/{label.job_id}"], payload)
    try:
        append(once, [draft], {subject: desk.store.last(subject)})
    except StoreConflict:
        free_label(desk, text, joint_id, coupon_id)
    return find_label(desk, label.code)


def free_label(desk: Desk, text: str, joint_id: str, coupon_id: str = "") -> LabelView:
    """
    Find a label that may be put on a coupon of a joint.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    text : str
        The code.
    joint_id : str
        The joint.
    coupon_id : str
        The coupon it may be on already.

    Returns
    -------
    LabelView
        The label.

    Raises
    ------
    BadInput
        When the label belongs to another joint, or is on another coupon.
    NotThere
        When no label of this record has this code.
    """
    label = find_label(desk, text)
    if label.joint_id != joint_id:
        name = read_joint(desk, label.joint_id).name if label.joint_id else "a training session"
        raise BadInput("label", f"{label.code} was printed for {name}; take one of this joint")
    if label.coupon_id and label.coupon_id != coupon_id:
        raise BadInput("label", f"{label.code} is on another coupon already; take a fresh one")
    return label
