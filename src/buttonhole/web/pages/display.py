"""In which language and in which units this screen speaks."""

from dataclasses import replace

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.language.display import INCH, LANGUAGES, SI, UNIT_CHOICES, chosen_units
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Form
from buttonhole.web.pages.person import YEAR, safe_path
from buttonhole.web.render import display_of, page
from buttonhole.web.shop import OurShop

router = APIRouter(responses=RESPONSES)

NAMES = {
    "length": "Length",
    "force": "Force",
    "time": "Weld time",
    "pressure": "Pressure",
    "flow": "Gas flow",
    "speed": "Wire feed and travel",
    "temperature": "Temperature",
    "torque": "Torque",
}
# Whole sets in one tap.
SETS = {"si": SI, "inch": INCH}


@router.get("/display")
def ask_display(request: Request, form: Form) -> Response:
    """Show the languages and the units to choose from."""
    display = display_of(request)
    return page(
        request,
        "display.html",
        form=form,
        then=safe_path(form.text("then")),
        names=NAMES,
        choices=UNIT_CHOICES,
        chosen=chosen_units(display),
        at=display.units,
        sets=SETS,
    )


@router.post("/display")
def take_display(request: Request, form: Form, shop: OurShop) -> Response:
    """Keep what was chosen at this screen; what was not asked for stays as it is."""
    display = display_of(request)
    units = SETS.get(form.text("set"), display.units)
    for kind, names in UNIT_CHOICES.items():
        if form.text(kind) in names:
            units = replace(units, **{kind: form.text(kind)})
    language = form.text("language")
    response = RedirectResponse(safe_path(form.text("then")), 303)
    keep(response, "units", units.code(), shop)
    if language in LANGUAGES:
        keep(response, "language", language, shop)
    return response


def keep(response: Response, name: str, value: str, shop: OurShop) -> None:
    """Keep a choice at this screen for a year."""
    response.set_cookie(
        name,
        value,
        max_age=YEAR,
        httponly=True,
        samesite="strict",
        secure=shop.settings.secure_cookies,
    )
