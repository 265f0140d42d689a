"""The tables and keys of a weld file."""

from functools import partial
from typing import Annotated

from pydantic import BeforeValidator, Field

from buttonhole.desk.weld_file.around_keys import (
    AROUND_HINTS,
    AROUND_TABLES,
    CircumstancesEntry,
    Texts,
)
from buttonhole.desk.weld_file.condition_keys import CONDITION_HINTS, ConditionEntry
from buttonhole.desk.weld_file.entry import Entry, si
from buttonhole.desk.weld_file.faults import Form
from buttonhole.desk.weld_file.values import choice, short_text
from buttonhole.joint.coating import Coating
from buttonhole.weld.spot.cycle import MAX_POINTS
from buttonhole.weld.spot.set_up import CurrentType

ARC_PROCESSES = ("plug", "seam", "135", "131", "973")  # the numbers are those of ISO 4063
ARC_KEYS = frozenset(
    [
        "hole_diameter",
        "wire_diameter",
        "wire",
        "gas",
        "wire_feed_speed",
        "arc_voltage",
        "contact_tube_distance",
        "arc_time",
        "torch_path",
        "position",
        "joint",
        "length",
        "travel_speed",
        "work_angle",
        "travel_angle",
        "aim_offset",
        "root_gap",
        "backing",
    ]
)
MAX_PULSES = 10
EXAMPLE_RULE = "4.5-root-t"


# The ranges say what the model may be asked, wider than any machine for car bodies; the sheet
# itself refuses thicknesses.
Thickness = Annotated[
    float, si("length", "0.8 mm", 1e-9, 1.0, "the measured sheet thickness, 0.2 to 6 mm")
]
Current = Annotated[float, si("current", "8.5 kA", 100.0, 40e3, "0.1 to 40 kA rms")]
Force = Annotated[float, si("force", "2.2 kN", 100.0, 30e3, "0.1 to 30 kN")]
Face = Annotated[float, si("length", "6 mm", 1.5e-3, 20e-3, "1.5 to 20 mm")]
Radius = Annotated[float, si("length", "50 mm", 3e-3, 1.0, "3 to 1000 mm")]
Body = Annotated[float, si("length", "16 mm", 5e-3, 40e-3, "5 to 40 mm")]
Gap = Annotated[float, si("length", "0.3 mm", 0.0, 5e-3, "0 to 5 mm")]
PointRadius = Annotated[float, si("length", "2 mm", 0.0, 16e-3, "0 (the weld axis) to 16 mm")]
PointDepth = Annotated[
    float,
    si("length", "0.4 mm", 0.0, 30e-3, "0 (the face on side A) to the thickness of all sheets"),
]
WeldTime = Annotated[float, si("time", "160 ms", 1e-3, 3.0, "1 to 3000 ms")]
RestTime = Annotated[float, si("time", "160 ms", 0.0, 5.0, "0 to 5000 ms")]


class SheetEntry(Entry):
    steel: Annotated[str, BeforeValidator(partial(short_text, example="DC04"))]
    thickness: Thickness
    coating: Annotated[
        str, BeforeValidator(partial(choice, allowed=tuple(one.value for one in Coating)))
    ] = Coating.UNKNOWN.value


class PulseEntry(Entry):
    current: Current | None = None
    time: WeldTime
    cool: RestTime = 0.0
    slope: RestTime = 0.0
    down_slope: RestTime = 0.0


class SetUpEntry(Entry):
    welding_current: Current | None = None
    current_type: Annotated[
        str, BeforeValidator(partial(choice, allowed=tuple(one.value for one in CurrentType)))
    ]
    electrode_force: Force
    electrode_face: Face | None = None
    electrode_radius: Radius | None = None
    electrode_body: Body = 16e-3
    electrode_face_b: Face | None = None
    electrode_radius_b: Radius | None = None
    electrode_body_b: Body | None = None
    squeeze_time: RestTime
    weld_time: WeldTime | None = None
    slope: RestTime = 0.0
    down_slope: RestTime = 0.0
    hold_time: RestTime
    pulse: Annotated[list[PulseEntry], Field(max_length=MAX_PULSES, default_factory=list)]


class CriterionEntry(Entry):
    minimum_rule: Annotated[str, BeforeValidator(partial(short_text, example=EXAMPLE_RULE))]


class CycleEntry(Entry):
    radius: PointRadius
    depth: PointDepth


class WeldEntry(Entry):
    process: Annotated[str, BeforeValidator(partial(choice, allowed=("spot", *ARC_PROCESSES)))]
    sheet: list[SheetEntry]
    gap: Gap = 0.0
    set_up: SetUpEntry
    criterion: CriterionEntry | None = None
    cycle: Annotated[list[CycleEntry], Field(max_length=MAX_POINTS, default_factory=list)]
    condition: ConditionEntry | None = None
    circumstances: CircumstancesEntry | None = None  # these two: for the way of joining
    maker_text: Texts


WELD_FORM = Form(
    name="a weld file",
    tables={
        "": WeldEntry,
        "sheet": SheetEntry,
        "set_up": SetUpEntry,
        "pulse": PulseEntry,
        "criterion": CriterionEntry,
        "cycle": CycleEntry,
        "condition": ConditionEntry,
        **AROUND_TABLES,
    },
    hints={
        "process": 'give process = "spot"',
        "sheet": "give one [[sheet]] table, with two brackets, for each sheet from side A to B",
        "steel": 'give the designation as printed, e.g. steel = "DC04", or "unknown"',
        "thickness": 'give the measured thickness, e.g. thickness = "0.8 mm"',
        "set_up": "give the table [set_up] with welding_current and the other settings",
        "current_type": "give one of " + ", ".join(one.value for one in CurrentType),
        "electrode_force": 'give electrode_force = "2.2 kN" or what your machine shows',
        "squeeze_time": 'give squeeze_time = "300 ms" or what your machine shows',
        "hold_time": 'give hold_time = "160 ms" or what your machine shows',
        "pulse": "give one [[set_up.pulse]] table, with two brackets, for each of up to 10 pulses",
        "time": 'give the time of this pulse, e.g. time = "100 ms"',
        "cycle": "give one [[cycle]] table, with two brackets, for each of up to 20 points",
        "radius": 'give how far from the weld axis, e.g. radius = "2 mm"',
        "depth": 'give how far below the face on side A, e.g. depth = "0.4 mm"',
        **CONDITION_HINTS,
        **AROUND_HINTS,
        "criterion": "give the table [criterion] with minimum_rule",
        "minimum_rule": 'give the key of a rule, e.g. minimum_rule = "4.5-root-t"',
    },
)
