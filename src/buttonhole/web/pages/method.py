"""Which way a joint is joined: what is around it, the decision, the letter, the answer."""

import re
from datetime import date

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.decide_method import (
    ChooseMethod,
    TellCircumstances,
    choose_method,
    joint_decision,
    tell_circumstances,
)
from buttonhole.desk.file_rule import FileRule, file_rule
from buttonhole.desk.method_answer import CAUTIONS, question_of
from buttonhole.desk.print_letter import PrintLetter, drawn_joint, known, print_letter
from buttonhole.procedure.joining.decision import MethodStanding, Standing
from buttonhole.procedure.joining.maker_text import Says, Whose
from buttonhole.procedure.joining.method import find_method
from buttonhole.procedure.joining.rule import Rule
from buttonhole.sources import bibliography
from buttonhole.units import BadInput
from buttonhole.web.circumstances_form import (
    NEAR,
    choices,
    method_choices,
    read_circumstances,
    typed_circumstances,
)
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pages.judge import pdf
from buttonhole.web.pictures import drawn_pictures
from buttonhole.web.render import page
from buttonhole.web.screen import joint_screen
from buttonhole.web.shop import Reading, Writing, go_on
from buttonhole.web.shown import Screen

router = APIRouter(prefix="/joints/{joint_id}", responses=RESPONSES)

STEP = "Method"
MAKERS = (Whose.ANSWER, Whose.PROCEDURE, Whose.GENERAL)


@router.get("/method")
def show_method(request: Request, joint_id: str, desk: Reading) -> Response:
    """Show which ways the rules allow, and why not the others."""
    screen = joint_screen(desk, joint_id, STEP)
    return _method_page(request, screen, desk, Answers({"seen": screen.view.seen}))


@router.post("/method")
def take_method(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Keep the way that was chosen, with the rules of the day."""
    try:
        method = find_method(form.text("method"))
        seen = form.text("seen") or None
        choose_method(desk, ChooseMethod(joint_id, seen, method, form.text("reason")))
    except BadInput as bad:
        form.blame(bad)
    else:
        return go_on(request, f"/joints/{joint_id}", desk)
    screen = joint_screen(desk, joint_id, STEP)
    return _method_page(request, screen, desk, form, status=422)


@router.get("/circumstances")
def ask_circumstances(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask what is around the joint."""
    screen = joint_screen(desk, joint_id, STEP)
    view = screen.view
    typed = {"seen": view.seen, **typed_circumstances(view.circumstances)}
    if not typed["original_count"] and view.old_spots:
        typed["original_count"] = str(view.old_spots)
    return _circumstances_page(request, screen, Answers(typed))


@router.post("/circumstances")
def take_circumstances(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Keep what is around the joint."""
    screen = joint_screen(desk, joint_id, STEP)
    told = read_circumstances(form, steel_sheets(screen))
    if told is not None:
        try:
            seen = form.text("seen") or None
            tell_circumstances(desk, TellCircumstances(joint_id, seen, told))
        except BadInput as bad:
            form.blame(bad)
        else:
            return go_on(request, f"/joints/{joint_id}/method", desk)
    return _circumstances_page(request, screen, form, status=422)


@router.get("/letter")
def ask_letter(request: Request, joint_id: str, desk: Reading) -> Response:
    """Show what the letter to the maker will ask."""
    screen = joint_screen(desk, joint_id, STEP)
    return _letter_page(request, screen, desk, Answers({}))


@router.post("/letter.pdf")
def print_question(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """Draft the letter to the maker; its hash goes into the record."""
    until = _day(form, "needed_by", "")
    if not form.faults:
        command = PrintLetter(joint_id, form.text("sender"), form.text("means"), until)
        try:
            printed = print_letter(desk, command)
        except BadInput as bad:
            form.blame(bad)
        else:
            name = re.sub(r"[^A-Za-z0-9]+", "-", printed.joint.name).strip("-")[:40] or "joint"
            return pdf(printed.pdf, f"question-{name}.pdf")
    screen = joint_screen(desk, joint_id, STEP)
    return _letter_page(request, screen, desk, form, status=422)


@router.get("/answer")
def ask_answer(request: Request, joint_id: str, desk: Reading) -> Response:
    """Ask what the maker answered."""
    screen = joint_screen(desk, joint_id, STEP)
    today = desk.shop_time(desk.now()).date().isoformat()
    typed = {"seen": screen.view.seen, "read_on": today, "whose": Whose.ANSWER.value}
    asked = request.query_params.get("method", "")
    typed["method"] = asked if asked.isidentifier() else ""
    return _answer_page(request, screen, desk, Answers(typed))


@router.post("/answer")
def take_answer(request: Request, joint_id: str, form: Form, desk: Writing) -> Response:
    """File the maker's answer as a rule for this joint."""
    command = _answer(form, joint_id)
    if command is not None:
        try:
            file_rule(desk, command)
        except BadInput as bad:
            form.blame(bad, {"methods": "method"})
        else:
            return go_on(request, f"/joints/{joint_id}/method", desk)
    screen = joint_screen(desk, joint_id, STEP)
    return _answer_page(request, screen, desk, form, status=422)


def _answer(form: Answers, joint_id: str) -> FileRule | None:
    whose = form.choice("whose", tuple(Whose), "Choose whose word it is.")
    says = form.choice("says", tuple(Says), "Choose what it says of the method.")
    methods = tuple(value for _, group in method_choices() for value, _ in group)
    method = form.choice("method", methods, "Choose the method it speaks of.")
    factor = form.quantity_bare("spots_factor", "Give new spots for each old one, 1.3 say.")
    diameter = form.quantity("minimum_diameter", "length", "mm")
    reference = form.text("reference", need="Give number and page of the letter or document.")
    revision = form.text("revision", need='Give its revision or date, or "none printed".')
    said = form.text("text", need="Give what it says about this joint.")
    read_on = _day(form, "read_on", "Give the day it came or was read.")
    if form.faults or read_on is None:
        return None
    return FileRule(
        methods=method,
        whose=Whose(whose),
        reference=reference,
        revision=revision,
        read_on=read_on,
        text=said,
        says=Says(says),
        joint_id=joint_id,
        seen=form.text("seen") or None,
        read_by=form.text("read_by"),
        spots_factor=factor,
        minimum_diameter=diameter,
    )


def _day(form: Answers, key: str, need: str) -> date | None:
    given = form.text(key, need=need)
    if not given:
        return None
    try:
        return date.fromisoformat(given)
    except ValueError:
        form.faults[key] = "Give the day as year-month-day, 2026-01-31 say."
        return None


def _page(
    request: Request, template: str, screen: Screen, form: Answers, status: int, **shown: object
) -> Response:
    return page(
        request,
        template,
        status=status,
        joint=screen,
        demo=screen.view.demo,
        form=form,
        seen=form.text("seen"),
        **shown,
    )


def _letter_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    asked = joint_decision(desk, screen.view).questions
    return _page(request, "letter.html", screen, form, status, questions=asked)


def _method_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    decision = joint_decision(desk, screen.view)
    return _page(
        request,
        "method.html",
        screen,
        form,
        status,
        view=screen.view,
        decision=decision,
        offered=[
            {"value": one.method.value, "words": one.method.words, "picture": "", "more": one.mark}
            for one in decision.allowed
        ],
        pictures=drawn_pictures(drawn_joint(decision.joint)),
        open_ones=[one for one in decision.methods if one.standing is not Standing.REJECTED],
        asks=[question_of(one) for one in decision.tell],
        known=known(decision.joint, decision.hints),
        tone=tone,
        state=state,
        origin=origin,
        title=title,
        method_cautions=CAUTIONS,
    )


def _circumstances_page(
    request: Request, screen: Screen, form: Answers, status: int = 200
) -> Response:
    return _page(
        request,
        "circumstances.html",
        screen,
        form,
        status,
        offered=choices,
        near=NEAR,
        methods=method_choices(),
        count=steel_sheets(screen),
    )


def _answer_page(
    request: Request, screen: Screen, desk: Reading, form: Answers, status: int = 200
) -> Response:
    return _page(
        request,
        "answer.html",
        screen,
        form,
        status,
        questions=joint_decision(desk, screen.view).questions,
        methods=method_choices(),
        whose=(("", tuple((one.value, one.words) for one in (*MAKERS, Whose.CODE))),),
        says=(("", tuple((one.value, one.value) for one in Says)),),
    )


def steel_sheets(screen: Screen) -> int:
    """How many sheets the record can name as steel only; an arc weld's file names aluminium."""
    return len(screen.view.stack.sheets) if screen.view.arc is None else 0


def tone(one: MethodStanding) -> str:
    """Colour and shape of a method's standing: yes only by the maker's word."""
    if one.standing is Standing.ALLOWED:
        return "yes" if one.is_makers else "wait"
    return "no" if one.standing is Standing.REJECTED else ""


def state(one: MethodStanding) -> str:
    """A method's standing in words."""
    if one.standing is Standing.ALLOWED:
        return "Allowed by the maker" if one.is_makers else "Allowed, not the maker's"
    return {
        Standing.ASK: "The maker's texts contradict" if one.in_conflict else "Ask the maker",
        Standing.TELL: "Tell more first",
        Standing.REJECTED: "Not here",
    }[one.standing]


def origin(rule: Rule) -> str:
    """Where a rule comes from and what has to be seen beside it."""
    entry = bibliography().get(rule.source)
    revision = f", revision {rule.revision}" if rule.revision else ""
    read = f", read {rule.read_on.isoformat()} by {rule.filed_by}" if rule.read_on else ""
    title = entry.title if entry else rule.source
    return f"{title}{revision}{read}; {rule.mark or rule.rank.words}; rule {rule.name}"


def title(words: str) -> str:
    """Begin words with a capital letter and leave the others as they are."""
    return words[:1].upper() + words[1:]
