"""How far a long calculation is."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.web.faults import RESPONSES, NotFound
from buttonhole.web.render import page
from buttonhole.web.shop import OurShop

router = APIRouter(prefix="/search", responses=RESPONSES)
AGAIN = "Look at its joint: either the result is there, or the search can be started again."


@router.get("/{number}")
def show_work(request: Request, number: int, shop: OurShop) -> Response:
    """Show the progress; when the work is done, go on to what it made."""
    work = shop.works.find(number)
    if work is None:
        raise NotFound("calculation with this number any more", AGAIN)
    if work.state == "done":
        if "HX-Request" in request.headers:
            return Response(headers={"HX-Redirect": work.then})
        return RedirectResponse(work.then, 303)
    if work.is_over and "HX-Request" in request.headers:
        return Response(headers={"HX-Redirect": f"/search/{number}"})
    template = "work_state.html" if "HX-Request" in request.headers else "work.html"
    return page(request, template, work=work)


@router.post("/{number}/stop")
def stop_work(number: int, shop: OurShop) -> Response:
    """Stop the work."""
    work = shop.works.find(number)
    if work is None:
        raise NotFound("calculation with this number any more", AGAIN)
    work.halt.set()
    return RedirectResponse(work.back, 303)
