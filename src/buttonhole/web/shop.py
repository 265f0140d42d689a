"""What the pages share: the record, the desk in somebody's name, and the work under way."""

import hashlib
import json
from datetime import UTC, datetime
from typing import Annotated
from urllib.parse import quote

from fastapi import Depends
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk import Desk
from buttonhole.desk.saving import refuse_again
from buttonhole.record.files import FileShelf, folder_beside
from buttonhole.record.store import open_store
from buttonhole.web.faults import NobodyHere
from buttonhole.web.fields import Answers, Form
from buttonhole.web.kept import Kept
from buttonhole.web.photo_seen import SeenPhotos
from buttonhole.web.render import person
from buttonhole.web.settings import WebSettings
from buttonhole.web.work import Works

SHIFT = 10 * 3600  # s; the next person at the tablet is asked again
READER = "a reader"


class Shop:
    """One server over one record."""

    def __init__(self, settings: WebSettings) -> None:
        self.settings = settings
        self.store = open_store(settings.store)
        self.works = Works()
        self.kept = Kept()
        self.shelf = FileShelf(folder_beside(settings.store))
        self.photos = SeenPhotos(self.shelf)

    def desk(self, actor: str, sent: str = "") -> Desk:
        """The desk, acting in somebody's name; ``sent`` names the form that is saved, if any."""
        return Desk(self.store, lambda: datetime.now(UTC), actor, sent=sent)

    def close(self) -> None:
        """Stop the work under way and let go of the record."""
        self.works.close()
        self.store.close()


def our_shop(request: Request) -> Shop:
    """The shop of this server."""
    shop: Shop = request.app.state.shop
    return shop


def reading_desk(request: Request) -> Desk:
    """The desk for looking only."""
    return our_shop(request).desk(person(request) or READER)


def writing_desk(request: Request, form: Form) -> Desk:
    """The desk for saving, in the name known at this screen or given in the form itself."""
    name = person(request) or form.typed.get("person", "").strip()[:60]
    if not name:
        raise NobodyHere
    desk = our_shop(request).desk(name, sent_name(request.url.path, name, form))
    refuse_again(desk)
    return desk


def sent_name(path: str, name: str, form: Answers) -> str:
    """Name a filled-in form, so that a second tap on its button is not a second entry.

    Every page that asks has its own ``once``. The answers count too: who goes back and changes one
    has not sent the same thing.
    """
    if not form.typed.get("once"):
        return ""
    text = json.dumps([path, name, sorted(form.typed.items())])
    return hashlib.sha256(text.encode()).hexdigest()[:32]


OurShop = Annotated[Shop, Depends(our_shop)]
Reading = Annotated[Desk, Depends(reading_desk)]
Writing = Annotated[Desk, Depends(writing_desk)]


def go_on(request: Request, path: str, desk: Desk) -> Response:
    """Go on to the next page after something was saved, and keep the name at this screen."""
    response = RedirectResponse(path, 303)
    if not person(request) and desk.actor != READER:
        keep_person(response, desk.actor, our_shop(request).settings)
    return response


def keep_person(response: Response, name: str, settings: WebSettings) -> None:
    """Remember who is at this screen, for a shift."""
    response.set_cookie(
        "person",
        quote(name),
        max_age=SHIFT,
        httponly=True,
        samesite="strict",
        secure=settings.secure_cookies,
    )
