"""The trainer's board: what the trade looks for, right and wrong side by side, computed."""

from datetime import UTC, datetime

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.arc_cues import Cue
from buttonhole.desk.cues import CUES, compared, find_cue
from buttonhole.paper.vice_sheet import Row, ViceSheet, Weld, vice_sheet
from buttonhole.units import BadInput
from buttonhole.web.cue_welds import CueWeld, is_welded, weld_cases
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Form
from buttonhole.web.pages.judge import pdf
from buttonhole.web.render import page
from buttonhole.web.shop import OurShop, Reading
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
    groups = [
        (name, [one for one in CUES if one.process == process])
        for name, process in (("Spot welds", "spot"), ("Plugs and seams", "arc"))
    ]
    return page(request, "cues.html", groups=groups, tones=TONES)


@router.get("/{key}")
def show_cue(request: Request, key: str, form: Form, shop: OurShop) -> Response:
    """Show the right weld beside another one, with section, back and the sizes that differ."""
    cue, at = _chosen(key, form)
    if not cue.cases:
        return page(request, "cue.html", cue=cue, tones=TONES, at=0, pair=(), rows=())
    wanted = [cue.cases[0], cue.cases[at]]
    if not all(is_welded(one) for one in wanted):
        return _work_it_out(request, shop, cue, at)
    found = weld_cases(wanted)
    rows = compared(cue, found[0].answer, found[1].answer)
    return page(
        request,
        "cue.html",
        cue=cue,
        tones=TONES,
        at=at,
        pair=tuple(zip(("Good", _named(cue, at)), wanted, found, strict=True)),
        rows=[(one, *_COMPARED[one.agrees]) for one in rows],
    )


@router.get("/{key}/sheet.pdf")
def print_sheet(request: Request, key: str, form: Form, shop: OurShop, desk: Reading) -> Response:
    """Print what is predicted beside empty boxes for what the vice shows."""
    cue, at = _chosen(key, form)
    if not cue.cases:
        raise NotFound("prediction for this cue", "Weld a coupon and look.")
    wanted = [cue.cases[0], cue.cases[at]]
    if not all(is_welded(one) for one in wanted):
        return _work_it_out(request, shop, cue, at)
    found = weld_cases(wanted)
    rows = compared(cue, found[0].answer, found[1].answer)
    sheet = ViceSheet(
        title=cue.name,
        trade=cue.trade,
        model=f"{cue.explained.words}. {cue.model}",
        welds=(_printed(wanted[0].words, found[0]), _printed(wanted[1].words, found[1])),
        rows=tuple(Row(one.name, one.unit, one.good, one.other) for one in rows),
        what=found[0].what,
        model_version=str(found[0].answer["model_version"]),
        issued=desk.shop_time(datetime.now(UTC)),
    )
    return pdf(vice_sheet(sheet), f"prediction-{cue.key}.pdf")


def _printed(words: str, weld: CueWeld) -> Weld:
    return Weld(words, str(weld.section.large), str(weld.back.large))


def _chosen(key: str, form: Form) -> tuple[Cue, int]:
    try:
        cue = find_cue(key)
    except BadInput as bad:
        raise NotFound("cue of this name", "Choose one from the list.") from bad
    if not cue.cases:
        return cue, 0
    place = form.number("at", low=0, high=len(cue.cases) - 1, need="")
    return cue, cue.bad if place is None else place


def _named(cue: Cue, at: int) -> str:
    return "Bad" if at == cue.bad else "The same" if at == 0 else "Otherwise"


def _work_it_out(request: Request, shop: OurShop, cue: Cue, at: int) -> Response:
    """Both welds of an arc take seconds the first time; a page shows how far they are."""
    cases = (cue.cases[0], cue.cases[at])

    def weld(progress: Progress) -> None:
        for done, one in enumerate(cases):
            progress(done, len(cases))
            weld_cases([one])
        progress(len(cases), len(cases))

    then = f"/cues/{cue.key}?at={at}"
    work = shop.works.start(f"Welding both: {cue.name}", weld, then=then, back="/cues")
    return RedirectResponse(f"/search/{work.number}", 303)
