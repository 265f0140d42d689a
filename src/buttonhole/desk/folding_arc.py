"""Fold the events of a joint that is welded by an arc into its read model."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from buttonhole.coupon.difference import Surroundings
from buttonhole.desk.arc_view import (
    ArcPredictionView,
    ArcProposalView,
    ArcSetUpView,
    ArcView,
    LookView,
)
from buttonhole.desk.release_end import end_releases
from buttonhole.desk.view import JointView, State
from buttonhole.desk.written import read
from buttonhole.record.event import Event, moment


def described_by_arc(joint: JointView, event: Event) -> JointView:
    """Take over another description; what was found for another weld says nothing about this."""
    keys = event.payload["weld"]
    if joint.arc is not None and joint.arc.keys == keys:
        return joint
    joint = end_releases(joint, event, "The joint was changed.")
    state = State.METHOD_DECIDED if joint.procedure else State.IDENTIFIED
    return replace(
        joint, spot_stack=None, predictions=(), proposal=None, set_up=None, decision=None,
        arc=ArcView(keys),
        state=state,
    )  # fmt: skip


def _propose(joint: JointView, arc: ArcView, event: Event) -> JointView:
    payload = event.payload
    view = ArcProposalView(event.id, moment(event.at), payload["weld"], payload["proposal"])
    early = (State.IDENTIFIED, State.METHOD_DECIDED)
    state = State.SET_UP_PROPOSED if joint.state in early else joint.state
    return replace(joint, arc=replace(arc, proposal=view), state=state)


def _accept(joint: JointView, arc: ArcView, event: Event) -> JointView:
    payload = event.payload
    view = ArcSetUpView(
        event_id=event.id,
        at=moment(event.at),
        accepted_by=event.actor,
        keys=payload["weld"],
        surroundings=read(Surroundings, payload["surroundings"]),
        own=payload["own"],
        mark=payload.get("mark", ""),
    )
    joint = end_releases(joint, event, "The set-up was changed.")
    return replace(joint, arc=replace(arc, set_up=view), state=State.SET_UP_ACCEPTED)


def _predict(joint: JointView, arc: ArcView, event: Event) -> JointView:
    payload = event.payload
    view = ArcPredictionView(
        event.id, moment(event.at), payload["weld"], payload["prediction"], payload["data_digest"]
    )
    return replace(joint, arc=replace(arc, predictions=(*arc.predictions, view)))


def _look(joint: JointView, arc: ArcView, event: Event) -> JointView:
    payload = event.payload
    view = LookView(event.id, moment(event.at), event.actor, payload["looked"], payload["inside"])
    return replace(joint, arc=replace(arc, looks=(*arc.looks, view)))


def _on_arc(
    step: Callable[[JointView, ArcView, Event], JointView],
) -> Callable[[JointView, Event], JointView]:
    def stepped(joint: JointView, event: Event) -> JointView:
        if joint.arc is None:  # described anew as another weld, or its description was withdrawn
            return joint
        return step(joint, joint.arc, event)

    return stepped


ARC_STEPS: Mapping[str, Callable[[JointView, Event], JointView]] = {
    "arc_set_up_proposed": _on_arc(_propose),
    "arc_set_up_accepted": _on_arc(_accept),
    "arc_weld_predicted": _on_arc(_predict),
    "plug_looked_at": _on_arc(_look),
    "seam_looked_at": _on_arc(_look),
}
