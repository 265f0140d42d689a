"""A joint that is welded by an arc: describe it, change it."""

from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.arc_view import ArcKind
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.view import JointView
from buttonhole.units import BadInput
from buttonhole.web import arc_form
from buttonhole.web.arc_screen import arc_pictures
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.stack_form import coating_choices

router = APIRouter(responses=RESPONSES)


@router.get("/jobs/{job_id}/joints/new/{kind}")
def ask_arc_joint(request: Request, job_id: str, kind: ArcKind, desk: Reading) -> Response:
    """Ask what meets, and how the arc is set; a start for the settings stands in the fields."""
    start = arc_form.start_of(kind, aluminium=request.query_params.get("of") == "aluminium")
    return arc_form_page(request, desk, Answers(start), job_id, kind)


@router.post("/jobs/{job_id}/joints/new/{kind}")
def take_arc_joint(
    request: Request, job_id: str, kind: ArcKind, form: Form, desk: Writing
) -> Response:
    """Save a new joint, or draw it only."""
    return save_arc_joint(request, form, desk, job_id, kind)


@router.post("/draw/{kind}")
def draw_arc_joint(request: Request, kind: ArcKind, form: Form) -> Response:
    """Draw what was typed so far; nothing is saved."""
    return page(request, "joint_drawn.html", pictures=_drawn(form, kind), stack_cautions=())


def save_arc_joint(
    request: Request,
    form: Answers,
    desk: Writing,
    job_id: str,
    kind: ArcKind,
    view: JointView | None = None,
) -> Response:
    """Save a joint, new or changed, unless somebody was faster."""
    keys = arc_form.read_keys(form, kind)
    name = form.text("name", need="Give the joint a name: its number and place.")
    welds = form.number("old_spots", low=0, high=500, need="")
    if "draw" in request.query_params:
        form.faults.clear()
        return arc_form_page(request, desk, form, job_id, kind, view)
    if keys is not None and not form.faults:
        command = DescribeArcJoint(
            job_id=job_id,
            name=name,
            keys=keys,
            old_welds=welds or 0,
            joint_id=view.id if view else None,
            seen=form.text("seen") or None,
        )
        try:
            saved = describe_arc_joint(desk, command)
        except BadInput as bad:
            arc_form.blame(form, bad)
        else:
            return go_on(request, f"/joints/{saved.id}", desk)
    return arc_form_page(request, desk, form, job_id, kind, view, status=422)


def arc_form_page(
    request: Request,
    desk: Reading,
    form: Answers,
    job_id: str,
    kind: ArcKind,
    view: JointView | None = None,
    status: int = 200,
) -> Response:
    """The form of a joint that is welded by an arc."""
    job = read_job(desk, job_id)
    return page(
        request,
        "arc_joint_form.html",
        status=status,
        form=form,
        demo=job.demo,
        change=view is not None,
        job_name=f"{job.title} · {job.vehicle}",
        job_id=job_id,
        seen=form.text("seen"),
        action=f"/joints/{view.id}/sheets" if view else f"/jobs/{job_id}/joints/new/{kind.value}",
        back=f"/joints/{view.id}" if view else f"/jobs/{job_id}",
        pictures=_drawn(form, kind),
        stack_cautions=(),
        **form_choices(kind),
    )


def form_choices(kind: ArcKind) -> dict[str, Any]:
    """What the form of a kind of weld offers."""
    return {
        "kind": kind,
        "kinds": tuple(ArcKind),
        "metals": arc_form.metal_choices(kind),
        "coatings": coating_choices(),
        "wires": arc_form.wire_choices(kind),
        "words": arc_form.word_choices(),
        "wire": arc_form.WIRE,
        "set_up": arc_form.figures(kind, arc_form.SET_UP),
        "stitches": arc_form.figures(kind, arc_form.STITCHES),
        "piece": arc_form.figures(kind, arc_form.PIECE),
    }


def typed_joint(view: JointView, kind: ArcKind) -> dict[str, str]:
    """Put a joint back into the fields of its form."""
    assert view.arc is not None  # noqa: S101 - asked for arc joints only
    welds = str(view.old_spots) if view.old_spots else ""
    typed = arc_form.typed_keys(view.arc.keys, kind)
    return {"name": view.name, "old_spots": welds, "seen": view.seen, **typed}


def change_arc_joint(request: Request, joint_id: str, desk: Reading) -> Response:
    """Show an arc joint for a change."""
    view = read_joint(desk, joint_id)
    assert view.arc is not None  # noqa: S101 - asked for arc joints only
    kind = view.arc.kind
    return arc_form_page(request, desk, Answers(typed_joint(view, kind)), view.job_id, kind, view)


def _drawn(form: Answers, kind: ArcKind) -> Any:
    read = Answers(form.typed)
    keys = arc_form.read_keys(read, kind)
    return arc_pictures(keys) if keys is not None else None
