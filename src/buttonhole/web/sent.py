"""A form that was sent twice: go on to what it made the first time."""

from collections.abc import Callable, Mapping
from typing import Any

from fastapi import FastAPI
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.desk.conflict import SentTwice
from buttonhole.desk.keep_gauge import STUDIED
from buttonhole.record.event import Event
from buttonhole.web.shop import go_on, our_shop

_PLACES: Mapping[str, Callable[[Mapping[str, Any]], str]] = {
    "job_opened": lambda said: f"/jobs/{said['job']}",
    "intake_told": lambda said: f"/jobs/{said['job']}",
    "gate_ticked": lambda said: f"/jobs/{said['job']}/safe",
    "set_up_proposed": lambda said: f"/joints/{said['joint']}/set-up?proposed=",
    "set_up_accepted": lambda said: f"/joints/{said['joint']}/coupon",
    "arc_set_up_proposed": lambda said: f"/joints/{said['joint']}/arc?proposed=",
    "plug_looked_at": lambda said: f"/joints/{said['joint']}/arc/inside",
    "seam_looked_at": lambda said: f"/joints/{said['joint']}/arc/inside",
    "coupon_welded": lambda said: f"/joints/{said['joint']}/coupons/{said['coupon']}/compare",
    "coupon_read": lambda said: f"/joints/{said['joint']}/coupons/{said['coupon']}",
    "tip_dressed": lambda said: f"/joints/{said['joint']}/coupon",
    "training_opened": lambda said: f"/training/{said['session']}",
    "training_result": lambda said: f"/training/{said['session']}",
    "joint_placed": lambda said: (
        f"/jobs/{said['job']}/map?view={said['view']}&joint={said['joint']}"
    ),
    "labels_issued": lambda said: f"/joints/{said['joint']}/plan/{said['plan']}",
    "welds_planned": lambda said: f"/joints/{said['joint']}/weld",
    "vehicle_weld_made": lambda said: f"/joints/{said['joint']}/weld",
    "vehicle_weld_undone": lambda said: f"/joints/{said['joint']}/weld",
    "welds_checked": lambda said: f"/joints/{said['joint']}/weld",
    "fire_watch_set": lambda said: f"/jobs/{said['job']}/fire",
    "fire_watch_ended": lambda said: f"/jobs/{said['job']}/fire",
    "set_up_released": lambda said: f"/joints/{said['joint']}/release",
}


def place_of(event: Event) -> str:
    """The page that follows on an entry."""
    said = event.payload
    if event.type in _PLACES:
        return _PLACES[event.type](said)
    if event.type == STUDIED:
        return "/gauges"
    return f"/joints/{said['joint']}" if "joint" in said else f"/jobs/{said['job']}"


def add_sent_twice(app: FastAPI) -> None:
    """Lead a form that was sent twice to where it led before."""

    @app.exception_handler(SentTwice)
    def again(request: Request, error: SentTwice) -> Response:
        first = error.events[0]
        return go_on(request, place_of(first), our_shop(request).desk(first.actor))
