"""Print the labels of a training session, and the feedback card of one trainee."""

import hashlib

from buttonhole.coupon.training import Fault, WeldType
from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk
from buttonhole.desk.plan_coupons import PrintedLabels, scanned
from buttonhole.desk.training import PieceView, TrainingView, read_training
from buttonhole.paper.feedback_card import FeedbackCard, PieceRow, TypeRow, feedback_card
from buttonhole.paper.labels import Label, LabelSheet, label_sheet


def print_training_labels(
    desk: Desk, session: str, *, address: str = "", roll: bool = False
) -> PrintedLabels:
    """
    Print the labels of a session.

    Parameters
    ----------
    desk : Desk
        Where the trainer works.
    session : str
        The session.
    address : str
        Where this server answers, for the square code.
    roll : bool
        One label a page, 50 x 25 mm.

    Returns
    -------
    PrintedLabels
        The PDF and its hash.
    """
    view = read_training(desk, session)
    labels = tuple(
        Label(
            code=one.code,
            first=one.trainee,
            second=f"{one.weld.words}, position {one.position}, piece {one.number}",
            third=view.title,
            fourth=f"at least {view.limits[one.weld] * 1e3:.1f} mm",
            qr=scanned(address, one.code),
        )
        for one in view.pieces
    )
    subject = f"{view.trainer}, {len(view.pieces)} pieces"
    issued = desk.shop_time(view.opened_at)
    pdf = label_sheet(LabelSheet(view.title, subject, labels, issued, roll=roll))
    return PrintedLabels(pdf, hashlib.sha256(pdf).hexdigest())


def print_feedback(desk: Desk, session: str, trainee: str) -> PrintedLabels:
    """
    Print the feedback card of one trainee.

    Parameters
    ----------
    desk : Desk
        Where the trainer works.
    session : str
        The session.
    trainee : str
        Whose.

    Returns
    -------
    PrintedLabels
        The PDF and its hash.

    Raises
    ------
    NotThere
        When nobody of this name is in the session.
    """
    view = read_training(desk, session)
    if trainee not in view.trainees:
        raise NotThere("trainee", trainee)
    pieces = view.of(trainee)
    moments = [one.typed_at for one in pieces if one.typed_at]
    card = FeedbackCard(
        trainee=trainee,
        title=f"{view.title}, {view.trainer}",
        types=tuple(_type_row(view, trainee, weld) for weld in view.welds),
        pieces=tuple(_piece_row(one) for one in pieces),
        next_cues=_cues(view, trainee),
        issued=desk.shop_time(max([view.opened_at, *moments])),
    )
    pdf = feedback_card(card)
    return PrintedLabels(pdf, hashlib.sha256(pdf).hexdigest())


def _type_row(view: TrainingView, trainee: str, weld: WeldType) -> TypeRow:
    found = view.readiness(trainee, weld)
    margin = "" if found.mean_margin is None else f"{found.mean_margin * 1e3:+.1f} mm"
    words = {"ready": "ready for the test", "not yet": "not yet", "too few": "too few pieces"}
    return TypeRow(
        weld.words,
        f"{found.passed} of {found.counted}",
        margin,
        f"{words[found.state]}: {found.reason}",
        found.state == "ready",
    )


def _piece_row(one: PieceView) -> PieceRow:
    if one.piece is None or one.result is None:
        return PieceRow(one.code, f"{one.weld.words}, {one.position}", "", "", "not torn yet", None)
    said = one.result.reason
    if one.piece.fault is not Fault.NONE and one.piece.fault.words not in said:
        said = "; ".join(part for part in (said, one.piece.fault.words) if part)
    return PieceRow(
        one.code,
        f"{one.weld.words}, {one.position}",
        f"{one.result.size * 1e3:.1f} mm",
        f"{one.result.limit * 1e3:.1f} mm",
        said,
        one.result.passed,
    )


def _cues(view: TrainingView, trainee: str) -> tuple[str, ...]:
    """What to try next: for each weld type the cue of its commonest fault."""
    found = []
    for weld in view.welds:
        faults = view.faults(trainee, weld)
        if faults:
            fault, count = faults[0]
            found.append(f"{weld.words}, {fault.words} ({count} x): {fault.cue(weld)}")
    return tuple(found)
