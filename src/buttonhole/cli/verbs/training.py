"""``buttonhole training``: a session, its labels, results, and how the class stands."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from buttonhole.cli import say
from buttonhole.cli.at_desk import ByOption, RecordOption, desk_at, reading
from buttonhole.cli.quantities import quantity
from buttonhole.cli.verbs.predict import JsonOption
from buttonhole.cli.words import _
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.desk.desk import Desk
    from buttonhole.desk.training import TrainingView

SessionArgument = Annotated[
    str, typer.Argument(metavar="SESSION", help=_("Title or id of the session."))
]


def open_(
    title: Annotated[str, typer.Argument(metavar="TITLE", help=_("Course and day."))],
    trainee: Annotated[list[str], typer.Option(help=_("Who learns; again for more."))],
    by: ByOption,
    weld: Annotated[
        list[str] | None, typer.Option(help=_("spot, plug, lap or butt; all unless said."))
    ] = None,
    position: Annotated[
        list[str] | None, typer.Option(help=_("By ISO 6947, e.g. PA; again for more."))
    ] = None,
    each: Annotated[int, typer.Option(help=_("Pieces of each weld in each position."))] = 1,
    thinner: Annotated[str, typer.Option(metavar="LENGTH", help=_("Thinner sheet."))] = "0.8 mm",
    hole: Annotated[str, typer.Option(metavar="LENGTH", help=_("Hole of a plug."))] = "8 mm",
    limit: Annotated[
        list[str] | None, typer.Option(metavar="WELD=LENGTH", help=_("Least size, e.g. plug=5 mm."))
    ] = None,
    pieces: Annotated[int, typer.Option(help=_("Ready by the last so many pieces."))] = 10,
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Open a session; every piece gets a label. Begins the record if there is none."""
    from buttonhole.coupon.training import ReadyRule, WeldType
    from buttonhole.desk.training import OpenTraining, open_training

    limits = dict(_limit(one) for one in limit or ())
    command = OpenTraining(
        title,
        tuple(trainee),
        tuple(_weld(one) for one in weld or tuple(WeldType)),
        tuple(position or ("PA",)),
        each,
        quantity("--thinner", thinner, "length") or 0.0,
        quantity("--hole", hole, "length") or 0.0,
        limits,
        ReadyRule(pieces),
    )
    with desk_at(record, by, must_exist=False) as desk:
        view = open_training(desk, command)
    _tell(view, json)


def list_(record: RecordOption = None, json: JsonOption = False) -> None:
    """List the sessions, the newest first."""
    from buttonhole.desk.training import list_trainings

    with reading(record) as desk:
        found = list_trainings(desk)
    if json:
        keys = ("id", "title", "opened_at", "trainer")
        rows = [(name, title, at.isoformat(), who) for name, title, at, who in found]
        say.give_json({"sessions": [dict(zip(keys, row, strict=True)) for row in rows]})
        return
    say.give_lines(f"{at.astimezone():%Y-%m-%d}  {title}: {who}" for _id, title, at, who in found)


def show(session: SessionArgument, record: RecordOption = None, json: JsonOption = False) -> None:
    """Show how the class stands: who is ready, what goes wrong most."""
    with reading(record) as desk:
        view = _find(desk, session)
    _tell(view, json)


def labels(
    session: SessionArgument,
    target: Annotated[Path, typer.Argument(metavar="PDF", help=_("Where the labels go."))],
    roll: Annotated[bool, typer.Option("--roll", help=_("One label a page, 50 x 25 mm."))] = False,
    address: Annotated[
        str, typer.Option(metavar="URL", help=_("Where the server answers, for the square code."))
    ] = "",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Print the labels of a session."""
    from buttonhole.cli.papers import write_paper
    from buttonhole.desk.print_training import print_training_labels

    with reading(record) as desk:
        found = _find(desk, session).id
        write_paper(
            target, lambda: print_training_labels(desk, found, address=address, roll=roll), json
        )


def card(
    session: SessionArgument,
    trainee: Annotated[str, typer.Argument(metavar="TRAINEE", help=_("Whose."))],
    target: Annotated[Path, typer.Argument(metavar="PDF", help=_("Where the card goes."))],
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Print the feedback card of one trainee."""
    from buttonhole.cli.papers import write_paper
    from buttonhole.desk.print_training import print_feedback

    with reading(record) as desk:
        found = _find(desk, session).id
        write_paper(target, lambda: print_feedback(desk, found, trainee), json)


def result(
    label: Annotated[str, typer.Argument(metavar="LABEL", help=_("Number on the label."))],
    first: Annotated[
        str, typer.Argument(metavar="LENGTH", help=_("Largest diameter; least fused width."))
    ],
    by: ByOption,
    second: Annotated[
        str,
        typer.Argument(metavar="[LENGTH]", help=_("Smallest diameter; length that is not fused.")),
    ] = "0 mm",
    fault: Annotated[str, typer.Option(help=_("One figure, 0 to 9; see the entry page."))] = "0",
    record: RecordOption = None,
    json: JsonOption = False,
) -> None:
    """Note what a labelled piece showed."""
    from buttonhole.coupon.training import Fault, Piece
    from buttonhole.desk.labels import find_label
    from buttonhole.desk.training import TypedResult, save_results

    if fault not in tuple(Fault):
        raise BadInput("--fault", _("is {!r}; give one figure, 0 to 9").format(fault))
    one, two = quantity("LENGTH", first, "length"), quantity("LENGTH", second, "length")
    with desk_at(record, by) as desk:
        found = find_label(desk, label)
        piece = Piece(one or 0.0, two or 0.0, Fault(fault))
        view = save_results(desk, found.session_id, [TypedResult(found.code, piece)])
    _tell(view, json)


def _weld(given: str):  # type: ignore[no-untyped-def] # WeldType, imported when run
    from buttonhole.coupon.training import WeldType

    try:
        return WeldType(given)
    except ValueError:
        listed = ", ".join(WeldType)
        raise BadInput("--weld", _("is {!r}; give one of {}").format(given, listed)) from None


def _limit(given: str):  # type: ignore[no-untyped-def] # WeldType and length, imported when run
    name, mark, size = given.partition("=")
    if not mark:
        raise BadInput("--limit", _("is {!r}; give for example 'plug=5 mm'").format(given))
    return _weld(name.strip()), quantity("--limit", size.strip(), "length")


def _find(desk: "Desk", called: str) -> "TrainingView":
    from buttonhole.desk.training import list_trainings, read_training

    found = [
        name
        for name, title, _at, _who in list_trainings(desk)
        if called == name or called.casefold() == title.casefold()
    ]
    if len(found) != 1:
        raise BadInput("SESSION", _("there is no one session {!r}; give its id").format(called))
    return read_training(desk, found[0])


def _tell(view: "TrainingView", json: bool) -> None:
    if json:
        say.give_json(_answer(view))
        return
    lines = [_("{}: {} of {} pieces typed").format(view.title, view.typed, len(view.pieces))]
    for name in view.trainees:
        lines.append(f"  {name}")
        for weld in view.welds:
            found = view.readiness(name, weld)
            lines.append(f"    {weld.words}: {found.state}, {found.reason}")
    for fault, count in view.faults()[:3]:
        lines.append(_("  {} x {}").format(count, fault.words))
    say.give_lines(lines)


def _answer(view: "TrainingView") -> dict[str, Any]:
    return {
        "id": view.id,
        "title": view.title,
        "trainer": view.trainer,
        "limits_mm": {weld.value: size * 1e3 for weld, size in view.limits.items()},
        "typed": view.typed,
        "pieces": [
            {
                "label": one.code,
                "trainee": one.trainee,
                "weld": one.weld.value,
                "position": one.position,
                "number": one.number,
                "size_mm": one.result.size * 1e3 if one.result else None,
                "passed": one.result.passed if one.result else None,
                "fault": one.piece.fault.words if one.piece else None,
                "reason": one.result.reason if one.result else None,
                "typed_by": one.typed_by or None,
            }
            for one in view.pieces
        ],
        "trainees": [
            {
                "name": name,
                "welds": [
                    {
                        "weld": weld.value,
                        "state": found.state,
                        "passed": found.passed,
                        "counted": found.counted,
                        "reason": found.reason,
                        "mean_margin_mm": _mm(found.mean_margin),
                        "sure_margin_mm": _mm(found.sure_margin),
                    }
                    for weld, found in ((one, view.readiness(name, one)) for one in view.welds)
                ],
            }
            for name in view.trainees
        ],
        "faults": [{"fault": one.words, "pieces": count} for one, count in view.faults()],
    }


def _mm(value: float | None) -> float | None:
    return None if value is None else value * 1e3
