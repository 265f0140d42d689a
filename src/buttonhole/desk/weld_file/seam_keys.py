"""The tables and keys of a weld file of a seam."""

from typing import Annotated

from pydantic import Field

from buttonhole.desk.weld_file.arc_keys import (
    ARC_HINTS,
    BACKINGS,
    MOST_READINGS,
    ArcEntry,
    ArcSheetEntry,
    ArcTime,
    ReadingEntry,
    one_of,
)
from buttonhole.desk.weld_file.around_keys import (
    AROUND_HINTS,
    AROUND_TABLES,
    CircumstancesEntry,
    Texts,
)
from buttonhole.desk.weld_file.entry import Entry, si
from buttonhole.desk.weld_file.faults import Form
from buttonhole.desk.weld_file.keys import ARC_PROCESSES, Gap
from buttonhole.weld.arc.seam.joint import JointKind

JOINTS = tuple(one.value for one in JointKind)

Length = Annotated[float, si("length", "40 mm", 10e-3, 120e-3, "10 to 120 mm")]
Speed = Annotated[float, si("travel_speed", "8 mm/s", 1e-3, 50e-3, "1 to 50 mm/s")]
WorkAngle = Annotated[float, si("angle", "45 deg", 0.349, 1.92, "20 to 110 deg, 90 is upright")]
TravelAngle = Annotated[float, si("angle", "10 deg", -0.873, 0.873, "-50 (drag) to 50 deg (push)")]
Aim = Annotated[float, si("length", "0 mm", -6e-3, 6e-3, "-6 to 6 mm from the joint")]
Opening = Annotated[float, si("length", "1 mm", 0.0, 3e-3, "0 to 3 mm")]
Side = Annotated[float, si("length", "40 mm", 8e-3, 0.3, "8 to 300 mm")]
Overlap = Annotated[float, si("length", "25 mm", 5e-3, 0.1, "5 to 100 mm")]
Overhang = Annotated[float, si("length", "15 mm", 0.0, 0.1, "0 to 100 mm")]
Stitch = Annotated[float, si("length", "10 mm", 1e-3, 120e-3, "1 to 120 mm")]
Space = Annotated[float, si("length", "15 mm", 0.0, 120e-3, "0 to 120 mm")]
Pause = Annotated[float, si("time", "5 s", 0.0, 600.0, "0 to 600 s")]


class SeamSetUpEntry(ArcEntry):
    travel_speed: Speed | None = None
    arc_time: ArcTime | None = None
    work_angle: WorkAngle
    travel_angle: TravelAngle = 0.0
    aim_offset: Aim = 0.0
    stitch_length: Stitch | None = None
    stitch_space: Space = 0.0
    stitch_pause: Pause = 0.0
    skip_order: list[int] | None = None
    skip_pause: Pause = 0.0


class SeamCouponEntry(Entry):
    width: Side = 40e-3
    overlap: Overlap = 25e-3
    overhang: Overhang = 15e-3
    backing: Annotated[str, one_of(*BACKINGS)] = "none"


class SeamEntry(Entry):
    process: Annotated[str, one_of(*ARC_PROCESSES)]
    joint: Annotated[str, one_of(*JOINTS)]
    length: Length
    sheet: list[ArcSheetEntry]
    gap: Gap = 0.0
    root_gap: Opening = 0.0
    set_up: SeamSetUpEntry
    coupon: SeamCouponEntry | None = None
    circumstances: CircumstancesEntry | None = None
    maker_text: Texts
    reading: Annotated[list[ReadingEntry], Field(max_length=MOST_READINGS, default_factory=list)]


SEAM_FORM = Form(
    name="a seam's file",
    tables={
        "": SeamEntry,
        "sheet": ArcSheetEntry,
        "set_up": SeamSetUpEntry,
        "coupon": SeamCouponEntry,
        **AROUND_TABLES,
        "reading": ReadingEntry,
    },
    hints={
        **ARC_HINTS,
        **AROUND_HINTS,
        "joint": "give joint = " + " or ".join(f'"{one}"' for one in JOINTS),
        "length": 'give the length of the seam, e.g. length = "40 mm"',
        "work_angle": 'give work_angle = "45 deg" for a lap aimed into the joint, 90 is upright',
        "skip_order": "give the parts in the order they are welded, e.g. skip_order = [1, 3, 2]",
        "coupon": "give the table [coupon] with width, overlap or overhang",
    },
)
