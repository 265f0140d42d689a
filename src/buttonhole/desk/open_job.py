"""Open a job for a vehicle, and tick what is made safe."""

import re
from dataclasses import dataclass

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.gates import GATES
from buttonhole.desk.read_job import read_job
from buttonhole.desk.saving import append
from buttonhole.desk.view import JobView
from buttonhole.units import BadInput

# ISO 3779: 17 signs, without the letters that look like figures.
VIN = re.compile(r"[A-HJ-NPR-Z0-9]{17}")


@dataclass(frozen=True, slots=True)
class OpenJob:
    """A vehicle and what is to be done on it; the VIN may be left out, for training say."""

    title: str
    vehicle: str
    vin: str = ""
    area: str = ""
    demo: bool = False


@dataclass(frozen=True, slots=True)
class TickGate:
    """One gate a person signs for."""

    job_id: str
    gate: str
    remark: str = ""


def open_job(desk: Desk, command: OpenJob) -> JobView:
    """
    Open a job.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : OpenJob
        What the person gave.

    Returns
    -------
    JobView
        The job.

    Raises
    ------
    BadInput
        When a name is missing, or the VIN is none.

    Sources
    -------
    - handbook-memory: a VIN has 17 signs and no I, O or Q (ISO 3779).
    """
    vin = text("vin", command.vin, need=False).upper().replace(" ", "")
    if vin and not VIN.fullmatch(vin):
        raise BadInput(
            "vin",
            f"is {vin!r}; a VIN has 17 letters and figures, without I, O and Q. "
            "Leave it empty if there is none",
        )
    job_id = desk.new_id()
    payload = {
        "job": job_id,
        "title": text("title", command.title),
        "vehicle": text("vehicle", command.vehicle),
        "vin": vin,
        "area": text("area", command.area, need=False),
        "demo": command.demo,
    }
    about = [f"job/{job_id}"] + ([f"vin/{vin}"] if vin else [])
    append(desk, [desk.draft("job_opened", about, payload)], {f"job/{job_id}": None})
    return read_job(desk, job_id)


def tick_gate(desk: Desk, command: TickGate) -> JobView:
    """
    Sign that one thing is made safe.

    Parameters
    ----------
    desk : Desk
        Where the person works; the person's name and the moment go with the tick.
    command : TickGate
        Which gate.

    Returns
    -------
    JobView
        The job.

    Raises
    ------
    BadInput
        When there is no such gate.
    """
    if command.gate not in {one.key for one in GATES}:
        raise BadInput("gate", f"is {command.gate!r}; one of {', '.join(g.key for g in GATES)}")
    read_job(desk, command.job_id)
    payload = {
        "job": command.job_id,
        "gate": command.gate,
        "remark": text("remark", command.remark, need=False, longest=LONGEST_TEXT),
    }
    append(desk, [desk.draft("gate_ticked", [f"job/{command.job_id}"], payload)], {})
    return read_job(desk, command.job_id)
