"""Fold what was welded on the vehicle into the read model of its joint."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from buttonhole.desk.release_end import end_releases
from buttonhole.desk.view import JointView, State
from buttonhole.desk.welding_view import (
    Closing,
    EndCheck,
    MadeWeld,
    UndoneWeld,
    WeldCheck,
    WeldingView,
)
from buttonhole.record.event import Event, moment


def _plan(joint: JointView, event: Event) -> JointView:
    return _with(joint, replace(joint.welding, planned=event.payload["count"]))


def _make(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    weld = MadeWeld(
        number=payload["number"],
        event_id=event.id,
        at=moment(event.at),
        by=event.actor,
        release=payload["release"],
        machine=payload["machine"],
        late=tuple(payload["late"]),
        note=payload["note"],
    )
    # What was checked and closed before says nothing about a weld that came after.
    made = sorted((*joint.welding.made, weld), key=lambda one: one.number)
    return _with(joint, replace(joint.welding, made=tuple(made), check=None, closing=None))


def _undo(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    weld = next((one for one in joint.welding.made if one.event_id == payload["weld"]), None)
    if weld is None:
        return joint
    undone = UndoneWeld(
        weld.number, weld.at, weld.by, moment(event.at), event.actor, payload["reason"]
    )
    welding = replace(
        joint.welding,
        made=tuple(one for one in joint.welding.made if one is not weld),
        undone=(*joint.welding.undone, undone),
        check=None,
        closing=None,
    )
    return _with(joint, welding)


def _check(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    check = WeldCheck(
        event.id,
        moment(event.at),
        event.actor,
        tuple(payload["wedged"]),
        tuple(payload["bad"]),
        payload["note"],
    )
    return _with(joint, replace(joint.welding, check=check, closing=None))


def _close(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    closing = Closing(
        event.id, moment(event.at), event.actor, payload["protection"], payload["deviations"]
    )
    return _with(joint, replace(joint.welding, closing=closing))


def _end_coupon(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    if not any(one.id == payload["coupon"] for one in joint.coupons):
        return joint  # the coupon was withdrawn
    look_at = payload["look_at"]
    found = EndCheck(
        event_id=event.id,
        at=moment(event.at),
        by=event.actor,
        look_at=None if look_at is None else (look_at[0], look_at[1]),
        **{key: payload[key] for key in _END_KEYS},
    )
    joint = replace(joint, end_checks=(*joint.end_checks, found))
    if found.accepted:
        return joint
    return end_releases(joint, event, f"End coupon {found.number} is under the limit.")


_END_KEYS = (
    "release", "coupon", "number", "start_number", "interface", "start", "end", "limit", "fall",
    "welds", "interval", "accepted", "drifts", "words",
)  # fmt: skip


def _with(joint: JointView, welding: WeldingView) -> JointView:
    return replace(joint, welding=welding)


def welded_state(joint: JointView) -> JointView:
    """
    Say how far a joint is once its welds are on the vehicle.

    Parameters
    ----------
    joint : JointView
        As folded from events.

    Returns
    -------
    JointView
        Welded, verified or closed; as it was when welds are still to be made.
    """
    welding = joint.welding
    if not welding.is_complete(joint.required_spots):
        return joint
    state = State.WELDED
    if welding.is_verified:
        state = State.VERIFIED if welding.closing is None else State.CLOSED
    return replace(joint, state=state)


WELDING_STEPS: Mapping[str, Callable[[JointView, Event], JointView]] = {
    "welds_planned": _plan,
    "vehicle_weld_made": _make,
    "vehicle_weld_undone": _undo,
    "welds_checked": _check,
    "joint_closed": _close,
    "end_coupon_compared": _end_coupon,
}
