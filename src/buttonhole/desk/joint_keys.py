"""The tables and keys of a joint file."""

from typing import Annotated

from pydantic import BeforeValidator

from buttonhole.desk.weld_file.around_keys import (
    AROUND_HINTS,
    AROUND_TABLES,
    CircumstancesEntry,
    Texts,
    one_of_enum,
    refuse,
    text,
)
from buttonhole.desk.weld_file.entry import Entry
from buttonhole.desk.weld_file.faults import Form
from buttonhole.desk.weld_file.keys import Gap, Thickness
from buttonhole.desk.weld_file.values import kind_of
from buttonhole.joint.coating import Coating
from buttonhole.joint.hints import Magnet


def _hardness(value: object) -> float:
    number, _, unit = str(value).strip().partition(" ")
    try:
        found = float(number.replace(",", "."))
    except ValueError:
        found = -1.0
    if not isinstance(value, str) or unit.strip().upper()[:2] != "HV" or not 80 <= found <= 650:
        raise refuse(f'{kind_of(value)}; give the hardness measured, e.g. "180 HV", 80 to 650 HV')
    return found


class JoinedSheetEntry(Entry):
    steel: Annotated[str | None, text("DC04")] = None
    alloy: Annotated[str | None, text("EN AW-6016")] = None
    thickness: Thickness
    coating: Annotated[str, one_of_enum(Coating)] = Coating.UNKNOWN.value
    hardness: Annotated[float | None, BeforeValidator(_hardness)] = None
    magnet: Annotated[str | None, one_of_enum(Magnet)] = None


class JointEntry(Entry):
    sheet: list[JoinedSheetEntry]
    gap: Gap = 0.0
    circumstances: CircumstancesEntry | None = None
    maker_text: Texts


JOINT_FORM = Form(
    name="a joint file",
    tables={"": JointEntry, "sheet": JoinedSheetEntry, **AROUND_TABLES},
    hints={
        "sheet": "give one [[sheet]] table, with two brackets, for each sheet from side A to B",
        "steel": 'give the designation as printed, e.g. steel = "DC04", or "unknown"',
        "alloy": 'give the aluminium alloy, e.g. alloy = "EN AW-6016", or "unknown"',
        "thickness": 'give the measured thickness, e.g. thickness = "0.8 mm"',
        **AROUND_HINTS,
    },
)
