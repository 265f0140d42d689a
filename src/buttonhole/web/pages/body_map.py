"""Joints on a drawing of the body: tap where a joint is, nudge it, see them all."""

from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.place_joint import PlaceJoint, PlaceView, marks_of, place_joint, places
from buttonhole.desk.read_job import read_job
from buttonhole.paper.figure.body import ACROSS, HIGH, BodyView, body
from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pictures import style_of
from buttonhole.web.render import page
from buttonhole.web.screen import joint_card
from buttonhole.web.shop import Reading, Writing, go_on

router = APIRouter(prefix="/jobs/{job_id}/map", responses=RESPONSES)

# Width of the drawing [px] on desk, tablet and telephone: which of them was tapped tells the scale.
WIDTHS = {"large": 880, "middle": 580, "small": 340}
STEP = 0.01  # of the drawing, for one tap on a nudge
NUDGES = {"left": (-STEP, 0.0), "right": (STEP, 0.0), "up": (0.0, -STEP), "down": (0.0, STEP)}


@router.get("")
def show_map(request: Request, job_id: str, form: Form, desk: Reading) -> Response:
    """Show the body from one side with the joints that are placed on it."""
    return _page(request, job_id, form, desk)


@router.get("/{view}.svg")
def draw(job_id: str, view: str, form: Form, desk: Reading) -> Response:
    """Draw the body with its marks, as the picture that is tapped."""
    job = read_job(desk, job_id)
    chosen = form.typed.get("joint", "")
    lettering = {"small": 46.0, "middle": 28.0}.get(form.typed.get("size", ""), 22.0)
    seen = _view(view)
    marks = marks_of(places(desk, job), seen, chosen)
    return Response(body(seen, marks, style=style_of(lettering)), media_type="image/svg+xml")


@router.post("")
def take_place(request: Request, job_id: str, form: Form, desk: Writing) -> Response:
    """Place the joint where the drawing was tapped, or nudge it."""
    job = read_job(desk, job_id)
    joint = form.typed.get("joint", "")
    if job.joint(joint) is None:
        form.faults["joint"] = "Choose the joint first, then tap where it is."
        return _page(request, job_id, form, desk, 422)
    view = _view(form.typed.get("view", ""))
    before = next((one for one in places(desk, job) if one.joint_id == joint), None)
    where = _nudged(form, before, view) or _tapped(form) or _typed(form)
    if where is None:
        form.faults.setdefault("across", "Tap the drawing, or give both figures, 0 to 100 %.")
        return _page(request, job_id, form, desk, 422)
    place_joint(desk, PlaceJoint(joint, view, *where))
    asked = urlencode({"view": view.value, "joint": joint})
    return go_on(request, f"/jobs/{job_id}/map?{asked}", desk)


def _view(text: str) -> BodyView:
    try:
        return BodyView(text)
    except ValueError:
        raise NotFound("side of the body", "Choose left, right, front or rear.") from None


def _inside(value: float) -> float:
    return min(max(value, 0.0), 1.0)


def _tapped(form: Answers) -> tuple[float, float] | None:
    """Where a picture was tapped; a key on it sends the corner 0, 0, which is no place."""
    for name, width in WIDTHS.items():
        across, down = form.typed.get(f"at-{name}.x", ""), form.typed.get(f"at-{name}.y", "")
        if across.isascii() and across.isdigit() and down.isascii() and down.isdigit():
            if across == down == "0":
                return None
            high = width * HIGH / ACROSS
            return _inside(int(across[:5]) / width), _inside(int(down[:5]) / high)
    return None


def _nudged(form: Answers, before: PlaceView | None, view: BodyView) -> tuple[float, float] | None:
    step = NUDGES.get(form.typed.get("nudge", ""))
    if step is None or before is None or before.view is not view:
        return None
    return _inside(before.across + step[0]), _inside(before.down + step[1])


def _typed(form: Answers) -> tuple[float, float] | None:
    found = []
    for key in ("across", "down"):
        given = form.typed.get(key, "").strip().replace(",", ".").removesuffix("%").strip()
        try:
            value = float(given) / 100.0
        except ValueError:
            return None
        if not 0.0 <= value <= 1.0:
            form.faults[key] = "Give 0 to 100 %."
            return None
        found.append(value)
    return found[0], found[1]


def _page(
    request: Request, job_id: str, form: Answers, desk: Reading, status: int = 200
) -> Response:
    job = read_job(desk, job_id)
    found = places(desk, job)
    chosen = form.typed.get("joint", "")
    placed = next((one for one in found if one.joint_id == chosen), None)
    usual = placed.view if placed else BodyView.LEFT
    view = _view(form.typed.get("view") or usual.value)
    typed = dict(form.typed)
    if placed is not None and placed.view is view:
        typed = {
            "across": f"{100 * placed.across:.1f}",
            "down": f"{100 * placed.down:.1f}",
            **typed,
        }
    where = {one.joint_id: one for one in found}
    return page(
        request,
        "body_map.html",
        status=status,
        job=job,
        demo=job.demo,
        form=Answers(typed, form.faults),
        view=view,
        views=tuple(BodyView),
        chosen=job.joint(chosen),
        placed=placed if placed is not None and placed.view is view else None,
        cards=[
            (number, one.id, joint_card(one), where.get(one.id))
            for number, one in enumerate(job.joints, start=1)
        ],
        sizes=[(name, width, round(width * HIGH / ACROSS)) for name, width in WIDTHS.items()],
        stamp=len(job.history),  # another picture when somebody placed something
        nudges=tuple(NUDGES),
    )
