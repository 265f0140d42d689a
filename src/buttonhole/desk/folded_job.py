"""A job folded from its events, and folded on when more happens."""

from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import dataclass, fields, replace

from buttonhole.desk.folding import CORRECTION, STEPS, JobState
from buttonhole.desk.folding_welding import welded_state
from buttonhole.desk.saying import say
from buttonhole.desk.view import Entry, GateView, JobView, JointView, ReleaseView
from buttonhole.record.event import Event, moment
from buttonhole.record.projection import project
from buttonhole.vehicle.safety import GATES, Powertrain
from buttonhole.vehicle.vin import read_vin


@dataclass(frozen=True, slots=True)
class FoldedJob:
    """A job as far as its events are folded; later events are added without starting anew."""

    events: tuple[Event, ...]
    entries: tuple[Entry, ...]
    state: JobState

    def with_later(self, later: Iterable[Event]) -> "FoldedJob":
        """
        Fold events that came after those that are in.

        Parameters
        ----------
        later : iterable of Event
            In the order of the record.

        Returns
        -------
        FoldedJob
            This one is left as it was.
        """
        later = tuple(later)
        if any(one.type == CORRECTION for one in later):  # changes what came before
            return folded((*self.events, *later))
        start = JobState(
            **{one.name: copy(getattr(self.state, one.name)) for one in fields(JobState)}
        )
        return FoldedJob(
            (*self.events, *later),
            (*self.entries, *(_entry(one, {}) for one in later)),
            project(later, start, STEPS),
        )

    def view(self) -> JobView | None:
        """Show the job; None when it was never opened."""
        opened = self.state.opened
        if opened is None:
            return None
        gates = self.state.gates
        told = {**opened.payload, **(self.state.intake.payload if self.state.intake else {})}
        demo = bool(opened.payload["demo"])
        return JobView(
            id=opened.payload["job"],
            title=opened.payload["title"],
            vehicle=opened.payload["vehicle"],
            vin=told["vin"],
            area=opened.payload["area"],
            demo=demo,
            opened_at=moment(opened.at),
            opened_by=opened.actor,
            gates=tuple(gates.get(one.key, GateView(one.key, one.words)) for one in GATES),
            joints=_all_finished(self, demo),
            papers=tuple(self.state.papers),
            history=self.entries,
            powertrain=Powertrain(told.get("powertrain", Powertrain.UNKNOWN.value)),
            earlier_repair=told.get("earlier_repair", ""),
            vin_remarks=read_vin(told["vin"]).remarks if told["vin"] else (),
        )


def folded(events: Iterable[Event]) -> FoldedJob:
    """
    Fold the events of one job from the first on.

    What was withdrawn counts no more, and a release made before the withdrawal has ended.

    Parameters
    ----------
    events : iterable of Event
        All events about the job, in their order.

    Returns
    -------
    FoldedJob
        Its ``view`` is the read model.
    """
    events = tuple(events)
    withdrawn = {one.payload["corrects"]: one for one in events if one.type == CORRECTION}
    state = project((one for one in events if one.id not in withdrawn), JobState(), STEPS)
    return FoldedJob(events, tuple(_entry(one, withdrawn) for one in events), state)


def _entry(event: Event, withdrawn: Mapping[str, Event]) -> Entry:
    correction = withdrawn.get(event.id)
    reason = correction.payload["reason"] if correction else ""
    what = say(event.type, event.payload)
    return Entry(event.id, moment(event.at), event.actor, what, reason, event.type)


def _all_finished(job: FoldedJob, demo: bool) -> tuple[JointView, ...]:
    """Give each joint what all events together say of it; every event is looked at once."""
    mine: dict[str, list[int]] = {name: [] for name in job.state.joints}
    seen: dict[str, str] = {}
    for place, event in enumerate(job.events):
        about = {one.removeprefix("joint/") for one in event.about if one.startswith("joint/")}
        seen |= dict.fromkeys(about, event.id)
        for name in about | {event.payload.get("joint")}:
            if name in mine:
                mine[name].append(place)
    order = {one.id: place for place, one in enumerate(job.events)}
    return tuple(
        welded_state(
            replace(
                joint,
                seen=seen[joint.id],
                history=tuple(job.entries[place] for place in mine[joint.id]),
                releases=_unless_corrected(job, joint, mine[joint.id], order),
                demo=demo,
            )
        )
        for joint in job.state.joints.values()
    )


def _unless_corrected(
    job: FoldedJob, joint: JointView, places: list[int], order: Mapping[str, int]
) -> tuple[ReleaseView, ...]:
    # Also one that does not concern it by itself: what was taken back may have ended it before.
    corrections = [
        place
        for place in places
        if job.events[place].type == CORRECTION
        and job.events[place].payload.get("joint") == joint.id
    ]
    return tuple(
        replace(one, ended=(*one.ended, "An entry was withdrawn after it: release anew."))
        if corrections and corrections[-1] > order[one.event_id]
        else one
        for one in joint.releases
    )
