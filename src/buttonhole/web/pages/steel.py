"""The steel book: what a designation means, and what an unknown sheet may be."""

from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.steel_answer import found_answer, list_answer, unknown_answer
from buttonhole.desk.steel_drawings import property_drawings
from buttonhole.desk.steel_hints import hints_from
from buttonhole.joint.hints import HardnessTester, Look, Magnet, Spark, places
from buttonhole.joint.steel import meanings, near_names
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.pictures import LARGE, SMALL, Lettered, style_of
from buttonhole.web.render import drawing, page

router = APIRouter(prefix="/steels", responses=RESPONSES)

MAGNET = {
    Magnet.STICKS: "it sticks",
    Magnet.WEAK: "it pulls a little",
    Magnet.NOT: "it does not pull",
}
TESTER = {
    HardnessTester.UCI: "ultrasonic contact",
    HardnessTester.VICKERS: "Vickers, on a piece cut out",
    HardnessTester.REBOUND: "rebound",
}
LONGEST_NAME = 40  # letters; a meaning that is longer tells of a steel that is not in the book
HINT_WORDS = ("magnet", "tester", "look", "spark", "place")


@router.get("")
def find(request: Request, form: Form) -> Response:
    """Say what a designation means, or list the book."""
    text = form.text("text")
    family = form.text("family")
    found: dict[str, Any] | None = None
    near: tuple[str, ...] = ()
    meant = meanings(text)
    if text:
        try:
            found = found_answer(text)
        except BadInput as bad:
            form.blame(bad, {"steel": "text", "coating": "text"})
            near = tuple(one for one in (meant or near_names(text)) if len(one) < LONGEST_NAME)
    listed = list_answer(family=_family(family)) if not text else None
    steel = found["steel"]["designation"] if found and found["steel"] else ""
    return page(
        request,
        "steels.html",
        status=422 if form.faults else 200,
        form=form,
        found=found,
        near=near,
        near_words="It may mean one of these." if meant else "Names that look like it:",
        listed=listed,
        family=family,
        curves=_curves(steel) if steel else (),
    )


def _family(text: str) -> str:
    try:
        list_answer(family=text)
    except BadInput:
        return ""
    return text


def _curves(steel: str) -> tuple[Lettered, ...]:
    large, small = (property_drawings(steel, style_of(size)) for size in (LARGE, SMALL))
    return tuple(
        Lettered(drawing(one), drawing(other))
        for (_, one), (_, other) in zip(large, small, strict=True)
    )


@router.get("/unknown")
def bound(request: Request, form: Form) -> Response:
    """Ask what can be measured on an unknown sheet, and say what it may be."""
    answer = None
    asked = any(form.text(key) for key in ("thickness", "hardness", *HINT_WORDS))
    thickness = form.quantity("thickness", "length", "mm")
    hardness, off = (_hardness(form, key) for key in ("hardness", "hardness_off"))
    if asked and not form.faults:
        try:
            hints = hints_from(
                thickness=thickness,
                hardness=hardness,
                hardness_off=off,
                words={key: form.text(key) for key in HINT_WORDS},
            )
            answer = unknown_answer(hints)
        except BadInput as bad:
            form.blame(bad)
    return page(
        request,
        "steel_unknown.html",
        status=422 if form.faults else 200,
        form=form,
        answer=answer,
        magnets=_choices(MAGNET),
        testers=_choices(TESTER),
        looks=(("", tuple((one.value, one.value) for one in Look)),),
        sparks=(("", tuple((one.value, one.value) for one in Spark)),),
        places=(("", tuple((one, one) for one in places())),),
    )


def _hardness(form: Answers, key: str) -> float | None:
    return form.quantity_bare(key, "Give Vickers hardness as a plain figure, 150 say.")


def _choices(words: dict[Any, str]) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    return (("", tuple((key.value, said) for key, said in words.items())),)
