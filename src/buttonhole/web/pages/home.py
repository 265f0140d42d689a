"""Jobs: all of them, a new one, one of them, and what is made safe on it."""

from collections import Counter

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.open_job import OpenJob, TickGate, open_job, tick_gate
from buttonhole.desk.read_job import list_jobs, read_job
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.screen import joint_card
from buttonhole.web.shop import Reading, Writing, go_on

router = APIRouter(responses=RESPONSES)


@router.get("/")
def show_jobs(request: Request, desk: Reading) -> Response:
    """Show all jobs, the newest first."""
    return page(request, "home.html", jobs=list_jobs(desk))


@router.get("/jobs/new")
def ask_job(request: Request) -> Response:
    """Ask which vehicle."""
    return page(request, "job_new.html", form=Answers({}))


@router.post("/jobs/new")
def take_job(request: Request, form: Form, desk: Writing) -> Response:
    """Open the job."""
    command = OpenJob(
        title=form.text("title", need="Give the job number."),
        vehicle=form.text("vehicle", need="Give the vehicle, as in its papers."),
        vin=form.text("vin"),
        area=form.text("area"),
    )
    if not form.faults:
        try:
            job = open_job(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/jobs/{job.id}", desk)
    return page(request, "job_new.html", status=422, form=form)


@router.get("/jobs/{job_id}")
def show_job(request: Request, job_id: str, desk: Reading) -> Response:
    """Show a job with its joints."""
    job = read_job(desk, job_id)
    ticked = Counter(one.at is not None for one in job.gates)
    return page(
        request,
        "job.html",
        job=job,
        demo=job.demo,
        joints=[joint_card(one) for one in job.joints],
        ticked=ticked[True],
    )


@router.get("/jobs/{job_id}/safe")
def show_gates(request: Request, job_id: str, desk: Reading) -> Response:
    """Show what is made safe, and by whom."""
    job = read_job(desk, job_id)
    return page(request, "gates.html", job=job, demo=job.demo)


@router.post("/jobs/{job_id}/safe")
def take_gate(request: Request, job_id: str, form: Form, desk: Writing) -> Response:
    """Sign for one gate, with name and time."""
    tick_gate(desk, TickGate(job_id, form.text("gate")))
    return go_on(request, f"/jobs/{job_id}/safe", desk)
