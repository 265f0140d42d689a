"""The set-up: which gun, what is proposed, what it gives, take it or set another."""

from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.coupon.verdict import required_diameter
from buttonhole.desk.accept_set_up import AcceptSetUp, accept_set_up
from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.predict_weld import PredictWeld, predict_weld
from buttonhole.desk.read_job import read_joint
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pictures import cap_words, cycle_picture, growth_picture, section_picture
from buttonhole.web.predicted import predicted_metal
from buttonhole.web.render import page, person
from buttonhole.web.screen import (
    between,
    chosen_limits,
    joint_screen,
    short_name,
)
from buttonhole.web.set_up_form import CURRENT_TYPES, KEYS, read_set_up, typed_set_up
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.shown import Screen
from buttonhole.web.window_view import window_of
from buttonhole.web.zones_view import (
    POINT_KEYS,
    asked_point,
    hardness_words,
    interface_rows,
    point_rows,
    sheet_rows,
)
from buttonhole.weld.spot.emulator import quick
from buttonhole.weld.spot.result import InterfaceWeld
from buttonhole.weld.spot.set_up import SpotSetUp

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)


@router.get("/set-up")
def show_set_up(request: Request, joint_id: str, form: Form, desk: Reading) -> Response:
    """Show one's own set-up, else the one in use, else the proposed one, with what it gives."""
    if read_joint(desk, joint_id).arc is not None:
        return go_on(request, f"/joints/{joint_id}/arc", desk)
    screen = joint_screen(desk, joint_id, "Set-up")
    view = screen.view
    if any(key in form.typed for key in KEYS):
        set_up = read_set_up(form, view.stack)
        if set_up is None:
            return _own_page(request, screen, form, status=422)
        return _set_up_page(request, screen, set_up, form)
    chosen = view.set_up or view.proposal
    if chosen is None or "proposed" in form.typed:
        chosen = view.proposal
    if chosen is None:
        return go_on(request, f"/joints/{joint_id}/machine", desk)
    accepted = chosen is view.set_up
    kept = (*POINT_KEYS, "proposed")
    asked = {key: form.typed[key] for key in kept if key in form.typed}
    form = Answers({"seen": view.seen, **asked})
    return _set_up_page(request, screen, chosen.set_up, form, accepted=accepted)


@router.post("/set-up")
def take_set_up(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Accept a set-up; what it was expected to give goes into the record with it."""
    screen = joint_screen(desk, joint_id, "Set-up")
    own = any(key in form.typed for key in KEYS)
    set_up = read_set_up(form, screen.view.stack) if own else None
    if own and set_up is None:
        return _own_page(request, screen, form, status=422)
    command = AcceptSetUp(
        joint_id=joint_id,
        seen=form.text("seen") or None,
        set_up=set_up,
        machine=form.text("machine"),
        outlet=form.text("outlet"),
        lead=form.text("lead"),
        welder=form.text("welder"),
    )
    try:
        saved = accept_set_up(desk, command)
    except BadInput as bad:
        form.blame(bad)
        shown = set_up or (screen.view.proposal.set_up if screen.view.proposal else None)
        if shown is None:
            raise
        return _set_up_page(request, screen, shown, form, status=422)
    predict_weld(desk, PredictWeld(saved.id))
    return go_on(request, f"/joints/{joint_id}/coupon", desk)


@router.get("/set-up/own")
def ask_own(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask what is set on the gun."""
    screen = joint_screen(desk, joint_id, "Set-up")
    chosen = screen.view.set_up or screen.view.proposal
    typed = typed_set_up(chosen.set_up) if chosen else {"current_type": "MFDC"}
    return _own_page(request, screen, Answers(typed))


@router.post("/set-up/own")
def take_own(request: Request, joint_id: str, form: Form, desk: Reading) -> Response:
    """Go on to what one's own set-up gives; its values stand in the address."""
    screen = joint_screen(desk, joint_id, "Set-up")
    if read_set_up(form, screen.view.stack) is None:
        return _own_page(request, screen, form, status=422)
    values = {key: form.text(key) for key in KEYS if form.text(key)}
    return go_on(request, f"/joints/{joint_id}/set-up?{urlencode(values)}", desk)


@router.post("/set-up/quick")
def say_quick(request: Request, joint_id: str, form: Form, desk: Reading) -> Response:
    """Say at once what the values typed so far would give; nothing is saved."""
    screen = joint_screen(desk, joint_id, "Set-up")
    set_up = read_set_up(form, screen.view.stack)
    try:
        weld = None if set_up is None else quick(screen.view.stack, set_up)
    except BadInput:  # told when the whole page is asked for
        weld = None
    inside = weld is not None and weld.inside_ground
    rows = expected_rows(screen, weld.interfaces) if weld is not None and inside else []
    return page(request, "set_up_quick.html", weld=weld, rows=rows)


def _own_page(request: Request, screen: Screen, form: Answers, status: int = 200) -> Response:
    return page(
        request,
        "set_up_own.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        current_types=CURRENT_TYPES,
    )


def _set_up_page(
    request: Request,
    screen: Screen,
    set_up: SpotSetUp,
    form: Answers,
    *,
    accepted: bool = False,
    status: int = 200,
) -> Response:
    view = screen.view
    weld, metal = predicted_metal(view.stack, set_up, asked_point(form, view.stack))
    criterion = criterion_of(view)
    limits = chosen_limits(view.stack, criterion)
    proposal = view.proposal
    is_proposal = proposal is not None and proposal.set_up == set_up
    known = view.set_up.surroundings.machine if view.set_up else ""
    form.typed = {
        "machine": known,
        "welder": person(request),
        "seen": view.seen,
        **form.typed,
    }
    return page(
        request,
        "set_up.html",
        status=status,
        joint=screen,
        demo=view.demo,
        form=form,
        accepted=accepted,
        seen=form.typed["seen"],
        set_up=set_up,
        caps=tuple(dict.fromkeys((cap_words(set_up.cap_a), cap_words(set_up.cap_b)))),
        weld=weld,
        expected=expected_rows(screen, weld.interfaces),
        own={key: form.typed[key] for key in KEYS if key in form.typed},
        shown={key: form.typed[key] for key in (*KEYS, "proposed") if key in form.typed},
        machine=proposal.machine if is_proposal and proposal else "",
        reasons=proposal.reasons if is_proposal and proposal else (),
        suggestions=proposal.details.get("suggestions", ()) if is_proposal and proposal else (),
        window=window_of(view, set_up, weld),
        section=section_picture(weld, view.stack, limits),
        growth=growth_picture(weld, limits),
        cycle=cycle_picture(weld, view.stack),
        at_interfaces=interface_rows(weld),
        in_sheets=sheet_rows(weld, metal, view.stack),
        hardness_said=hardness_words(metal),
        at_points=point_rows(weld),
    )


def expected_rows(screen: Screen, welds: tuple[InterfaceWeld, ...]) -> list[dict[str, object]]:
    """For each interface the button expected, the least one, and whether the one reaches it."""
    view, criterion = screen.view, criterion_of(screen.view)
    rows: list[dict[str, object]] = []
    for one in welds:
        limit = required_diameter(criterion, view.stack, one.index).diameter
        button = one.button_diameter
        if button.low >= limit:
            tone, words = "yes", "fits"
        elif button.value >= limit:
            tone, words = "wait", "narrow"
        else:
            tone, words = "no", "too small"
        rows.append(
            {
                "name": between(one.index),
                "button": button,
                "limit": limit,
                "rule": short_name(criterion),
                "tone": tone,
                "words": words,
            }
        )
    return rows
