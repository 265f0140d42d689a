"""The keys of a weld file and what they become: a stack-up and a set-up."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from buttonhole.desk.rules import rule_named
from buttonhole.desk.weld_file.arc_keys import ArcSheetEntry
from buttonhole.desk.weld_file.condition_keys import condition_from
from buttonhole.desk.weld_file.faults import first_fault
from buttonhole.desk.weld_file.keys import (
    ARC_KEYS,
    ARC_PROCESSES,
    WELD_FORM,
    CriterionEntry,
    SetUpEntry,
    SheetEntry,
    WeldEntry,
)
from buttonhole.joint.coating import Coating
from buttonhole.joint.designation import sheet_as_printed
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.cycle import Point, check_point
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

LONGEST_WELD = 3.0  # s, all pulses with the pauses between them; wider than any printed schedule


@dataclass(frozen=True, slots=True)
class WeldFile:
    """One spot weld as described in a file: what is joined, how it is set, which size it needs."""

    stack: StackUp
    set_up: SpotSetUp
    minimum_rule: str | None = None
    points: tuple[Point, ...] = ()  # where the thermal cycle is wanted
    condition: SpotCondition = NORMAL


def weld_file_from(data: Mapping[str, Any]) -> WeldFile:
    """Turn the keys of a weld file, or of a JSON body with the same keys, into a weld.

    Parameters
    ----------
    data : mapping
        Tables and values as read; quantities are texts with their unit.

    Returns
    -------
    WeldFile
        The weld in SI units.

    Raises
    ------
    BadInput
        The first thing that is wrong; its key names the table and the value.
    """
    _refuse_arc_welds(data)
    try:
        entries = WeldEntry.model_validate(data)
    except ValidationError as error:
        raise first_fault(error, WELD_FORM) from None  # pydantic's own text runs over many lines
    stack = stack_of(entries.sheet, entries.gap)
    points = tuple(Point(one.radius, one.depth) for one in entries.cycle)
    for point in points:
        check_point(point, stack.total_thickness)
    set_up = _set_up(entries.set_up)
    condition = condition_from(entries.condition, stack, set_up.current_type)
    return WeldFile(stack, set_up, _minimum_rule(entries.criterion), points, condition)


def _refuse_arc_welds(data: Mapping[str, Any]) -> None:
    process = data.get("process")
    if process in ARC_PROCESSES:
        raise BadInput(
            "process",
            f'is "{process}"; this is done for spot welds only, give a file with '
            'process = "spot", or use `buttonhole predict` for an arc weld',
        )
    set_up = data.get("set_up")
    tables = {"": data, "set_up ": set_up if isinstance(set_up, Mapping) else {}}
    for prefix, table in tables.items():
        for key in table:
            if key in ARC_KEYS:
                raise BadInput(
                    f"{prefix}{key}",
                    'belongs to a plug weld or a seam; give process = "plug" or "seam" above, or '
                    "leave it out for a spot weld",
                )


def stack_of(entries: Sequence[SheetEntry | ArcSheetEntry], gap: float, most: int = 4) -> StackUp:
    """The sheets of a file as a stack-up; `gap` [m], `most` sheets."""
    count = len(entries)
    if not 2 <= count <= most:
        noun = "sheet" if count == 1 else "sheets"
        raise BadInput("sheet", f"describes {count} {noun}; give 2 to {most} [[sheet]] tables")
    sheets = []
    for number, entry in enumerate(entries, start=1):
        try:
            steel, coating = sheet_as_printed(entry.steel or "", Coating(entry.coating))
            sheets.append(Sheet(steel, entry.thickness, coating))
        except BadInput as bad:
            raise BadInput(f"sheet {number} {bad.key}", bad.message) from bad
    return StackUp(tuple(sheets), gap)


def _set_up(entry: SetUpEntry) -> SpotSetUp:
    cap_a = _cap(entry.electrode_face, entry.electrode_radius, entry.electrode_body, "")
    cap_b = cap_a
    if not (entry.electrode_face_b is None and entry.electrode_radius_b is None):
        body = entry.electrode_body if entry.electrode_body_b is None else entry.electrode_body_b
        cap_b = _cap(entry.electrode_face_b, entry.electrode_radius_b, body, "_b")
    elif entry.electrode_body_b is not None:
        raise BadInput(
            "set_up electrode_body_b",
            "is given without a face; give electrode_face_b or electrode_radius_b with it",
        )
    return SpotSetUp(
        pulses=_pulses(entry),
        current_type=CurrentType(entry.current_type),
        electrode_force=entry.electrode_force,
        cap_a=cap_a,
        cap_b=cap_b,
        squeeze_time=entry.squeeze_time,
        hold_time=entry.hold_time,
    )


def _cap(face: float | None, radius: float | None, body: float, side: str) -> ElectrodeCap:
    if face is None and radius is None:
        raise BadInput(
            "set_up electrode_face",
            'is missing; give electrode_face = "6 mm" for a flat cap, electrode_radius = "50 mm" '
            "for a dome, both for a radiused cap",
        )
    if face is not None and face > body:
        raise BadInput(
            f"set_up electrode_face{side}",
            f"is {face * 1e3:g} mm on a cap of {body * 1e3:g} mm; give a face that fits on the cap "
            f"or its own electrode_body{side}",
        )
    if radius is not None and radius < body / 2:
        raise BadInput(
            f"set_up electrode_radius{side}",
            f"is {radius * 1e3:g} mm on a cap of {body * 1e3:g} mm; give at least half the cap",
        )
    return ElectrodeCap(face, radius, body)


def _pulses(entry: SetUpEntry) -> tuple[Pulse, ...]:
    if not entry.pulse:
        return (_single_pulse(entry),)
    for key in ("weld_time", "slope", "down_slope"):
        if getattr(entry, key):
            raise BadInput(
                f"set_up {key}",
                "is given beside [[set_up.pulse]]; give the time of each pulse there and leave "
                "this out",
            )
    if entry.welding_current is not None and all(one.current for one in entry.pulse):
        raise BadInput(
            "set_up welding_current",
            "is given although each pulse has its current; leave one of the two out",
        )
    pulses = []
    for number, one in enumerate(entry.pulse, start=1):
        current = one.current or entry.welding_current
        key = f"set_up pulse {number}"
        if current is None:
            raise BadInput(f"{key} current", 'is missing; give the rms current, e.g. "8.5 kA"')
        _check_slopes(one.slope, one.down_slope, one.time, key + " slope")
        pulses.append(Pulse(current, one.time, one.cool, one.slope, one.down_slope))
    if sum(one.time + one.cool_time for one in pulses) > LONGEST_WELD:
        raise BadInput(
            "set_up pulse",
            f"last longer than {LONGEST_WELD:g} s together; give the pulses of one weld",
        )
    return tuple(pulses)


def _single_pulse(entry: SetUpEntry) -> Pulse:
    if entry.welding_current is None:
        raise BadInput("set_up welding_current", 'is missing; give the rms current, e.g. "8.5 kA"')
    if entry.weld_time is None:
        raise BadInput(
            "set_up weld_time",
            'is missing; give the time the current flows, e.g. "160 ms", or [[set_up.pulse]]',
        )
    _check_slopes(entry.slope, entry.down_slope, entry.weld_time, "set_up slope")
    return Pulse(entry.welding_current, entry.weld_time, 0.0, entry.slope, entry.down_slope)


def _check_slopes(up: float, down: float, time: float, key: str) -> None:
    if up + down > time:
        raise BadInput(
            key,
            f"is {(up + down) * 1e3:g} ms up and down together, longer than the pulse of "
            f"{time * 1e3:g} ms; give slopes that fit inside the pulse",
        )


def _minimum_rule(entry: CriterionEntry | None) -> str | None:
    if entry is None:
        return None
    try:
        return rule_named(entry.minimum_rule.strip()).key
    except BadInput as bad:
        raise BadInput("criterion minimum_rule", bad.message) from bad
