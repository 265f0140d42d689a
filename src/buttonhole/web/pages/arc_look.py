"""From the outside of a weld to its inside: what is seen, what it says, what to look at next."""

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.accept_arc_set_up import arc_of
from buttonhole.desk.arc_view import ArcKind
from buttonhole.desk.drawn_arc import drawn_arc_joint
from buttonhole.desk.look_at_plug import LookAtPlug, look_at_plug, plug_of
from buttonhole.desk.look_inside import Looked, look_inside_plug
from buttonhole.paper.figure.from_arc import BACK_LOOKS
from buttonhole.paper.figure.hidden_fusion import DrawnHidden
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.look_form import LookField, kept_answers, read_marks
from buttonhole.web.pages import seam_look
from buttonhole.web.pictures import hidden_picture
from buttonhole.web.render import page
from buttonhole.web.screen import between, joint_screen
from buttonhole.web.shop import OurShop, Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}/arc/inside", responses=RESPONSES)


LOOKS = (
    LookField("zinc_ring", "Zinc ring on the back", "Burnt off; scaled on bare steel.", "0.3"),
    LookField("back_spot", "Molten spot on the back", "0 where nothing melted through.", "0.4"),
    LookField("tint", "Straw tint on the back", "Its edge; bright steel only.", "0.7"),
    LookField("head_diameter", "Head", "Width of the metal on the hole.", "0.3"),
)
MARKS = (("", tuple((key, words) for key, words in BACK_LOOKS.items())),)
HOTTEST = "back_peak"
_NAMES = {**{one.key: one.label.lower() for one in LOOKS}, HOTTEST: "how hot the back becomes"} | {
    "back_peak": "temperature of the back of a coupon, by crayons"
}


@router.get("")
def ask_look(request: Request, joint_id: str, form: Form, desk: Reading, shop: OurShop) -> Response:
    """Ask what is seen; with answers in the address, say what is fused inside."""
    screen = joint_screen(desk, joint_id, "Look inside", by_arc=True)
    if arc_of(screen.view).kind is not ArcKind.PLUG:
        return seam_look.ask(request, screen, form, shop)
    plug_of(screen.view)
    if not any(form.typed.get(key, "").strip() for key in ANSWERS):
        return _page(request, screen, form)
    looked, said = read_looks(form)
    if looked is None:
        return _page(request, screen, form, status=422)
    return _answered(request, screen, form, looked, said)


@router.post("")
def keep_look(
    request: Request, joint_id: str, form: Form, desk: Writing, shop: OurShop
) -> Response:
    """Keep the look in the record."""
    screen = joint_screen(desk, joint_id, "Look inside", by_arc=True)
    if arc_of(screen.view).kind is not ArcKind.PLUG:
        return seam_look.keep(request, screen, form, desk, shop)
    plug_of(screen.view)
    looked, said = read_looks(form)
    if looked is None:
        return _page(request, screen, form, status=422)
    command = LookAtPlug(joint_id, form.text("seen") or None, looked, said)
    try:
        look_at_plug(desk, command)
    except BadInput as bad:
        form.blame(bad, {"mark": "back_mark", "arc_time": "arc_time_off"})
        return _page(request, screen, form, status=422)
    return go_on(request, f"/joints/{joint_id}", desk)


ANSWERS = (*(one.key for one in LOOKS), "back_mark", HOTTEST)


def read_looks(form: Answers) -> tuple[Looked | None, dict[str, str]]:
    """Read what was seen; what is wrong is marked in the form. Also the same as texts."""
    looks, said = read_marks(form, LOOKS)
    hottest = form.quantity(HOTTEST, "temperature", "degC")
    if hottest is not None:
        looks[HOTTEST] = (hottest, None)
        said[HOTTEST] = form.quantity_text(HOTTEST, "temperature", "degC") or ""
    mark = form.text("back_mark")
    if mark:
        form.choice("back_mark", BACK_LOOKS, "Choose what the back looks like.")
        said["back"] = mark
    time_off = form.quantity("arc_time_off", "time", "s")
    current = form.quantity("shown_current", "current", "A")
    if not looks and not mark and not form.faults:
        form.faults["zinc_ring"] = "Give at least one mark: ring, spot, tint, head or the back."
    if form.faults:
        return None, said
    for key, kind, unit in (("arc_time_off", "time", "s"), ("shown_current", "current", "A")):
        text = form.quantity_text(key, kind, unit)
        if text is not None:
            said[key] = text
    return Looked(looks, mark or None, time_off or 0.0, current), said


def _answered(
    request: Request, screen: Screen, form: Answers, looked: Looked, said: Mapping[str, str]
) -> Response:
    plug = plug_of(screen.view)
    try:
        answer = look_inside_plug(plug, looked)
    except BadInput as bad:
        form.blame(
            bad, {"mark": "back_mark", "arc_time": "arc_time_off", "current": "shown_current"}
        )
        return _page(request, screen, form, status=422)
    joint = drawn_arc_joint(arc_of(screen.view).chosen)
    pictures = [hidden_picture(drawn_hidden(one), joint) for one in answer["interfaces"]]
    return _page(request, screen, form, answer=answer, pictures=pictures, said=said)


def drawn_hidden(interface: Mapping[str, Any]) -> DrawnHidden:
    """Say what the drawing of one hidden interface shows."""
    out_to = interface["fused_out_to"]
    low, high = interface["fused_interval_mm"]
    return DrawnHidden(
        name=between(interface["index"]),
        radii=tuple(5e-4 * one for one in out_to["diameter_mm"]),
        before=tuple(out_to["before"]),
        now=tuple(out_to["now"]),
        value=1e-3 * interface["fused_diameter_mm"],
        low=1e-3 * low,
        high=1e-3 * high,
        wanted=1e-3 * interface["wanted_diameter_mm"],
    )


def _page(
    request: Request,
    screen: Screen,
    form: Answers,
    *,
    status: int = 200,
    answer: Mapping[str, Any] | None = None,
    pictures: list[Any] | None = None,
    said: Mapping[str, str] | None = None,
) -> Response:
    seen = form.typed.get("seen") or screen.view.seen
    return page(
        request,
        "arc_look.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=seen,
        looks=LOOKS,
        marks=MARKS,
        names=_NAMES,
        answer=answer,
        pictures=pictures or [],
        said=said or {},
        kept=kept_answers(form),
        seam=False,
        between=between,
    )
