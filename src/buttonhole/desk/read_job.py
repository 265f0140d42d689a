"""Read jobs and joints: everything a screen, a paper or a command shows."""

from dataclasses import replace
from datetime import datetime

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk
from buttonhole.desk.folding import fold_job, timed_out
from buttonhole.desk.validity import ended_reasons
from buttonhole.desk.view import CouponView, JobLine, JobView, JointView
from buttonhole.record.event import moment


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
    job = fold_job(desk.store.events(f"job/{job_id}"))
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
