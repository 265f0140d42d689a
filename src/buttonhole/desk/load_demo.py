"""Put the demonstration into a record: once, however often it is asked for."""

import os
from datetime import datetime, timedelta, tzinfo

from buttonhole.desk.demo.sill import QUALITY_LEAD, TITLE, DemoClock, play
from buttonhole.desk.desk import Desk, Store
from buttonhole.desk.read_job import list_jobs, read_job
from buttonhole.desk.view import JobView
from buttonhole.record.identity import Randomness

BEFORE = timedelta(minutes=190)
"""How long before now the story begins, so that its release still holds."""


def load_demo(
    store: Store,
    now: datetime,
    *,
    randomness: Randomness = os.urandom,
    zone: tzinfo | None = None,
) -> JobView:
    """
    Load the demonstration of the sill.

    Parameters
    ----------
    store : Store
        The record; a demonstration that is there already is left as it is.
    now : datetime
        The moment; the story ends shortly before it.
    randomness : callable, optional
        For names; the story's own chance is always the same.
    zone : tzinfo, optional
        The shop's.

    Returns
    -------
    JobView
        The demonstration job. It is marked demo, and so is every paper of it.
    """
    clock = DemoClock(now - BEFORE)

    def desk_of(actor: str) -> Desk:
        return Desk(store, clock, actor, randomness, zone)

    desk = desk_of(QUALITY_LEAD)
    for line in list_jobs(desk):
        if line.demo and line.title == TITLE:
            return read_job(desk, line.id, now=now)
    job = play(desk_of, clock)
    return read_job(desk, job.id, now=now)
