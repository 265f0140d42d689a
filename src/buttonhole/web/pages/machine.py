"""Which gun: what it can do, and the search for a set-up on it."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.desk import Desk
from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.propose_set_up import ProposeSetUp, propose_set_up
from buttonhole.desk.rules import diameter_rules
from buttonhole.desk.written import read
from buttonhole.procedure.machine import SpotMachine
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.set_up_form import CURRENT_TYPES, read_cap
from buttonhole.web.shop import OurShop, Reading, Writing, keep_person
from buttonhole.web.shown import Screen
from buttonhole.web.words import typed_figure
from buttonhole.web.work import Progress
from buttonhole.weld.spot.set_up import CurrentType

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)
MAKERS = "maker"


@router.get("/machine")
def ask_machine(request: Request, joint_id: str, form: Form, desk: Reading) -> Response:
    """Ask which gun; one that was used before is filled in."""
    screen = joint_screen(desk, joint_id, "Set-up")
    known = known_machines(desk)
    chosen = known.get(form.text("gun")) or next(iter(known.values()), None)
    typed = typed_machine(chosen) if chosen else {"current_type": CurrentType.MFDC.value}
    typed |= {"seen": screen.view.seen, "criterion": criterion_of(screen.view).key}
    return _page(request, screen, desk, Answers(typed))


@router.post("/machine")
def take_machine(
    request: Request, joint_id: str, form: Form, desk: Writing, shop: OurShop
) -> Response:
    """Start the search; its page shows how far it is."""
    screen = joint_screen(desk, joint_id, "Set-up")
    machine = read_machine(form)
    rules = {one.key: one for one in diameter_rules()}
    rules.setdefault(MAKERS, criterion_of(screen.view))
    key = form.choice("criterion", rules, "Choose the rule for the least size.")
    if machine is None or form.faults:
        return _page(request, screen, desk, form, status=422)
    command = ProposeSetUp(
        joint_id=joint_id,
        seen=form.text("seen") or None,
        machine=machine,
        criterion=rules[key],
    )

    def search(progress: Progress) -> None:
        propose_set_up(desk, command, progress=progress)

    here = f"/joints/{joint_id}"
    work = shop.works.start(
        f"Looking for a set-up on {machine.name}",
        search,
        then=f"{here}/set-up?proposed=",
        back=here,
    )
    response = RedirectResponse(f"/search/{work.number}", 303)
    keep_person(response, desk.actor, shop.settings)
    return response


def known_machines(desk: Desk) -> dict[str, SpotMachine]:
    """The guns of this shop by name, the one used last first."""
    found: dict[str, SpotMachine] = {}
    for event in reversed(desk.store.events_of_type("set_up_proposed")):
        machine = read(SpotMachine, event.payload["machine"])
        found.setdefault(machine.name, machine)
    return found


def read_machine(form: Answers) -> SpotMachine | None:
    """Read what a gun can do; what is wrong is marked in the form."""
    name = form.text("machine", need="Give the gun a name, as it is written on it.")
    current_min, current_max = (_limit(form, f"current_{end}", "kA") for end in ("min", "max"))
    force_min, force_max = (_limit(form, f"force_{end}", "kN") for end in ("min", "max"))
    allowed = tuple(one.value for one in CurrentType)
    kind = form.choice("current_type", allowed, "Choose the kind of current.")
    cap = read_cap(form, "electrode_face", "electrode_radius")
    if form.faults or cap is None:
        return None
    try:
        return SpotMachine(
            name=name[:120],
            current_min=current_min,
            current_max=current_max,
            force_min=force_min,
            force_max=force_max,
            current_types=(CurrentType(kind),),
            caps=(cap,),
        )
    except BadInput as bad:
        form.blame(bad, {"current": "current_max", "force": "force_max", "name": "machine"})
        return None


def _limit(form: Answers, key: str, unit: str) -> float:
    kind = {"kA": "current", "kN": "force"}[unit]
    need = "Give the smallest and the largest value it can be set to."
    return form.quantity(key, kind, unit, need=need) or 0.0


def typed_machine(machine: SpotMachine) -> dict[str, str]:
    """Put a gun back into the fields of its form."""
    return {
        "machine": machine.name,
        "current_min": typed_figure(machine.current_min, "kA"),
        "current_max": typed_figure(machine.current_max, "kA"),
        "force_min": typed_figure(machine.force_min, "kN"),
        "force_max": typed_figure(machine.force_max, "kN"),
        "current_type": machine.current_types[0].value,
        "electrode_face": typed_figure(machine.caps[0].face_diameter, "mm"),
        "electrode_radius": typed_figure(machine.caps[0].radius, "mm"),
    }


def _page(
    request: Request, screen: Screen, desk: Desk, form: Answers, status: int = 200
) -> Response:
    rules = [(one.key, f"{one.name} ({one.status.value})") for one in diameter_rules()]
    current = criterion_of(screen.view)
    if current.key == MAKERS:
        rules = [(MAKERS, current.name)]
    return page(
        request,
        "machine.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.text("seen"),
        known=tuple(known_machines(desk)),
        criteria=(("", tuple(rules)),),
        current_types=CURRENT_TYPES,
    )
