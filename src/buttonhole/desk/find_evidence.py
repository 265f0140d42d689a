"""From a VIN to the evidence of one weld: as it is known now, or as it was at a minute."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk
from buttonhole.desk.evidence_view import Evidence, JobEvidence, JointEvidence
from buttonhole.desk.folded_job import folded
from buttonhole.desk.import_archive import release_conflicts
from buttonhole.desk.labels import find_label
from buttonhole.desk.proofs import primary_proofs, secondary_proofs
from buttonhole.desk.view import JobView, JointView, ReleaseView
from buttonhole.desk.welding_view import MadeWeld
from buttonhole.record.chain import ChainLink
from buttonhole.record.event import Event, hash_of, stamp
from buttonhole.record.signed import HEAD_SIGNED
from buttonhole.record.store import EventStore
from buttonhole.units import BadInput


@dataclass(frozen=True, slots=True)
class FindEvidence:
    """What to look for: a vehicle by its VIN or a label on a coupon of it.

    `joint` (name or id) and `weld` (its number) leave out the others; with `at` it is told what was
    known then.
    """

    vin: str = ""
    label: str = ""
    joint: str = ""
    weld: int | None = None
    at: datetime | None = None


def find_evidence(desk: Desk, store: EventStore, command: FindEvidence) -> Evidence:
    """
    Find the evidence.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    store : EventStore
        The record.
    command : FindEvidence
        What to look for.

    Returns
    -------
    Evidence
        With what is missing.

    Raises
    ------
    NotThere
        When the record knows no such vehicle, joint or weld.
    BadInput
        When neither a VIN nor a label is given.
    """
    vin, jobs = _jobs(desk, store, command)
    until = None if command.at is None else stamp(command.at)
    links = store.links_about(f"job/{one}" for one in jobs)
    found: list[JobEvidence] = []
    for job_id in jobs:
        events = store.events(f"job/{job_id}")
        told = events if until is None else _until(events, until)
        job = folded(told).view() if told else None
        if job is not None:
            found.append(_job(store, job, told, command))
    if not any(one.joints for one in found) and (command.joint or command.weld is not None):
        called = command.joint if command.weld is None else f"weld {command.weld}"
        raise NotThere("joint or weld", f"{called} on {vin or 'this vehicle'}")
    heads = [one for one in store.events_of_type(HEAD_SIGNED) if not one.origin]
    size = max((int(one.payload["size"]) for one in heads), default=0)
    return Evidence(
        vin=vin,
        asked_at=command.at,
        jobs=tuple(found),
        entries=len(links),
        altered=tuple(link.id for _, link in links if not _is_whole(link)),
        signed_heads=len(heads),
        covered=sum(place <= size for place, _ in links),
    )


def _jobs(desk: Desk, store: EventStore, command: FindEvidence) -> tuple[str, list[str]]:
    vin = command.vin.upper().replace(" ", "")
    if command.label:
        job_id = find_label(desk, command.label).job_id
        opened = [one for one in store.events(f"job/{job_id}") if one.type == "job_opened"]
        vin = opened[0].payload["vin"] if opened else ""
        if not vin:
            return "", [job_id] if opened else []
    if not vin:
        raise BadInput("vin", "is empty; give the VIN or the code of a label")
    jobs = [str(one.payload["job"]) for one in store.events(f"vin/{vin}") if "job" in one.payload]
    if not jobs:
        raise NotThere("vehicle", vin)
    return vin, list(dict.fromkeys(jobs))


def _until(events: tuple[Event, ...], moment: str) -> tuple[Event, ...]:
    """Give what stood in the record at a moment: all before the first that is later."""
    last = max((place for place, one in enumerate(events, 1) if one.at <= moment), default=0)
    return events[:last]


def _is_whole(link: ChainLink) -> bool:
    due = hash_of(link.id, link.type, link.at, link.actor, link.payload, link.prev_hash)
    return link.hash == due


def _job(
    store: EventStore, job: JobView, events: Iterable[Event], command: FindEvidence
) -> JobEvidence:
    by_id = {one.id: one for one in events}
    called = command.joint.casefold()
    joints = [one for one in job.joints if not called or called in (one.id, one.name.casefold())]
    found = []
    for joint in joints:
        weld = None
        if command.weld is not None:
            weld = joint.welding.weld(command.weld)
            if weld is None:
                continue
        found.append(_joint(store, job, joint, weld, by_id, command.at))
    return JobEvidence(
        job_id=job.id,
        title=job.title,
        vehicle=job.vehicle,
        area=job.area,
        opened_at=job.opened_at,
        opened_by=job.opened_by,
        demo=job.demo,
        joints=tuple(found),
        conflicts=release_conflicts(store, by_id.values()),
        sites=tuple(sorted({one.origin for one in by_id.values() if one.origin})),
    )


def _joint(
    store: EventStore,
    job: JobView,
    joint: JointView,
    weld: MadeWeld | None,
    events: dict[str, Event],
    at: datetime | None,
) -> JointEvidence:
    release = _release(joint, weld)
    held, words = _held(joint, release, weld, at)
    coupons = [one for one in joint.coupons if release is not None and one.id in release.coupon_ids]
    coupons = coupons or list(joint.coupons)
    coupon = coupons[-1] if coupons else None
    return JointEvidence(
        joint_id=joint.id,
        name=joint.name,
        location=joint.location,
        state=joint.state.value,
        weld=weld,
        held=held,
        held_words=words,
        primary=primary_proofs(store, job, joint, release, coupon, weld, events),
        secondary=secondary_proofs(joint, release, coupon, weld, events),
    )


def _release(joint: JointView, weld: MadeWeld | None) -> ReleaseView | None:
    if weld is not None and weld.release:
        return next((one for one in joint.releases if one.id == weld.release), None)
    return joint.releases[-1] if joint.releases else None


def _held(
    joint: JointView, release: ReleaseView | None, weld: MadeWeld | None, at: datetime | None
) -> tuple[bool | None, str]:
    """Say whether a release held at the minute of the weld, or at the one asked for."""
    minute = weld.at if weld is not None else at
    if release is None:
        return (None if minute is None else False), "No set-up was released for this joint."
    until = release.release.valid_until
    span = f"Released {_minute(release.at)} by {release.released_by}, until {_minute(until)} UTC"
    if minute is None:
        return None, span + "."
    if weld is not None and weld.late:
        return False, f"{span}; when the weld was made: {' '.join(weld.late)}"
    if not release.at <= minute <= until:
        return False, f"{span}; {_minute(minute)} is outside of it."
    if weld is None and release.ended:
        return False, f"{span}; ended before {_minute(minute)}: {' '.join(release.ended)}"
    return True, f"{span}; it held at {_minute(minute)}."


def _minute(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"
