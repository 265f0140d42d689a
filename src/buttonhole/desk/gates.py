"""What is made safe on a job: which gates apply, who signed them, and whether that still holds."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from buttonhole.desk.desk import Desk
from buttonhole.desk.view import GateView, JobView, JointView
from buttonhole.joint.coating import ZINC, Coating
from buttonhole.vehicle.safety import Answer, Asks, Gate, JobFacts, needed_gates


@dataclass(frozen=True, slots=True)
class GateNow:
    """A gate as it stands at a moment.

    ``state`` is signed, open, waiting (the maker's waiting time runs until ``ready_at``), old
    (signed on another day), refused (not cleared) or not needed.
    """

    gate: Gate
    state: str
    because: str
    view: GateView
    ready_at: datetime | None = None

    @property
    def is_owed(self) -> bool:
        """Whether somebody still has to do or sign something."""
        return self.state in ("open", "old", "waiting", "refused")

    @property
    def asks(self) -> tuple[str, ...]:
        """What is asked beside the signature."""
        return tuple(one.value for one in self.gate.asks)


def job_facts(job: JobView) -> JobFacts:
    """
    Say what gates follow from, as far as the job tells it.

    Parameters
    ----------
    job : JobView
        The job.

    Returns
    -------
    JobFacts
        Unknown coatings count as zinc.
    """
    named = [(one, tuple(_coatings(one))) for one in job.joints]
    return JobFacts(
        powertrain=job.powertrain,
        zinc=tuple(one.name for one, coatings in named if ZINC & set(coatings)),
        aluminium=tuple(one.name for one in job.joints if _has_alloy(one)),
        arc=tuple(one.name for one in job.joints if one.arc is not None),
        steel=any(coatings for _, coatings in named),
        near=frozenset(each.value for one in job.joints for each in one.circumstances.near),
    )


def gates_now(desk: Desk, job: JobView) -> tuple[GateNow, ...]:
    """
    Say how each gate of a job stands now.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    job : JobView
        The job.

    Returns
    -------
    tuple of GateNow
        All gates in their order, those that are not needed too.
    """
    signed = {one.key: one for one in job.gates}
    found = []
    for need in needed_gates(job_facts(job)):
        view = signed[need.gate.key]
        state, ready = _state(desk, need.gate, view)
        if state == "open" and not need.needed:
            state = "not needed"
        found.append(GateNow(need.gate, state, need.because, view, ready))
    return tuple(found)


def _state(desk: Desk, gate: Gate, view: GateView) -> tuple[str, datetime | None]:
    if view.at is None:
        return "open", None
    if view.answer == Answer.NOT_CLEARED:
        return "refused", None
    if gate.daily and desk.shop_time(view.at).date() != desk.shop_time(desk.now()).date():
        return "old", None
    if Asks.WAIT in gate.asks and view.wait_minutes:
        ready = _isolated(desk, view) + timedelta(minutes=view.wait_minutes)
        if desk.now() < ready:
            return "waiting", desk.shop_time(ready)
    return "signed", None


def _isolated(desk: Desk, view: GateView) -> datetime:
    """The time of day a person gave, on the day of the signature; else the signature's moment."""
    assert view.at is not None  # noqa: S101 - asked by the caller
    at = desk.shop_time(view.at)
    if not view.when:
        return at
    hours, minutes = (int(part) for part in view.when.split(":"))
    given = at.replace(hour=hours, minute=minutes, second=0, microsecond=0)
    return given if given <= at else given - timedelta(days=1)  # before midnight


def _coatings(joint: JointView) -> Iterable[Coating]:
    """The coatings of the steel sheets; aluminium has none."""
    if joint.arc is None:
        return [one.coating for one in joint.stack.sheets]
    return [
        _coating(str(one.get("coating", "")))
        for one in joint.arc.keys["sheet"]
        if not one.get("alloy")
    ]


def _coating(text: str) -> Coating:
    try:
        return Coating(text or Coating.BARE.value)
    except ValueError:
        return Coating.UNKNOWN


def _has_alloy(joint: JointView) -> bool:
    return joint.arc is not None and any(one.get("alloy") for one in joint.arc.keys["sheet"])
