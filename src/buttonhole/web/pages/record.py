"""The record: is it whole?"""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.verify_record import verify_record
from buttonhole.web.faults import RESPONSES
from buttonhole.web.render import page
from buttonhole.web.shop import OurShop

router = APIRouter(prefix="/record", responses=RESPONSES)


@router.get("")
def show_record(request: Request, shop: OurShop) -> Response:
    """Check every event and say what was found."""
    return page(request, "record.html", report=verify_record(shop.store))
