"""Weld a coupon of an arc weld, tear it, read it: one question a screen."""

import copy
from functools import partial
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.coupon.difference import ReadBack
from buttonhole.coupon.gauge import Gauge
from buttonhole.desk.accept_arc_set_up import arc_of
from buttonhole.desk.arc_view import ArcView
from buttonhole.desk.desk import Desk
from buttonhole.desk.judge_coupon import JudgeCoupon, criterion_of, judge_coupon
from buttonhole.desk.keep_gauge import gauges
from buttonhole.desk.keep_photo import with_photos
from buttonhole.desk.view import CouponView
from buttonhole.desk.weld_coupon import WeldCoupon
from buttonhole.units import BadInput
from buttonhole.web import arc_form, arc_tearing
from buttonhole.web.arc_rows import set_words
from buttonhole.web.arc_torn_pictures import back_picture
from buttonhole.web.around_form import COATING_STATES, read_around, typed_around
from buttonhole.web.asking import (
    asked_page,
    gauge_of,
    instrument_words,
    open_question,
    reading_off,
)
from buttonhole.web.fields import Answers
from buttonhole.web.labelled import weld_labelled
from buttonhole.web.pages.arc_joint import form_choices
from buttonhole.web.render import page
from buttonhole.web.screen import between
from buttonhole.web.shop import Writing, go_on
from buttonhole.web.shown import Screen
from buttonhole.weld.arc.plug.marks import BackMark


def ask_coupon(request: Request, screen: Screen, form: Answers) -> Response:
    """Ask how the coupon was welded; what is known from the joint is filled in."""
    arc, last = arc_of(screen.view), screen.view.coupons[-1] if screen.view.coupons else None
    if arc.set_up is None:  # there is nothing to weld by yet
        return RedirectResponse(f"/joints/{screen.id}/arc", 303)
    typed = {"seen": screen.view.seen, "label": form.typed.get("label", "")}
    typed |= {**typed_around(arc.set_up.surroundings), **_as_joint(arc)}
    if last is not None:
        typed |= {"outlet": last.surroundings.outlet, "lead": last.surroundings.lead}
    return _weld_page(request, screen, Answers(typed))


def take_coupon(request: Request, screen: Screen, form: Answers, desk: Writing) -> Response:
    """Note the welded coupon and go on to comparing it with the joint."""
    arc = arc_of(screen.view)
    shown = ReadBack(
        current=form.quantity("current_shown", "current", "A"),
        voltage=form.quantity("voltage_shown", "voltage", "V"),
        wire_feed_speed=form.quantity("feed_shown", "speed", "m/min"),
        arc_time=form.quantity("time_shown", "time", "s"),
    )
    weld = _as_welded(form, arc)
    if not form.faults:
        command = WeldCoupon(
            joint_id=screen.id,
            seen=form.text("seen") or None,
            outlet=form.text("outlet"),
            lead=form.text("lead"),
            surroundings=read_around(form),
            read_back=shown,
            note=form.text("note"),
            weld=weld,
        )
        try:
            saved = weld_labelled(desk, command, form.text("label"))
        except BadInput as bad:
            arc_form.blame(form, bad)
        else:
            welded = saved.coupons[-1].id
            return go_on(request, f"/joints/{screen.id}/coupons/{welded}/compare", desk)
    return _weld_page(request, screen, form, status=422)


def question_page(
    request: Request,
    screen: Screen,
    coupon: CouponView,
    form: Answers,
    known: tuple[Gauge, ...],
    desk: Desk,
) -> Response:
    """Ask the next question about the torn coupon, or show the answers before they are judged."""
    piece = coupon.piece
    asked = arc_tearing.questions(piece, form.typed, known)
    measured = partial(arc_tearing.measured_of, piece)
    shown = asked_page(form, asked, measured, f"/joints/{screen.id}/coupons/{coupon.id}")
    shown |= {"joint": screen, "demo": screen.view.demo, "number": coupon.number}
    if shown["ask"] is not None:
        return page(request, "coupon_question.html", status=422 if form.faults else 200, **shown)
    read = arc_tearing.readings(piece, form, known)
    found = with_photos(desk, coupon.id, read, form.typed)
    shown["carried"]["seen_joint"] = screen.view.seen
    return page(
        request,
        "arc_coupon_check.html",
        criterion=criterion_of(screen.view),
        rows=[(between(one.interface) if len(found) > 1 else "Weld", one) for one in found],
        off=reading_off,
        gauge=gauge_of(known, form.typed),
        back_look=back_picture(BackMark(form.typed["back"]), seam=piece.form.value != "plug"),
        **shown,
    )


def take_reading(
    request: Request, screen: Screen, coupon: CouponView, form: Answers, desk: Writing
) -> Response:
    """Keep the readings and judge them."""
    piece, known = coupon.piece, gauges(desk)
    asked = arc_tearing.questions(piece, form.typed, known)
    if open_question(asked, form, partial(arc_tearing.measured_of, piece)) is not None:
        return question_page(request, screen, coupon, form, known, desk)
    found = arc_tearing.readings(piece, form, known)
    command = JudgeCoupon(
        joint_id=screen.id,
        seen=form.text("seen_joint") or None,
        coupon_id=coupon.id,
        criterion=criterion_of(screen.view),
        readings=with_photos(desk, coupon.id, found, form.typed),
        instrument=instrument_words(gauge_of(known, form.typed)),
    )
    judge_coupon(desk, command)
    return go_on(request, f"/joints/{screen.id}/coupons/{coupon.id}", desk)


def _weld_page(request: Request, screen: Screen, form: Answers, status: int = 200) -> Response:
    arc = arc_of(screen.view)
    return page(
        request,
        "arc_coupon_weld.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.text("seen"),
        number=screen.view.next_coupon,
        there=arc.set_up,
        settings=set_words(arc.chosen["set_up"]),
        sheets=len(arc.chosen["sheet"]),
        states=COATING_STATES,
        other=any(form.typed.get(key, "") != value for key, value in _as_joint(arc).items()),
        **form_choices(arc.kind),
    )


def _as_joint(arc: ArcView) -> dict[str, str]:
    """The fields in which a coupon may be of other sheets or settings, as on the joint."""
    typed = arc_form.typed_keys(arc.chosen, arc.kind)
    known = {one.key for one in arc_form.figures(arc.kind, arc_form.SET_UP)} | {"gap", "backing"}
    for number in range(1, len(arc.chosen["sheet"]) + 1):
        known |= {f"{key}-{number}" for key in ("thickness", "metal", "coating", "hole_diameter")}
    return {key: typed.get(key, "") for key in sorted(known) if key in typed or key == "gap"}


def _as_welded(form: Answers, arc: ArcView) -> dict[str, Any] | None:
    """The keys of the coupon's weld where a field differs from the joint's; None where none does.

    Only what was changed is exchanged: what this form does not ask stays as on the joint.
    """
    known = _as_joint(arc)
    changed = [key for key, old in known.items() if key in form.typed and form.text(key) != old]
    if not changed:
        return None
    keys = copy.deepcopy(dict(arc.chosen))
    units = {one.key: (one.kind, one.unit) for one in arc_form.SET_UP}
    for key in changed:
        name, _, number = key.partition("-")
        if key in units:
            text = form.quantity_text(key, *units[key], need="Say what was set.")
            keys["set_up"] = {**keys["set_up"], key: text or ""}
        elif key == "gap":
            named = "root_gap" if keys.get("joint") == "butt_backed" else "gap"
            keys[named] = form.quantity_text(key, "length", "mm") or "0 mm"
        elif key == "backing":
            keys["coupon"] = {**keys.get("coupon", {}), "backing": form.text(key)}
        else:
            _change_sheet(form, keys["sheet"][int(number) - 1], name, key)
    return keys if not form.faults and arc_form.check(form, keys) else None


def _change_sheet(form: Answers, sheet: dict[str, Any], name: str, key: str) -> None:
    if name == "metal":
        sheet["alloy" if "alloy" in sheet else "steel"] = form.text(key)
    elif name == "coating":
        sheet["coating"] = form.text(key)
    else:
        sheet[name] = form.quantity_text(key, "length", "mm", need="Measure it on the coupon.")
