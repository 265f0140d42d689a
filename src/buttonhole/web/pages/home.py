"""Jobs: all of them, a new one, one of them, what its vehicle is, and what is made safe on it."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.gates import gates_now
from buttonhole.desk.open_job import (
    OpenJob,
    TellIntake,
    TickGate,
    open_job,
    tell_intake,
    tick_gate,
)
from buttonhole.desk.read_job import list_jobs, read_job
from buttonhole.units import BadInput
from buttonhole.vehicle.safety import GATES, Answer, Powertrain
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.screen import joint_card
from buttonhole.web.shop import Reading, Writing, go_on

router = APIRouter(responses=RESPONSES)

POWERTRAINS = (("", tuple((one.value, one.words) for one in Powertrain)),)
REPAIRS = (("", (("", "Nobody looked yet"), ("no", "No"), ("yes", "Yes"))),)
TONES = {"signed": "yes", "open": "", "waiting": "wait", "old": "wait", "refused": "no"}
WORDS = {
    "signed": "signed",
    "open": "to be done",
    "waiting": "wait",
    "old": "signed on another day",
    "refused": "not cleared",
}
CHOICES = (("", tuple((one.key, one.words) for one in GATES if not one.private)),)


@router.get("/")
def show_jobs(request: Request, desk: Reading) -> Response:
    """Show all jobs, the newest first."""
    return page(request, "home.html", jobs=list_jobs(desk))


@router.get("/jobs/new")
def ask_job(request: Request) -> Response:
    """Ask which vehicle."""
    return _ask(request, Answers({}))


@router.post("/jobs/new")
def take_job(request: Request, form: Form, desk: Writing) -> Response:
    """Open the job."""
    command = OpenJob(
        title=form.text("title", need="Give the job number."),
        vehicle=form.text("vehicle", need="Give the vehicle, as in its papers."),
        vin=form.text("vin"),
        area=form.text("area"),
        powertrain=_powertrain(form),
        earlier_repair=form.text("earlier_repair"),
    )
    if not form.faults:
        try:
            job = open_job(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/jobs/{job.id}", desk)
    return _ask(request, form, 422)


@router.get("/jobs/{job_id}")
def show_job(request: Request, job_id: str, desk: Reading) -> Response:
    """Show a job with its joints."""
    job = read_job(desk, job_id)
    gates = [one for one in gates_now(desk, job) if one.state != "not needed"]
    return page(
        request,
        "job.html",
        job=job,
        demo=job.demo,
        joints=[joint_card(one) for one in job.joints],
        gates=len(gates),
        signed=sum(not one.is_owed for one in gates),
    )


@router.get("/jobs/{job_id}/intake")
def ask_intake(request: Request, job_id: str, desk: Reading) -> Response:
    """Ask what is known of the vehicle by now."""
    job = read_job(desk, job_id)
    typed = {
        "vin": job.vin,
        "powertrain": job.powertrain.value,
        "earlier_repair": job.earlier_repair,
    }
    return _intake(request, job_id, desk, Answers(typed))


@router.post("/jobs/{job_id}/intake")
def take_intake(request: Request, job_id: str, form: Form, desk: Writing) -> Response:
    """Note what is known of the vehicle."""
    command = TellIntake(job_id, form.text("vin"), _powertrain(form), form.text("earlier_repair"))
    if not form.faults:
        try:
            tell_intake(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/jobs/{job_id}", desk)
    return _intake(request, job_id, desk, form, 422)


@router.get("/jobs/{job_id}/safe")
def show_gates(request: Request, job_id: str, desk: Reading) -> Response:
    """Show what is made safe, and by whom."""
    return _gates(request, job_id, desk, Answers({}))


@router.post("/jobs/{job_id}/safe")
def take_gate(request: Request, job_id: str, form: Form, desk: Writing) -> Response:
    """Sign for one gate, with name and time."""
    allowed = ("", *(one.value for one in Answer))
    answer = form.choice("answer", allowed, "Choose one of the answers.")
    wait = form.typed.get("wait", "").strip()
    minutes = form.quantity_bare("wait", "Give the minutes.") if wait not in ("", "0") else None
    if not form.faults:
        command = TickGate(
            job_id,
            form.text("gate"),
            form.text("remark"),
            Answer(answer) if answer else None,
            form.text("who"),
            form.text("when"),
            minutes,
        )
        try:
            tick_gate(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/jobs/{job_id}/safe", desk)
    return _gates(request, job_id, desk, form, 422)


def _powertrain(form: Answers) -> Powertrain:
    if not form.typed.get("powertrain"):
        return Powertrain.UNKNOWN
    allowed = tuple(one.value for one in Powertrain)
    found = form.choice("powertrain", allowed, "Choose what drives the vehicle.")
    return Powertrain(found) if found else Powertrain.UNKNOWN


def _ask(request: Request, form: Answers, status: int = 200) -> Response:
    return page(
        request,
        "job_new.html",
        status=status,
        form=form,
        powertrains=POWERTRAINS,
        repairs=REPAIRS,
    )


def _intake(
    request: Request, job_id: str, desk: Reading, form: Answers, status: int = 200
) -> Response:
    job = read_job(desk, job_id)
    return page(
        request,
        "intake.html",
        status=status,
        job=job,
        demo=job.demo,
        form=form,
        powertrains=POWERTRAINS,
        repairs=REPAIRS,
    )


def _gates(
    request: Request, job_id: str, desk: Reading, form: Answers, status: int = 200
) -> Response:
    job = read_job(desk, job_id)
    return page(
        request,
        "gates.html",
        status=status,
        job=job,
        demo=job.demo,
        form=form,
        gates=gates_now(desk, job),
        tones=TONES,
        words=WORDS,
        choices=CHOICES,
    )
