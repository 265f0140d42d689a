"""From the outside of a welded seam to its inside: what is seen in its middle, what it says."""

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.accept_arc_set_up import arc_of
from buttonhole.desk.arc_view import ArcKind
from buttonhole.desk.desk import Desk
from buttonhole.desk.look_at_seam import LookAtSeam, look_at_seam, seam_of
from buttonhole.desk.look_inside_seam import look_inside_seam, sightings
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers
from buttonhole.web.look_form import LookField, Looks, kept_answers, read_marks
from buttonhole.web.render import page
from buttonhole.web.shop import Shop, go_on
from buttonhole.web.shown import Screen
from buttonhole.web.work import Progress
from buttonhole.weld.arc.seam.joint import JointKind

ZINC = LookField(
    "zinc_strip", "Strip on the back", "Zinc burnt off; scaled on bare steel. Its width.", "0.3"
)
BEAD = LookField("back_bead", "Molten width of the back", "0 where nothing melted through.", "0.4")
LEG = LookField("leg", "Leg on the lower sheet", "Of the metal, from the edge outwards.", "0.3")


def fields_of(screen: Screen) -> tuple[LookField, ...]:
    """The marks this seam can show: aluminium has no zinc, a butt no leg."""
    seam, kind = seam_of(screen.view), arc_of(screen.view).kind
    zinc = () if kind is ArcKind.ALUMINIUM else (ZINC,)
    return (*zinc, BEAD, *((LEG,) if seam.joint.kind is JointKind.LAP else ()))


def ask(request: Request, screen: Screen, form: Answers, shop: Shop) -> Response:
    """Ask what is seen; with answers in the address, say what is fused inside."""
    fields = fields_of(screen)
    if not any(one.key in request.query_params for one in fields):
        return _page(request, screen, form, fields)
    looks, said = _read(form, fields)
    if form.faults:
        return _page(request, screen, form, fields, status=422)
    found = shop.kept.get(_of(screen, looks))
    if found is None:
        return _work_it_out(request, screen, looks, shop)
    return _page(request, screen, form, fields, answer=found, said=said)


def keep(request: Request, screen: Screen, form: Answers, desk: Desk, shop: Shop) -> Response:
    """Keep the look in the record."""
    fields = fields_of(screen)
    looks, said = _read(form, fields)
    if form.faults:
        return _page(request, screen, form, fields, status=422)
    found = shop.kept.get(_of(screen, looks))
    command = LookAtSeam(screen.id, form.text("seen") or None, looks, said, found)
    try:
        look_at_seam(desk, command)
    except BadInput as bad:
        form.blame(bad)
        return _page(request, screen, form, fields, status=422)
    return go_on(request, f"/joints/{screen.id}", desk)


def _read(form: Answers, fields: tuple[LookField, ...]) -> tuple[Looks, dict[str, str]]:
    looks, said = read_marks(form, fields)
    if not looks and not form.faults:
        form.faults[fields[0].key] = "Give at least one mark."
    try:
        sightings(looks)
    except BadInput as bad:
        form.blame(bad)
    return looks, said


def _of(screen: Screen, looks: Looks) -> tuple[Any, ...]:
    return ("inside a seam", dict(arc_of(screen.view).chosen), looks)


def _work_it_out(request: Request, screen: Screen, looks: Looks, shop: Shop) -> Response:
    """Hundreds of seams that could be take some ten seconds: their page shows it is under way."""
    seam, of = seam_of(screen.view), _of(screen, looks)

    def weld_many(progress: Progress) -> None:
        progress(0, 1)
        shop.kept.put(of, look_inside_seam(seam, looks))
        progress(1, 1)

    here = f"/joints/{screen.id}"
    then = f"{here}/arc/inside?{request.url.query}"
    work = shop.works.start("Welding seams that could be", weld_many, then=then, back=here)
    return RedirectResponse(f"/search/{work.number}", 303)


def _page(
    request: Request,
    screen: Screen,
    form: Answers,
    fields: tuple[LookField, ...],
    *,
    status: int = 200,
    answer: Mapping[str, Any] | None = None,
    said: Mapping[str, str] | None = None,
) -> Response:
    return page(
        request,
        "arc_look.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.typed.get("seen") or screen.view.seen,
        looks=fields,
        names={one.key: one.label.lower() for one in fields},
        answer=answer,
        pictures=[],
        said=said or {},
        kept=kept_answers(form),
        seam=True,
    )
