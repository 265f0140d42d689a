"""The keys of a plug weld's file and what they become: a joint and a set-up."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from buttonhole.desk.weld_file.arc_keys import (
    BACKINGS,
    PLUG_FORM,
    DrilledSheetEntry,
    PlugEntry,
)
from buttonhole.desk.weld_file.faults import first_fault
from buttonhole.desk.weld_file.keys import ARC_PROCESSES
from buttonhole.desk.weld_file.process import Reading, law_from, readings_of, wire_and_gas
from buttonhole.desk.weld_file.schema import stack_of
from buttonhole.desk.weld_file.seam_schema import SeamWeldFile, seam_file_from
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.plug.alloy_stack import AlloySheet, AlloyStack
from buttonhole.weld.arc.plug.joint import MOST_SHEETS, PlugJoint, TorchPath
from buttonhole.weld.arc.set_up import ArcSetUp, Polarity, Position


@dataclass(frozen=True, slots=True)
class PlugWeldFile:
    """One plug weld as described in a file; ``piece`` [m] where the coupon is."""

    joint: PlugJoint
    set_up: ArcSetUp
    piece: tuple[float, float] | None = None  # m, width and length of the coupon, if given
    readings: tuple[Reading, ...] = ()  # what the machine displayed
    law: MeltingLaw | None = None  # what they teach


def is_arc_weld(data: Mapping[str, Any]) -> bool:
    """Whether the keys say they are of an arc weld."""
    process = data.get("process")
    return isinstance(process, str) and process.strip().casefold() in ARC_PROCESSES


def arc_weld_file_from(data: Mapping[str, Any]) -> PlugWeldFile | SeamWeldFile:
    """Turn the keys of an arc weld's file, or of a JSON body with the same keys, into a weld.

    Parameters
    ----------
    data : mapping
        Tables and values as read; quantities are texts with their unit.

    Returns
    -------
    PlugWeldFile or SeamWeldFile
        The weld in SI units.

    Raises
    ------
    BadInput
        The first thing that is wrong; its key names the table and the value.
    """
    process = str(data.get("process", "")).strip().casefold()
    if process == "seam" or (process != "plug" and "joint" in data):
        return seam_file_from(data, process)
    return _plug(data, process)


def _plug(data: Mapping[str, Any], process: str) -> PlugWeldFile:
    try:
        entries = PlugEntry.model_validate(data)
    except ValidationError as error:
        raise first_fault(error, PLUG_FORM) from None  # pydantic's own text runs over many lines
    stack = _stack(entries.sheet, entries.gap)
    holes = _holes(entries.sheet)
    entry, coupon = entries.set_up, entries.coupon
    wire, gas = wire_and_gas(entry, process)
    try:
        joint = PlugJoint(stack, holes, TorchPath(entry.torch_path))
        if coupon is not None:
            radius = math.sqrt(coupon.width * coupon.length / math.pi)
            path, film = TorchPath(entry.torch_path), BACKINGS[coupon.backing]
            joint = PlugJoint(stack, holes, path, radius, film)
    except BadInput as bad:
        raise _placed(bad) from bad
    try:
        set_up = ArcSetUp(
            wire=wire,
            wire_diameter=entry.wire_diameter,
            gas=gas,
            wire_feed_speed=entry.wire_feed_speed,
            arc_voltage=entry.arc_voltage,
            contact_tube_distance=entry.contact_tube_distance,
            arc_time=entry.arc_time,
            polarity=Polarity(entry.polarity),
            position=Position(entry.position),
            gas_flow=entry.gas_flow,
        )
    except BadInput as bad:
        raise BadInput(f"set_up {bad.key}", bad.message) from bad
    piece = None if coupon is None else (coupon.width, coupon.length)
    readings = readings_of(entries.reading)
    return PlugWeldFile(
        joint, set_up, piece, readings, law_from(readings, wire, entry.wire_diameter)
    )


def _stack(entries: list[DrilledSheetEntry], gap: float) -> StackUp | AlloyStack:
    """Sheets of the file; `gap` [m]."""
    for number, entry in enumerate(entries, start=1):
        entry.check(number)
    alloys = [entry for entry in entries if entry.alloy is not None]
    if not alloys:
        return stack_of(entries, gap, MOST_SHEETS)
    if len(alloys) < len(entries):
        raise BadInput(
            "sheet", "mixes steel and aluminium; an arc does not join them, ask the maker"
        )
    if not 2 <= len(entries) <= MOST_SHEETS:
        raise BadInput(
            "sheet", f"describes {len(entries)}; give 2 to {MOST_SHEETS} [[sheet]] tables"
        )
    sheets = []
    for number, entry in enumerate(entries, start=1):
        try:
            sheets.append(AlloySheet(entry.alloy or "", entry.thickness))
        except BadInput as bad:
            raise BadInput(f"sheet {number} {bad.key}", bad.message) from bad
    return AlloyStack(tuple(sheets), gap)


def _holes(sheets: list[DrilledSheetEntry]) -> tuple[float, ...]:
    if sheets[0].hole_diameter is None:
        raise BadInput(
            "sheet 1 hole_diameter",
            'is missing; give the hole the plug is welded in, e.g. hole_diameter = "8 mm", or '
            '"0 mm" for an arc spot that burns through',
        )
    if sheets[-1].hole_diameter:
        raise BadInput(
            f"sheet {len(sheets)} hole_diameter",
            "is given for the last sheet; the plug is welded on to it, leave its hole out",
        )
    return tuple(one.hole_diameter or 0.0 for one in sheets[:-1])


def _placed(bad: BadInput) -> BadInput:
    """A refusal of the joint under the key it has in the file."""
    if bad.key == "piece_radius":
        return BadInput(
            "coupon width", "and length make a piece that can't be computed; give 40 to 300 mm"
        )
    return BadInput(f"sheet {bad.key}" if bad.key == "hole_diameter" else bad.key, bad.message)
