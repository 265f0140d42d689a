"""The pieces every screen is built of, each once, for whoever builds or checks a screen."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.coupon.criterion import find_criterion
from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.verdict import required_diameter
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.paper.figure import DrawnLimit
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers
from buttonhole.web.pictures import stack_pictures, torn_picture
from buttonhole.web.render import page
from buttonhole.web.shown import Step

router = APIRouter(prefix="/pieces", responses=RESPONSES)

STACK = StackUp(
    (Sheet(find_steel("DC04"), 0.8e-3, Coating.GI), Sheet(find_steel("HCT600X"), 1.2e-3))
)
STEPS = (
    Step("Sheets", "done", "done", "/pieces"),
    Step("Set-up", "now", "you are here", ""),
    Step("Coupon", "", "still to do", ""),
)


@router.get("")
def show_pieces(request: Request) -> Response:
    """Show every piece with what it is for; nothing here is saved."""
    criterion = find_criterion("4.5-root-t")
    limit = required_diameter(criterion, STACK, 0).diameter
    modes = (FractureMode.FULL_BUTTON, FractureMode.INTERFACIAL)
    tiles = [
        {
            "value": one.value,
            "words": one.words.name,
            "picture": torn_picture(one.value, notes=False),
            "more": one.words.sign,
        }
        for one in modes
    ]
    return page(
        request,
        "pieces.html",
        demo=False,
        steps=STEPS,
        stack=stack_pictures(STACK, ((DrawnLimit(limit, criterion.name),),), None),
        tiles=tiles,
        form=Answers({"force": "2.2", "mode": "full_button"}),
        wrong=Answers({"diameter": "54"}, {"diameter": "Give 0 to 30 mm."}),
        criterion=criterion.name,
        limit=limit,
    )
