"""Turn current, force, time, tips and gap of a spot weld, and see at once what it becomes."""

from dataclasses import replace
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper.figure import DrawnLens
from buttonhole.paper.figure.from_weld import drawn_stack
from buttonhole.units import BadInput
from buttonhole.web.dials import Dial, Turned, turned
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form, sentence
from buttonhole.web.pages.set_up import expected_rows
from buttonhole.web.pictures import drawn_pictures
from buttonhole.web.render import page
from buttonhole.web.screen import chosen_limits, joint_screen
from buttonhole.web.set_up_form import typed_set_up
from buttonhole.web.shop import Reading, go_on
from buttonhole.weld.spot.emulator import QuickWeld, quick
from buttonhole.weld.spot.result import InterfaceWeld
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

router = APIRouter(prefix="/joints/{joint_id}/set-up", responses=RESPONSES)

CURRENT = Dial("welding_current", "Welding current", "current", "kA", 0.1, 3.0, 18.0)
FORCE = Dial("electrode_force", "Electrode force", "force", "kN", 0.1, 1.0, 6.0)
TIME = Dial("weld_time", "Weld time", "time", "ms", 20.0, 60.0, 1200.0)
FACE = Dial("electrode_face", "Face of the tips", "length", "mm", 0.2, 3.0, 9.0)
GAP = Dial("gap", "Gap between the sheets", "length", "mm", 0.1, 0.0, 2.0)


@router.get("/try")
def try_set_up(request: Request, joint_id: str, form: Form, desk: Reading) -> Response:
    """Say at once what the dials turned so far would give; nothing is saved."""
    screen = joint_screen(desk, joint_id, "Set-up")
    chosen = screen.view.set_up or screen.view.proposal
    if chosen is None:
        return go_on(request, f"/joints/{joint_id}/machine", desk)
    dials = read_dials(form, chosen.set_up, screen.view.stack)
    set_up, stack = turned_weld(dials, chosen.set_up, screen.view.stack)
    weld, said = _at_once(stack, set_up)
    parts = "HX-Request" in request.headers
    limits = chosen_limits(stack, criterion_of(screen.view))
    drawn = drawn_stack(stack, set_up, limits)
    return page(
        request,
        "spot_try_answer.html" if parts else "spot_try.html",
        joint=screen,
        demo=screen.view.demo,
        turned=dials,
        partial=parts,
        weld=weld,
        said=said,
        rows=expected_rows(screen, weld.interfaces) if weld else (),
        stack=drawn_pictures(replace(drawn, lenses=_lenses(weld))),
        moved=stack != screen.view.stack,
        take=f"/joints/{joint_id}/set-up?{urlencode(typed_set_up(set_up))}",
    )


def _at_once(stack: StackUp, set_up: SpotSetUp) -> tuple[QuickWeld | None, str]:
    """The weld, or why there is no answer at once."""
    try:
        weld = quick(stack, set_up)
    except BadInput as bad:
        return None, f"{bad.key}: {sentence(bad.message)}"
    if not weld.inside_ground:
        return None, f"No quick answer here: {weld.why_outside}. The next page works it out."
    return weld, ""


def read_dials(form: Answers, set_up: SpotSetUp, stack: StackUp) -> tuple[Turned, ...]:
    """Where every dial stands; a set-up of many pulses is turned by its first."""
    pulse = set_up.pulses[0]
    starts = [
        (CURRENT, 1e-3 * pulse.current),
        (FORCE, 1e-3 * set_up.electrode_force),
        (TIME, 1e3 * pulse.time),
        (GAP, 1e3 * stack.gap),
    ]
    if set_up.cap_a.face_diameter is not None:
        starts.insert(3, (FACE, 1e3 * set_up.cap_a.face_diameter))
    return tuple(turned(form, dial, round(start, 6)) for dial, start in starts)


def turned_weld(
    dials: tuple[Turned, ...], set_up: SpotSetUp, stack: StackUp
) -> tuple[SpotSetUp, StackUp]:
    """Put where the dials stand into set-up and stack-up; all pulses follow the first."""
    at = {one.dial: one.value for one in dials}
    first = set_up.pulses[0]
    share, longer = 1e3 * at[CURRENT] / first.current, 1e-3 * at[TIME] / first.time
    pulses = tuple(
        replace(one, current=one.current * share, time=one.time * longer) for one in set_up.pulses
    )
    moved = replace(
        set_up,
        pulses=pulses,
        electrode_force=1e3 * at[FORCE],
        cap_a=_faced(set_up.cap_a, at.get(FACE)),
        cap_b=_faced(set_up.cap_b, at.get(FACE)),
    )
    return moved, replace(stack, gap=1e-3 * at[GAP])


def _faced(cap: ElectrodeCap, face: float | None) -> ElectrodeCap:
    """A cap with its face turned to ``face`` [mm]."""
    if face is None or cap.face_diameter is None:
        return cap
    return replace(cap, face_diameter=1e-3 * face)


def _lenses(weld: QuickWeld | None) -> tuple[DrawnLens, ...]:
    return () if weld is None else tuple(_lens(one) for one in weld.interfaces)


def _lens(one: InterfaceWeld) -> DrawnLens:
    found = one.nugget_diameter
    return DrawnLens(found.value, found.low, found.high, one.penetration_a, one.penetration_b)
