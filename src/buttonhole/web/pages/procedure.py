"""By which authority a joint is welded: the maker's procedure, or a signed deviation."""

from datetime import date

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.cite_procedure import (
    CiteProcedure,
    SignDeviation,
    cite_procedure,
    sign_deviation,
)
from buttonhole.units import BadInput
from buttonhole.web.circumstances_form import method_choices
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)


@router.get("/procedure")
def ask_procedure(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask what the maker says."""
    screen = joint_screen(desk, joint_id, "Method")
    today = desk.shop_time(desk.now()).date().isoformat()
    return _page(request, screen, Answers({"read_on": today, "seen": screen.view.seen}))


@router.post("/procedure")
def take_procedure(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Keep the page that was read."""
    factor = form.quantity_bare("spots_factor", "Give new spots for each old one, 1.3 say.")
    diameter = form.quantity("minimum_diameter", "length", "mm")
    read_on = _day(form)
    reference = form.text("reference", need="Give the document and the page.")
    revision = form.text("revision", need="Give the revision, or the date printed on the page.")
    says = form.text("says", need="Give what the page says about this joint.")
    if read_on is not None and not form.faults:
        command = CiteProcedure(
            joint_id=joint_id,
            seen=form.text("seen") or None,
            reference=reference,
            revision=revision,
            read_on=read_on,
            says=says,
            spots_factor=factor,
            minimum_diameter=diameter,
            permits=form.text("forbids") != "yes",
            method=form.text("method"),
        )
        try:
            cite_procedure(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}", desk)
    return _page(request, joint_screen(desk, joint_id, "Method"), form, status=422)


@router.get("/deviation")
def ask_deviation(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask why the maker's procedure is left, and who answers for it."""
    screen = joint_screen(desk, joint_id, "Method")
    form = Answers({"seen": screen.view.seen})
    return _page(request, screen, form, template="deviation.html")


@router.post("/deviation")
def take_deviation(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Keep the signed deviation."""
    command = SignDeviation(
        joint_id=joint_id,
        seen=form.text("seen") or None,
        reason=form.text("reason", need="Give the reason."),
        signed_by=form.text("signed_by", need="Give the name of who signs."),
        second_signature=form.text("second_signature", need="A second person must sign."),
    )
    if not form.faults:
        try:
            sign_deviation(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}", desk)
    screen = joint_screen(desk, joint_id, "Method")
    return _page(request, screen, form, template="deviation.html", status=422)


def _page(
    request: Request,
    screen: Screen,
    form: Answers,
    *,
    template: str = "procedure.html",
    status: int = 200,
) -> Response:
    return page(
        request,
        template,
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.text("seen"),
        cited=screen.view.procedure,
        methods=method_choices(),
    )


def _day(form: Answers) -> date | None:
    given = form.text("read_on", need="Give the day on which it was read.")
    if not given:
        return None
    try:
        return date.fromisoformat(given)
    except ValueError:
        form.faults["read_on"] = "Give the day as year-month-day, 2026-01-31 say."
        return None
