"""The fire watch after the last weld on a vehicle: until when, and who says that nothing burns."""

from dataclasses import dataclass
from datetime import datetime

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_job
from buttonhole.desk.saving import append
from buttonhole.desk.view import JobView
from buttonhole.procedure.welding import USUAL_WATCH, FireWatch, check_watch
from buttonhole.record.event import moment
from buttonhole.units import BadInput

NOTHING, SOMETHING = "nothing", "something"
FOUND = (NOTHING, SOMETHING)


@dataclass(frozen=True, slots=True)
class SetFireWatch:
    """How long [min] somebody stays after the last weld of a job."""

    job_id: str
    minutes: float


@dataclass(frozen=True, slots=True)
class EndFireWatch:
    """The end of a fire watch: whether something was found, and what."""

    job_id: str
    found: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class SignedWatch:
    """A fire watch that somebody signed; ``early`` when its time was not over."""

    at: datetime
    by: str
    found: str
    note: str
    early: bool


@dataclass(frozen=True, slots=True)
class WatchView:
    """The fire watch of a job. ``watch`` is None until something was welded.

    ``left`` [s] is as of the moment it was read; ``signed`` is the one after the last weld.
    """

    minutes: float
    watch: FireWatch | None
    left: float
    signed: SignedWatch | None
    earlier: tuple[SignedWatch, ...] = ()
    welds_open: int = 0

    @property
    def is_over(self) -> bool:
        """Whether the time is over."""
        return self.watch is not None and self.left <= 0.0

    @property
    def is_owed(self) -> bool:
        """Whether somebody has to stay, or to sign, now; a fire found leaves it open."""
        if self.watch is None:
            return False
        return self.signed is None or self.signed.early or self.signed.found == SOMETHING


def fire_watch(desk: Desk, job_id: str) -> WatchView:
    """
    Read the fire watch of a job. Its time is the server's, counted from the last weld ticked.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    job_id : str
        The job.

    Returns
    -------
    WatchView
        As it is at this moment.
    """
    job = read_job(desk, job_id)
    seconds, signed = USUAL_WATCH, []
    for one in desk.store.events(f"job/{job_id}"):
        if one.type == "fire_watch_set":
            seconds = one.payload["minutes"] * 60.0
        elif one.type == "fire_watch_ended":
            found, note = one.payload["found"], one.payload["note"]
            early = bool(one.payload["early"])
            signed.append(SignedWatch(moment(one.at), one.actor, found, note, early))
    last = [one.welding.last.at for one in job.joints if one.welding.last is not None]
    watch = FireWatch(max(last), seconds) if last else None
    after = [one for one in signed if watch is not None and one.at >= watch.last_weld]
    open_welds = 0
    for joint in job.joints:
        if joint.welding.made and not joint.welding.is_complete(joint.required_spots):
            open_welds += len(joint.welding.open(joint.required_spots))
    return WatchView(
        minutes=seconds / 60.0,
        watch=watch,
        left=watch.left(desk.now()) if watch else 0.0,
        signed=after[-1] if after else None,
        earlier=tuple(signed[:-1] if after else signed),
        welds_open=open_welds,
    )


def set_fire_watch(desk: Desk, command: SetFireWatch) -> JobView:
    """
    Say how long somebody stays after the last weld.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : SetFireWatch
        Which job, how long.

    Returns
    -------
    JobView
        The job.

    Raises
    ------
    BadInput
        When it is shorter than half an hour or longer than four.
    """
    check_watch(command.minutes * 60.0)
    read_job(desk, command.job_id)
    payload = {"job": command.job_id, "minutes": command.minutes}
    append(desk, [desk.draft("fire_watch_set", [f"job/{command.job_id}"], payload)], {})
    return read_job(desk, command.job_id)


def end_fire_watch(desk: Desk, command: EndFireWatch) -> JobView:
    """
    Sign the end of the fire watch.

    Parameters
    ----------
    desk : Desk
        Where the person works; name and moment go with it.
    command : EndFireWatch
        Which job, and what was found.

    Returns
    -------
    JobView
        The job.

    Raises
    ------
    BadInput
        When nothing was welded; when something was found, or it ends early, and nobody says more.
    """
    if command.found not in FOUND:
        raise BadInput("found", f"is {command.found!r}; say nothing or something")
    now = fire_watch(desk, command.job_id)
    if now.watch is None:
        raise BadInput("found", "nothing was welded in this job yet, so there is nothing to watch")
    early = not now.is_over
    note = text("note", command.note, need=False, longest=LONGEST_TEXT)
    if not note and command.found == SOMETHING:
        raise BadInput("note", "is empty; say what was found and what was done")
    if not note and early:
        raise BadInput("note", "is empty; the time is not over: say who watches on, or why not")
    payload = {"job": command.job_id, "found": command.found, "early": early, "note": note}
    append(desk, [desk.draft("fire_watch_ended", [f"job/{command.job_id}"], payload)], {})
    return read_job(desk, command.job_id)
