"""The trainer's day: open a session, print its labels, type results, see how the class stands."""

import re

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.coupon.label import read_label
from buttonhole.coupon.training import Fault, Piece, ReadyRule, WeldType
from buttonhole.desk.print_training import print_feedback, print_training_labels
from buttonhole.desk.training import (
    POSITIONS,
    OpenTraining,
    PieceView,
    TrainingView,
    TypedResult,
    list_trainings,
    open_training,
    read_training,
    save_results,
)
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pages.judge import pdf
from buttonhole.web.render import page
from buttonhole.web.shop import Reading, Writing, go_on

router = APIRouter(prefix="/training", responses=RESPONSES)

LINES = 16  # pieces of one page: three figures each, and a form of ours has sixty fields at most
TONES = {"ready": "yes", "not yet": "no", "too few": "wait"}


@router.get("")
def show_trainings(request: Request, desk: Reading) -> Response:
    """List the sessions."""
    return page(request, "trainings.html", sessions=list_trainings(desk))


@router.get("/new")
def ask_training(request: Request) -> Response:
    """Ask who learns what."""
    usual = {"each": "1", "thinner": "0.8", "hole": "8", "pieces": "10"}
    ticked = dict.fromkeys(("weld-spot", "weld-plug", "weld-lap", "weld-butt", "at-PA"), "yes")
    return _new_page(request, Answers({**usual, **ticked}))


@router.post("/new")
def take_training(request: Request, form: Form, desk: Writing) -> Response:
    """Open the session, with a label for every piece."""
    names = [one.strip() for one in re.split(r"[,;]", form.text("trainees"))]
    command_of = {
        "title": form.text("title", need="Give the session a name."),
        "trainees": tuple(one for one in names if one),
        "welds": tuple(one for one in WeldType if form.typed.get(f"weld-{one}") == "yes"),
        "positions": tuple(one for one in POSITIONS if form.typed.get(f"at-{one}") == "yes"),
    }
    each = form.number("each", low=1, high=20, need="Give how many of each.")
    pieces = form.number("pieces", low=2, high=50, need="Give over how many pieces.")
    thinner = form.quantity("thinner", "length", "mm", need="Give the thinner sheet.")
    hole = form.quantity("hole", "length", "mm", need="Give the hole of a plug.")
    if not form.faults:
        assert each is not None and pieces is not None  # noqa: S101, PT018 - no fault
        assert thinner is not None and hole is not None  # noqa: S101, PT018 - no fault
        rule = ReadyRule(pieces)
        try:
            view = open_training(
                desk,
                OpenTraining(
                    **command_of,  # type: ignore[arg-type] # each of its own type, see above
                    each=each,
                    thinner=thinner,
                    hole=hole,
                    rule=rule,
                ),
            )
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/training/{view.id}", desk)
    return _new_page(request, form, 422)


@router.get("/{session}")
def show_training(request: Request, session: str, desk: Reading) -> Response:
    """Show how the class stands: who is ready, what goes wrong most."""
    view = read_training(desk, session)
    return page(
        request,
        "training.html",
        view=view,
        form=Answers({}),
        tones=TONES,
        done={name: sum(one.result is not None for one in view.of(name)) for name in view.trainees},
        faults=view.faults(),
        by_type=[(weld, view.faults(weld=weld)) for weld in view.welds],
    )


@router.post("/{session}/labels.pdf")
def print_sheet(request: Request, session: str, form: Form, desk: Reading) -> Response:
    """Print the labels of the session."""
    roll = form.text("roll") == "yes"
    printed = print_training_labels(desk, session, address=str(request.base_url), roll=roll)
    return pdf(printed.pdf, "labels-roll.pdf" if roll else "labels.pdf")


@router.get("/{session}/card.pdf")
def print_card(session: str, form: Form, desk: Reading) -> Response:
    """Print the feedback card of a trainee."""
    trainee = form.text("trainee")
    name = re.sub(r"[^A-Za-z0-9]+", "-", trainee).strip("-")[:40] or "trainee"
    return pdf(print_feedback(desk, session, trainee).pdf, f"feedback-{name}.pdf")


@router.get("/{session}/entry")
def ask_results(request: Request, session: str, form: Form, desk: Reading) -> Response:
    """Show one line for each piece of a trainee, to be filled with figures."""
    view = read_training(desk, session)
    return _entry_page(request, view, form)


@router.post("/{session}/entry")
def take_results(request: Request, session: str, form: Form, desk: Writing) -> Response:
    """Keep the lines that are filled in."""
    view = read_training(desk, session)
    typed = [one for each in _lines(view, form) if (one := _typed(form, each)) is not None]
    if not form.faults:
        try:
            save_results(desk, session, typed)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, _after(view, form), desk)
    return _entry_page(request, view, form, 422)


@router.get("/{session}/{code}")
def ask_result(request: Request, session: str, code: str, desk: Reading) -> Response:
    """Ask for the figures of the piece whose label was scanned."""
    view = read_training(desk, session)
    try:
        read = read_label(code)
    except BadInput as bad:
        raise NotFound("piece with this label", "Type the label again.") from bad
    return _entry_page(request, view, Answers({"label": read}))


def _new_page(request: Request, form: Answers, status: int = 200) -> Response:
    return page(
        request,
        "training_new.html",
        status=status,
        form=form,
        welds=tuple(WeldType),
        positions=POSITIONS,
    )


def _lines(view: TrainingView, form: Answers) -> tuple[PieceView, ...]:
    """The pieces of the page: of one label, or of one trainee, sixteen at a time."""
    label = form.typed.get("label", "")
    if label:
        found = tuple(one for one in view.pieces if one.code == label)
        if not found:
            raise NotFound("piece with this label in this training", "Type the label again.")
        return found
    mine = view.of(_trainee(view, form))
    start = LINES * _sheet(form, len(mine))
    return mine[start : start + LINES]


def _trainee(view: TrainingView, form: Answers) -> str:
    given = form.typed.get("trainee", "")
    if given in view.trainees:
        return given
    open_ones = [one.trainee for one in view.pieces if one.result is None]
    return open_ones[0] if open_ones else view.trainees[0]


def _sheet(form: Answers, count: int) -> int:
    given = form.typed.get("sheet", "0")
    sheets = max(-(-count // LINES), 1)
    return min(int(given), sheets - 1) if given.isascii() and given.isdigit() else 0


def _after(view: TrainingView, form: Answers) -> str:
    """Where typing goes on: the next sheet or trainee, or the scan of the next label."""
    here = f"/training/{view.id}"
    if form.typed.get("label"):
        return here
    name = _trainee(view, form)
    count, sheet = len(view.of(name)), _sheet(form, len(view.of(name)))
    if (sheet + 1) * LINES < count:
        return f"{here}/entry?trainee={_quoted(name)}&sheet={sheet + 1}"
    place = view.trainees.index(name) + 1
    if place == len(view.trainees):
        return here
    return f"{here}/entry?trainee={_quoted(view.trainees[place])}"


def _quoted(name: str) -> str:
    from urllib.parse import quote

    return quote(name, safe="")


def _typed(form: Answers, one: PieceView) -> TypedResult | None:
    keys = [f"{key}-{one.code}" for key in ("first", "second", "fault")]
    if not any(form.typed.get(key, "").strip() for key in keys):
        return None
    names = one.weld.asks
    first = form.quantity(keys[0], "length", "mm", need=f"{one.code}: {names[0]} is missing.")
    optional = not one.weld.is_round  # nothing typed: fused all along
    need = "" if optional else f"{one.code}: {names[1]} is missing."
    second = form.quantity(keys[1], "length", "mm", need=need)
    fault = form.typed.get(keys[2], "").strip() or "0"
    if fault not in tuple(Fault):
        form.faults[keys[2]] = f"{one.code}: give the fault as one figure, 0 to 9."
    if first is None or keys[0] in form.faults or keys[1] in form.faults or keys[2] in form.faults:
        return None
    return TypedResult(one.code, Piece(first, second or 0.0, Fault(fault)))


def _entry_page(request: Request, view: TrainingView, form: Answers, status: int = 200) -> Response:
    lines = _lines(view, form)
    shown = {}
    for one in lines:
        if one.piece is not None:
            shown[f"first-{one.code}"] = f"{one.piece.first * 1e3:g}"
            shown[f"second-{one.code}"] = f"{one.piece.second * 1e3:g}"
            shown[f"fault-{one.code}"] = one.piece.fault.value
    return page(
        request,
        "training_entry.html",
        status=status,
        view=view,
        form=Answers({**shown, **form.typed}, form.faults),
        lines=lines,
        trainee=lines[0].trainee,
        sheet=_sheet(form, len(view.of(lines[0].trainee))),
        label=form.typed.get("label", ""),
        faults=tuple(Fault),
    )
