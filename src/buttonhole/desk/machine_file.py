"""What a spot welding machine can do, from a TOML file."""

from functools import partial
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

from buttonhole.desk.weld_file.faults import Form, first_fault
from buttonhole.desk.weld_file.keys import Body, Current, Face, Force, Radius
from buttonhole.desk.weld_file.read import named_file, read_toml
from buttonhole.desk.weld_file.values import choice, quantity, short_text
from buttonhole.procedure.machine import ArmPair, SpotMachine
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap

Name = Annotated[str, BeforeValidator(partial(short_text, example="Gun A"))]
Depth = Annotated[
    float,
    BeforeValidator(
        partial(quantity, kind="length", example="250 mm", low=0.02, high=3.0, span="20 to 3000 mm")
    ),
]
CurrentTypeName = Annotated[str, BeforeValidator(partial(choice, allowed=tuple(CurrentType)))]


class _Entry(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class _CapEntry(_Entry):
    face: Face | None = None
    radius: Radius | None = None
    body: Body = 16e-3


class _ArmPairEntry(_Entry):
    name: Name
    throat_depth: Depth
    force_max: Force
    current_max: Current | None = None


class _MachineEntry(_Entry):
    name: Name
    current_min: Current
    current_max: Current
    force_min: Force
    force_max: Force
    current_types: Annotated[list[CurrentTypeName], Field(max_length=3)]
    mains: Name | None = None
    program_version: Name | None = None
    cap: Annotated[list[_CapEntry], Field(max_length=12)]
    arm_pair: Annotated[list[_ArmPairEntry], Field(max_length=12)] = []


_FORM = Form(
    name="a machine file",
    tables={"": _MachineEntry, "cap": _CapEntry, "arm_pair": _ArmPairEntry},
    hints={
        "name": 'give what the shop calls it, e.g. name = "Gun A"',
        "current_min": 'give the smallest current it can be set to, e.g. "2 kA"',
        "current_max": 'give the largest current it can be set to, e.g. "13 kA"',
        "force_min": 'give the smallest force it can be set to, e.g. "1 kN"',
        "force_max": 'give the largest force it can be set to, e.g. "4.5 kN"',
        "current_types": 'give a list of one or more of "MFDC", "AC50", "AC60"',
        "cap": "give one [[cap]] table, with two brackets, for each electrode cap of the shop",
        "arm_pair": "give one [[arm_pair]] table, with two brackets, for each pair of arms",
        "throat_depth": 'give the depth of the throat, e.g. throat_depth = "250 mm"',
    },
)


def read_machine_file(path: str | Path) -> SpotMachine:
    """Read what a machine can do.

    Parameters
    ----------
    path : str or Path
        A TOML file; see the folder ``examples``.

    Returns
    -------
    SpotMachine
        Its limits in SI units.

    Raises
    ------
    BadFile
        The file can't be read or a value is none; names the file and the key.
    """
    data = read_toml(path, what="a machine file")
    with named_file(path):
        return machine_from(data)


def machine_from(data: dict[str, Any]) -> SpotMachine:
    """Turn the keys of a machine file into a machine.

    Parameters
    ----------
    data : dict
        Tables and values as read; quantities are texts with their unit.

    Returns
    -------
    SpotMachine
        Its limits in SI units.

    Raises
    ------
    BadInput
        The first thing that is wrong.
    """
    try:
        entry = _MachineEntry.model_validate(data)
    except ValidationError as error:
        raise first_fault(error, _FORM) from None  # pydantic's own text runs over many lines
    for number, cap in enumerate(entry.cap, start=1):
        if cap.face is None and cap.radius is None:
            raise BadInput(f"cap {number} face", 'is missing; give face = "6 mm", radius, or both')
    return SpotMachine(
        name=entry.name.strip(),
        current_min=entry.current_min,
        current_max=entry.current_max,
        force_min=entry.force_min,
        force_max=entry.force_max,
        current_types=tuple(CurrentType(one) for one in entry.current_types),
        caps=tuple(ElectrodeCap(one.face, one.radius, one.body) for one in entry.cap),
        arm_pairs=tuple(
            ArmPair(one.name, one.throat_depth, one.force_max, one.current_max)
            for one in entry.arm_pair
        ),
        mains=entry.mains or "",
        program_version=entry.program_version or "",
    )
