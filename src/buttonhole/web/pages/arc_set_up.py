"""The set-up of an arc: what it gives, have one proposed, set one's own, accept it."""

from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.accept_arc_set_up import (
    AcceptArcSetUp,
    accept_arc_set_up,
    arc_of,
    with_set_up,
)
from buttonhole.desk.arc_view import ArcView, Keys
from buttonhole.desk.predict_arc_weld import PredictArcWeld, predict_arc_weld
from buttonhole.desk.propose_arc_set_up import ProposeArcSetUp, propose_arc_set_up
from buttonhole.units import BadInput
from buttonhole.web import arc_form
from buttonhole.web.arc_rows import (
    HOLE,
    MAY_FALL,
    chances,
    holding_rows,
    judged_rows,
    set_words,
    told_rows,
)
from buttonhole.web.around_form import COATING_STATES, typed_around
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pages.arc_joint import form_choices
from buttonhole.web.render import page, person
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import OurShop, Reading, Writing, go_on, keep_person
from buttonhole.web.shown import Screen
from buttonhole.web.solved import is_solved, solved
from buttonhole.web.work import Progress

router = APIRouter(prefix="/joints/{joint_id}/arc", responses=RESPONSES)

# Round the weld besides machine, outlet and lead; coupons are compared with it.
AROUND = (
    "program_version", "torch", "liner", "wire_batch", "gas_batch", "coating_state", "between",
)  # fmt: skip


@router.get("")
def show_arc(request: Request, joint_id: str, form: Form, desk: Reading, shop: OurShop) -> Response:
    """Show one's own set-up, else the one in use, else the proposed one, with what it gives."""
    screen = joint_screen(desk, joint_id, "Set-up", by_arc=True)
    arc = arc_of(screen.view)
    if own_keys(form):
        keys = read_own(form, arc)
        if keys is None:
            return _own_page(request, screen, arc, form, status=422)
    elif "proposed" in form.typed and arc.proposal is not None:
        keys = dict(arc.proposal.keys)
    else:
        keys = dict(arc.chosen)
    if keys["process"] == "seam" and not is_solved(keys):
        return _work_it_out(request, shop, joint_id, keys)
    accepted = arc.set_up is not None and arc.set_up.keys == keys
    return _page(request, screen, arc, keys, form, accepted=accepted)


def _work_it_out(request: Request, shop: OurShop, joint_id: str, keys: Keys) -> Response:
    """A seam takes seconds: its page shows that it is under way."""

    def solve(progress: Progress) -> None:
        progress(0, 1)
        solved(keys)
        progress(1, 1)

    query = f"?{request.url.query}" if request.url.query else ""
    here = f"/joints/{joint_id}"
    then = f"{request.url.path}{query}"
    work = shop.works.start("Welding the seam in the model", solve, then=then, back=here)
    return RedirectResponse(f"/search/{work.number}", 303)


@router.post("")
def take_arc(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Accept a set-up; what it was expected to give goes into the record with it."""
    screen = joint_screen(desk, joint_id, "Set-up", by_arc=True)
    arc = arc_of(screen.view)
    table: dict[str, Any] | None = None
    if own_keys(form):
        keys = read_own(form, arc)
        if keys is None:
            return _own_page(request, screen, arc, form, status=422)
        table = keys["set_up"]
    command = AcceptArcSetUp(
        joint_id=joint_id,
        seen=form.text("seen") or None,
        set_up=table,
        machine=form.text("machine"),
        outlet=form.text("outlet"),
        lead=form.text("lead"),
        welder=form.text("welder"),
        **{key: form.text(key) for key in AROUND},
    )
    start = arc.proposal.keys if arc.proposal else arc.keys
    wanted = with_set_up(start, table)
    try:
        found = solved(wanted)
        saved = accept_arc_set_up(desk, command)
    except BadInput as bad:
        form.blame(bad)
        return _page(request, screen, arc, wanted, form, status=422)
    predict_arc_weld(desk, PredictArcWeld(saved.id, dict(found.answer)))
    return go_on(request, f"/joints/{joint_id}", desk)


@router.get("/own")
def ask_own_arc(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask what is set on the machine."""
    screen = joint_screen(desk, joint_id, "Set-up", by_arc=True)
    arc = arc_of(screen.view)
    typed = arc_form.typed_set_up(arc.chosen["set_up"], arc.kind)
    return _own_page(request, screen, arc, Answers(typed))


@router.post("/own")
def take_own_arc(request: Request, joint_id: str, form: Form, desk: Reading) -> Response:
    """Go on to what one's own set-up gives; its values stand in the address."""
    screen = joint_screen(desk, joint_id, "Set-up", by_arc=True)
    arc = arc_of(screen.view)
    if read_own(form, arc) is None:
        return _own_page(request, screen, arc, form, status=422)
    return go_on(request, f"/joints/{joint_id}/arc?{urlencode(own_keys(form))}", desk)


@router.post("/propose")
def propose_arc_page(
    request: Request, joint_id: str, form: Form, desk: Writing, shop: OurShop
) -> Response:
    """Start the search for feed, voltage and time; its page shows how far it is."""
    joint_screen(desk, joint_id, "Set-up", by_arc=True)
    command = ProposeArcSetUp(joint_id, form.text("seen") or None)

    def search(progress: Progress) -> None:
        propose_arc_set_up(desk, command, progress=progress)

    here = f"/joints/{joint_id}"
    work = shop.works.start("Looking for a set-up", search, then=f"{here}/arc?proposed=", back=here)
    response = RedirectResponse(f"/search/{work.number}", 303)
    keep_person(response, desk.actor, shop.settings)
    return response


def own_keys(form: Answers) -> dict[str, str]:
    """The settings among what was typed."""
    words = ("wire", "gas", "position", "torch_path")
    known = [
        arc_form.WIRE.key,
        *(one.key for one in (*arc_form.SET_UP, *arc_form.STITCHES)),
        *words,
    ]
    return {key: form.text(key) for key in known if form.text(key)}


def read_own(form: Answers, arc: ArcView) -> dict[str, Any] | None:
    """The weld with the settings that were typed; what is wrong is marked in the form."""
    table = arc_form.read_set_up(form, arc.kind)
    if form.faults:
        return None
    keys = with_set_up(arc.keys, table)
    return keys if arc_form.check(form, keys) else None


def _own_page(
    request: Request, screen: Screen, arc: ArcView, form: Answers, status: int = 200
) -> Response:
    return page(
        request,
        "arc_own.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        **form_choices(arc.kind),
    )


def _page(
    request: Request,
    screen: Screen,
    arc: ArcView,
    keys: Keys,
    form: Answers,
    *,
    accepted: bool = False,
    status: int = 200,
) -> Response:
    view = screen.view
    try:
        found = solved(keys)
    except BadInput as bad:
        own = Answers({**arc_form.typed_set_up(keys["set_up"], arc.kind)}, dict(form.faults))
        arc_form.blame(own, bad)
        return _own_page(request, screen, arc, own, status=422)
    proposal = arc.proposal if arc.proposal and arc.proposal.keys == keys else None
    form.typed = {
        "machine": arc.set_up.surroundings.machine if arc.set_up else "",
        "welder": person(request),
        "seen": view.seen,
        **typed_around(arc.set_up.surroundings if arc.set_up else None),
        **form.typed,
    }
    makers = view.procedure.rules.minimum_diameter if view.procedure else None
    told = chances(found)
    table = keys["set_up"]
    return page(
        request,
        "arc_set_up.html",
        status=status,
        joint=screen,
        demo=view.demo,
        form=form,
        arc=arc,
        kind=arc.kind,
        accepted=accepted,
        seen=form.typed["seen"],
        states=COATING_STATES,
        own={} if proposal or keys == arc.keys else arc_form.typed_set_up(table, arc.kind),
        settings=set_words(table),
        huge=len([key for key in ("arc_time", "travel_speed") if key in table]) + 2,
        section=found.section,
        back=found.back,
        judged=judged_rows(found, makers),
        told=told_rows(found),
        fused=told["fused"],
        wetted=told["wetted"],
        hole=told["hole"],
        hole_tone=_hole_tone(told["hole"] or 0.0),
        answer=found.answer,
        holding=holding_rows(found.answer),
        proposal=proposal,
        brazed=bool(found.answer["brazed"]),
        weld=found.weld,
    )


def _hole_tone(chance: float) -> str:
    """How a chance [-] of a hole is shown."""
    if chance >= HOLE:
        return "no"
    return "wait" if chance >= MAY_FALL else "yes"
