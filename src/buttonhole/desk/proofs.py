"""What an inspector asks for, item by item, and what the record has of it.

Two branches, as regulators of certified repairs ask for them: primary evidence was seen on the
vehicle or stands in documents, secondary evidence is about the people and machines behind it. Which
items are due: common practice, no source.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime

from buttonhole.coupon.difference import Level
from buttonhole.desk.drawn import authority_words
from buttonhole.desk.evidence_view import Proof
from buttonhole.desk.make_archive import hashes_in
from buttonhole.desk.saying import say
from buttonhole.desk.view import CouponView, JobView, JointView, ReleaseView
from buttonhole.desk.welding_view import MadeWeld
from buttonhole.procedure.authority import MakerProcedure
from buttonhole.record.event import Event, moment
from buttonhole.record.signed import ENTRY_SIGNED
from buttonhole.record.store import EventStore

Events = Mapping[str, Event]


def primary_proofs(
    store: EventStore,
    job: JobView,
    joint: JointView,
    release: ReleaseView | None,
    coupon: CouponView | None,
    weld: MadeWeld | None,
    events: Events,
) -> tuple[Proof, ...]:
    """
    Collect what was seen on the vehicle and stands in documents.

    Parameters
    ----------
    store : EventStore
        For the files.
    job, joint : JobView, JointView
        What was repaired.
    release : ReleaseView or None
        The release the weld was made under, else the last one.
    coupon : CouponView or None
        The coupon it rests on.
    weld : MadeWeld or None
        The weld asked for.
    events : mapping of str to Event
        The entries of the job by their id.

    Returns
    -------
    tuple of Proof
        In the order of the work.
    """
    return (
        _gates(job),
        _of_event("joint", "Sheets and place", joint.description_id, events, "No sheets."),
        _procedure(joint),
        _decision(joint),
        _accepted(joint, release, events),
        _coupon(coupon, weld, events),
        _reading(coupon, events),
        _criterion(coupon, events),
        _release(release),
        _weld(joint, weld, events),
        _check(joint),
        _closing(joint),
        _files(store, joint, events),
    )


def secondary_proofs(
    joint: JointView,
    release: ReleaseView | None,
    coupon: CouponView | None,
    weld: MadeWeld | None,
    events: Events,
) -> tuple[Proof, ...]:
    """
    Collect what is known of the people and machines behind a weld.

    Parameters
    ----------
    joint : JointView
        What was repaired.
    release : ReleaseView or None
        The release the weld was made under, else the last one.
    coupon : CouponView or None
        The coupon it rests on.
    weld : MadeWeld or None
        The weld asked for.
    events : mapping of str to Event
        The entries of the job by their id.

    Returns
    -------
    tuple of Proof
        People, machine, instrument, model, signatures.
    """
    return (
        _people(coupon, release, weld),
        _two_people(coupon),
        _machine(coupon, weld),
        _tips(joint, coupon, weld),
        _instrument(coupon, events),
        _model(joint),
        _signatures(joint, events),
    )


def _of_event(key: str, title: str, event_id: str, events: Events, missing: str) -> Proof:
    event = events.get(event_id)
    if event is None:
        return Proof(key, title, False, missing=missing)
    words = (say(event.type, event.payload),)
    return Proof(key, title, True, words, event.actor, moment(event.at), (event.id,))


def _gates(job: JobView) -> Proof:
    title = "Made safe before work"
    open_ = [one.words for one in job.gates if one.at is None]
    if open_:
        words = f"{len(open_)} of {len(job.gates)} things to be made safe have no signature."
        return Proof("gates", title, False, tuple(open_), missing=words)
    signed = tuple(f"{one.words} {one.actor}" for one in job.gates)
    last = max((one.at for one in job.gates if one.at), default=None)
    return Proof("gates", title, True, signed, at=last)


def _procedure(joint: JointView) -> Proof:
    title = "Procedure: page and revision"
    cited = joint.procedure
    if cited is None:
        return Proof("procedure", title, False, missing="No procedure of the maker is cited.")
    words = [authority_words(cited)]
    if isinstance(cited.authority, MakerProcedure):
        one = cited.authority
        words.append(f"Read by {one.read_by} on {one.read_on.isoformat()}: {one.says}")
        words.append("A picture of the page is named." if one.page_image_hash else "No picture.")
    else:
        one_ = cited.authority
        words.append(f"Deviation: {one_.reason} ({one_.signed_by}, {one_.second_signature})")
    return Proof(
        "procedure", title, True, tuple(words), cited.cited_by, cited.at, (cited.event_id,)
    )


def _decision(joint: JointView) -> Proof:
    title = "Way of joining, by the rules then in force"
    one = joint.decision
    if one is None:
        # The maker's page decides by itself; a decision beside it adds to the picture.
        words = "No decision by the rules was written down."
        return Proof("method", title, False, missing=words, due=joint.procedure is None)
    rules = ", ".join(one.rules) or "no rule beside the maker's word"
    words = f"{one.method.value.replace('_', ' ')}; rules: {rules}"
    return Proof("method", title, True, (words,), one.decided_by, one.at, (one.event_id,))


def _accepted(joint: JointView, release: ReleaseView | None, events: Events) -> Proof:
    title = "Set-up"
    named = [one for one in (release.rests_on if release else ()) if one in events]
    named = [one for one in named if events[one].type in ("set_up_accepted", "arc_set_up_accepted")]
    if not named and joint.accepted is not None:
        named = [joint.accepted.event_id]
    missing = "No set-up was accepted."
    return _of_event("set_up", title, named[-1] if named else "", events, missing)


def _coupon(coupon: CouponView | None, weld: MadeWeld | None, events: Events) -> Proof:
    title = "Coupon"
    if coupon is None:
        return Proof("coupon", title, False, missing="No coupon was welded for this joint.")
    if weld is not None and coupon.welded_at > weld.at:
        words = "The coupon was welded after the weld on the vehicle."
        return Proof("coupon", title, False, missing=words, event_ids=coupon.event_ids[:1])
    found = _of_event("coupon", title, coupon.event_ids[0], events, "")
    unlike = tuple(
        f"{one.level.value}: {one.item}, on the joint {one.on_joint}, on the coupon {one.on_coupon}"
        for one in coupon.differences
        if one.level is not Level.GREEN
    )
    same = len(coupon.differences) - len(unlike)
    words_ = (*found.words, *unlike, f"{same} things compared are as on the vehicle")
    return Proof("coupon", title, True, words_, coupon.welded_by, coupon.welded_at, found.event_ids)


def _last_of(coupon: CouponView, kind: str, events: Events) -> Event | None:
    found = [events[one] for one in coupon.event_ids if one in events and events[one].type == kind]
    return found[-1] if found else None


def _reading(coupon: CouponView | None, events: Events) -> Proof:
    title = "Coupon torn and read"
    event = _last_of(coupon, "coupon_read", events) if coupon else None
    if coupon is None or event is None:
        return Proof("reading", title, False, missing="No coupon was torn and read.")
    found = _of_event("reading", title, event.id, events, "")
    note = event.payload.get("note", "")
    words = (*found.words, note) if note else found.words
    return Proof("reading", title, True, words, coupon.read_by, coupon.read_at, (event.id,))


def _criterion(coupon: CouponView | None, events: Events) -> Proof:
    title = "Verdict, by the criterion then in force"
    event = _last_of(coupon, "coupon_judged", events) if coupon else None
    if coupon is None or event is None or not coupon.judged:
        return Proof("criterion", title, False, missing="No coupon was judged by a criterion.")
    words: list[str] = []
    for one in coupon.judged:
        version = f", version {one.criterion.version}" if one.criterion.version else ""
        words.append(
            f"Interface {one.interface + 1}: {one.verdict.outcome.words}; "
            f"{one.criterion.name}{version}, source {one.criterion.source}, "
            f"limit {one.verdict.limit * 1e3:.2f} mm, "
            f"measured {one.verdict.mean_diameter * 1e3:.2f} mm"
        )
        words += one.criterion.cautions
    if not coupon.accepted:
        missing = "The coupon the weld rests on was not accepted."
        return Proof("criterion", title, False, tuple(words), missing=missing)
    shown = tuple(dict.fromkeys(words))
    return Proof("criterion", title, True, shown, coupon.judged_by, coupon.judged_at, (event.id,))


def _release(release: ReleaseView | None) -> Proof:
    title = "Release"
    if release is None:
        return Proof("release", title, False, missing="No set-up was released.")
    until = f"{release.release.valid_until:%Y-%m-%d %H:%M} UTC"
    words = [f"Holds until {until}", *(f"Ended: {one}" for one in release.ended)]
    return Proof(
        "release",
        title,
        True,
        tuple(words),
        release.released_by,
        release.at,
        (release.event_id,),
    )


def _weld(joint: JointView, weld: MadeWeld | None, events: Events) -> Proof:
    title = "Welded on the vehicle"
    if weld is not None:
        found = _of_event("weld", title, weld.event_id, events, "")
        words = (*found.words, *weld.late)
        return Proof("weld", title, True, words, weld.by, weld.at, (weld.event_id,))
    made = joint.welding.made
    if not made:
        return Proof("weld", title, False, missing="No weld on the vehicle was ticked.")
    goal = joint.welding.goal(joint.required_spots)
    words_ = f"{len(made)} welds" + (f" of {goal}" if goal is not None else "")
    late = f"{len(joint.welding.late)} while no release held" if joint.welding.late else ""
    who = ", ".join(dict.fromkeys(one.by for one in made))
    ids = tuple(one.event_id for one in made)
    if goal is not None and len(made) < goal:
        missing = f"{goal - len(made)} of {goal} welds were not ticked."
        return Proof("weld", title, False, (words_,), who, made[-1].at, ids, missing)
    return Proof("weld", title, True, (words_, *([late] if late else [])), who, made[-1].at, ids)


def _check(joint: JointView) -> Proof:
    title = "Checked on the vehicle"
    one = joint.welding.check
    if one is None:
        return Proof("check", title, False, missing="The welds on the vehicle were not checked.")
    wedge = ", ".join(map(str, one.wedged)) or "none"
    words = [f"Looked at from both sides; wedge at {wedge}", *([one.note] if one.note else [])]
    if one.bad:
        missing = f"Welds {', '.join(map(str, one.bad))} were found bad."
        return Proof("check", title, False, tuple(words), one.by, one.at, (one.event_id,), missing)
    return Proof("check", title, True, tuple(words), one.by, one.at, (one.event_id,))


def _closing(joint: JointView) -> Proof:
    title = "Protection against rust"
    one = joint.welding.closing
    if one is None:
        return Proof("closing", title, False, missing="Nobody said what protects the joint.")
    words = [one.protection, *([f"Deviations: {one.deviations}"] if one.deviations else [])]
    return Proof("closing", title, True, tuple(words), one.by, one.at, (one.event_id,))


def _files(store: EventStore, joint: JointView, events: Events) -> Proof:
    title = "Photos and papers"
    mine = [one for one in events.values() if one.payload.get("joint") == joint.id]
    named = hashes_in([dict(one.payload) for one in mine])
    kept = [one for one in sorted(named) if store.files.has(one)]
    words = (f"{len(named)} named, {len(kept)} of them kept in the record", *kept)
    if not named:
        missing = "No photo and no paper is named."
        return Proof("files", title, False, missing=missing, due=False)
    return Proof("files", title, True, words, due=False)


def _people(coupon: CouponView | None, release: ReleaseView | None, weld: MadeWeld | None) -> Proof:
    title = "Who"
    words = []
    if weld is not None:
        words.append(f"Welded by {weld.by}")
    if coupon is not None:
        words.append(f"Coupon welded by {coupon.surroundings.welder or coupon.welded_by}")
        if coupon.read_by:
            words.append(f"read by {coupon.read_by}")
        if coupon.judged_by:
            words.append(f"judged by {coupon.judged_by}")
    if release is not None:
        words.append(f"released by {release.released_by}")
    if not words:
        return Proof("people", title, False, missing="Nobody is named.")
    return Proof("people", title, True, tuple(words))


def _two_people(coupon: CouponView | None) -> Proof:
    title = "Read by another person than welded"
    if coupon is None or not coupon.read_by:
        return Proof("two_people", title, False, missing="Nobody read a coupon.")
    welder = coupon.surroundings.welder or coupon.welded_by
    if coupon.read_by == welder:
        missing = "The coupon was read by who welded it."
        return Proof("two_people", title, False, missing=missing, due=False)
    return Proof("two_people", title, True, (f"{welder}; {coupon.read_by}",), due=False)


def _machine(coupon: CouponView | None, weld: MadeWeld | None) -> Proof:
    title = "Machine"
    if coupon is None:
        return Proof("machine", title, False, missing="No machine is named.")
    there = coupon.surroundings
    named = {
        "machine": there.machine,
        "arms": there.arm_pair,
        "program": there.program_version,
        "outlet": there.outlet,
        "lead": there.lead,
        "position": there.position,
    }
    words = ", ".join(f"{key} {value}" for key, value in named.items() if value)
    if not there.machine:
        return Proof("machine", title, False, missing="No machine is named.")
    if weld is not None and weld.machine and weld.machine != there.machine:
        missing = f"The weld was made on {weld.machine}, the coupon on {there.machine}."
        return Proof("machine", title, False, (words,), missing=missing)
    return Proof("machine", title, True, (words,), event_ids=coupon.event_ids[:1])


def _tips(joint: JointView, coupon: CouponView | None, weld: MadeWeld | None) -> Proof:
    title = "State of the tips"
    if coupon is None or coupon.welds_since_dress is None:
        return Proof("tips", title, False, missing="Nothing is known of tips.", due=False)
    words = [f"Coupon: {coupon.welds_since_dress} welds since they were dressed"]
    if coupon.tip_state:
        words.append(coupon.tip_state)
    before = [one for one in joint.tips_dressed if weld is None or one.at <= weld.at]
    words += [f"Dressed {one.at:%Y-%m-%d %H:%M} UTC by {one.actor}" for one in before[-2:]]
    return Proof("tips", title, True, tuple(words))


def _instrument(coupon: CouponView | None, events: Events) -> Proof:
    title = "Measured with"
    event = _last_of(coupon, "coupon_read", events) if coupon else None
    named = event.payload.get("instrument", "") if event else ""
    if event is None or not named:
        missing = "The instrument a coupon was measured with is not named."
        return Proof("instrument", title, False, missing=missing)
    return Proof("instrument", title, True, (str(named),), event_ids=(event.id,))


def _model(joint: JointView) -> Proof:
    title = "Model behind the set-up"
    if not joint.predictions:
        missing = "No prediction was written down."
        return Proof("model", title, False, missing=missing, due=False)
    one = joint.predictions[-1]
    words = (f"Version {one.model_version}, data {one.data_digest[:16]}",)
    return Proof("model", title, True, words, at=one.at, event_ids=(one.event_id,), due=False)


def _signatures(joint: JointView, events: Events) -> Proof:
    title = "Signed in person"
    mine = {one.event_id for one in joint.history}
    found = [
        one
        for one in events.values()
        if one.type == ENTRY_SIGNED and one.payload.get("entry") in mine
    ]
    if not found:
        missing = "No entry is signed by a key of a person."
        return Proof("signatures", title, False, missing=missing, due=False)
    words = tuple(_signature(one, events) for one in found)
    ids = tuple(one.id for one in found)
    return Proof("signatures", title, True, words, at=_latest(found), event_ids=ids, due=False)


def _signature(signature: Event, events: Events) -> str:
    signed = events.get(str(signature.payload["entry"]))
    what = say(signed.type, signed.payload) if signed else str(signature.payload["entry"])
    return f"{signature.payload['meaning'].capitalize()} by {signature.actor}: {what}"


def _latest(events: Iterable[Event]) -> datetime | None:
    return max((moment(one.at) for one in events), default=None)
