"""Weld on the vehicle: each weld is ticked as it is made; a tick taken back keeps its trace."""

from dataclasses import dataclass

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, append, save
from buttonhole.desk.tip_count import tip_count
from buttonhole.desk.validity import welds_under
from buttonhole.desk.view import JointView, ReleaseView
from buttonhole.desk.watch_machine import shortened
from buttonhole.procedure.welding import TipCount
from buttonhole.record.store import Conflict as StoreConflict
from buttonhole.units import BadInput

MOST_WELDS = 999
NEVER_RELEASED = "No set-up was released for this joint."


class TickedAlready(BadInput):
    """Somebody ticked this weld before; ``free`` is the next number nobody ticked."""

    def __init__(self, number: int, by: str, when: str, free: int) -> None:
        super().__init__(
            "number",
            f"{number} was ticked by {by} at {when}; if yours is another weld, tick {free}",
        )
        self.number = number
        self.by = by
        self.free = free


@dataclass(frozen=True, slots=True)
class PlanWelds:
    """How many welds a joint gets on the vehicle."""

    joint_id: str
    seen: str | None
    count: int


@dataclass(frozen=True, slots=True)
class TickWeld:
    """A weld that was made on the vehicle; the next open number when ``number`` is left out."""

    joint_id: str
    number: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class UndoWeld:
    """A tick that is taken back, and why."""

    joint_id: str
    number: int
    reason: str


@dataclass(frozen=True, slots=True)
class WeldingNow:
    """Where the welding of a joint stands: welds [-] and time [s] left of its release, its tips.

    ``last`` is the newest release, also when it ended; ``ended`` says why none holds.
    """

    last: ReleaseView | None
    ended: tuple[str, ...]
    welds_left: int | None  # no number ends the release of an arc weld
    seconds_left: float  # s
    tips: TipCount | None

    @property
    def holds(self) -> bool:
        """Whether a release holds."""
        return self.last is not None and not self.ended


def plan_welds(desk: Desk, command: PlanWelds) -> JointView:
    """
    Say how many welds the joint gets on the vehicle.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PlanWelds
        Which joint, how many.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When the number is none, or fewer than the maker's factor asks for.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    if not 1 <= command.count <= MOST_WELDS:
        raise BadInput("count", f"is {command.count}; give the number of welds, 1 to {MOST_WELDS}")
    least = joint.required_spots
    if least is not None and command.count < least:
        raise BadInput(
            "count",
            f"is {command.count}; the maker's factor asks for {least}. Fewer need a deviation "
            "that two people sign",
        )
    payload = {"job": joint.job_id, "joint": joint.id, "count": command.count}
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft("welds_planned", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def tick_weld(desk: Desk, command: TickWeld) -> JointView:
    """
    Note a weld that was made on the vehicle.

    It is never refused because a release ended: the weld is there. It then says why none held, and
    deviates.

    Parameters
    ----------
    desk : Desk
        Where the person works; name and moment go with the weld.
    command : TickWeld
        Which joint and weld.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    TickedAlready
        When the weld of this number was ticked before.
    BadInput
        When the number is none.
    SentTwice
        When this very form was saved before.
    """
    joint = read_joint(desk, command.joint_id)
    now = welding_now(desk, joint)
    free = joint.welding.open(joint.required_spots)[0]
    number = free if command.number is None else command.number
    if not 1 <= number <= MOST_WELDS:
        raise BadInput("number", f"is {number}; welds are counted from 1 to {MOST_WELDS}")
    _refuse_ticked(desk, joint, number)
    machine = now.last.surroundings.machine if now.last else ""
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "number": number,
        "release": now.last.id if now.last else "",
        "machine": machine,
        "welds_since_dress": now.tips.welds + 1 if now.tips else None,
        "late": list(now.ended),
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
    }
    # Not about the joint: a tick holds up nobody who changes something else at it.
    subject = _subject(joint, number)
    about = [f"job/{joint.job_id}", subject, *([f"machine/{machine}"] if machine else [])]
    draft = desk.draft("vehicle_weld_made", about, payload)
    try:
        append(desk, [draft], {subject: desk.store.last(subject)})
    except StoreConflict:  # ticked at this moment on another tablet
        _refuse_ticked(desk, read_joint(desk, joint.id), number)
        raise
    return read_joint(desk, joint.id)


def undo_weld(desk: Desk, command: UndoWeld) -> JointView:
    """
    Take back the tick of a weld. The tick stays readable, with who took it back and why.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : UndoWeld
        Which joint and weld, and the reason.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When the weld is not ticked, or the reason is missing.
    SentTwice
        When this very form was saved before.
    """
    joint = read_joint(desk, command.joint_id)
    weld = joint.welding.weld(command.number)
    if weld is None:
        raise BadInput("number", f"is {command.number}; no weld of this number is ticked")
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "number": weld.number,
        "weld": weld.event_id,
        "machine": weld.machine,
        "reason": text("reason", command.reason, longest=LONGEST_TEXT),
    }
    subject = _subject(joint, weld.number)
    about = [f"job/{joint.job_id}", subject]
    about += [f"machine/{weld.machine}"] if weld.machine else []
    draft = desk.draft("vehicle_weld_undone", about, payload)
    try:
        append(desk, [draft], {subject: weld.event_id})
    except StoreConflict:
        raise BadInput("number", f"{weld.number} was taken back at this moment already") from None
    return read_joint(desk, joint.id)


def welding_now(desk: Desk, joint: JointView) -> WeldingNow:
    """
    Say what is left of the release of a joint, and of its tips.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    WeldingNow
        As it is at this moment.
    """
    if not joint.releases:
        return WeldingNow(None, (NEVER_RELEASED,), 0, 0.0, None)
    last = joint.release or joint.releases[-1]
    granted, machine = last.release, last.surroundings.machine
    under = welds_under(last.id, desk.store.events(f"machine/{machine}", after=last.event_id))
    left = (granted.valid_until - desk.now()).total_seconds()
    most = granted.max_welds  # none of an arc: it has no tips that wear
    return WeldingNow(
        last=last,
        ended=last.ended,
        welds_left=0 if last.ended else None if most is None else max(most - under, 0),
        seconds_left=0.0 if last.ended else max(left, 0.0),
        tips=None if most is None else tip_count(desk, machine, _every(desk, machine, most)),
    )


def _every(desk: Desk, machine: str, most: int) -> int:
    """After how many welds the tips are due: sooner where an end coupon showed that they wear."""
    return min(most, shortened(desk, machine) or most)


def _subject(joint: JointView, number: int) -> str:
    return f"weld/{joint.id}-{number}"


def _refuse_ticked(desk: Desk, joint: JointView, number: int) -> None:
    known = joint.welding.weld(number)
    if known is not None:
        when = desk.shop_time(known.at).strftime("%H:%M")
        raise TickedAlready(number, known.by, when, joint.welding.open(joint.required_spots)[0])
