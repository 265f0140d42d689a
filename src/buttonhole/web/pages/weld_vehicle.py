"""Weld on the vehicle: one big tap a weld, and what is left of release, time and tips."""

import re
from dataclasses import dataclass
from math import ceil
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.close_joint import (
    CheckWelds,
    CloseJoint,
    ClosingRefused,
    check_welds,
    close_joint,
    lacking_to_close,
    small_end,
    welds_to_wedge,
)
from buttonhole.desk.gates import gates_now
from buttonhole.desk.read_job import read_job
from buttonhole.desk.view import State
from buttonhole.desk.watch_fire import fire_watch
from buttonhole.desk.weld_vehicle import (
    MOST_WELDS,
    PlanWelds,
    TickedAlready,
    TickWeld,
    UndoWeld,
    WeldingNow,
    plan_welds,
    tick_weld,
    undo_weld,
    welding_now,
)
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)

SLIP = "Tapped by mistake: no weld was made."
REASONS = (
    (SLIP, SLIP),
    ("The number was wrong; the weld has another one.",) * 2,
    ("The weld was cut out again.",) * 2,
)


@dataclass(frozen=True, slots=True)
class Spot:
    """One weld on the map: its number, whether it is made, and beside what release."""

    number: int
    mark: str  # done, off (made without a release) or nothing
    words: str


@router.get("/weld")
def show_welding(request: Request, joint_id: str, desk: Reading) -> Response:
    """Show the welds of a joint, and the tap for the next one while a release holds."""
    screen = joint_screen(desk, joint_id, "Weld")
    return _page(request, screen, desk, Answers({"seen": screen.view.seen}))


@router.get("/weld/now")
def show_now(request: Request, joint_id: str, desk: Reading, form: Form) -> Response:
    """Show what is left, for a page that asks again and again; lead to it anew when it changed."""
    screen = joint_screen(desk, joint_id, "Weld")
    now = welding_now(desk, screen.view)
    if form.typed.get("as") != _shape(screen, now):
        headers = {"HX-Redirect": f"/joints/{joint_id}/weld"}
        return Response(headers=headers)
    return page(request, "weld_now.html", **_now(screen, now))


@router.post("/weld")
def take_weld(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Note the weld that was made."""
    need = "Give the number of the weld."
    number = form.number("number", low=1, high=MOST_WELDS, need=need)
    if number is None:
        return _page(request, joint_screen(desk, joint_id, "Weld"), desk, form, 422)
    try:
        view = tick_weld(desk, TickWeld(joint_id, number, form.text("note")))
    except TickedAlready as ticked:
        screen = joint_screen(desk, joint_id, "Weld")
        again = Answers({**form.typed, "seen": screen.view.seen})
        return _page(request, screen, desk, again, 409, ticked)
    done = view.state in (State.WELDED, State.VERIFIED, State.CLOSED)
    to_fire = done and not view.welding.late
    then = f"/jobs/{view.job_id}/fire" if to_fire else f"/joints/{joint_id}/weld"
    return go_on(request, then, desk)


@router.post("/weld/plan")
def take_plan(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Note how many welds the joint gets."""
    need = "Give the number of welds."
    count = form.number("count", low=1, high=MOST_WELDS, need=need)
    if count is not None:
        try:
            plan_welds(desk, PlanWelds(joint_id, form.text("seen") or None, count))
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}/weld", desk)
    return _page(request, joint_screen(desk, joint_id, "Weld"), desk, form, 422)


@router.get("/weld/{number}")
def show_weld(request: Request, joint_id: str, number: int, desk: Reading) -> Response:
    """Show one weld: who made it, when; and take its tick back."""
    return _one_page(request, joint_screen(desk, joint_id, "Weld"), number, Answers({}))


@router.post("/weld/{number}/undo")
def take_undo(request: Request, joint_id: str, number: int, form: Form, desk: Writing) -> Response:
    """Take the tick back, with the reason."""
    reason = form.text("reason", need="Choose why; it stays beside the tick.")
    if form.faults:
        screen = joint_screen(desk, joint_id, "Weld")
        return _one_page(request, screen, number, form, 422)
    undo_weld(desk, UndoWeld(joint_id, number, reason))
    return go_on(request, f"/joints/{joint_id}/weld", desk)


@router.get("/check")
def ask_check(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask how the welds were found."""
    screen = joint_screen(desk, joint_id, "Weld")
    wedge = ", ".join(str(one) for one in welds_to_wedge(screen.view))
    return _check_page(request, screen, Answers({"seen": screen.view.seen, "wedged": wedge}))


@router.post("/check")
def take_check(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Note how the welds were found."""
    form.choice("looked", ("yes",), "Look at every weld from both sides first.")
    wedged, bad = _numbers(form, "wedged"), _numbers(form, "bad")
    if not form.faults:
        command = CheckWelds(joint_id, form.text("seen") or None, wedged, bad, form.text("note"))
        try:
            view = check_welds(desk, command)
        except BadInput as wrong:
            form.blame(wrong)
        else:
            then = "weld" if view.welding.check and view.welding.check.bad else "close"
            return go_on(request, f"/joints/{joint_id}/{then}", desk)
    return _check_page(request, joint_screen(desk, joint_id, "Weld"), form, 422)


@router.get("/close")
def ask_close(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask what protects the welds behind, or say what is missing."""
    screen = joint_screen(desk, joint_id, "Weld")
    return _close_page(request, screen, desk, Answers({"seen": screen.view.seen}))


@router.post("/close")
def take_close(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Close the joint."""
    need = "Say what protects the welds from behind, or that it follows later."
    protection = form.text("protection", need=need)
    if not form.faults:
        command = CloseJoint(
            joint_id, form.text("seen") or None, protection, form.text("deviations")
        )
        try:
            view = close_joint(desk, command)
        except ClosingRefused:
            pass  # what stands against it is shown by the page below
        else:
            return go_on(request, f"/jobs/{view.job_id}", desk)
    return _close_page(request, joint_screen(desk, joint_id, "Weld"), desk, form, 422)


def _numbers(form: Answers, key: str) -> tuple[int, ...]:
    """Read numbers of welds, with commas, blanks or anything else between them."""
    given = form.typed.get(key, "")
    found = re.findall(r"[0-9]+", given)
    if re.search(r"[A-Za-z]", given) or any(len(one) > 3 for one in found):
        form.faults[key] = "Give numbers of welds, with commas between them."
        return ()
    return tuple(int(one) for one in found)


def _shape(screen: Screen, now: WeldingNow) -> str:
    """What the page offers now; another shape needs another page."""
    view = screen.view
    due = "due" if now.tips is not None and now.tips.is_due else "cut"
    many = len(view.welding.made)
    return f"{view.state.value}-{'open' if now.holds else 'ended'}-{due}-{many}".replace(" ", "")


def _now(screen: Screen, now: WeldingNow) -> dict[str, Any]:
    view = screen.view
    goal = view.welding.goal(view.required_spots)
    minutes = ceil(now.seconds_left / 60.0)
    return {
        "joint": screen,
        "now": now,
        "goal": goal,
        "shape": _shape(screen, now),
        "to_make": None if goal is None else max(goal - len(view.welding.made), 0),
        "time_left": f"{minutes // 60} h {minutes % 60:02d}" if minutes >= 60 else f"{minutes} min",
    }


def _spots(screen: Screen) -> list[Spot]:
    view = screen.view
    numbers = {one.number for one in view.welding.made}
    if not view.welding.is_complete(view.required_spots):
        numbers |= set(view.welding.open(view.required_spots))
    found = []
    for number in sorted(numbers):
        weld = view.welding.weld(number)
        mark = "" if weld is None else "off" if weld.late else "done"
        words = {"": "to be made", "done": "made", "off": "made without a release"}[mark]
        found.append(Spot(number, mark, words))
    return found


def _page(
    request: Request,
    screen: Screen,
    desk: Reading,
    form: Answers,
    status: int = 200,
    ticked: TickedAlready | None = None,
) -> Response:
    view = screen.view
    now = welding_now(desk, view)
    return page(
        request,
        "weld_vehicle.html",
        status=status,
        demo=view.demo,
        form=form,
        seen=view.seen,
        free=view.welding.open(view.required_spots)[0],
        complete=view.welding.is_complete(view.required_spots),
        spots=_spots(screen),
        ticked=ticked,
        slip=SLIP,
        unsigned=[one for one in gates_now(desk, read_job(desk, view.job_id)) if one.is_owed],
        watch=fire_watch(desk, view.job_id),
        usual=view.required_spots or view.old_spots or "",
        **_now(screen, now),
    )


def _one_page(
    request: Request, screen: Screen, number: int, form: Answers, status: int = 200
) -> Response:
    weld = screen.view.welding.weld(number)
    undone = [one for one in screen.view.welding.undone if one.number == number]
    if weld is None and not undone:
        raise NotFound("weld of this number", "Look at the welds of the joint.")
    return page(
        request,
        "weld_one.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        number=number,
        weld=weld,
        undone=undone,
        reasons=(("", REASONS),),
    )


def _check_page(request: Request, screen: Screen, form: Answers, status: int = 200) -> Response:
    return page(
        request,
        "weld_check.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.text("seen"),
        sample=welds_to_wedge(screen.view),
    )


def _close_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    view = screen.view
    against = lacking_to_close(desk, view, form.typed.get("deviations", "") or "given below")
    return page(
        request,
        "weld_close.html",
        status=status,
        joint=screen,
        demo=view.demo,
        form=form,
        seen=form.text("seen"),
        against=against,
        late=view.welding.late,
        small_end=small_end(view),
    )
