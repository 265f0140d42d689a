"""The keys of a seam's file and what they become: a joint, a set-up and runs."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from buttonhole.desk.weld_file.arc_keys import BACKINGS, ArcSheetEntry
from buttonhole.desk.weld_file.faults import first_fault
from buttonhole.desk.weld_file.process import Reading, law_from, readings_of, wire_and_gas
from buttonhole.desk.weld_file.seam_keys import (
    SEAM_FORM,
    SeamCouponEntry,
    SeamEntry,
    SeamSetUpEntry,
)
from buttonhole.joint.coating import Coating
from buttonhole.joint.designation import sheet_as_printed
from buttonhole.joint.sheet import Sheet
from buttonhole.units import BadInput
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.seam.joint import (
    BackingBar,
    JointKind,
    SeamJoint,
    SeamSheet,
    aluminium_sheet,
)
from buttonhole.weld.arc.seam.set_up import Run, skip, stitches
from buttonhole.weld.arc.set_up import ArcSetUp, Polarity, Position

SHORTEST_PART = 3e-3  # m, of a seam welded in parts; common practice, no source


@dataclass(frozen=True, slots=True)
class SeamWeldFile:
    """One seam as described in a file; ``runs`` is None where it is welded in one go.

    ``stitch`` [m, m, s]: length, space and pause of the stitches that make the runs.
    """

    joint: SeamJoint
    set_up: ArcSetUp
    coatings: tuple[Coating, ...]
    runs: tuple[Run, ...] | None = None
    stitch: tuple[float, float, float] | None = None  # m, m, s: length, space, pause
    readings: tuple[Reading, ...] = ()  # what the machine displayed
    law: MeltingLaw | None = None  # what they teach


def seam_file_from(data: Mapping[str, Any], process: str) -> SeamWeldFile:
    """Turn the keys of a seam's file into a weld; ``process`` as the file calls it.

    Raises
    ------
    BadInput
        The first thing that is wrong; its key names the table and the value.
    """
    try:
        entries = SeamEntry.model_validate(data)
    except ValidationError as error:
        raise first_fault(error, SEAM_FORM) from None  # pydantic's own text runs over many lines
    sheets = [_sheet(one, number) for number, one in enumerate(entries.sheet, start=1)]
    joint = _joint(entries, sheets)
    set_up = _set_up(entries.set_up, process)
    coatings = tuple(
        sheet_as_printed(one.steel, Coating(one.coating))[1]
        for one in entries.sheet
        if one.steel is not None
    )
    entry, stitch = entries.set_up, None
    if entry.stitch_length is not None:
        stitch = entry.stitch_length, entry.stitch_space, entry.stitch_pause
    readings = readings_of(entries.reading)
    law = law_from(readings, set_up.wire, set_up.wire_diameter)
    runs = _runs(entry, joint, set_up)
    return SeamWeldFile(joint, set_up, coatings, runs, stitch, readings, law)


def _sheet(entry: ArcSheetEntry, number: int) -> SeamSheet:
    entry.check(number)
    try:
        if entry.alloy is not None:
            return aluminium_sheet(entry.alloy, entry.thickness)
        steel, coating = sheet_as_printed(entry.steel or "", Coating(entry.coating))
        return SeamSheet.of_steel(Sheet(steel, entry.thickness, coating))
    except BadInput as bad:
        raise BadInput(f"sheet {number} {bad.key}", bad.message) from bad


def _joint(entries: SeamEntry, sheets: list[SeamSheet]) -> SeamJoint:
    kind, most = JointKind(entries.joint), 2 if entries.joint == JointKind.LAP.value else 3
    if not 2 <= len(sheets) <= most:
        right = (
            "the upper sheet, then the lower one"
            if kind is JointKind.LAP
            else "the sheets that meet (one where both are alike), then the backing strip"
        )
        raise BadInput("sheet", f"describes {len(sheets)}; give {right}")
    coupon = entries.coupon or SeamCouponEntry()
    film = BACKINGS[coupon.backing]
    return SeamJoint(
        kind=kind,
        upper=sheets[0],
        lower=sheets[-1],
        length=entries.length,
        right=sheets[1] if len(sheets) == 3 else None,
        gap=entries.gap,
        root_opening=entries.root_gap,
        bar=BackingBar(film) if film > 0.0 else None,
        width=coupon.width,
        overlap=coupon.overlap,
        overhang=coupon.overhang,
    )


def _set_up(entry: SeamSetUpEntry, process: str) -> ArcSetUp:
    if (entry.travel_speed is None) == (entry.arc_time is None):
        raise BadInput(
            "set_up travel_speed",
            'is missing, or stands beside arc_time; give travel_speed = "8 mm/s", or the arc_time '
            "the whole seam took",
        )
    wire, gas = wire_and_gas(entry, process)
    return ArcSetUp(
        wire=wire,
        wire_diameter=entry.wire_diameter,
        gas=gas,
        wire_feed_speed=entry.wire_feed_speed,
        arc_voltage=entry.arc_voltage,
        contact_tube_distance=entry.contact_tube_distance,
        arc_time=entry.arc_time,
        travel_speed=entry.travel_speed,
        work_angle=entry.work_angle,
        travel_angle=entry.travel_angle,
        aim_offset=entry.aim_offset,
        polarity=Polarity(entry.polarity),
        position=Position(entry.position),
        gas_flow=entry.gas_flow,
    )


def _runs(entry: SeamSetUpEntry, joint: SeamJoint, set_up: ArcSetUp) -> tuple[Run, ...] | None:
    if entry.skip_order is not None:
        return _skipped(entry, joint, set_up)
    if entry.skip_pause:
        raise BadInput("set_up skip_order", "is missing beside skip_pause; give e.g. [1, 3, 2]")
    if entry.stitch_length is None:
        if entry.stitch_space or entry.stitch_pause:
            raise BadInput(
                "set_up stitch_length", 'is missing beside the other stitches; give e.g. "10 mm"'
            )
        return None
    if entry.stitch_length > joint.length:
        raise BadInput(
            "set_up stitch_length",
            f"is {entry.stitch_length * 1e3:g} mm, longer than the seam of "
            f"{joint.length * 1e3:g} mm; give a shorter one",
        )
    return stitches(
        joint.length,
        entry.stitch_length,
        entry.stitch_space,
        _travel(set_up, "stitches"),
        entry.stitch_pause,
    )


def _skipped(entry: SeamSetUpEntry, joint: SeamJoint, set_up: ArcSetUp) -> tuple[Run, ...]:
    """Parts of a seam in the order of the file, which counts from 1."""
    order = entry.skip_order or []
    if entry.stitch_length is not None:
        raise BadInput("set_up skip_order", "stands beside stitch_length; give one of them")
    least, shown = SHORTEST_PART, str(order)[:60]
    if sorted(order) != list(range(1, len(order) + 1)) or not order:
        raise BadInput(
            "set_up skip_order", f"is {shown}; name each part once, counted from 1, e.g. [1, 3, 2]"
        )
    if joint.length / len(order) < least:
        raise BadInput(
            "set_up skip_order",
            f"makes parts shorter than {least * 1e3:g} mm; give at most "
            f"{int(joint.length / least)} parts",
        )
    places = [number - 1 for number in order]
    return skip(joint.length, places, _travel(set_up, "parts"), entry.skip_pause)


def _travel(set_up: ArcSetUp, of: str) -> float:
    if set_up.travel_speed is None:
        raise BadInput("set_up travel_speed", f"is missing; {of} need it, not the arc_time")
    return set_up.travel_speed
