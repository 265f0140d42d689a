"""The fire watch of a job: how long it still goes on, by the server's clock, and who signs it."""

from math import ceil
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.read_job import read_job
from buttonhole.desk.watch_fire import (
    FOUND,
    EndFireWatch,
    SetFireWatch,
    WatchView,
    end_fire_watch,
    fire_watch,
    set_fire_watch,
)
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.shop import Reading, Writing, go_on

router = APIRouter(prefix="/jobs/{job_id}/fire", responses=RESPONSES)


@router.get("")
def show_watch(request: Request, job_id: str, desk: Reading) -> Response:
    """Show the fire watch."""
    return _page(request, job_id, desk, Answers({}))


@router.get("/now")
def show_now(request: Request, job_id: str, desk: Reading, form: Form) -> Response:
    """Show the time left, for a page that asks again and again; lead to it anew at the end."""
    watch = fire_watch(desk, job_id)
    if form.typed.get("as") != _shape(watch):
        return Response(headers={"HX-Redirect": f"/jobs/{job_id}/fire"})
    return page(request, "fire_now.html", job=read_job(desk, job_id), **_now(watch, desk))


@router.post("")
def take_end(request: Request, job_id: str, form: Form, desk: Writing) -> Response:
    """Sign the end of the watch."""
    found = form.choice("found", FOUND, "Choose what you found.")
    if not form.faults:
        try:
            end_fire_watch(desk, EndFireWatch(job_id, found, form.text("note")))
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/jobs/{job_id}/fire", desk)
    return _page(request, job_id, desk, form, 422)


@router.post("/minutes")
def take_minutes(request: Request, job_id: str, form: Form, desk: Writing) -> Response:
    """Say how long somebody stays."""
    need = "Give the minutes, 30 to 240."
    minutes = form.quantity_bare("minutes", need)
    if minutes is None:
        form.faults.setdefault("minutes", need)
    else:
        try:
            set_fire_watch(desk, SetFireWatch(job_id, minutes))
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/jobs/{job_id}/fire", desk)
    return _page(request, job_id, desk, form, 422)


def _shape(watch: WatchView) -> str:
    if watch.watch is None:
        return "none"
    return ("owed" if watch.is_owed else "signed") + ("-over" if watch.is_over else "-on")


def _now(watch: WatchView, desk: Reading) -> dict[str, Any]:
    until = desk.shop_time(watch.watch.until) if watch.watch else None
    return {
        "watch": watch,
        "until": until,
        "minutes_left": ceil(watch.left / 60.0),
        "shape": _shape(watch),
    }


def _page(
    request: Request, job_id: str, desk: Reading, form: Answers, status: int = 200
) -> Response:
    watch = fire_watch(desk, job_id)
    job = read_job(desk, job_id)
    usual = {"minutes": f"{watch.minutes:g}"}
    return page(
        request,
        "fire.html",
        status=status,
        job=job,
        demo=job.demo,
        form=Answers({**usual, **form.typed}, form.faults),
        **_now(watch, desk),
    )
