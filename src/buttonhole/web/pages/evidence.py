"""The inspector's pages: from a VIN to the evidence of one weld, to look at only."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk
from buttonhole.desk.evidence_view import Evidence
from buttonhole.desk.find_evidence import FindEvidence, find_evidence
from buttonhole.desk.guest_link import use_guest_link
from buttonhole.web.faults import RESPONSES
from buttonhole.web.render import page
from buttonhole.web.shop import OurShop, Reading, Shop

router = APIRouter(responses=RESPONSES)
GUEST = "a guest"


@router.get("/evidence")
def show_evidence(request: Request, shop: OurShop, desk: Reading) -> Response:
    """Ask for a VIN, or show what is kept about its welds."""
    asked = {key: str(request.query_params.get(key, ""))[:40] for key in ("vin", "joint", "weld")}
    return _page(request, shop, desk, asked, "/evidence")


@router.get("/guest/{secret}")
def show_to_guest(request: Request, shop: OurShop, secret: str) -> Response:
    """Show one vehicle to whom a link was given, and write it down."""
    desk = shop.desk(GUEST)
    link = use_guest_link(desk, secret[:100])
    asked = {key: str(request.query_params.get(key, ""))[:40] for key in ("joint", "weld")}
    return _page(request, shop, desk, {"vin": link.vin, **asked}, f"/guest/{link.secret}")


def _page(request: Request, shop: Shop, desk: Desk, asked: dict[str, str], path: str) -> Response:
    found: Evidence | None = None
    missing = ""
    if asked["vin"]:
        weld = asked["weld"]
        number = int(weld) if weld.isascii() and weld.isdigit() else None
        command = FindEvidence(vin=asked["vin"], joint=asked["joint"], weld=number)
        try:
            found = find_evidence(desk, shop.store, command)
        except NotThere as fault:
            missing = str(fault)
    guest = path.startswith("/guest/")
    return page(
        request, "evidence.html", found=found, asked=asked, missing=missing, path=path, guest=guest
    )
