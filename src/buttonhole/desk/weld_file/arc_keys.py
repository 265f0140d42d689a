"""The tables and keys of a weld file of a plug, and what seams share with it."""

from collections.abc import Callable
from functools import partial
from typing import Annotated

from pydantic import BeforeValidator, Field

from buttonhole.desk.weld_file.around_keys import (
    AROUND_HINTS,
    AROUND_TABLES,
    CircumstancesEntry,
    Texts,
)
from buttonhole.desk.weld_file.entry import Entry, si
from buttonhole.desk.weld_file.faults import Form
from buttonhole.desk.weld_file.keys import ARC_PROCESSES, Gap, Thickness
from buttonhole.desk.weld_file.values import choice, short_text
from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug.joint import TorchPath
from buttonhole.weld.arc.set_up import Polarity, Position

# W/m2/K that a thing pressed on the back takes off it (copper clamped on, magnet), from memory
BACKINGS = {"none": 0.0, "copper": 1000.0, "magnet": 200.0}

MOST_READINGS = 20

Hole = Annotated[float, si("length", "8 mm", 0.0, 16e-3, "3 to 16 mm, or 0 mm for no hole")]
WireDiameter = Annotated[float, si("length", "0.8 mm", 0.5e-3, 1.7e-3, "0.6 to 1.6 mm")]
WireFeed = Annotated[float, si("speed", "6 m/min", 0.5 / 60.0, 0.5, "0.5 to 30 m/min")]
ArcVoltage = Annotated[float, si("voltage", "17.5 V", 8.0, 45.0, "8 to 45 V")]
Distance = Annotated[float, si("length", "12 mm", 4e-3, 40e-3, "4 to 40 mm from tube to work")]
ArcTime = Annotated[float, si("time", "1.9 s", 0.05, 20.0, "0.05 to 20 s")]
ShownCurrent = Annotated[float, si("current", "110 A", 5.0, 800.0, "5 to 800 A")]
GasFlow = Annotated[float, si("flow", "12 l/min", 1.6e-5, 1e-3, "1 to 60 l/min")]
Piece = Annotated[float, si("length", "100 mm", 10e-3, 1.0, "10 to 1000 mm")]


def one_of(*allowed: str) -> BeforeValidator:
    """Reader of one of some words."""
    return BeforeValidator(partial(choice, allowed=allowed))


def text(example: str) -> Callable[[object], str]:
    """Reader of a short text."""
    return partial(short_text, example=example)


class ArcSheetEntry(Entry):
    """A sheet of steel, or of an aluminium alloy."""

    steel: Annotated[str | None, BeforeValidator(text("DC04"))] = None
    alloy: Annotated[str | None, BeforeValidator(text("EN AW-6082"))] = None
    thickness: Thickness
    coating: Annotated[str, one_of(*(one.value for one in Coating))] = Coating.UNKNOWN.value

    def check(self, number: int) -> None:
        """Refuse a sheet that is of nothing, or of both."""
        if (self.steel is None) == (self.alloy is None):
            raise BadInput(
                f"sheet {number} steel",
                'is missing, or stands beside alloy; give steel = "DC04", or alloy = "EN AW-6082" '
                "for aluminium",
            )


class DrilledSheetEntry(ArcSheetEntry):
    hole_diameter: Hole | None = None


class ArcEntry(Entry):
    """What every arc set-up says."""

    wire: Annotated[str, BeforeValidator(text("G 3Si1"))]
    wire_diameter: WireDiameter
    gas: Annotated[str, BeforeValidator(text("M21"))]
    gas_flow: GasFlow | None = None
    wire_feed_speed: WireFeed
    arc_voltage: ArcVoltage
    contact_tube_distance: Distance
    polarity: Annotated[str, one_of(*(one.value for one in Polarity))] = Polarity.POSITIVE.value
    position: Annotated[str, one_of(*(one.value for one in Position))] = Position.PA.value


class ReadingEntry(Entry):
    """What the machine displayed while it welded: it teaches how this machine melts this wire."""

    wire_feed_speed: WireFeed
    contact_tube_distance: Distance
    current: ShownCurrent


class PlugSetUpEntry(ArcEntry):
    arc_time: ArcTime
    torch_path: Annotated[str, one_of(*(one.value for one in TorchPath))] = TorchPath.SPIRAL.value


class CouponEntry(Entry):
    width: Piece
    length: Piece
    backing: Annotated[str, one_of(*BACKINGS)] = "none"


class PlugEntry(Entry):
    process: Annotated[str, one_of(*ARC_PROCESSES)]
    sheet: list[DrilledSheetEntry]
    gap: Gap = 0.0
    set_up: PlugSetUpEntry
    coupon: CouponEntry | None = None
    circumstances: CircumstancesEntry | None = None
    maker_text: Texts
    reading: Annotated[list[ReadingEntry], Field(max_length=MOST_READINGS, default_factory=list)]


ARC_HINTS = {
    "process": 'give process = "plug" or "seam", or its number by ISO 4063: "135", "131" or "973"',
    "sheet": "give one [[sheet]] table, with two brackets, for each sheet from the side welded",
    "steel": 'give the designation as printed, e.g. steel = "DC04", or "unknown"',
    "alloy": 'give the designation by EN 573, e.g. alloy = "EN AW-6082"',
    "thickness": 'give the measured thickness, e.g. thickness = "0.8 mm"',
    "set_up": "give the table [set_up] with wire, gas, wire_feed_speed and the other settings",
    "wire": 'give the designation on the spool, e.g. wire = "G 3Si1"',
    "wire_diameter": 'give wire_diameter = "0.8 mm" or what is in the machine',
    "gas": 'give its group by ISO 14175, e.g. gas = "M21", or the mixture on the cylinder',
    "wire_feed_speed": 'give wire_feed_speed = "6 m/min" or what your machine shows',
    "arc_voltage": 'give arc_voltage = "17.5 V" or what your machine shows',
    "contact_tube_distance": 'give contact_tube_distance = "12 mm", from contact tube to work',
    "arc_time": 'give how long the arc burns, e.g. arc_time = "1.9 s"',
    "coupon": "give the table [coupon] with width and length of the piece",
    "reading": "give one [[reading]] table, with two brackets, for each of up to 20 readings",
    "current": 'give what the machine displayed while it welded, e.g. current = "110 A"',
    "width": 'give the width of the piece or flange, e.g. width = "40 mm"',
    "length": 'give the length of the piece, e.g. length = "100 mm"',
}
PLUG_FORM = Form(
    name="a plug weld's file",
    tables={
        "": PlugEntry,
        "sheet": DrilledSheetEntry,
        "set_up": PlugSetUpEntry,
        "coupon": CouponEntry,
        **AROUND_TABLES,
        "reading": ReadingEntry,
    },
    hints={**ARC_HINTS, **AROUND_HINTS},
)
