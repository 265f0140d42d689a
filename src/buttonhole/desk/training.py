"""A training session: its labels, results typed by one helper, and how the class stands."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from buttonhole.coupon.label import read_label
from buttonhole.coupon.training import (
    Fault,
    Piece,
    PieceResult,
    Readiness,
    ReadyRule,
    WeldType,
    commonest,
    judge_piece,
    readiness,
    usual_limit,
)
from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.labels import issue_labels
from buttonhole.desk.saving import append
from buttonhole.desk.written import read
from buttonhole.record.event import Event, moment
from buttonhole.units import BadInput

MOST_TRAINEES, MOST_PIECES = 24, 480
POSITIONS = ("PA", "PB", "PC", "PD", "PE", "PF", "PG")


@dataclass(frozen=True, slots=True)
class OpenTraining:
    """A day: who learns, which welds in which positions, how many of each, from which sheets [m].

    ``limits`` [m] by weld type; what is left out is the usual.
    """

    title: str
    trainees: tuple[str, ...]
    welds: tuple[WeldType, ...]
    positions: tuple[str, ...]
    each: int = 1
    thinner: float = 0.8e-3
    hole: float = 8e-3
    limits: Mapping[WeldType, float] | None = None
    rule: ReadyRule = field(default_factory=ReadyRule)


@dataclass(frozen=True, slots=True)
class TypedResult:
    """What a helper typed for one labelled piece."""

    label: str
    piece: Piece


@dataclass(frozen=True, slots=True)
class PieceView:
    """One labelled piece: whose, what, and what it shows as soon as it is typed."""

    code: str
    trainee: str
    weld: WeldType
    position: str
    number: int
    piece: Piece | None = None
    result: PieceResult | None = None
    typed_by: str = ""
    typed_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class TrainingView:
    """A session with its pieces, in the order of their labels."""

    id: str
    title: str
    opened_at: datetime
    trainer: str
    trainees: tuple[str, ...]
    welds: tuple[WeldType, ...]
    positions: tuple[str, ...]
    limits: Mapping[WeldType, float]
    rule: ReadyRule
    pieces: tuple[PieceView, ...]

    @property
    def typed(self) -> int:
        """Number of pieces with a result [-]."""
        return sum(one.result is not None for one in self.pieces)

    def of(self, trainee: str) -> tuple[PieceView, ...]:
        """The pieces of one trainee."""
        return tuple(one for one in self.pieces if one.trainee == trainee)

    def readiness(self, trainee: str, weld: WeldType) -> Readiness:
        """Whether a trainee is ready for the test of one weld type."""
        done = [one for one in self.of(trainee) if one.weld is weld and one.typed_at is not None]
        done.sort(key=lambda one: (str(one.typed_at), one.code))
        return readiness([one.result for one in done if one.result is not None], self.rule)

    def faults(
        self, trainee: str = "", weld: WeldType | None = None
    ) -> tuple[tuple[Fault, int], ...]:
        """The faults of the class, of a trainee or of a weld type, the commonest first."""
        chosen = [
            one.piece.fault
            for one in self.pieces
            if one.piece is not None and trainee in ("", one.trainee) and weld in (None, one.weld)
        ]
        return commonest(chosen)


def open_training(desk: Desk, command: OpenTraining) -> TrainingView:
    """
    Open a training session; every piece gets its label at once.

    Parameters
    ----------
    desk : Desk
        Where the trainer works.
    command : OpenTraining
        Who learns what.

    Returns
    -------
    TrainingView
        The session.

    Raises
    ------
    BadInput
        When nobody learns anything, a name stands twice, or there are too many pieces.
    SentTwice
        When this very form was saved before.
    """
    title = text("title", command.title)
    names = tuple(text("trainees", one) for one in command.trainees)
    if not 1 <= len(names) <= MOST_TRAINEES or len(set(names)) != len(names):
        raise BadInput("trainees", f"give 1 to {MOST_TRAINEES} names, each once")
    if not command.welds:
        raise BadInput("welds", "is empty; choose what is welded")
    strange = [one for one in command.positions if one not in POSITIONS]
    if strange or not command.positions:
        raise BadInput("positions", f"are {command.positions}; choose of {', '.join(POSITIONS)}")
    count = len(names) * len(command.welds) * len(command.positions) * command.each
    if command.each < 1 or count > MOST_PIECES:
        raise BadInput("each", f"makes {count} pieces; a session has 1 to {MOST_PIECES}")
    session = desk.new_id()
    limits = {one: _limit(command, one) for one in command.welds}
    payload = {
        "session": session,
        "title": title,
        "trainees": names,
        "welds": command.welds,
        "positions": command.positions,
        "limits": limits,
        "rule": command.rule,
    }
    pieces = [
        {"trainee": name, "weld": weld.value, "position": place, "number": number}
        for name in names
        for weld in command.welds
        for place in command.positions
        for number in range(1, command.each + 1)
    ]
    issue_labels(desk, "training_opened", [f"training/{session}"], payload, pieces)
    return read_training(desk, session)


def list_trainings(desk: Desk) -> tuple[tuple[str, str, datetime, str], ...]:
    """
    List the sessions, the newest first.

    Parameters
    ----------
    desk : Desk
        Where the person works.

    Returns
    -------
    tuple of (str, str, datetime, str)
        Id, title, moment and trainer.
    """
    events = desk.store.events_of_type("training_opened")
    return tuple(
        (one.payload["session"], one.payload["title"], moment(one.at), one.actor)
        for one in reversed(events)
    )


def read_training(desk: Desk, session: str) -> TrainingView:
    """
    Read a session.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    session : str
        Its id.

    Returns
    -------
    TrainingView
        The last result typed for a piece counts; earlier ones stay in the record.

    Raises
    ------
    NotThere
        When there is no such session.
    """
    events = desk.store.events(f"training/{session}")
    if not events:
        raise NotThere("training session", session)
    opened, payload = events[0], events[0].payload
    limits = {WeldType(key): float(value) for key, value in payload["limits"].items()}
    results = {one.payload["label"]: one for one in events if one.type == "training_result"}
    return TrainingView(
        id=session,
        title=payload["title"],
        opened_at=moment(opened.at),
        trainer=opened.actor,
        trainees=tuple(payload["trainees"]),
        welds=tuple(WeldType(one) for one in payload["welds"]),
        positions=tuple(payload["positions"]),
        limits=limits,
        rule=read(ReadyRule, payload["rule"]),
        pieces=tuple(_piece(one, results.get(one["code"]), limits) for one in payload["labels"]),
    )


def save_results(desk: Desk, session: str, typed: Sequence[TypedResult]) -> TrainingView:
    """
    Write typed results down, all or none.

    Parameters
    ----------
    desk : Desk
        Where the helper works.
    session : str
        The session.
    typed : sequence of TypedResult
        One for each piece; one that is the same as before is not written again.

    Returns
    -------
    TrainingView
        The session.

    Raises
    ------
    BadInput
        When a label is of another session, or a figure is none; its key names the label.
    SentTwice
        When this very form was saved before.
    """
    view = read_training(desk, session)
    known = {one.code: one for one in view.pieces}
    drafts = []
    for one in typed:
        code = read_label(one.label)
        piece = known.get(code)
        if piece is None:
            raise BadInput(f"label-{code}", f"{code} is no label of this training")
        try:
            judge_piece(piece.weld, one.piece, view.limits[piece.weld])
        except BadInput as bad:
            raise BadInput(f"{bad.key}-{code}", f"{code}: {bad.message}") from bad
        if piece.piece == one.piece:
            continue
        payload = {"session": session, "label": code, "piece": one.piece}
        about = [f"training/{session}", f"label/{code}"]
        drafts.append(desk.draft("training_result", about, payload))
    if drafts:
        append(desk, drafts, {})
    return read_training(desk, session)


def _piece(
    label: Mapping[str, object], typed: Event | None, limits: Mapping[WeldType, float]
) -> PieceView:
    weld = WeldType(str(label["weld"]))
    piece = read(Piece, typed.payload["piece"]) if typed else None
    return PieceView(
        code=str(label["code"]),
        trainee=str(label["trainee"]),
        weld=weld,
        position=str(label["position"]),
        number=int(str(label["number"])),
        piece=piece,
        result=judge_piece(weld, piece, limits[weld]) if piece else None,
        typed_by=typed.actor if typed else "",
        typed_at=moment(typed.at) if typed else None,
    )


def _limit(command: OpenTraining, weld: WeldType) -> float:
    given = (command.limits or {}).get(weld)
    if given is None:
        if not 0.2e-3 <= command.thinner <= 6e-3:
            raise BadInput("thinner", "give the thinner sheet, 0.2 to 6 mm")
        if weld is WeldType.PLUG and not 3e-3 <= command.hole <= 20e-3:
            raise BadInput("hole", "give the hole of a plug, 3 to 20 mm")
        return usual_limit(weld, command.thinner, command.hole)
    if not 0.1e-3 <= given <= 30e-3:
        raise BadInput(f"limit-{weld.value}", f"is {given * 1e3:g} mm; give 0.1 to 30 mm")
    return given
