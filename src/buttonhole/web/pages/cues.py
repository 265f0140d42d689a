"""What the trade looks for in a plug or a seam: good and bad side by side, computed."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.arc_cues import CUES, Cue, compared, find_cue
from buttonhole.paper.figure.arc_section import at_one_scale
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Form
from buttonhole.web.pictures import arc_section_picture
from buttonhole.web.render import page
from buttonhole.web.shop import OurShop
from buttonhole.web.solved import is_solved, solved
from buttonhole.web.work import Progress

router = APIRouter(prefix="/cues", responses=RESPONSES)

TONES = {"explained": "yes", "partly": "wait", "not": "no"}
_COMPARED = {
    True: ("yes", "as the trade says"),
    False: ("no", "not as the trade says"),
    None: ("", "the trade says nothing"),
}


@router.get("")
def list_cues(request: Request) -> Response:
    """List every cue with what of it the model explains."""
    return page(request, "cues.html", cues=CUES, tones=TONES)


@router.get("/{key}")
def show_cue(request: Request, key: str, form: Form, shop: OurShop) -> Response:
    """Show the good weld beside another one, with section, back and the sizes that differ."""
    try:
        cue = find_cue(key)
    except BadInput as bad:
        raise NotFound("cue of this name", "Choose one from the list.") from bad
    place = (
        form.number("at", low=0, high=max(len(cue.cases) - 1, 0), need="") if cue.cases else None
    )
    at = cue.bad if place is None else place
    if not cue.cases:
        return page(request, "cue.html", cue=cue, tones=TONES, at=0, pair=(), rows=())
    wanted = [cue.cases[0], cue.cases[at]]
    if not all(is_solved(one.keys) for one in wanted):
        return _work_it_out(request, shop, cue, at)
    found = [solved(one.keys) for one in wanted]
    scaled = at_one_scale([one.drawn for one in found])
    sections = [arc_section_picture(one) for one in scaled]
    rows = compared(cue, found[0].answer, found[1].answer)
    return page(
        request,
        "cue.html",
        cue=cue,
        tones=TONES,
        at=at,
        pair=tuple(zip(("Good", _named(cue, at)), wanted, found, sections, strict=True)),
        rows=[(one, *_COMPARED[one.agrees]) for one in rows],
    )


def _named(cue: Cue, at: int) -> str:
    return "Bad" if at == cue.bad else "The same" if at == 0 else "Otherwise"


def _work_it_out(request: Request, shop: OurShop, cue: Cue, at: int) -> Response:
    """Both welds take seconds the first time; a page shows how far they are."""
    cases = (cue.cases[0], cue.cases[at])

    def weld(progress: Progress) -> None:
        for done, one in enumerate(cases):
            progress(done, len(cases))
            solved(one.keys)
        progress(len(cases), len(cases))

    then = f"/cues/{cue.key}?at={at}"
    work = shop.works.start(f"Welding both: {cue.name}", weld, then=then, back="/cues")
    return RedirectResponse(f"/search/{work.number}", 303)
