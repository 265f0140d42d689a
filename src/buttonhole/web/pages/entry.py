"""Take back an entry that was wrong: it stays readable, and counts no more."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.correct_entry import CorrectEntry, correct_entry
from buttonhole.desk.view import Entry
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}/entries", responses=RESPONSES)


@router.get("/{event_id}")
def ask_reason(request: Request, joint_id: str, event_id: str, desk: Reading) -> Response:
    """Ask why an entry is wrong."""
    screen = joint_screen(desk, joint_id)
    form = Answers({"seen": screen.view.seen})
    return _page(request, screen, _entry(screen, event_id), form)


@router.post("/{event_id}")
def take_back(
    request: Request, joint_id: str, event_id: str, form: Form, desk: Writing
) -> Response:
    """Take the entry back."""
    screen = joint_screen(desk, joint_id)
    entry = _entry(screen, event_id)
    reason = form.text("reason", need="Give the reason; it stays beside the entry.")
    if not form.faults:
        try:
            job = correct_entry(desk, CorrectEntry(event_id, reason, form.text("seen") or None))
        except BadInput as bad:
            form.blame(bad, {"entry": "reason"})
        else:
            there = job.joint(joint_id) is not None
            return go_on(request, f"/joints/{joint_id}" if there else f"/jobs/{job.id}", desk)
    return _page(request, screen, entry, form, status=422)


def _entry(screen: Screen, event_id: str) -> Entry:
    for one in screen.view.history:
        if one.event_id == event_id:
            return one
    raise NotFound("such entry", "Look at the history of the joint.")


def _page(
    request: Request, screen: Screen, entry: Entry, form: Answers, status: int = 200
) -> Response:
    return page(
        request,
        "entry.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        entry=entry,
        form=form,
        seen=form.text("seen"),
    )
