"""A joint: describe it, change it, see where it stands, take its weld file home."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole import sources
from buttonhole.desk.arc_view import ArcKind
from buttonhole.desk.correct_entry import FINAL
from buttonhole.desk.describe_joint import DescribeJoint, describe_joint
from buttonhole.desk.joint_file import around_text
from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.release_set_up import recheck_due
from buttonhole.desk.view import JointView
from buttonhole.desk.watch_machine import MachineWatch
from buttonhole.desk.weld_file import WeldFile, arc_weld_file_text, weld_file_text
from buttonhole.joint.stack_up import cautions
from buttonhole.units import BadInput
from buttonhole.web.decided import kept_differences, kept_watch
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pages.arc_joint import change_arc_joint, save_arc_joint
from buttonhole.web.pictures import stack_pictures
from buttonhole.web.render import page
from buttonhole.web.screen import drawn_limits, joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.stack_form import coating_choices, read_stack, steel_choices, typed_stack

router = APIRouter(responses=RESPONSES)


@router.get("/jobs/{job_id}/joints/new")
def ask_joint(request: Request, job_id: str, desk: Reading) -> Response:
    """Ask what meets where."""
    return _form_page(request, desk, Answers({}), job_id)


@router.post("/jobs/{job_id}/joints/new")
def take_joint(request: Request, job_id: str, form: Form, desk: Writing) -> Response:
    """Save a new joint, or draw it only."""
    return _save(request, form, desk, job_id, None)


@router.get("/joints/{joint_id}/sheets")
def ask_sheets(request: Request, joint_id: str, desk: Reading) -> Response:
    """Show the sheets of a joint for a change."""
    view = read_joint(desk, joint_id)
    if view.arc is not None:
        return change_arc_joint(request, joint_id, desk)
    spots = str(view.old_spots) if view.old_spots else ""
    typed = {"name": view.name, "old_spots": spots, "seen": view.seen, **typed_stack(view.stack)}
    return _form_page(request, desk, Answers(typed), view.job_id, view)


@router.post("/joints/{joint_id}/sheets")
def take_sheets(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Save the change, unless somebody was faster."""
    view = read_joint(desk, joint_id)
    if view.arc is not None:
        return save_arc_joint(request, form, desk, view.job_id, view.arc.kind, view)
    return _save(request, form, desk, view.job_id, view)


@router.post("/draw")
def draw(request: Request, form: Form) -> Response:
    """Draw the sheets typed so far; nothing is saved."""
    stack = read_stack(form)
    pictures = stack_pictures(stack, drawn_limits(stack), None) if stack else None
    said = cautions(stack) if stack else ()
    return page(request, "joint_drawn.html", pictures=pictures, stack_cautions=said)


@router.get("/joints/{joint_id}")
def show_joint(request: Request, joint_id: str, desk: Reading) -> Response:
    """Show where a joint stands and what comes next."""
    screen = joint_screen(desk, joint_id)
    return page(
        request,
        "joint.html" if screen.view.arc is None else "arc_joint.html",
        joint=screen,
        view=screen.view,
        final=FINAL,
        demo=screen.view.demo,
        diff=kept_differences(desk, screen.view),
        watch=_watch(desk, screen.view),
        recheck=recheck_due(desk, screen.view),
        sources=[(rule, sources.bibliography().get(rule.source)) for rule in screen.rules],
    )


def _watch(desk: Reading, view: JointView) -> MachineWatch | None:
    """The joint's gun over time, as soon as one of its coupons was torn."""
    if view.set_up is None or view.arc is not None or not any(one.readings for one in view.coupons):
        return None
    return kept_watch(desk, view.set_up.surroundings.machine, view)


@router.get("/joints/{joint_id}/weld.toml")
def take_home(joint_id: str, desk: Reading) -> Response:
    """Give the joint as a weld file."""
    view = read_joint(desk, joint_id)
    headers = {"Content-Disposition": 'attachment; filename="weld.toml"'}
    if view.arc is not None:
        text = arc_weld_file_text(view.arc.chosen)
        return Response(text, media_type="application/toml", headers=headers)
    chosen = view.set_up or view.proposal
    if chosen is None:
        raise NotFound("weld file of this joint before it has a set-up")
    rule = criterion_of(view)
    named = rule.key if rule.key not in ("maker", "own") else None
    text = weld_file_text(WeldFile(view.stack, chosen.set_up, named))
    text += around_text(view.circumstances)
    return Response(text, media_type="application/toml", headers=headers)


def _save(
    request: Request, form: Answers, desk: Writing, job_id: str, view: JointView | None
) -> Response:
    stack = read_stack(form)
    name = form.text("name", need="Give the joint a name: its number and place.")
    spots = form.number("old_spots", low=0, high=500, need="")
    if "draw" in request.query_params:
        form.faults.clear()
        return _form_page(request, desk, form, job_id, view)
    if stack is not None and not form.faults:
        command = DescribeJoint(
            job_id=job_id,
            name=name,
            stack=stack,
            old_spots=spots or 0,
            joint_id=view.id if view else None,
            seen=form.text("seen") or None,
        )
        try:
            saved = describe_joint(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{saved.id}", desk)
    return _form_page(request, desk, form, job_id, view, status=422)


def _form_page(
    request: Request,
    desk: Reading,
    form: Answers,
    job_id: str,
    view: JointView | None = None,
    status: int = 200,
) -> Response:
    job = read_job(desk, job_id)
    stack = read_stack(Answers(form.typed))
    return page(
        request,
        "joint_form.html",
        status=status,
        form=form,
        demo=job.demo,
        change=view is not None,
        job_name=f"{job.title} · {job.vehicle}",
        seen=form.text("seen"),
        job_id=job_id,
        kinds=tuple(ArcKind),
        kind=None,
        action=f"/joints/{view.id}/sheets" if view else f"/jobs/{job_id}/joints/new",
        back=f"/joints/{view.id}" if view else f"/jobs/{job_id}",
        pictures=stack_pictures(stack, drawn_limits(stack), None) if stack else None,
        stack_cautions=cautions(stack) if stack else (),
        steels=steel_choices(),
        coatings=coating_choices(),
    )
