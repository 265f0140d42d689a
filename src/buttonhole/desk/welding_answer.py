"""The welds on the vehicle and the fire watch as JSON objects with units in the key names."""

from typing import Any

from buttonhole.desk.close_joint import welds_to_wedge
from buttonhole.desk.desk import Desk
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.watch_fire import fire_watch
from buttonhole.desk.weld_vehicle import welding_now
from buttonhole.desk.written import written


def welding_answer(desk: Desk, joint_id: str) -> dict[str, Any]:
    """
    Say what is welded of a joint, and what is left of its release and of the tips.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint_id : str
        Which joint.

    Returns
    -------
    dict
        For JSON.
    """
    joint = read_joint(desk, joint_id)
    now, welding = welding_now(desk, joint), joint.welding
    tips = now.tips
    return {
        "joint": joint.name,
        "id": joint.id,
        "seen": joint.seen,
        "state": joint.state.value,
        "goal": welding.goal(joint.required_spots),
        "made": [written(one) for one in welding.made],
        "undone": [written(one) for one in welding.undone],
        "release_holds": now.holds,
        "ended": list(now.ended),
        "welds_left": now.welds_left,
        "time_left_min": now.seconds_left / 60.0,
        "tips": tips
        and {"welds": tips.welds, "every": tips.every, "left": tips.left, "due": tips.is_due},
        "to_wedge": list(welds_to_wedge(joint)),
        "check": written(welding.check),
        "closing": written(welding.closing),
    }


def watch_answer(desk: Desk, job_id: str) -> dict[str, Any]:
    """
    Say how long the fire watch of a job still goes on, and who signed it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    job_id : str
        Which job.

    Returns
    -------
    dict
        For JSON.
    """
    found = fire_watch(desk, job_id)
    return {
        "minutes": found.minutes,
        "until": desk.shop_time(found.watch.until).isoformat(timespec="seconds")
        if found.watch
        else None,
        "left_min": found.left / 60.0,
        "owed": found.is_owed,
        "signed": written(found.signed),
        "earlier": [written(one) for one in found.earlier],
    }
