"""Before it is torn: what is not the same on the coupon as on the vehicle."""

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.coupon.difference import Difference, Level
from buttonhole.desk.read_job import find_coupon
from buttonhole.web.faults import RESPONSES
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import Reading

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)

TONES = {Level.RED: "no", Level.AMBER: "wait", Level.GREEN: "yes"}


@dataclass(frozen=True, slots=True)
class Compared:
    """One row: what is compared, how it stands, in colour, shape and word."""

    item: str
    tone: str
    word: str
    on_joint: str
    on_coupon: str
    advice: str


@router.get("/coupons/{coupon_id}/compare")
def show_differences(request: Request, joint_id: str, coupon_id: str, desk: Reading) -> Response:
    """Show coupon and joint side by side; a red row asks for a new coupon before this is torn."""
    screen = joint_screen(desk, joint_id, "Coupon", by_arc=True)
    coupon = find_coupon(screen.view, coupon_id)
    levels = {one.level for one in coupon.differences}
    worst = next((one for one in Level if one in levels), Level.GREEN)
    return page(
        request,
        "coupon_compare.html",
        joint=screen,
        demo=screen.view.demo,
        coupon=coupon,
        worst=TONES[worst],
        question={
            Level.RED: "This coupon is not the joint",
            Level.AMBER: "Nearly the joint: look at these",
            Level.GREEN: "The coupon is as the joint",
        }[worst],
        rows=compared(coupon.differences),
        here=f"/joints/{joint_id}/coupons/{coupon_id}",
    )


def compared(differences: tuple[Difference, ...]) -> tuple[Compared, ...]:
    """The difference list as rows of a page; red ones come first, as the core has them."""
    return tuple(
        Compared(
            one.item[:1].upper() + one.item[1:],
            TONES[one.level],
            one.level.word,
            one.on_joint,
            one.on_coupon,
            one.advice,
        )
        for one in differences
    )
