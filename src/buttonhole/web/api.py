"""The API: the keys of a weld file in, the object of ``buttonhole predict --json`` out."""

import json
from typing import Annotated, Any

from fastapi import APIRouter, Depends
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from buttonhole.desk.joint_file import joint_file_from
from buttonhole.desk.method_answer import method_answer, rule_answer
from buttonhole.desk.plain_answer import plain_answer
from buttonhole.desk.predict_arc import predict_arc
from buttonhole.desk.quick_answer import quick_answer
from buttonhole.desk.rule_book import rule_book
from buttonhole.desk.rules import listed_rules, rule_for
from buttonhole.desk.spot_answer import spot_answer
from buttonhole.desk.strength_of_joint import StrengthAsked, strength_of_joint
from buttonhole.desk.weld_file import arc_weld_file_from, is_arc_weld, weld_file_from
from buttonhole.procedure.joining.decide import decide
from buttonhole.units import parse
from buttonhole.web.faults import RESPONSES, Unreadable
from buttonhole.web.predicted import predicted_metal
from buttonhole.web.shop import Reading

router = APIRouter(prefix="/api", responses=RESPONSES)


async def weld_file_body(request: Request) -> dict[str, Any]:
    """The body of a request as the tables and values of a weld file.

    Raises
    ------
    Unreadable
        The body is no JSON object, or holds what no JSON may hold.
    """
    raw = await request.body()
    try:
        data = json.loads(raw.decode("utf-8"), parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise Unreadable("The body is no JSON text in UTF-8.") from error
    if not isinstance(data, dict):
        raise Unreadable("The body is no JSON object with the keys of a weld file.")
    return data


def _no_number(name: str) -> float:
    raise ValueError(f"{name} is no number")


WeldFileBody = Annotated[dict[str, Any], Depends(weld_file_body)]


@router.post("/method")
def method(data: WeldFileBody, desk: Reading) -> Response:
    """Decide which way a joint may be joined; the body has the same keys as a joint file."""
    described = joint_file_from(data)
    today = desk.shop_time(desk.now()).date()
    book = rule_book(desk).with_filed(described.rules)
    return JSONResponse(plain_answer(method_answer(decide(described.joint, book, today))))


@router.get("/rules")
def rules(desk: Reading) -> Response:
    """List every rule for the way of joining in every version, with those the shop filed."""
    return JSONResponse({"rules": [rule_answer(one) for one in rule_book(desk).rules]})


@router.post("/predict/quick")
def predict_quick(data: WeldFileBody) -> Response:
    """Predict one weld at once; where that can't be, the solver answers and ``quick`` says why."""
    described = weld_file_from(data)
    criterion = rule_for(described.stack, described.minimum_rule)
    answer = quick_answer(
        described.stack, described.set_up, criterion, listed_rules(), described.condition
    )
    return JSONResponse(plain_answer(answer))


@router.post("/predict")
def predict(data: WeldFileBody) -> Response:
    """Predict one weld; the body has the same keys as a weld file."""
    if is_arc_weld(data):
        return JSONResponse(plain_answer(predict_arc(arc_weld_file_from(data))))
    described = weld_file_from(data)
    criterion = rule_for(described.stack, described.minimum_rule)
    weld, metal = predicted_metal(
        described.stack, described.set_up, described.points, described.condition
    )
    answer = spot_answer(weld, metal, described.stack, criterion, listed_rules())
    return JSONResponse(plain_answer(answer))


@router.post("/strength")
def strength(
    data: WeldFileBody,
    required_load: str | None = None,
    maker_count: int | None = None,
    efficiency: float | None = None,
    pull: str = "lap_shear",
) -> Response:
    """What one weld holds, and how many a joint needs; the body has the keys of a weld file."""
    load = None if required_load is None else parse(required_load, "force", "required_load")
    described = arc_weld_file_from(data) if is_arc_weld(data) else weld_file_from(data)
    asked = StrengthAsked(load, maker_count, efficiency, pull)
    return JSONResponse(plain_answer(strength_of_joint([("weld", described)], asked)))
