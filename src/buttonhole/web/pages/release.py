"""Release a set-up, print its card, end it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from buttonhole.desk.drawn import authority_words
from buttonhole.desk.print_card import PrintCard, print_card
from buttonhole.desk.release_set_up import (
    EndRelease,
    ReleaseSetUp,
    Standing,
    end_release,
    release_set_up,
    standing,
)
from buttonhole.desk.rule_book import named_rules, rule_book
from buttonhole.desk.view import JointView
from buttonhole.desk.work_out_model import model_to_work_out
from buttonhole.language.display import display_now
from buttonhole.procedure.authority import Deviation
from buttonhole.procedure.release import ReleaseRefused
from buttonhole.procedure.validity import ARC_ENDS, EndCondition, ValidityPolicy
from buttonhole.units import BadInput
from buttonhole.web.decided import kept_decision
from buttonhole.web.decision_view import DecisionView, decision_view
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pages.judge import pdf
from buttonhole.web.pages.method import origin
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.set_up_form import typed_set_up
from buttonhole.web.shop import OurShop, Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)
SIGNED = ("overruled_reason", "signed_by", "second_signature")


@dataclass(frozen=True, slots=True)
class Way:
    """One way on: an address and the words on its button."""

    href: str
    words: str


@router.get("/release")
def show_release(request: Request, joint_id: str, desk: Reading, shop: OurShop) -> Response:
    """Show the release that holds, or ask for one, or say what is missing.

    A model of plugs takes some seconds: the page shows that it is under way.
    """
    screen = joint_screen(desk, joint_id, "Release", by_arc=True)
    view = screen.view
    if view.release is not None:
        return _released_page(request, screen, desk, Answers({"seen": view.seen}))
    due = model_to_work_out(desk, view) if any(one.is_judged for one in view.coupons) else None
    if due is not None:
        here = f"/joints/{joint_id}"
        then = f"{here}/release"
        work = shop.works.start("Welding plugs in the model", due, then=then, back=here)
        return RedirectResponse(f"/search/{work.number}", 303)
    return _ask_page(request, screen, desk, Answers(_usual(view)))


@router.post("/release")
def take_release(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Release the set-up."""
    hours = form.quantity_bare("hours", "Give the hours, up to 24.")
    if hours is None and "hours" not in form.faults:
        form.faults["hours"] = "Give the hours; a release ends by itself."
    screen = joint_screen(desk, joint_id, "Release", by_arc=True)
    need = "" if screen.view.arc else "Give the number of welds."  # an arc wears no tips
    welds = form.number("max_welds", low=1, high=5000, need=need)
    overruled = _signed(form)
    if not form.faults:
        command = ReleaseSetUp(
            joint_id=joint_id,
            seen=form.text("seen") or None,
            hours=hours,
            max_welds=welds,
            released_by=form.text("released_by"),
            overruled=overruled,
        )
        try:
            release_set_up(desk, command)
        except ReleaseRefused:
            pass  # what stands against it is shown by the page below
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}/release", desk)
    return _ask_page(request, screen, desk, form, status=422)


def _signed(form: Answers) -> Deviation | None:
    """The two who release although the program is not sure; None where nobody signed."""
    reason, one, other = (form.text(key) for key in SIGNED)
    if not (reason or one or other):
        return None
    try:
        return Deviation(reason, one, other)
    except BadInput as bad:
        key = "overruled_reason" if bad.key == "reason" else bad.key
        form.blame(BadInput(key, bad.message.replace("the maker's procedure", "the rule")))
        return None


@router.post("/release/end")
def take_end(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """End the release by hand, and say why."""
    allowed = tuple(one.value for one in EndCondition)
    condition = form.choice("condition", allowed, "Choose what happened.")
    if not form.faults:
        command = EndRelease(
            joint_id=joint_id,
            seen=form.text("seen") or None,
            condition=EndCondition(condition),
            detail=form.text("detail"),
        )
        end_release(desk, command)
        return go_on(request, f"/joints/{joint_id}", desk)
    screen = joint_screen(desk, joint_id, "Release", by_arc=True)
    return _released_page(request, screen, desk, form, status=422)


@router.post("/card.pdf")
def print_bay_card(joint_id: str, desk: Writing) -> Response:
    """Print the bay card of the release that holds; its hash goes into the record."""
    printed = print_card(desk, PrintCard(joint_id, display=display_now()))
    name = re.sub(r"[^A-Za-z0-9]+", "-", printed.joint.name).strip("-")[:40] or "joint"
    return pdf(printed.pdf, f"card-{name}.pdf")


def _usual(view: JointView) -> dict[str, str]:
    usual = ValidityPolicy()
    if view.arc is not None:
        return {"seen": view.seen, "hours": f"{usual.hours:g}", "max_welds": ""}
    coated = any(one.coating.value != "bare" for one in view.stack.sheets)
    welds = usual.welds_coated if coated else usual.welds_bare
    return {"seen": view.seen, "hours": f"{usual.hours:g}", "max_welds": str(welds)}


def _ask_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    view = screen.view
    ended = view.releases[-1].ended if view.releases else ()
    stands = standing(desk, screen.id, max_welds=_typed_welds(form), decider=kept_decision)
    found = _decision(view, stands.decided.answer if stands.decided else None)
    headline = "Release this set-up?"
    if found is not None and (stands.only_unsure or not stands.lacking):
        headline = found.headline
    form.typed = {**_usual(view), **form.typed}
    return page(
        request,
        "release.html",
        status=status,
        joint=screen,
        demo=view.demo,
        form=form,
        seen=form.text("seen"),
        headline=headline,
        lacking=stands.lacking,
        only_unsure=stands.only_unsure,
        found=found,
        ways=_ways(screen, stands, found),
        dress_hint="Empty: no number ends it."
        if view.arc
        else "Then dress the tip. Our usual, not the maker's.",
        ended=ended,
    )


def _typed_welds(form: Answers) -> int | None:
    typed = form.text("max_welds")
    return int(typed) if typed.isdecimal() and 0 < int(typed) <= 5000 else None


def _decision(view: JointView, answer: Mapping[str, Any] | None) -> DecisionView | None:
    if not answer or view.accepted is None:
        return None
    typed: dict[str, str] = {}
    if view.set_up is not None:
        set_up = view.set_up.set_up
        typed = {**typed_set_up(set_up), "pulses": str(len(set_up.pulses))}
    return decision_view(answer, f"/joints/{view.id}", typed)


def _ways(screen: Screen, stands: Standing, found: DecisionView | None) -> tuple[Way, ...]:
    """What to do now, the likeliest first."""
    here = f"/joints/{screen.id}"
    joint = Way(here, "The joint")
    if not stands.only_unsure or found is None:
        return (Way(screen.next.href, screen.next.words), joint)
    another = Way(f"{here}/coupon", "Weld another coupon")
    if found.next is not None and found.next.href:
        moved = Way(found.next.href, "Take the proposed set-up")
        first = (another, moved) if found.answer["step"] == "another_coupon" else (moved, another)
        return (*first, joint)
    own = "arc/own" if screen.view.arc else "set-up/own"
    change = Way(f"{here}/{own}", "Change the set-up")
    if found.answer["step"] == "another_coupon":
        return (another, change, joint)
    return (change, another, joint)


def _released_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    view = screen.view
    if view.release is None or view.procedure is None:
        return go_on(request, f"/joints/{view.id}", desk)
    listed = ARC_ENDS if view.arc else tuple(EndCondition)
    ends = [(one.value, one.words) for one in listed if one is not EndCondition.TIPS_DRESSED]
    return page(
        request,
        "released.html",
        status=status,
        joint=screen,
        demo=view.demo,
        form=form,
        seen=form.text("seen"),
        holds=view.release,
        until=desk.shop_time(view.release.release.valid_until),
        authority=authority_words(view.procedure),
        spots=view.required_spots,
        rules=named_rules(desk, view, view.release.release.rules),
        found=_decision(view, view.release.decision),
        rule_keys={one.key for one in rule_book(desk).rules},
        origin=origin,
        ends=(("", tuple(ends)),),
    )
