"""Check the welds on the vehicle, and close the joint."""

from collections.abc import Iterable
from dataclasses import dataclass

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.desk.watch_fire import fire_watch
from buttonhole.procedure.refusal import Refusal
from buttonhole.procedure.welding import wedge_sample
from buttonhole.units import BadInput


class ClosingRefused(Exception):
    """A joint can't be closed; ``refusals`` says all that stands against it."""

    def __init__(self, refusals: tuple[Refusal, ...]) -> None:
        super().__init__(" ".join(f"{each.reason} {each.do}" for each in refusals))
        self.refusals = refusals


@dataclass(frozen=True, slots=True)
class CheckWelds:
    """Every weld looked at from both sides; a wedge put beside ``wedged``; ``bad`` are not good."""

    joint_id: str
    seen: str | None
    wedged: tuple[int, ...] = ()
    bad: tuple[int, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class CloseJoint:
    """The joint is done: what protects it behind, and why welds deviate where some do."""

    joint_id: str
    seen: str | None
    protection: str
    deviations: str = ""


def welds_to_wedge(joint: JointView) -> tuple[int, ...]:
    """
    Name the welds a wedge is put beside, where the maker names no rate.

    Parameters
    ----------
    joint : JointView
        The joint.

    Returns
    -------
    tuple of int
        Their numbers [-], those without a release among them.
    """
    made = [one.number for one in joint.welding.made]
    late = [one.number for one in joint.welding.late]
    return wedge_sample(made, [*late, *_after_drift(joint)])


def _after_drift(joint: JointView) -> list[int]:
    """Welds that an end coupon asks to be looked at: those made last before it."""
    found = []
    for one in joint.end_checks:
        made = [each.number for each in joint.welding.made if each.release == one.release]
        if one.look_at is not None:
            # counted from the start coupon; welds that were not ticked came before those that were
            skipped = max(0, one.welds - len(made))
            first, last = (max(0, each - skipped) for each in one.look_at)
            found += made[max(0, first - 1) : last]
    return found


def check_welds(desk: Desk, command: CheckWelds) -> JointView:
    """
    Note how the welds on the vehicle were found.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : CheckWelds
        Which joint, what was found.

    Returns
    -------
    JointView
        The joint; verified when none was bad.

    Raises
    ------
    BadInput
        When no weld is ticked, or a number is no weld of the joint.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    if not joint.welding.made:
        raise BadInput("wedged", "no weld of this joint is ticked yet; tick them first")
    _known(joint, "wedged", command.wedged)
    _known(joint, "bad", command.bad)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "wedged": sorted(set(command.wedged)),
        "bad": sorted(set(command.bad)),
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
    }
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft("welds_checked", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def lacking_to_close(desk: Desk, joint: JointView, deviations: str = "") -> tuple[Refusal, ...]:
    """
    Say what stands against closing a joint.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.
    deviations : str
        Why welds were made without a release.

    Returns
    -------
    tuple of Refusal
        Empty when it may be closed.
    """
    found = []
    welding = joint.welding
    if not welding.is_complete(joint.required_spots):
        goal = welding.goal(joint.required_spots)
        many = "how many it gets was never said" if goal is None else f"it gets {goal}"
        do = "Tick the others as they are made, or say how many it gets."
        found.append(Refusal("open", f"{len(welding.made)} welds are ticked; {many}.", do))
    if welding.check is None:
        do = "Look at every weld from both sides and note it."
        found.append(Refusal("unchecked", "The welds are not checked since the last one.", do))
    elif welding.check.bad:
        bad = ", ".join(str(one) for one in welding.check.bad)
        do = "Make them good as the maker says, then check again."
        found.append(Refusal("bad", f"Found bad: {bad}.", do))
    if fire_watch(desk, joint.job_id).is_owed:
        do = "Stay until its time is over, look once more, and sign it."
        found.append(Refusal("fire", "The fire watch is not signed.", do))
    if welding.late and not deviations.strip():
        late = ", ".join(str(one.number) for one in welding.late)
        do = "Say why, and what makes them good: a coupon, a wedge beside them, new welds."
        found.append(Refusal("late", f"Made while no release held: {late}.", do))
    if small_end(joint) and not deviations.strip():
        do = "Say what makes the welds before it good: each one looked at and wedged, new welds."
        found.append(Refusal("end", "The last end coupon was too small.", do))
    return tuple(found)


def small_end(joint: JointView) -> bool:
    """
    Say whether the last end coupon of a joint was under its limit.

    Parameters
    ----------
    joint : JointView
        The joint.

    Returns
    -------
    bool
        False when none was compared.
    """
    return bool(joint.end_checks) and not joint.end_checks[-1].accepted


def close_joint(desk: Desk, command: CloseJoint) -> JointView:
    """
    Close a joint whose welds are made and checked.

    Parameters
    ----------
    desk : Desk
        Where the person works; name and moment go with it.
    command : CloseJoint
        Which joint.

    Returns
    -------
    JointView
        The joint, closed.

    Raises
    ------
    ClosingRefused
        With everything that stands against it; nothing is written.
    BadInput
        When nobody says what protects the welds behind.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    against = lacking_to_close(desk, joint, command.deviations)
    if against:
        raise ClosingRefused(against)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "protection": text("protection", command.protection, longest=LONGEST_TEXT),
        "deviations": text("deviations", command.deviations, need=False, longest=LONGEST_TEXT),
    }
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft("joint_closed", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def _known(joint: JointView, key: str, numbers: Iterable[int]) -> None:
    strange = [one for one in numbers if joint.welding.weld(one) is None]
    if strange:
        listed = ", ".join(str(one) for one in strange)
        raise BadInput(key, f"names {listed}; no such weld of this joint is ticked")
