"""Take back an entry that was wrong: it stays readable, with the reason, and counts no more."""

from dataclasses import dataclass

from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.folding import CORRECTION
from buttonhole.desk.read_job import read_job
from buttonhole.desk.saving import about_joint, append, save
from buttonhole.desk.view import JobView
from buttonhole.units import BadInput

FINAL = {
    "job_opened": "a job stays open in the record; open another one",
    "card_printed": "the paper is out; end the release instead",
    "coupon_sheet_printed": "the paper is out",
    "letter_printed": "the paper is out",
    "labels_issued": "the labels are out; throw them away, their numbers are not used again",
    "label_tied": "the label is on the metal; take back the coupon instead",
    "labels_printed": "the paper is out",
    "vehicle_weld_made": "take back the tick of the weld instead",
    "vehicle_weld_undone": "tick the weld again instead",
    "fire_watch_ended": "sign another one instead",
    CORRECTION: "do the step again instead",
    "release_ended": "release it anew instead",
}


@dataclass(frozen=True, slots=True)
class CorrectEntry:
    """Which entry was wrong, and why. `seen` is needed when the entry is about a joint."""

    event_id: str
    reason: str
    seen: str | None = None


def correct_entry(desk: Desk, command: CorrectEntry) -> JobView:
    """
    Take back an entry.

    Nothing is deleted. A release of the joint ends: it may be released anew without the entry.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : CorrectEntry
        Which entry, and why.

    Returns
    -------
    JobView
        The job as it is without the entry.

    Raises
    ------
    NotThere
        When there is no such entry.
    BadInput
        When the reason is missing, or the entry cannot be taken back.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    event = desk.store.event(command.event_id)
    if event is None or "job" not in event.payload:
        raise NotThere("entry", command.event_id)
    if event.type in FINAL:
        raise BadInput("entry", f"cannot be taken back: {FINAL[event.type]}")
    job_id = event.payload["job"]
    entries = read_job(desk, job_id).history
    if any(one.event_id == event.id and one.withdrawn for one in entries):
        raise BadInput("entry", "was taken back already")
    payload = {
        "job": job_id,
        "corrects": event.id,
        "reason": text("reason", command.reason, longest=LONGEST_TEXT),
    }
    joint_id = event.payload.get("joint")
    if joint_id is None:
        append(desk, [desk.draft(CORRECTION, [f"job/{job_id}"], payload)], {})
    else:
        about = about_joint(job_id, joint_id)
        payload["joint"] = joint_id
        save(desk, [desk.draft(CORRECTION, about, payload)], about[1], command.seen)
    return read_job(desk, job_id)
