"""Who is at this screen, and in which light."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Form
from buttonhole.web.render import THEMES, page
from buttonhole.web.shop import OurShop, keep_person

router = APIRouter(responses=RESPONSES)
YEAR = 365 * 24 * 3600  # s


@router.get("/person")
def ask_person(request: Request, form: Form) -> Response:
    """Ask for the name."""
    return page(request, "person.html", form=form, then=safe_path(form.text("then")))


@router.post("/person")
def take_person(request: Request, form: Form, shop: OurShop) -> Response:
    """Keep the name at this screen for a shift."""
    then = safe_path(form.text("then"))
    name = form.text("name", need="Give your name as it stands on your papers.")[:60]
    if form.faults:
        return page(request, "person.html", status=422, form=form, then=then)
    response = RedirectResponse(then, 303)
    keep_person(response, name, shop.settings)
    return response


@router.post("/theme")
def take_theme(form: Form, shop: OurShop) -> Response:
    """Keep the light at this screen."""
    response = RedirectResponse(safe_path(form.text("then")), 303)
    theme = form.choice("theme", THEMES, "Choose sun or dark.") or "auto"
    response.set_cookie(
        "theme",
        theme,
        max_age=YEAR,
        httponly=True,
        samesite="strict",
        secure=shop.settings.secure_cookies,
    )
    return response


def safe_path(then: str) -> str:
    """A path on this server, or the first page: an answer must not lead to another site."""
    ours = then.startswith("/") and not then.startswith("//") and "\\" not in then
    return then if ours and then.isprintable() else "/"
