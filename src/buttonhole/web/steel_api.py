"""The steel book for other programs: the objects of ``buttonhole steel ... --json``."""

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.responses import JSONResponse, Response

from buttonhole.desk.plain_answer import plain_answer
from buttonhole.desk.steel_answer import (
    curves_answer,
    found_answer,
    list_answer,
    unknown_answer,
)
from buttonhole.desk.steel_hints import hints_from
from buttonhole.units import parse
from buttonhole.web.faults import RESPONSES

router = APIRouter(prefix="/api/steels", responses=RESPONSES)

Words = Annotated[str, Query(max_length=200)]
Reading = Annotated[float | None, Query()]


@router.get("")
def list_steels(standard: Words = "", family: Words = "") -> Response:
    """List the steels of the book, or those of one standard or family."""
    return JSONResponse(plain_answer(list_answer(standard, family)))


@router.get("/found")
def find(text: Words) -> Response:
    """Say what a designation means; one that is not understood is refused with near ones."""
    return JSONResponse(plain_answer(found_answer(text)))


@router.get("/curves")
def curves(text: Words) -> Response:
    """Give the property curves of a steel with their bands and sources."""
    return JSONResponse(plain_answer(curves_answer(text)))


@router.get("/unknown")
def unknown(
    thickness: Words = "",
    thickness_off: Words = "0.05 mm",
    magnet: Words = "",
    hardness_HV: Reading = None,
    hardness_off_HV: Reading = None,
    tester: Words = "uci",
    look: Words = "",
    place: Words = "",
    spark: Words = "",
) -> Response:
    """Say what an unknown sheet may be by what was measured on it; it stays unknown."""
    hints = hints_from(
        thickness=parse(thickness, "length", "thickness") if thickness else None,
        thickness_off=parse(thickness_off, "length", "thickness_off"),
        hardness=hardness_HV,
        hardness_off=hardness_off_HV,
        words={"magnet": magnet, "tester": tester, "look": look, "place": place, "spark": spark},
    )
    return JSONResponse(plain_answer(unknown_answer(hints)))
