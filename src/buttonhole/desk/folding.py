"""What each event does to the read model of its job."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.difference import Difference, ReadBack, Surroundings
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.verdict import Verdict
from buttonhole.desk.folding_arc import ARC_STEPS, described_by_arc
from buttonhole.desk.folding_welding import WELDING_STEPS
from buttonhole.desk.release_end import end_releases
from buttonhole.desk.saying import say
from buttonhole.desk.view import (
    CouponView,
    DecisionView,
    Entry,
    GateView,
    JointView,
    JudgedView,
    PaperView,
    PredictedInterface,
    PredictionView,
    ProcedureView,
    ProposalView,
    ReleaseView,
    Rules,
    SetUpView,
    State,
)
from buttonhole.desk.written import read
from buttonhole.joint.stack_up import StackUp
from buttonhole.procedure.authority import Deviation, MakerProcedure
from buttonhole.procedure.joining.circumstances import Circumstances
from buttonhole.procedure.joining.method import find_method
from buttonhole.procedure.release import Release
from buttonhole.record.event import Event, moment
from buttonhole.vehicle.safety import GATES, Answer
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.window import WeldWindow

CORRECTION = "entry_corrected"


@dataclass(slots=True)
class JobState:
    """What the events of a job have said so far."""

    opened: Event | None = None
    intake: Event | None = None  # what was told of the vehicle last
    gates: dict[str, GateView] = field(default_factory=dict)
    joints: dict[str, JointView] = field(default_factory=dict)
    papers: list[PaperView] = field(default_factory=list)
    filed: set[str] = field(default_factory=set)  # key@version of rules filed and not taken back


def required_spots(old_spots: int, rules: Rules) -> int | None:
    """
    Give the number of new spots the maker's factor asks for.

    Parameters
    ----------
    old_spots : int
        Counted before the panel came off [-].
    rules : Rules
        The maker's figures.

    Returns
    -------
    int or None
        Rounded up; None when the maker sets no factor or nobody counted.
    """
    if rules.spots_factor is None or old_spots == 0:
        return None
    # 1.3 * 10 is 13.000000000000002 in doubles, and 14 spots would be one too many.
    return math.ceil(round(rules.spots_factor * old_spots, 9))


def _open(job: JobState, event: Event) -> JobState:
    job.opened = event
    return job


def _tick(job: JobState, event: Event) -> JobState:
    payload = event.payload
    words = next((one.words for one in GATES if one.key == payload["gate"]), "")
    job.gates[payload["gate"]] = GateView(
        key=payload["gate"],
        words=words,
        actor=event.actor,
        at=moment(event.at),
        remark=payload["remark"],
        answer=payload.get("answer", Answer.DONE.value),
        who=payload.get("who", ""),
        when=payload.get("when", ""),
        wait_minutes=payload.get("wait_minutes"),
    )
    return job


def _tell_intake(job: JobState, event: Event) -> JobState:
    job.intake = event
    return job


def _describe(job: JobState, event: Event) -> JobState:
    payload = event.payload
    values: dict[str, Any] = {
        "name": payload["name"],
        "location": payload["location"],
        "old_spots": payload["old_spots"],
        "note": payload["note"],
        "description_id": event.id,
    }
    old = job.joints.get(payload["joint"])
    if old is None:
        old = JointView(
            id=payload["joint"],
            job_id=payload["job"],
            spot_stack=None,
            state=State.IDENTIFIED,
            seen=event.id,
            demo=False,
            **values,
        )
    rules = old.procedure.rules if old.procedure else Rules()
    joint = replace(old, **values, required_spots=required_spots(payload["old_spots"], rules))
    if event.type == "arc_joint_described":
        job.joints[joint.id] = described_by_arc(joint, event)
        return job
    stack = read(StackUp, payload["stack"])
    if (old.spot_stack is not None and old.spot_stack != stack) or old.arc is not None:
        # What was found for another stack says nothing about this one.
        joint = replace(joint, predictions=(), proposal=None, set_up=None, decision=None, arc=None)
        joint = end_releases(joint, event, "The stack-up was changed.")
        joint = replace(joint, state=State.METHOD_DECIDED if joint.procedure else State.IDENTIFIED)
    job.joints[joint.id] = replace(joint, spot_stack=stack)
    return job


def _on_joint(
    step: Callable[[JointView, Event], JointView],
) -> Callable[[JobState, Event], JobState]:
    def stepped(job: JobState, event: Event) -> JobState:
        joint = job.joints.get(event.payload["joint"])
        if joint is not None:  # its description was withdrawn
            job.joints[joint.id] = step(joint, event)
        return job

    return stepped


def _cite(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    authority: MakerProcedure | Deviation
    if event.type == "deviation_signed":
        authority = read(Deviation, payload["deviation"])
    else:
        authority = read(MakerProcedure, payload["procedure"])
    rules = read(Rules, payload["rules"])
    filed = payload.get("rule", "")
    view = ProcedureView(event.id, authority, rules, event.actor, moment(event.at), filed)
    if joint.procedure is not None:
        joint = end_releases(joint, event, "The authority it rests on was changed.")
    return replace(
        joint,
        procedure=view,
        required_spots=required_spots(joint.old_spots, rules),
        state=State.METHOD_DECIDED if joint.state is State.IDENTIFIED else joint.state,
    )


def _tell(joint: JointView, event: Event) -> JointView:
    told = read(Circumstances, event.payload["circumstances"])
    if told != joint.circumstances:
        joint = replace(joint, decision=None)  # it was for other circumstances
        joint = end_releases(joint, event, "What is around the joint was told anew.")
    return replace(joint, circumstances=told)


def _file(job: JobState, event: Event) -> JobState:
    rule = event.payload["rule"]
    job.filed.add(f"{rule['key']}@{rule['version']}")
    joint = job.joints.get(event.payload["joint"])
    if joint is not None:
        job.joints[joint.id] = end_releases(joint, event, "A rule was filed for it.")
    return job


def _cite_filed(job: JobState, event: Event) -> JobState:
    """Cite a page, unless it came with a filed rule that was taken back."""
    rule = event.payload.get("rule", "")
    return job if rule and rule not in job.filed else _on_joint(_cite)(job, event)


def _decide(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    view = DecisionView(
        event_id=event.id,
        at=moment(event.at),
        decided_by=event.actor,
        method=find_method(payload["method"]),
        mark=payload["mark"],
        reason=payload["reason"],
        rules=tuple(payload["rule_names"]),
        found=payload["found"],
    )
    state = State.METHOD_DECIDED if joint.state is State.IDENTIFIED else joint.state
    return replace(joint, decision=view, state=state)


def _triple(value: Mapping[str, float]) -> tuple[float, float, float]:
    return (value["value"], value["low"], value["high"])


def _predict(joint: JointView, event: Event) -> JointView:
    found = event.payload["prediction"]
    view = PredictionView(
        event_id=event.id,
        at=moment(event.at),
        set_up=read(SpotSetUp, event.payload["set_up"]),
        interfaces=tuple(
            PredictedInterface(
                one["index"], _triple(one["nugget_diameter"]), _triple(one["button_diameter"])
            )
            for one in found["interfaces"]
        ),
        expulsion_probability=_triple(found["expulsion_probability"]),
        figures=found,
        warnings=tuple(found["warnings"]),
        model_version=event.payload["model_version"],
        data_digest=event.payload["data_digest"],
    )
    return replace(joint, predictions=(*joint.predictions, view))


def _propose(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    view = ProposalView(
        event_id=event.id,
        at=moment(event.at),
        set_up=read(SpotSetUp, payload["set_up"]),
        machine=payload["machine"]["name"],
        criterion=read(Criterion, payload["criterion"]),
        reasons=tuple(payload["proposal"]["reasons"]),
        window=read(WeldWindow, payload["proposal"]["window"]),
        details=payload["proposal"],
    )
    early = (State.IDENTIFIED, State.METHOD_DECIDED)
    state = State.SET_UP_PROPOSED if joint.state in early else joint.state
    return replace(joint, proposal=view, state=state)


def _accept(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    view = SetUpView(
        event_id=event.id,
        at=moment(event.at),
        accepted_by=event.actor,
        set_up=read(SpotSetUp, payload["set_up"]),
        surroundings=read(Surroundings, payload["surroundings"]),
        own=payload["own"],
        mark=payload.get("mark", ""),
    )
    joint = end_releases(joint, event, "The set-up was changed.")
    return replace(joint, set_up=view, state=State.SET_UP_ACCEPTED)


def _weld(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    spot = "weld" not in payload
    view = CouponView(
        id=payload["coupon"],
        number=payload["number"],
        welded_at=moment(event.at),
        welded_by=event.actor,
        spot_stack=read(StackUp, payload["stack"]) if spot else None,
        spot_set_up=read(SpotSetUp, payload["set_up"]) if spot else None,
        surroundings=read(Surroundings, payload["surroundings"]),
        read_back=read(ReadBack, payload["read_back"]),
        welds_since_dress=payload["welds_since_dress"] if spot else None,
        tip_state=payload["tip_state"] if spot else "",
        note=payload["note"],
        differences=read(tuple[Difference, ...], payload["differences"]),
        event_ids=(event.id,),
        weld=None if spot else payload["weld"],
    )
    return replace(joint, coupons=(*joint.coupons, view), state=State.COUPON_WELDED)


def _on_coupon(
    step: Callable[[CouponView, Event], CouponView], state: State
) -> Callable[[JointView, Event], JointView]:
    def stepped(joint: JointView, event: Event) -> JointView:
        coupons = []
        for one in joint.coupons:
            after = step(one, event) if one.id == event.payload["coupon"] else one
            if after is not one:
                after = replace(after, event_ids=(*one.event_ids, event.id))
            coupons.append(after)
        if tuple(coupons) == joint.coupons:
            return joint  # what it rested on was withdrawn
        return replace(joint, coupons=tuple(coupons), state=state)

    return stepped


def _read_coupon(coupon: CouponView, event: Event) -> CouponView:
    readings: tuple[Reading, ...] | tuple[ArcReading, ...]
    if coupon.weld is None:
        readings = read(tuple[Reading, ...], event.payload["readings"])
    else:
        readings = read(tuple[ArcReading, ...], event.payload["readings"])
    # Read anew: what was judged on the earlier reading falls.
    return replace(
        coupon,
        readings=readings,
        read_by=event.actor,
        read_at=moment(event.at),
        judged=(),
        measured_with=event.payload.get("instrument", ""),
    )


def _judge(coupon: CouponView, event: Event) -> CouponView:
    judged = tuple(
        JudgedView(
            interface=one["interface"],
            reading=_reading(coupon, one["reading"]),
            criterion=read(Criterion, one["criterion"]),
            verdict=read(Verdict, one["verdict"]),
        )
        for one in event.payload["judged"]
    )
    if not all(one.reading in coupon.readings for one in judged):
        return coupon  # the reading was withdrawn, and its verdict with it
    return replace(coupon, judged=judged, judged_by=event.actor, judged_at=moment(event.at))


def _reading(coupon: CouponView, written: Any) -> Reading | ArcReading:
    return read(Reading, written) if coupon.weld is None else read(ArcReading, written)


def _dress(joint: JointView, event: Event) -> JointView:
    entry = Entry(event.id, moment(event.at), event.actor, say(event.type, event.payload))
    return replace(joint, tips_dressed=(*joint.tips_dressed, entry))


def _release(joint: JointView, event: Event) -> JointView:
    payload = event.payload
    view = ReleaseView(
        id=payload["release"],
        event_id=event.id,
        at=moment(event.at),
        released_by=event.actor,
        release=read(Release, payload["details"]),
        rests_on=tuple(payload["rests_on"]),
        surroundings=read(Surroundings, payload["surroundings"]),
        coupon_ids=tuple(payload["coupons"]),
        decision=payload.get("decision") or {},
    )
    joint = end_releases(joint, event, "Released anew.")
    return replace(joint, releases=(*joint.releases, view), state=State.RELEASED)


def _end_release(joint: JointView, event: Event) -> JointView:
    joint = end_releases(joint, event, f"{event.payload['reason']}.")
    return replace(joint, state=State.EXPIRED)


_PAPERS = {
    "card_printed": "bay card",
    "coupon_sheet_printed": "coupon sheet",
    "letter_printed": "letter to the maker",
}


def _print(job: JobState, event: Event) -> JobState:
    payload = event.payload
    kind = _PAPERS[event.type]
    paper = PaperView(kind, payload["serves"], moment(event.at), event.actor, payload["sha256"])
    job.papers.append(paper)
    joint = job.joints.get(payload["joint"])
    if joint is not None:
        job.joints[joint.id] = replace(joint, papers=(*joint.papers, paper))
    return job


def timed_out(joint: JointView, ended: Callable[[ReleaseView], tuple[str, ...]]) -> JointView:
    """
    Add what ends a release without anybody saying so.

    Parameters
    ----------
    joint : JointView
        As folded from events.
    ended : callable
        Gives the reasons why a release has ended.

    Returns
    -------
    JointView
        With `ended` of its releases and its state as they are now.
    """
    releases = tuple(replace(one, ended=ended(one)) if one.valid else one for one in joint.releases)
    joint = replace(joint, releases=releases)
    if joint.state is State.RELEASED and joint.release is None:
        return replace(joint, state=State.EXPIRED)
    return joint


STEPS: Mapping[str, Callable[[JobState, Event], JobState]] = {
    "job_opened": _open,
    "gate_ticked": _tick,
    "intake_told": _tell_intake,
    "joint_described": _describe,
    "arc_joint_described": _describe,
    "procedure_cited": _cite_filed,
    "deviation_signed": _on_joint(_cite),
    "circumstances_told": _on_joint(_tell),
    "method_decided": _on_joint(_decide),
    "rule_filed": _file,
    "weld_predicted": _on_joint(_predict),
    "set_up_proposed": _on_joint(_propose),
    "set_up_accepted": _on_joint(_accept),
    "coupon_welded": _on_joint(_weld),
    "coupon_read": _on_joint(_on_coupon(_read_coupon, State.COUPON_TORN)),
    "coupon_judged": _on_joint(_on_coupon(_judge, State.JUDGED)),
    "tip_dressed": _on_joint(_dress),
    "set_up_released": _on_joint(_release),
    "release_ended": _on_joint(_end_release),
    "card_printed": _print,
    "coupon_sheet_printed": _print,
    "letter_printed": _print,
    **{kind: _on_joint(step) for kind, step in {**ARC_STEPS, **WELDING_STEPS}.items()},
}
