"""Open a job for a vehicle, tell what is known of it, and sign what is made safe."""

import re
from dataclasses import dataclass

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_job
from buttonhole.desk.saving import append
from buttonhole.desk.view import JobView
from buttonhole.units import BadInput
from buttonhole.vehicle.safety import Answer, Asks, Powertrain, find_gate
from buttonhole.vehicle.vin import read_vin

TIME_OF_DAY = re.compile(r"([01]?[0-9]|2[0-3])[:.h]([0-5][0-9])")
LONGEST_WAIT = 240.0  # min
REPAIRS = ("", "yes", "no")


@dataclass(frozen=True, slots=True)
class OpenJob:
    """A vehicle and what is to be done on it; the VIN may be left out, for training say.

    ``earlier_repair`` is yes, no, or empty when nobody looked.
    """

    title: str
    vehicle: str
    vin: str = ""
    area: str = ""
    demo: bool = False
    powertrain: Powertrain = Powertrain.UNKNOWN
    earlier_repair: str = ""


@dataclass(frozen=True, slots=True)
class TellIntake:
    """What is known of the vehicle by now; all of it again."""

    job_id: str
    vin: str
    powertrain: Powertrain
    earlier_repair: str = ""


@dataclass(frozen=True, slots=True)
class TickGate:
    """One gate a person signs for.

    ``who`` made it safe where that is another person, ``when`` at which time of day, with the
    maker's waiting time ``wait_minutes`` [min] after it, where the gate asks for them.
    """

    job_id: str
    gate: str
    remark: str = ""
    answer: Answer | None = None
    who: str = ""
    when: str = ""
    wait_minutes: float | None = None


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
        The job; ``vin_remarks`` says what is remarkable about its VIN.

    Raises
    ------
    BadInput
        When a name is missing, or the VIN is none.
    """
    vin = _vin(command.vin)
    job_id = desk.new_id()
    payload = {
        "job": job_id,
        "title": text("title", command.title),
        "vehicle": text("vehicle", command.vehicle),
        "vin": vin,
        "area": text("area", command.area, need=False),
        "demo": command.demo,
        "powertrain": command.powertrain,
        "earlier_repair": _repair(command.earlier_repair),
    }
    about = [f"job/{job_id}"] + ([f"vin/{vin}"] if vin else [])
    append(desk, [desk.draft("job_opened", about, payload)], {f"job/{job_id}": None})
    return read_job(desk, job_id)


def tell_intake(desk: Desk, command: TellIntake) -> JobView:
    """
    Tell what is known of the vehicle by now. Which gates apply may change with it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : TellIntake
        What is known.

    Returns
    -------
    JobView
        The job.

    Raises
    ------
    BadInput
        When the VIN is none.
    """
    read_job(desk, command.job_id)
    vin = _vin(command.vin)
    payload = {
        "job": command.job_id,
        "vin": vin,
        "powertrain": command.powertrain,
        "earlier_repair": _repair(command.earlier_repair),
    }
    about = [f"job/{command.job_id}"] + ([f"vin/{vin}"] if vin else [])
    append(desk, [desk.draft("intake_told", about, payload)], {})
    return read_job(desk, command.job_id)


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
        When there is no such gate, or what it asks beside is none. Where people are cleared for
        magnetic fields, anything but cleared or not cleared is refused: their health is theirs.
    """
    gate = find_gate(command.gate)
    read_job(desk, command.job_id)
    usual = Answer.CLEARED if gate.private else Answer.DONE
    answer = command.answer or usual
    allowed = (
        (Answer.CLEARED, Answer.NOT_CLEARED) if gate.private else (Answer.DONE, Answer.NOT_NEEDED)
    )
    if answer not in allowed:
        raise BadInput("answer", f"is {answer.value}; give {' or '.join(allowed)}")
    if gate.private and (command.remark.strip() or command.who.strip()):
        raise BadInput(
            "remark", "is not kept here; only cleared or not cleared is, nobody's reasons"
        )
    if answer is Answer.NOT_NEEDED and not command.remark.strip():
        raise BadInput("remark", "is empty; say why it is not needed here")
    payload = {
        "job": command.job_id,
        "gate": gate.key,
        "remark": text("remark", command.remark, need=False, longest=LONGEST_TEXT),
        "answer": answer,
        "who": text("who", command.who, need=False) if Asks.WHO in gate.asks else "",
        "when": _time_of_day(command.when) if Asks.WHEN in gate.asks else "",
        "wait_minutes": _wait(command.wait_minutes) if Asks.WAIT in gate.asks else None,
    }
    append(desk, [desk.draft("gate_ticked", [f"job/{command.job_id}"], payload)], {})
    return read_job(desk, command.job_id)


def _vin(given: str) -> str:
    typed = text("vin", given, need=False)
    return read_vin(typed).text if typed else ""


def _repair(given: str) -> str:
    if given not in REPAIRS:
        raise BadInput("earlier_repair", f"is {given!r}; say yes or no, or leave it out")
    return given


def _time_of_day(given: str) -> str:
    typed = given.strip()
    if not typed:
        return ""
    found = TIME_OF_DAY.fullmatch(typed)
    if not found:
        raise BadInput("when", f"is {typed[:20]!r}; give the time of day, for example 9:40")
    return f"{int(found[1]):02d}:{found[2]}"


def _wait(minutes: float | None) -> float | None:
    if minutes is None:
        return None
    if not 0.0 <= minutes <= LONGEST_WAIT:  # also catches NaN
        raise BadInput("wait", f"is {minutes:g} min; give the maker's waiting time, 0 to 240 min")
    return minutes
