"""The gauges of this shop: what their own study of kept buttons found."""

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from buttonhole.coupon.gauge import GaugeKind, find_gauge_kind
from buttonhole.desk.keep_gauge import KeepGauge, gauges, keep_gauge
from buttonhole.units import BadInput
from buttonhole.web.faults import RESPONSES
from buttonhole.web.fields import Answers, Form
from buttonhole.web.render import page
from buttonhole.web.shop import Reading, Writing, go_on

router = APIRouter(prefix="/gauges", responses=RESPONSES)

KINDS = (("", tuple((one.value, one.words) for one in GaugeKind)),)


@router.get("")
def list_gauges(request: Request, desk: Reading) -> Response:
    """List the gauges, and ask for one more."""
    return _page(request, desk, Answers({}))


@router.post("")
def take_gauge(request: Request, form: Form, desk: Writing) -> Response:
    """Keep a gauge with what its study found."""
    name = form.text("name", need="Give what is written on the gauge.")
    kind = form.choice("kind", tuple(GaugeKind), "Choose what it is.")
    study = form.text("study", need="Say how many buttons were read, by how many people.")
    repeat = form.quantity("repeat", "length", "mm", need="Give the spread of one person.")
    reader = form.quantity("reader", "length", "mm", need="Give the spread between people.")
    if not form.faults and repeat is not None and reader is not None:
        try:
            keep_gauge(desk, KeepGauge(name, find_gauge_kind(kind), repeat, reader, study))
        except BadInput as bad:
            form.blame(bad, {"edge": "repeat"})
        else:
            return go_on(request, "/gauges", desk)
    return _page(request, desk, form, status=422)


def _page(request: Request, desk: Reading, form: Answers, status: int = 200) -> Response:
    return page(
        request,
        "gauges.html",
        status=status,
        form=form,
        demo=False,
        gauges=gauges(desk),
        kinds=KINDS,
    )
