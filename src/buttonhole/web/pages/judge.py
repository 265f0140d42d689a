"""The verdict on a coupon, and what to do after it."""

from dataclasses import dataclass
from functools import lru_cache

from fastapi import APIRouter
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.coupon.arc.piece import ArcForm
from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.difference import Level
from buttonhole.coupon.reading import Reading as SpotReading
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.compare_end_coupon import CompareEndCoupon, compare_end_coupon, may_end
from buttonhole.desk.dress_tip import DressTip, dress_tip
from buttonhole.desk.print_coupon_sheet import PrintCouponSheet, print_coupon_sheet
from buttonhole.desk.read_job import find_coupon
from buttonhole.desk.view import CouponView, JudgedView
from buttonhole.joint.stack_up import StackUp
from buttonhole.language.display import Display, display_now
from buttonhole.paper.figure import DrawnMargin
from buttonhole.units import BadInput
from buttonhole.web.arc_torn_pictures import back_picture, torn_arc_picture
from buttonhole.web.decided import kept_diagnosis
from buttonhole.web.diagnosis_view import diagnosis_view
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pictures import (
    NO_DRAWING,
    Lettered,
    margin_picture,
    section_picture,
    torn_picture,
)
from buttonhole.web.predicted import predicted
from buttonhole.web.render import page
from buttonhole.web.screen import between, chosen_limits, joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.solved import is_solved, solved
from buttonhole.weld.spot.set_up import SpotSetUp

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)
MOST_CHECKS = 20  # answers in one address

TONES = {
    Outcome.ACCEPT: "yes",
    Outcome.ACCEPT_NOTE: "yes",
    Outcome.UNDECIDED: "wait",
    Outcome.REJECT: "no",
    Outcome.INVALID: "wait",
}
WORST_FIRST = (
    Outcome.REJECT,
    Outcome.INVALID,
    Outcome.UNDECIDED,
    Outcome.ACCEPT_NOTE,
    Outcome.ACCEPT,
)


@dataclass(frozen=True, slots=True)
class Overall:
    """The whole coupon in one word."""

    tone: str
    words: str


@dataclass(frozen=True, slots=True)
class Way:
    """One way on: page of the joint and the words on the button."""

    page: str
    words: str


RELEASE = Way("/release", "See whether it is enough")
NEXT_COUPON = Way("/coupon", "Another coupon")
DRESS = Way("/tip", "Dress the tip")
CHANGE = Way("/set-up", "Change the set-up")
CHANGE_ARC = Way("/arc", "Change the set-up")
TO_JOINT = Way("", "To the joint")


@dataclass(frozen=True, slots=True)
class Judged:
    """One interface of a coupon as its page shows it."""

    place: str
    tone: str
    words: str
    view: JudgedView
    margin: Markup
    torn: tuple[Markup, ...]


@router.get("/coupons/{coupon_id}")
def show_verdict(request: Request, joint_id: str, coupon_id: str, desk: Reading) -> Response:
    """Show what a coupon is worth, why, and what comes next."""
    screen = joint_screen(desk, joint_id, "Verdict", by_arc=True)
    coupon = find_coupon(screen.view, coupon_id)
    if not coupon.is_judged:
        return go_on(request, f"/joints/{joint_id}/coupons/{coupon_id}/tear", desk)
    judged = tuple(_judged(one, coupon) for one in coupon.judged)
    checked = tuple(request.query_params.getlist("checked"))[:MOST_CHECKS]
    why = kept_diagnosis(desk, screen.view, coupon, checked)
    return page(
        request,
        "verdict.html",
        joint=screen,
        demo=screen.view.demo,
        coupon=coupon,
        overall=overall(coupon),
        judged=judged,
        section=_section(coupon),
        torn=tuple(dict.fromkeys(one for each in judged for one in each.torn if one)),
        red=[one for one in coupon.differences if one.level is Level.RED],
        amber=[one for one in coupon.differences if one.level is Level.AMBER],
        actions=_actions(coupon),
        cautions_here=tuple(
            dict.fromkeys(said for one in coupon.judged for said in one.verdict.cautions)
        ),
        ways=_ways(coupon) if coupon.id == screen.view.coupons[-1].id else (TO_JOINT,),
        counting=screen.view.counting(coupon),
        why=diagnosis_view(why, checked) if why else None,
        here=f"/joints/{joint_id}/coupons/{coupon_id}",
        may_end=may_end(screen.view, coupon),
        end_checks=[one for one in screen.view.end_checks if one.coupon == coupon.id],
        seen=screen.view.seen,
    )


@router.post("/coupons/{coupon_id}/end")
def take_end_coupon(
    request: Request, joint_id: str, coupon_id: str, form: Form, desk: Writing
) -> Response:
    """Compare an end coupon with the start coupon of the release."""
    command = CompareEndCoupon(joint_id, form.text("seen") or None, coupon_id)
    compare_end_coupon(desk, command)
    return go_on(request, f"/joints/{joint_id}/coupons/{coupon_id}", desk)


@router.get("/tip")
def ask_tip(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask what the tip looked like before and after dressing."""
    screen = joint_screen(desk, joint_id, "Coupon")
    form = Answers({"seen": screen.view.seen})
    return page(request, "tip.html", joint=screen, demo=screen.view.demo, form=form)


@router.post("/tip")
def take_tip(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Note that the tip was dressed; the next coupon follows."""
    command = DressTip(
        joint_id=joint_id,
        seen=form.text("seen") or None,
        machine=form.text("machine"),
        face_before=form.quantity("face_before", "length", "mm"),
        face_after=form.quantity("face_after", "length", "mm"),
        note=form.text("note"),
    )
    if not form.faults:
        try:
            dress_tip(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}/coupon", desk)
    screen = joint_screen(desk, joint_id, "Coupon")
    return page(request, "tip.html", status=422, joint=screen, demo=screen.view.demo, form=form)


@router.post("/coupons/{coupon_id}/sheet.pdf")
def print_sheet(joint_id: str, coupon_id: str, desk: Writing) -> Response:
    """Print the coupon sheet; its hash goes into the record."""
    printed = print_coupon_sheet(desk, PrintCouponSheet(joint_id, coupon_id, display_now()))
    number = find_coupon(printed.joint, coupon_id).number
    return pdf(printed.pdf, f"coupon-{number}.pdf")


def pdf(content: bytes, name: str) -> Response:
    """Hand out a paper as a file."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(content, media_type="application/pdf", headers=headers)


def overall(coupon: CouponView) -> Overall:
    """The whole coupon in one word: its worst interface, or what made it another joint."""
    outcomes = {one.verdict.outcome for one in coupon.judged}
    worst = next(one for one in WORST_FIRST if one in outcomes)
    if worst.accepted and not coupon.accepted:
        return Overall("no", "Not the joint")
    if worst is Outcome.REJECT and _only_small(coupon):
        return Overall("no", "Too small")
    return Overall(TONES[worst], worst.words)


def _only_small(coupon: CouponView) -> bool:
    rejected = [one for one in coupon.judged if one.verdict.outcome is Outcome.REJECT]
    return all(0 < one.verdict.mean_diameter < one.verdict.limit for one in rejected)


def _section(coupon: CouponView) -> Lettered:
    """What was predicted for a coupon; of a seam that nobody worked out lately nothing."""
    if coupon.weld is None:
        rule = coupon.judged[0].criterion
        return _spot_section(coupon.stack, coupon.set_up, rule, display_now())
    if coupon.weld["process"] == "plug" or is_solved(coupon.weld):
        return solved(coupon.weld).section
    return NO_DRAWING


@lru_cache(maxsize=64)
def _spot_section(
    stack: StackUp, set_up: SpotSetUp, rule: Criterion, _display: Display
) -> Lettered:
    """Drawn once for each language: a coupon's verdict is looked at more than once."""
    return section_picture(predicted(stack, set_up), stack, chosen_limits(stack, rule))


def _judged(one: JudgedView, coupon: CouponView) -> Judged:
    verdict = one.verdict
    drawn = DrawnMargin(
        diameter=verdict.mean_diameter,
        uncertainty=verdict.expanded_uncertainty,
        limit=verdict.limit,
        guard_band=verdict.guard_band,
        verdict=verdict.outcome.words,
    )
    seam = coupon.weld is not None and coupon.piece.form is not ArcForm.PLUG
    return Judged(
        place="The seam" if seam else between(one.interface),
        tone=TONES[verdict.outcome],
        words=verdict.outcome.words,
        view=one,
        margin=margin_picture(drawn),
        torn=_torn(one, coupon),
    )


def _torn(one: JudgedView, coupon: CouponView) -> tuple[Markup, ...]:
    """How it let go, and what its back showed."""
    reading = one.reading
    if isinstance(reading, SpotReading):
        return (torn_picture(reading.mode.value),) if reading.mode else ()
    piece = coupon.piece
    how = torn_arc_picture(piece, reading.fracture) if reading.fracture else Markup()
    seam = piece.form is not ArcForm.PLUG
    back = back_picture(reading.back, seam=seam) if reading.back else Markup()
    return (how, back)


def _ways(coupon: CouponView) -> tuple[Way, ...]:
    """What can be done now, the likeliest first.

    A worn tip is the first cause of a small weld; right after dressing it is not. Common practice,
    no source.
    """
    if coupon.accepted:
        return (RELEASE, NEXT_COUPON)
    if coupon.weld is not None:
        rejected = Outcome.REJECT in {one.verdict.outcome for one in coupon.judged}
        return (CHANGE_ARC, NEXT_COUPON) if rejected else (NEXT_COUPON, CHANGE_ARC)
    if Outcome.REJECT not in {one.verdict.outcome for one in coupon.judged}:
        return (NEXT_COUPON, CHANGE)
    if coupon.welds_since_dress:
        return (DRESS, NEXT_COUPON, CHANGE)
    return (CHANGE, NEXT_COUPON, DRESS)


def _actions(coupon: CouponView) -> tuple[str, ...]:
    """What to do now; while one interface is not accepted, the good ones ask for nothing."""
    bad = [one for one in coupon.judged if not one.verdict.outcome.accepted]
    told = bad or coupon.judged
    actions = dict.fromkeys(one.verdict.next_action for one in told)
    if len(actions) == 1 and len(coupon.judged) == len(told):
        return tuple(actions)
    return tuple(f"{between(one.interface)}: {one.verdict.next_action}" for one in told)
