"""Measure a torn weld in a photo: take it, set the ends on the loupe, take the figures over."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.keep_photo import PhotoPlace, keep_photo, measure_photo
from buttonhole.desk.print_gauge_card import print_gauge_card
from buttonhole.desk.read_job import find_coupon, read_joint
from buttonhole.desk.view import CouponView
from buttonhole.photo.gauge import preview, snap
from buttonhole.photo.picture import encoded
from buttonhole.photo.proposal import propose
from buttonhole.photo.refusal import PhotoRefused
from buttonhole.photo.sight import loupe
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES, NobodyHere
from buttonhole.web.fields import MAX_FIELDS, Answers, Form, one_line, sentence
from buttonhole.web.pages.judge import pdf
from buttonhole.web.photo_form import FACES, SHOWN_SIDE, STEPS, PhotoState, read_state
from buttonhole.web.render import page, person
from buttonhole.web.screen import between, joint_screen
from buttonhole.web.shop import OurShop, Reading, Writing, go_on, our_shop

router = APIRouter(responses=RESPONSES)
HERE = "/joints/{joint_id}/coupons/{coupon_id}/photo"


async def read_upload(request: Request) -> tuple[Answers, bytes]:
    """Read a form with one photo in it.

    Raises
    ------
    BadInput
        More or other than this page sends.
    """
    form = await request.form(max_files=1, max_fields=MAX_FIELDS, max_part_size=4096)
    content = b""
    typed: dict[str, str] = {}
    for key, value in form.multi_items():
        if isinstance(value, UploadFile):
            content = await value.read()
        else:
            typed[key[:60]] = one_line(value[:400])
    return Answers(typed), content


Upload = Annotated[tuple[Answers, bytes], Depends(read_upload)]


@router.get("/gauge-card.pdf")
def card_page() -> Response:
    """Hand out a gauge card to print."""
    today = datetime.now(UTC).replace(hour=0, minute=0, second=0, microsecond=0)
    return pdf(print_gauge_card("A", today).pdf, "gauge-card.pdf")


@router.get(HERE)
def ask_photo(
    request: Request, joint_id: str, coupon_id: str, form: Form, desk: Reading
) -> Response:
    """Ask for a photo, and how the weld lies in it."""
    coupon = find_coupon(read_joint(desk, joint_id), coupon_id)
    mode = form.typed.get(f"mode-{form.typed.get('interface', '0')}", "full_button")
    usual = "hole" if coupon.weld is not None else "button" if mode == "full_button" else "disc"
    typed = {"face": usual, **form.typed}
    return _take_page(request, desk, joint_id, coupon, Answers(typed))


@router.post(HERE)
async def take_photo(
    request: Request, joint_id: str, coupon_id: str, upload: Upload, desk: Reading
) -> Response:
    """Keep a photo and look for its card."""
    form, content = upload
    return await run_in_threadpool(_taken, request, joint_id, coupon_id, form, content)


def _taken(
    request: Request, joint_id: str, coupon_id: str, form: Answers, content: bytes
) -> Response:
    name = person(request) or form.typed.get("person", "").strip()[:60]
    if not name:
        raise NobodyHere
    shop = our_shop(request)
    desk = shop.desk(name)
    coupon = find_coupon(read_joint(desk, joint_id), coupon_id)
    try:
        state = read_state(form, _interfaces(coupon))
        if form.faults:
            return _take_page(request, desk, joint_id, coupon, form, 422)
        place = PhotoPlace(joint_id, coupon_id, state.interface)
        kept = keep_photo(desk, shop.shelf, place, content)
        seen = shop.photos.see(kept.sha256, state.bars)
        proposal = propose(seen.sight, state.setting)
    except PhotoRefused as refused:
        form.faults["photo"] = f"{refused.said} {refused.act}"
        return _take_page(request, desk, joint_id, coupon, form, 422)
    except BadInput as bad:
        form.blame(bad, {"photo": "photo"})
        return _take_page(request, desk, joint_id, coupon, form, 422)
    handles = proposal.handles if proposal else None
    state = PhotoState(state.setting, state.bars, state.interface, handles, 0, True, state.carried)
    return go_on(request, state.address(f"{request.url.path}/{kept.sha256}"), desk)


def _take_page(
    request: Request,
    desk: Reading,
    joint_id: str,
    coupon: CouponView,
    form: Answers,
    status: int = 200,
) -> Response:
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    index = form.typed.get("interface", "0")
    here = f"/joints/{joint_id}/coupons/{coupon.id}"
    own = ("face", "height", "bar_across", "bar_down", "once", "person")
    carried = {key: value for key, value in form.typed.items() if key not in own}
    back = {key: value for key, value in carried.items() if key != "interface"}
    return page(
        request,
        "photo_take.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        here=f"{here}/photo",
        back=f"{here}/tear?{urlencode(back)}",
        carried={**carried, "interface": index},
        number=coupon.number,
        place=between(int(index)) if index.isdigit() and len(index) < 3 else "",
        faces=FACES,
    )


@router.get(HERE + "/{name}")
def show_photo(
    request: Request, joint_id: str, coupon_id: str, name: str, form: Form, desk: Reading
) -> Response:
    """Show the loupe with the handles; a tap, a nudge or a snap leads to the next address."""
    coupon = find_coupon(read_joint(desk, joint_id), coupon_id)
    state = read_state(form, _interfaces(coupon))
    seen = our_shop(request).photos.see(name, state.bars)
    said = ""
    moved = _acted(state, form)
    if form.typed.get("do") in ("snap", "propose"):
        try:
            moved = _helped(seen, state, form.typed["do"])
        except PhotoRefused as refused:
            said = f"{refused.said} {refused.act}"
        except BadInput as bad:
            said = sentence(bad.message)
    if moved is not state and not said:
        return RedirectResponse(moved.address(request.url.path), 303)
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    found = preview(seen.sight, state.setting, seen.scale, state.handles) if state.handles else None
    x, y, width = state.view
    ask = {"height": f"{state.setting.height * 1e3:.2f}", "x": f"{x * 1e3:.1f}"}
    ask |= {"y": f"{y * 1e3:.1f}", "width": f"{width * 1e3:.1f}"}
    if state.bars:
        ask |= {key: state.fields()[key] for key in ("bar_across", "bar_down")}
    shown: dict[str, Any] = {
        "joint": screen,
        "demo": screen.view.demo,
        "number": coupon.number,
        "place": between(state.interface),
        "form": form,
        "here": request.url.path,
        "fields": state.fields(),
        "state": state,
        "handles": state.shown(),
        "names": ("1", "2", "3", "4"),
        "picture": f"{request.url.path}/loupe.jpg?{urlencode(ask)}",
        "found": found,
        "off": 1.645 * found.uncertainty if found else 0.0,
        "said": said,
        "side": SHOWN_SIDE,
        "width": width,
        "seen": seen,
        "steps": tuple(STEPS),
        "again": f"{request.url.path.rpartition('/')[0]}?{urlencode(_asked(state))}",
    }
    return page(request, "photo.html", status=422 if said else 200, **shown)


def _asked(state: PhotoState) -> dict[str, str]:
    """What the page that asks for a photo needs to know again."""
    gone = ("ends", "placed", "snapped", "faint", "hand", "near")
    return {key: value for key, value in state.fields().items() if key not in gone}


def _acted(state: PhotoState, form: Answers) -> PhotoState:
    """The state after a tap, a nudge, another handle or another view."""
    typed = form.typed
    across, down = typed.get("tap.x", ""), typed.get("tap.y", "")
    if across.isdigit() and down.isdigit() and (across, down) != ("0", "0"):
        shown = typed.get("shown", "")
        wide = float(shown) if shown.isdigit() and 50 <= int(shown) <= 4000 else SHOWN_SIDE
        return state.tapped(float(across), float(down), wide)
    if typed.get("nudge"):
        return state.nudged(typed["nudge"])
    if typed.get("pick") in ("1", "2", "3", "4"):
        return replace(state, hand=int(typed["pick"]) - 1)
    if typed.get("do") in ("whole", "close"):
        return replace(state, near=typed["do"] == "close")
    return state


def _helped(seen: Any, state: PhotoState, wish: str) -> PhotoState:
    """The state after the program drew the handles onto the edge, or proposed some."""
    if wish == "snap" and state.handles is not None:
        handles, _outline = snap(seen.sight, state.setting, state.handles)
        return replace(state, handles=handles)
    proposal = propose(seen.sight, state.setting)
    if proposal is None:
        raise BadInput("handles", "could not be proposed; tap on the middle of the weld")
    return replace(state, handles=proposal.handles, near=True)


@router.get(HERE + "/{name}/loupe.jpg")
def show_loupe(name: str, form: Form, shop: OurShop) -> Response:
    """The rectified picture, made anew; nothing of the file itself is handed out."""
    figures = {
        key: form.quantity(key, "length", "mm", need="Give a length.")
        for key in ("height", "x", "y", "width")
    }
    across = form.quantity("bar_across", "length", "mm")
    down = form.quantity("bar_down", "length", "mm")
    if form.faults:
        raise BadInput("loupe", "needs a height, a middle and a width")
    bars = (across, down) if across is not None and down is not None else None
    height, x, y, width = (figures[key] or 0.0 for key in ("height", "x", "y", "width"))
    if not (1e-3 <= width <= 40e-3 and abs(height) <= 6e-3 and max(abs(x), abs(y)) <= 20e-3):
        raise BadInput("loupe", "lies outside the window")
    seen = shop.photos.see(name, bars)
    return Response(
        encoded(loupe(seen.sight, height, SHOWN_SIDE, width, (x, y)), 80),
        media_type="image/jpeg",
        headers={"Cache-Control": "max-age=3600"},
    )


@router.post(HERE + "/{name}")
def accept_photo(
    request: Request, joint_id: str, coupon_id: str, name: str, form: Form, desk: Writing
) -> Response:
    """Take the two diameters over into the coupon's questions."""
    coupon = find_coupon(read_joint(desk, joint_id), coupon_id)
    state = read_state(form, _interfaces(coupon))
    seen = our_shop(request).photos.see(name, state.bars)
    if state.handles is None or form.typed.get("looked") != "yes":
        raise BadInput("looked", "is not ticked; look at the four ends on the loupe first")
    place = PhotoPlace(joint_id, coupon_id, state.interface)
    handles = state.handles.taken_by_hand()
    entry, found = measure_photo(desk, place, seen, state.setting, handles)
    largest, across = ("d_max", "d_min") if coupon.weld is not None else ("max", "min")
    answers = {key: value for key, value in state.carried.items() if key not in ("looked", "shown")}
    answers |= {
        f"{largest}-{state.interface}": f"{found.d_max * 1e3:.2f}",
        f"{across}-{state.interface}": f"{found.d_min * 1e3:.2f}",
        f"photo-{state.interface}": entry,
    }
    return go_on(request, f"/joints/{joint_id}/coupons/{coupon_id}/tear?{urlencode(answers)}", desk)


def _interfaces(coupon: CouponView) -> int:
    return 3 if coupon.weld is not None else len(coupon.stack.interfaces)
