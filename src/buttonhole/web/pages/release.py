"""Release a set-up, print its card, end it."""

import re

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.drawn import authority_words
from buttonhole.desk.print_card import PrintCard, print_card
from buttonhole.desk.release_set_up import (
    EndRelease,
    ReleaseSetUp,
    end_release,
    release_set_up,
    what_is_lacking,
)
from buttonhole.desk.rule_book import named_rules, rule_book
from buttonhole.procedure.release import ReleaseRefused
from buttonhole.procedure.validity import EndCondition, ValidityPolicy
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pages.judge import pdf
from buttonhole.web.pages.method import origin
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)


@router.get("/release")
def show_release(request: Request, joint_id: str, desk: Reading) -> Response:
    """Show the release that holds, or ask for one, or say what is missing."""
    screen = joint_screen(desk, joint_id, "Release")
    view = screen.view
    if view.release is not None:
        return _released_page(request, screen, desk, Answers({"seen": view.seen}))
    usual = ValidityPolicy()
    coated = any(one.coating.value != "bare" for one in view.stack.sheets)
    welds = usual.welds_coated if coated else usual.welds_bare
    typed = {"seen": view.seen, "hours": f"{usual.hours:g}", "max_welds": str(welds)}
    return _ask_page(request, screen, desk, Answers(typed))


@router.post("/release")
def take_release(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Release the set-up."""
    hours = form.quantity_bare("hours", "Give the hours, up to 24.")
    if hours is None and "hours" not in form.faults:
        form.faults["hours"] = "Give the hours; a release ends by itself."
    welds = form.number("max_welds", low=1, high=5000, need="Give the number of welds.")
    if not form.faults:
        command = ReleaseSetUp(
            joint_id=joint_id,
            seen=form.text("seen") or None,
            hours=hours,
            max_welds=welds,
            released_by=form.text("released_by"),
        )
        try:
            release_set_up(desk, command)
        except ReleaseRefused:
            pass  # what stands against it is shown by the page below
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}/release", desk)
    return _ask_page(request, joint_screen(desk, joint_id, "Release"), desk, form, status=422)


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
    screen = joint_screen(desk, joint_id, "Release")
    return _released_page(request, screen, desk, form, status=422)


@router.post("/card.pdf")
def print_bay_card(joint_id: str, desk: Writing) -> Response:
    """Print the bay card of the release that holds; its hash goes into the record."""
    printed = print_card(desk, PrintCard(joint_id))
    name = re.sub(r"[^A-Za-z0-9]+", "-", printed.joint.name).strip("-")[:40] or "joint"
    return pdf(printed.pdf, f"card-{name}.pdf")


def _ask_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    ended = screen.view.releases[-1].ended if screen.view.releases else ()
    return page(
        request,
        "release.html",
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.text("seen"),
        lacking=what_is_lacking(desk, screen.id),
        ended=ended,
    )


def _released_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    view = screen.view
    if view.release is None or view.procedure is None:
        return go_on(request, f"/joints/{view.id}", desk)
    ends = [(one.value, one.words) for one in EndCondition if one is not EndCondition.TIPS_DRESSED]
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
        rule_keys={one.key for one in rule_book(desk).rules},
        origin=origin,
        ends=(("", tuple(ends)),),
    )
