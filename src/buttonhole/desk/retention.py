"""How long what is kept: says what is due, deletes nothing."""

from dataclasses import dataclass
from datetime import datetime

from buttonhole.desk.desk import Desk
from buttonhole.desk.read_job import list_jobs, read_job
from buttonhole.desk.view import JobLine, JobView


@dataclass(frozen=True, slots=True)
class RetentionPolicy:
    """Years [-] from the last entry, or from the end of the last release if that is later.

    Anchors: 25 years is the long stop of the European product liability rules for latent injury;
    welder records are kept a few years. A place of its own law may ask for more. From memory.
    """

    vehicle_years: int = 25
    training_years: int = 10


@dataclass(frozen=True, slots=True)
class Kept:
    """One job: what it is, its last day, and until when it is to be kept."""

    job_id: str
    title: str
    kind: str
    last: datetime
    until: datetime
    due: bool


def retention(desk: Desk, policy: RetentionPolicy | None = None) -> tuple[Kept, ...]:
    """
    Say of each job until when it is to be kept, those that are due first.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    policy : RetentionPolicy, optional
        Other years than the usual ones.

    Returns
    -------
    tuple of Kept
        A job without a VIN counts as training.
    """
    policy = policy or RetentionPolicy()
    now = desk.now()
    found = []
    for line in list_jobs(desk):
        last = _last_day(read_job(desk, line.id))
        kind, years = _kind(line, policy)
        until = _years_later(last, years)
        found.append(Kept(line.id, line.title, kind, last, until, until <= now))
    return tuple(sorted(found, key=lambda one: one.until))


def _kind(line: JobLine, policy: RetentionPolicy) -> tuple[str, int]:
    if line.vin:
        return "vehicle", policy.vehicle_years
    return "training", policy.training_years


def _last_day(job: JobView) -> datetime:
    ends = [one.release.valid_until for joint in job.joints for one in joint.releases]
    return max([one.at for one in job.history] + ends)


def _years_later(moment: datetime, years: int) -> datetime:
    try:
        return moment.replace(year=moment.year + years)
    except ValueError:  # 29 February
        return moment.replace(year=moment.year + years, month=3, day=1)
