"""Read jobs and joints: everything a screen, a paper or a command shows."""

from collections import OrderedDict
from dataclasses import replace
from datetime import datetime
from threading import Lock
from weakref import WeakKeyDictionary

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk, Store
from buttonhole.desk.folded_job import FoldedJob, folded
from buttonhole.desk.folding import timed_out
from buttonhole.desk.people_named import PEOPLE
from buttonhole.desk.validity import ended_reasons
from buttonhole.desk.view import CouponView, JobLine, JobView, JointView
from buttonhole.record.event import moment

KEPT_JOBS = 64  # folded ones a store keeps; a shop has fewer open at a time
_KEPT: WeakKeyDictionary[Store, OrderedDict[str, FoldedJob]] = WeakKeyDictionary()
_ONE_AT_A_TIME = Lock()


def _folded(store: Store, subject: str) -> FoldedJob:
    """Fold the events of a job, or only those that came since it was last asked for.

    What is kept is thrown away whenever the record does not go on from it (another file was put in
    its place), so it is never more than a shorter way to the same read model.
    """
    last = store.last(subject)
    # A name that was taken out must not live on in what is kept.
    kept_as = f"{subject} {store.last(PEOPLE)}"
    with _ONE_AT_A_TIME:
        before = _KEPT.setdefault(store, OrderedDict()).get(kept_as)
    found = None
    if before is not None and before.events:
        known = before.events[-1].id
        later = () if known == last else store.events(subject, after=known)
        if known == last or later:
            found = before.with_later(later) if later else before
    if found is None:
        found = folded(store.events(subject))
    with _ONE_AT_A_TIME:
        kept = _KEPT.setdefault(store, OrderedDict())
        kept[kept_as] = found
        kept.move_to_end(kept_as)
        while len(kept) > KEPT_JOBS:
            kept.popitem(last=False)
    return found


def list_jobs(desk: Desk) -> tuple[JobLine, ...]:
    """
    List the jobs, the newest first.

    Parameters
    ----------
    desk : Desk
        Where the person works.

    Returns
    -------
    tuple of JobLine
        Empty when there are none.
    """
    lines = [
        JobLine(
            id=one.payload["job"],
            title=one.payload["title"],
            vehicle=one.payload["vehicle"],
            vin=one.payload["vin"],
            demo=bool(one.payload["demo"]),
            opened_at=moment(one.at),
            opened_by=one.actor,
        )
        for one in desk.store.events_of_type("job_opened")
    ]
    return tuple(reversed(lines))


def read_job(desk: Desk, job_id: str, *, now: datetime | None = None) -> JobView:
    """
    Read a job with its joints.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    job_id : str
        The job.
    now : datetime, optional
        The moment for which releases are asked whether they hold; the desk's clock by default.

    Returns
    -------
    JobView
        As the record has it.

    Raises
    ------
    NotThere
        When there is no such job.
    """
    job = _folded(desk.store, f"job/{job_id}").view()
    if job is None:
        raise NotThere("job", job_id)
    at = now or desk.now()
    joints = tuple(
        timed_out(one, lambda release: ended_reasons(desk, release, at)) for one in job.joints
    )
    return replace(job, joints=joints)


def read_joint(desk: Desk, joint_id: str, *, now: datetime | None = None) -> JointView:
    """
    Read a joint.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint_id : str
        The joint.
    now : datetime, optional
        The moment for which releases are asked whether they hold; the desk's clock by default.

    Returns
    -------
    JointView
        As the record has it.

    Raises
    ------
    NotThere
        When there is no such joint.
    """
    last = desk.store.last(f"joint/{joint_id}")
    event = desk.store.event(last) if last else None
    job = read_job(desk, event.payload["job"], now=now) if event else None
    joint = job.joint(joint_id) if job else None
    if joint is None:
        raise NotThere("joint", joint_id)
    return joint


def find_coupon(joint: JointView, coupon_id: str) -> CouponView:
    """
    Find a coupon of a joint.

    Parameters
    ----------
    joint : JointView
        The joint.
    coupon_id : str
        The coupon.

    Returns
    -------
    CouponView
        As the record has it.

    Raises
    ------
    NotThere
        When the joint has no such coupon.
    """
    for one in joint.coupons:
        if one.id == coupon_id:
            return one
    raise NotThere("coupon", coupon_id)
