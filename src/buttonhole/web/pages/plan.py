"""The coupon plan with its labels, and what a label leads to."""

from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.coupon.plan import PITCH, CouponPlan, Occasion
from buttonhole.desk.conflict import NotThere
from buttonhole.desk.labels import LabelView, find_label
from buttonhole.desk.plan_coupons import (
    PlanCoupons,
    cut_rows,
    find_plan,
    issue_plan,
    planned,
    print_labels,
    read_plans,
    sheet_words,
    usual_occasion,
)
from buttonhole.desk.read_job import read_joint
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pages.judge import pdf
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}/plan", responses=RESPONSES)
by_label = APIRouter(prefix="/l", responses=RESPONSES)


@router.get("")
def show_plan(request: Request, joint_id: str, desk: Reading, form: Form) -> Response:
    """Show which coupons are to be welded, for the answers in the address."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    usual = {
        "occasion": usual_occasion(screen.view).value,
        "spares": "1",
        "pitch": f"{PITCH * 1e3:g}",
    }
    return _page(request, screen, desk, Answers({**usual, **form.typed}))


@router.post("")
def take_plan(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Give each coupon of the plan its label."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    command = _command(joint_id, form)
    if command is not None and not form.faults:
        try:
            plan = issue_plan(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}/plan/{plan.id}", desk)
    return _page(request, screen, desk, form, 422)


@router.get("/{plan_id}")
def show_labels(request: Request, joint_id: str, plan_id: str, desk: Reading) -> Response:
    """Show the labels of a plan and what each is on."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    view = find_plan(desk, screen.view, plan_id)
    return page(
        request,
        "plan_labels.html",
        joint=screen,
        demo=screen.view.demo,
        plan=view,
        rows=[
            (label, one, _numbers(screen).get(label.coupon_id))
            for label, one in zip(view.labels, view.plan.coupons, strict=True)
        ],
        cuts=cut_rows(view.plan, sheet_words(screen.view)),
    )


@router.post("/{plan_id}/labels.pdf")
def print_sheet(
    request: Request, joint_id: str, plan_id: str, form: Form, desk: Writing
) -> Response:
    """Print the plan with its labels, or the labels for a roll."""
    roll = form.text("roll") == "yes"
    address = str(request.base_url)
    printed = print_labels(desk, joint_id, plan_id, address=address, roll=roll)
    return pdf(printed.pdf, "labels-roll.pdf" if roll else "labels.pdf")


@by_label.get("")
def ask_label(request: Request, desk: Reading, form: Form) -> Response:
    """Ask for a label's number, or lead to what it is on."""
    if form.typed.get("label"):
        return _led(request, desk, form.typed["label"])
    return page(request, "label.html", form=Answers({}))


@by_label.get("/{code}")
def lead(request: Request, code: str, desk: Reading) -> Response:
    """Lead to the coupon a label is on, or to welding one with it."""
    return _led(request, desk, code)


def _led(request: Request, desk: Reading, text: str) -> Response:
    try:
        label = find_label(desk, text)
    except (BadInput, NotThere) as error:
        said = getattr(error, "message", str(error))
        form = Answers({"label": text[:20]})
        form.blame(BadInput("label", said))
        status = 404 if isinstance(error, NotThere) else 422
        return page(request, "label.html", status=status, form=form)
    return RedirectResponse(place_of_label(desk, label), 303)


def place_of_label(desk: Reading, label: LabelView) -> str:
    """Say which page a label leads to.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    label : LabelView
        The label.

    Returns
    -------
    str
        The address of the page.

    Raises
    ------
    NotFound
        When it belongs to nothing that is left.
    """
    if label.session_id:
        return f"/training/{label.session_id}/{label.code}"
    if not label.joint_id:
        raise NotFound("place for this label", "Look at the list of jobs.")
    here = f"/joints/{label.joint_id}"
    if not label.coupon_id:
        return f"{here}/coupon?label={label.code}"
    coupons = {one.id: one for one in read_joint(desk, label.joint_id).coupons}
    coupon = coupons.get(label.coupon_id)
    if coupon is None:
        return here  # its entry was taken back
    there = f"{here}/coupons/{coupon.id}"
    return there if coupon.is_judged else f"{there}/tear"


def _numbers(screen: Screen) -> dict[str, int]:
    return {one.id: one.number for one in screen.view.coupons}


def _command(joint_id: str, form: Answers) -> PlanCoupons | None:
    allowed = tuple(one.value for one in Occasion)
    occasion = form.choice("occasion", allowed, "Choose why.")
    spares = form.number("spares", low=0, high=20, need="Give a number, 0 for none.")
    pitch = form.quantity("pitch", "length", "mm")
    if form.faults or spares is None:
        return None
    return PlanCoupons(joint_id, Occasion(occasion), spares, PITCH if pitch is None else pitch)


def _page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    plan: CouponPlan | None = None
    command = _command(screen.id, form)
    if command is not None:
        try:
            plan = planned(desk, command)
        except BadInput as bad:
            form.blame(bad)
    shown: dict[str, Any] = {"plan": plan, "cuts": ()}
    if plan is not None:
        shown["cuts"] = cut_rows(plan, sheet_words(screen.view))
    return page(
        request,
        "plan.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        occasions=(("", tuple((one.value, one.words) for one in Occasion)),),
        earlier=read_plans(desk, screen.view),
        is_spot=screen.view.arc is None,
        **shown,
    )
