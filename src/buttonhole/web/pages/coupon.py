"""Weld a coupon, tear it, read it: one question a screen."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.coupon.difference import ReadBack
from buttonhole.coupon.gauge import Gauge
from buttonhole.desk.desk import Desk
from buttonhole.desk.judge_coupon import JudgeCoupon, criterion_of, judge_coupon
from buttonhole.desk.keep_gauge import gauges
from buttonhole.desk.keep_photo import with_photos
from buttonhole.desk.read_job import find_coupon
from buttonhole.desk.view import CouponView
from buttonhole.desk.weld_coupon import WeldCoupon
from buttonhole.units import BadInput
from buttonhole.web import tearing
from buttonhole.web.around_form import COATING_STATES, read_around, typed_around
from buttonhole.web.asking import asked_page, gauge_of, instrument_words, open_question, reading_off
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.labelled import weld_labelled
from buttonhole.web.own_coupon import as_joint, is_other, own_set_up, own_stack
from buttonhole.web.pages import arc_coupon
from buttonhole.web.render import page
from buttonhole.web.screen import between, joint_screen
from buttonhole.web.set_up_form import CURRENT_TYPES
from buttonhole.web.shop import Reading as ReadingDesk
from buttonhole.web.shop import Writing, go_on
from buttonhole.web.shown import Screen
from buttonhole.web.stack_form import coating_choices, steel_choices

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)


@router.get("/coupon")
def ask_coupon(request: Request, joint_id: str, desk: ReadingDesk, form: Form) -> Response:
    """Ask how the coupon was welded; what is known from the joint is filled in."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    if screen.view.arc is not None:
        return arc_coupon.ask_coupon(request, screen, form)
    last = screen.view.coupons[-1] if screen.view.coupons else None
    there = screen.view.set_up.surroundings if screen.view.set_up else None
    label = form.typed.get("label", "")
    typed = {"seen": screen.view.seen, "label": label, **typed_around(there)}
    typed |= as_joint(screen.view)
    if last is not None:
        typed.update(outlet=last.surroundings.outlet, lead=last.surroundings.lead)
    return _weld_page(request, screen, Answers(typed))


@router.post("/coupon")
def take_coupon(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Note the welded coupon and go on to comparing it with the joint."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    if screen.view.arc is not None:
        return arc_coupon.take_coupon(request, screen, form, desk)
    need = "Count the welds since the tip was dressed; 0 when it is fresh."
    welds = form.number("welds_since_dress", low=0, high=5000, need=need)
    shown = ReadBack(
        current=form.quantity("current_shown", "current", "kA"),
        force=form.quantity("force_shown", "force", "kN"),
        weld_time=form.quantity("time_shown", "time", "ms"),
    )
    stack, set_up = own_stack(form, screen.view), own_set_up(form, screen.view)
    if welds is not None and not form.faults:
        command = WeldCoupon(
            joint_id=joint_id,
            seen=form.text("seen") or None,
            outlet=form.text("outlet"),
            lead=form.text("lead"),
            welds_since_dress=welds,
            stack=stack,
            set_up=set_up,
            surroundings=read_around(form),
            read_back=shown,
            tip_state=form.text("tip_state"),
            note=form.text("note"),
        )
        try:
            saved = weld_labelled(desk, command, form.text("label"))
        except BadInput as bad:
            form.blame(bad)
        else:
            welded = saved.coupons[-1].id
            return go_on(request, f"/joints/{joint_id}/coupons/{welded}/compare", desk)
    return _weld_page(request, screen, form, status=422)


@router.get("/coupons/{coupon_id}/tear")
def ask_reading(
    request: Request, joint_id: str, coupon_id: str, form: Form, desk: ReadingDesk
) -> Response:
    """Ask the next question about the torn coupon, or show the answers before they are judged."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    coupon = find_coupon(screen.view, coupon_id)
    if coupon.weld is not None:
        return arc_coupon.question_page(request, screen, coupon, form, gauges(desk), desk)
    return _question_page(request, screen, coupon, form, gauges(desk), desk)


@router.post("/coupons/{coupon_id}/tear")
def take_reading(
    request: Request, joint_id: str, coupon_id: str, form: Form, desk: Writing
) -> Response:
    """Keep the readings and judge them."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    coupon = find_coupon(screen.view, coupon_id)
    if coupon.weld is not None:
        return arc_coupon.take_reading(request, screen, coupon, form, desk)
    known = gauges(desk)
    asked = tearing.questions(coupon, form.typed, known)
    if open_question(asked, form, tearing.measured) is not None:
        return _question_page(request, screen, coupon, form, known, desk)
    found = tearing.readings(coupon, form, known)
    command = JudgeCoupon(
        joint_id=joint_id,
        seen=form.text("seen") or None,
        coupon_id=coupon_id,
        criterion=criterion_of(screen.view),
        readings=with_photos(desk, coupon.id, found, form.typed),
        instrument=instrument_words(gauge_of(known, form.typed)),
    )
    judge_coupon(desk, command)
    return go_on(request, f"/joints/{joint_id}/coupons/{coupon_id}", desk)


def _weld_page(request: Request, screen: Screen, form: Answers, status: int = 200) -> Response:
    return page(
        request,
        "coupon_weld.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.text("seen"),
        number=screen.view.next_coupon,
        set_up=screen.view.set_up,
        states=COATING_STATES,
        steels=steel_choices(),
        coatings=coating_choices(),
        current_types=CURRENT_TYPES,
        sheets=len(screen.view.stack.sheets),
        other=is_other(form, screen.view),
    )


def _question_page(
    request: Request,
    screen: Screen,
    coupon: CouponView,
    form: Answers,
    known: tuple[Gauge, ...],
    desk: Desk,
) -> Response:
    asked = tearing.questions(coupon, form.typed, known)
    shown = asked_page(form, asked, tearing.measured, f"/joints/{screen.id}/coupons/{coupon.id}")
    shown |= {"joint": screen, "demo": screen.view.demo, "number": coupon.number}
    if shown["ask"] is not None:
        return page(request, "coupon_question.html", status=422 if form.faults else 200, **shown)
    read = tearing.readings(coupon, form, known)
    found = with_photos(desk, coupon.id, read, form.typed)
    shown["rows"] = [(between(one.interface), one) for one in found]
    shown["carried"]["seen"] = screen.view.seen
    shown["off"] = reading_off
    shown["gauge"] = gauge_of(known, form.typed)
    return page(request, "coupon_check.html", criterion=criterion_of(screen.view), **shown)
