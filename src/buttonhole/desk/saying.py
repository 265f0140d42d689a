"""What happened, in one plain sentence for each event."""

from collections.abc import Callable, Mapping
from typing import Any

from buttonhole.procedure.authority import Authority

Payload = Mapping[str, Any]
_CITED = {Authority.MAKER_GENERAL: "general section", Authority.MAKER_ANSWER: "written answer"}


def say(kind: str, payload: Payload) -> str:
    """
    Say what an event is.

    Parameters
    ----------
    kind : str
        Type of the event.
    payload : mapping
        What it holds.

    Returns
    -------
    str
        One sentence, without a full stop.
    """
    words = _WORDS.get(kind)
    return words(payload) if words else kind.replace("_", " ")


def _mm(value: float | None) -> str:
    return "–" if value is None else f"{value * 1e3:.2f} mm"


def _stack(payload: Payload) -> str:
    sheets = payload["stack"]["sheets"]
    return " / ".join(f"{_mm(one['thickness'])} {one['steel']} {one['coating']}" for one in sheets)


def _set_up(payload: Payload) -> str:
    set_up = payload["set_up"]
    pulses = ", ".join(
        f"{one['current'] / 1e3:.2f} kA for {one['time'] * 1e3:.0f} ms" for one in set_up["pulses"]
    )
    return f"{pulses} at {set_up['electrode_force'] / 1e3:.2f} kN"


def _arc_sheets(payload: Payload) -> str:
    weld = payload["weld"]
    keys = ("thickness", "steel", "alloy", "coating")
    sheets = " / ".join(
        " ".join(str(one[key]) for key in keys if key in one) for one in weld["sheet"]
    )
    return f"{weld['process']}, {sheets}"


def _arc_set_up(payload: Payload) -> str:
    set_up = payload["weld"]["set_up"]
    said = [f"{set_up['wire']} {set_up['wire_diameter']}, {set_up['gas']}"]
    said += [set_up["wire_feed_speed"], set_up["arc_voltage"]]
    said += [set_up[key] for key in ("arc_time", "travel_speed") if key in set_up]
    return ", ".join(said)


def _look(payload: Payload) -> str:
    looked = payload["looked"]
    seen = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in looked.items())
    weld = "Seam" if payload["weld"]["process"] == "seam" else "Plug"
    return f"{weld} looked at: {seen}"


def _procedure(payload: Payload) -> str:
    one = payload["procedure"]
    whose = _CITED.get(one.get("authority", Authority.MAKER_PROCEDURE), "procedure")
    return f"Maker's {whose} cited: {one['reference']}, revision {one['revision']}"


def _deviation(payload: Payload) -> str:
    one = payload["deviation"]
    return f"Deviation signed by {one['signed_by']} and {one['second_signature']}"


def _readings(payload: Payload) -> str:
    found = ", ".join(
        f"interface {one['interface'] + 1}: {_sizes(one)}" for one in payload["readings"]
    )
    return f"Coupon {payload['number']} torn and read: {found}"


def _sizes(reading: Payload) -> str:
    if "fracture" not in reading:
        return f"{_mm(reading['d_max'])} x {_mm(reading['d_min'])}"
    how = (reading["fracture"] or "section").replace("_", " ")
    if reading["d_max"] is not None:
        return f"{how}, {_mm(reading['d_max'])} x {_mm(reading['d_min'])}"
    named = (("fused_length", "held"), ("leg", "leg"), ("throat", "throat"))
    said = [f"{word} {_mm(reading[key])}" for key, word in named if reading[key] is not None]
    return ", ".join([how, *said])


def _welded(payload: Payload) -> str:
    return _arc_set_up(payload) if "weld" in payload else _set_up(payload)


def _verdicts(payload: Payload) -> str:
    found = ", ".join(
        f"interface {one['interface'] + 1} {one['verdict']['outcome'].replace('_', ' ')}"
        for one in payload["judged"]
    )
    return f"Coupon {payload['number']} judged: {found}"


def _filed(payload: Payload) -> str:
    one = payload["rule"]
    return f"Rule {one['key']}, version {one['version']}, filed: {one['source']}"


def _method(payload: Payload) -> str:
    told = f" ({payload['reason']})" if payload["reason"] else ""
    return f"Way of joining chosen: {payload['method'].replace('_', ' ')}{told}"


def _gate(payload: Payload) -> str:
    answer = payload.get("answer", "done")
    said = "" if answer == "done" else f" ({answer.replace('_', ' ')})"
    return f"Made safe: {payload['gate'].replace('_', ' ')}{said}"


def _made(payload: Payload) -> str:
    late = ", while no release held" if payload["late"] else ""
    return f"Weld {payload['number']} made on the vehicle{late}"


def _checked(payload: Payload) -> str:
    bad = ", ".join(str(one) for one in payload["bad"])
    return f"Welds looked at, {len(payload['wedged'])} wedged: " + (f"bad {bad}" if bad else "good")


def _end_coupon(payload: Payload) -> str:
    numbers = f"End coupon {payload['number']} beside coupon {payload['start_number']}"
    return f"{numbers}: {payload['words']}"


_WORDS: Mapping[str, Callable[[Payload], str]] = {
    "end_coupon_compared": _end_coupon,
    "supply_described": lambda one: f"Supply described: {one['supply']['name']}",
    "job_opened": lambda one: f"Job opened: {one['title']}",
    "gate_ticked": _gate,
    "intake_told": lambda one: f"Told of the vehicle: {one['powertrain']}, VIN {one['vin'] or '–'}",
    "joint_described": lambda one: f"Joint {one['name']} described: {_stack(one)}",
    "arc_joint_described": lambda one: f"Joint {one['name']} described: {_arc_sheets(one)}",
    "arc_weld_predicted": lambda one: f"Weld predicted: {_arc_set_up(one)}",
    "arc_set_up_proposed": lambda one: f"Set-up proposed: {_arc_set_up(one)}",
    "arc_set_up_accepted": lambda one: f"Set-up accepted: {_arc_set_up(one)}",
    "plug_looked_at": _look,
    "seam_looked_at": _look,
    "procedure_cited": _procedure,
    "deviation_signed": _deviation,
    "circumstances_told": lambda _one: "Told what is around the joint",
    "method_decided": _method,
    "rule_filed": _filed,
    "letter_printed": lambda one: f"Letter to the maker printed, {one['questions']} questions",
    "weld_predicted": lambda one: f"Weld predicted: {_set_up(one)}",
    "set_up_proposed": lambda one: f"Set-up proposed: {_set_up(one)}",
    "set_up_accepted": lambda one: f"Set-up accepted: {_set_up(one)}",
    "coupon_welded": lambda one: f"Coupon {one['number']} welded: {_welded(one)}",
    "coupon_read": _readings,
    "coupon_judged": _verdicts,
    "gauge_studied": lambda one: f"Gauge {one['gauge']} studied: {one['study']}",
    "photo_kept": lambda one: f"Photo of interface {one['interface'] + 1} kept",
    "photo_measured": lambda one: (
        f"Measured in a photo, interface {one['interface'] + 1}: "
        f"{_mm(one['d_max'])} x {_mm(one['d_min'])}"
    ),
    "tip_dressed": lambda one: f"Tip dressed on {one['machine']}",
    "set_up_released": lambda one: "Set-up released",
    "release_ended": lambda one: f"Release ended: {one['reason']}",
    "labels_issued": lambda one: f"{len(one['labels'])} labels given out for coupons",
    "label_tied": lambda one: f"Label {one['label']} put on a coupon",
    "joint_placed": lambda one: f"Placed on the drawing of the body, {one['view']}",
    "training_opened": lambda one: f"Training opened: {one['title']}",
    "training_result": lambda one: f"Piece {one['label']} of a training typed",
    "labels_printed": lambda one: "Labels printed",
    "welds_planned": lambda one: f"Welds to make on the vehicle: {one['count']}",
    "vehicle_weld_made": _made,
    "vehicle_weld_undone": lambda one: f"Weld {one['number']} taken back: {one['reason']}",
    "welds_checked": _checked,
    "joint_closed": lambda one: f"Joint closed; behind the welds: {one['protection']}",
    "fire_watch_set": lambda one: f"Fire watch set to {one['minutes']:g} min",
    "fire_watch_ended": lambda one: f"Fire watch ended: {one['found']}",
    "card_printed": lambda one: "Bay card printed",
    "coupon_sheet_printed": lambda one: f"Coupon sheet {one['number']} printed",
    "entry_corrected": lambda one: f"Entry withdrawn: {one['reason']}",
}
