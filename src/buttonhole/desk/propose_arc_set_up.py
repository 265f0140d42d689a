"""Have feed, voltage and time or speed proposed for a joint that is welded by an arc."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from buttonhole.desk.accept_arc_set_up import arc_of, with_set_up
from buttonhole.desk.desk import Desk, Progress
from buttonhole.desk.predict_weld import data_digest
from buttonhole.desk.propose_arc import propose_arc
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import arc_weld_file_from

# Key of a proposal, key of a weld file, unit of both; what is proposed is set to three figures.
PROPOSED = (
    ("wire_feed_speed_m_per_min", "wire_feed_speed", "m/min"),
    ("arc_voltage_V", "arc_voltage", "V"),
    ("arc_time_s", "arc_time", "s"),
    ("travel_speed_mm_per_s", "travel_speed", "mm/s"),
)


@dataclass(frozen=True, slots=True)
class ProposeArcSetUp:
    """For which joint; wire, gas and torch are those of its description."""

    joint_id: str
    seen: str | None


def propose_arc_set_up(
    desk: Desk, command: ProposeArcSetUp, *, progress: Progress | None = None
) -> JointView:
    """
    Have a set-up proposed. It is a start for coupons, and no release.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : ProposeArcSetUp
        The joint.
    progress : callable, optional
        Told how far the search is; may raise to stop it, and then nothing is written.

    Returns
    -------
    JointView
        The joint; `arc.proposal` has the weld and its reasons.

    Raises
    ------
    BadInput
        When nothing is likely to make a good weld, or the wire does not go with gas or sheets.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    keys = arc_of(joint).keys
    answer = propose_arc(arc_weld_file_from(keys), progress)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "weld": with_set_up(keys, proposed_table(keys["set_up"], answer)),
        "proposal": answer,
        "data_digest": data_digest(),
    }
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft("arc_set_up_proposed", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def proposed_table(set_up: Mapping[str, Any], answer: Mapping[str, Any]) -> dict[str, Any]:
    """
    Put what is proposed into the table `set_up` of a weld file.

    Parameters
    ----------
    set_up : mapping
        As described; wire, gas and torch stay.
    answer : mapping
        The proposal, keys with units.

    Returns
    -------
    dict
        The table, texts with their units.
    """
    found = {
        key: f"{answer[named]:.3g} {unit}"
        for named, key, unit in PROPOSED
        if answer.get(named) is not None
    }
    timed = {"arc_time", "travel_speed"}
    kept = {key: value for key, value in set_up.items() if key not in timed or not timed & {*found}}
    return {**kept, **found}
