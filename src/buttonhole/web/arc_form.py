"""The form of a joint that is welded by an arc: read into the keys of a weld file, and back."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from buttonhole.desk.arc_view import ArcKind
from buttonhole.desk.predict_arc import refuse_metals
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.units import BadInput
from buttonhole.web.fields import Answers
from buttonhole.web.stack_form import Choices, steel_choices
from buttonhole.weld.arc.nonferrous import aluminium_alloys
from buttonhole.weld.arc.plug.joint import TorchPath
from buttonhole.weld.arc.set_up import Position
from buttonhole.weld.arc.wire import BRONZE, WireMetal, wires

SHEETS = 3
BOTH = frozenset(ArcKind)
PLUG = frozenset({ArcKind.PLUG})
SEAMS = BOTH - PLUG


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a form: its key in the weld file, kind, unit, words, and where it is asked."""

    key: str
    kind: str
    unit: str
    label: str
    hint: str = ""
    asked: frozenset[ArcKind] = BOTH
    need: bool = True


SET_UP = (
    Figure("wire_feed_speed", "speed", "m/min", "Wire feed"),
    Figure("arc_voltage", "voltage", "V", "Arc voltage", "At the work, not the knob's number."),
    Figure("contact_tube_distance", "length", "mm", "Contact tube to work", "Stick-out and arc."),
    Figure("arc_time", "time", "s", "Arc time", "Take it from the machine or a watch.", PLUG),
    Figure("travel_speed", "travel_speed", "mm/s", "Travel speed", "Length over time.", SEAMS),
    Figure("work_angle", "angle", "deg", "Work angle", "From the lower sheet; 90: upright.", SEAMS),
    Figure("travel_angle", "angle", "deg", "Travel angle", "Pushed; dragged: minus.", SEAMS, False),
    Figure("aim_offset", "length", "mm", "Aim", "From the joint; plus: lower sheet.", SEAMS, False),
)
STITCHES = (
    Figure("stitch_length", "length", "mm", "Stitch", "Empty: in one go.", SEAMS, need=False),
    Figure("stitch_space", "length", "mm", "Space to the next", "", SEAMS, need=False),
    Figure("stitch_pause", "time", "s", "Pause", "", SEAMS, need=False),
)
WIRE = Figure("wire_diameter", "length", "mm", "Wire diameter")
PIECE = (
    Figure("width", "length", "mm", "Width", "Of flange or coupon round it.", need=False),
    Figure("piece_length", "length", "mm", "Length", "", PLUG, need=False),
    Figure("overlap", "length", "mm", "Overlap", "", SEAMS, need=False),
    Figure("overhang", "length", "mm", "Metal beyond the ends", "", SEAMS, need=False),
)
# Where a form begins: settings that weld such sheets in the model. They are no advice: the next
# page says what they give and proposes better ones. Common practice, no source.
_TORCH = {
    "work_angle": "45",
    "travel_angle": "10",
    "aim_offset": "0",
    "joint": "lap",
    "length": "40",
}
_STEEL_WIRE = {"wire": "G 3Si1", "wire_diameter": "0.8", "gas": "M21", "position": "PA"}
STARTS: Mapping[ArcKind, Mapping[str, str]] = {
    ArcKind.PLUG: {
        **_STEEL_WIRE, "wire_feed_speed": "6.4", "arc_voltage": "17.5",
        "contact_tube_distance": "13", "arc_time": "1.9", "torch_path": "spiral",
        "hole_diameter-1": "8",
    },
    ArcKind.SEAM: {
        **_STEEL_WIRE, **_TORCH, "wire_feed_speed": "5.6", "arc_voltage": "17.5",
        "contact_tube_distance": "12", "travel_speed": "8",
    },
    ArcKind.BRAZE: {
        **_TORCH, "wire": "S Cu 6560", "wire_diameter": "0.8", "gas": "I1", "position": "PA",
        "wire_feed_speed": "6", "arc_voltage": "16", "contact_tube_distance": "12",
        "travel_speed": "6.5",
    },
    ArcKind.ALUMINIUM: {
        **_TORCH, "wire": "S Al 5356", "wire_diameter": "1.0", "gas": "I1", "position": "PA",
        "wire_feed_speed": "7", "arc_voltage": "17", "contact_tube_distance": "14",
        "travel_speed": "12",
    },
}  # fmt: skip
# The same for a plug of aluminium; its alloy is the first listed until another is chosen.
ALUMINIUM_PLUG: Mapping[str, str] = {
    "wire": "S Al 4043", "wire_diameter": "1.0", "gas": "I1", "position": "PA",
    "wire_feed_speed": "6.5", "arc_voltage": "18", "contact_tube_distance": "12",
    "arc_time": "1.4", "torch_path": "spiral", "hole_diameter-1": "8",
}  # fmt: skip
_PATHS = {
    TorchPath.SPIRAL: "from the middle out to the rim",
    TorchPath.CENTRE: "held in the middle",
    TorchPath.RIM: "along the rim only",
}
_POSITIONS = {
    Position.PA: "PA – flat",
    Position.PB: "PB – horizontal",
    Position.PC: "PC – on a wall",
    Position.PE: "PE – overhead",
    Position.PF: "PF – vertical up",
    Position.PG: "PG – vertical down",
}
_BACKINGS = {"none": "air", "copper": "copper clamped on", "magnet": "a magnet"}
_JOINTS = {"lap": "lap, along the upper edge", "butt_backed": "butt over a backing strip"}


def figures(kind: ArcKind, listed: tuple[Figure, ...]) -> tuple[Figure, ...]:
    """Those figures that are asked for this kind of weld."""
    return tuple(one for one in listed if kind in one.asked)


@cache
def wire_choices(kind: ArcKind) -> Choices:
    """The wires of a kind of weld."""
    metals = {
        ArcKind.PLUG: frozenset(WireMetal),
        ArcKind.BRAZE: BRONZE,
        ArcKind.ALUMINIUM: frozenset({WireMetal.ALUMINIUM}),
    }.get(kind, frozenset({WireMetal.STEEL}))
    found = [one for one in wires() if one.metal in metals]
    named = [
        (
            one.designation,
            f"{one.designation} ({one.trade_name})" if one.trade_name else one.designation,
        )
        for one in found
    ]
    return (("", tuple(named)),)


def start_of(kind: ArcKind, *, aluminium: bool = False) -> dict[str, str]:
    """What stands in a form before anything is typed."""
    if kind is ArcKind.PLUG and aluminium:
        alloy = aluminium_alloys()[0]
        return {**ALUMINIUM_PLUG, "metal-1": alloy, "metal-2": alloy}
    return dict(STARTS[kind])


@cache
def alloy_choices() -> Choices:
    """The aluminium alloys that are listed."""
    return (("", tuple((one, one) for one in aluminium_alloys())),)


def metal_choices(kind: ArcKind) -> Choices:
    """The metals that a kind of weld joins: a plug is of steel or of aluminium."""
    if kind is ArcKind.ALUMINIUM:
        return alloy_choices()
    if kind is not ArcKind.PLUG:
        return steel_choices()
    ((_, alloys),) = alloy_choices()
    return (*steel_choices(), ("aluminium", alloys))


def word_choices() -> dict[str, Choices]:
    """What is chosen from a few words, by key."""
    return {
        "torch_path": _listed(_PATHS),
        "position": _listed(_POSITIONS),
        "backing": _listed(_BACKINGS),
        "joint": _listed(_JOINTS),
    }


def _listed(words: Mapping[Any, str]) -> Choices:
    return (("", tuple((str(key), said) for key, said in words.items())),)


def read_set_up(form: Answers, kind: ArcKind) -> dict[str, Any]:
    """Read the table ``set_up`` of a weld file; what is wrong is marked in the form."""
    table: dict[str, Any] = {
        "wire": form.text("wire", need="Choose the wire on the spool."),
        "gas": form.text("gas", need="Give the group of the gas, M21 say, or the mixture."),
    }
    for one in (WIRE, *SET_UP, *STITCHES):
        if kind not in one.asked:
            continue
        need = f"Give the {one.label.lower()}." if one.need else ""
        text = form.quantity_text(one.key, one.kind, one.unit, need=need)
        if text is not None:
            table[one.key] = text
    table["position"] = form.text("position") or Position.PA.value
    if kind is ArcKind.PLUG:
        table["torch_path"] = form.text("torch_path") or TorchPath.SPIRAL.value
    return table


def read_keys(form: Answers, kind: ArcKind) -> dict[str, Any] | None:
    """Read a whole weld; what is wrong is marked in the form."""
    plug = kind is ArcKind.PLUG
    keys: dict[str, Any] = {"process": "plug" if plug else "seam"}
    if not plug:
        keys["joint"] = form.choice("joint", _JOINTS, "Choose the form of the joint.")
        _put(keys, "length", form.quantity_text("length", "length", "mm", need="Give its length."))
    keys["sheet"] = _sheets(form, kind)
    butt = keys.get("joint") == "butt_backed"
    _put(keys, "root_gap" if butt else "gap", form.quantity_text("gap", "length", "mm"))
    keys["set_up"] = read_set_up(form, kind)
    keys |= _piece(form, kind)
    return keys if not form.faults and check(form, keys) else None


def check(form: Answers, keys: Mapping[str, Any]) -> bool:
    """Whether the keys make a weld; what is wrong is marked in the form."""
    try:
        refuse_metals(arc_weld_file_from(keys))
    except BadInput as bad:
        blame(form, bad)
        return False
    return True


def blame(form: Answers, bad: BadInput) -> None:
    """Put a fault of a weld file beside the field it came from."""
    form.blame(BadInput(field_of(bad.key), bad.message))


def field_of(key: str) -> str:
    """The field of a key of a weld file, as its faults name it, ``set_up wire`` say."""
    words = key.split()
    if words[0] == "sheet":
        number = words[1] if len(words) > 1 and words[1].isdigit() else "1"
        name = words[-1] if words[-1] in ("thickness", "coating", "hole_diameter") else "metal"
        return f"{name}-{number}"
    if words[0] == "coupon":
        return {"length": "piece_length"}.get(words[-1], words[-1])
    return {"root_gap": "gap"}.get(words[-1], words[-1])


def _put(keys: dict[str, Any], key: str, value: str | None) -> None:
    if value is not None:
        keys[key] = value


def _sheets(form: Answers, kind: ArcKind) -> list[dict[str, str]]:
    sheets: list[dict[str, str]] = []
    for number in range(1, SHEETS + 1):
        if not form.text(f"thickness-{number}"):
            if number <= 2:
                form.faults[f"thickness-{number}"] = f"Give the thickness of sheet {number}."
            continue
        if len(sheets) < number - 1:
            form.faults[f"thickness-{number}"] = "Give the sheets without a hole in the list."
        thickness = form.quantity_text(f"thickness-{number}", "length", "mm") or ""
        metal = form.text(f"metal-{number}", need=f"Choose the metal of sheet {number}.")
        of_alloy = kind is ArcKind.ALUMINIUM or metal in aluminium_alloys()
        sheet = {"alloy" if of_alloy else "steel": metal, "thickness": thickness}
        if not of_alloy:  # aluminium sheet comes without a coating
            sheet["coating"] = form.text(f"coating-{number}") or "unknown"
        if kind is ArcKind.PLUG and number < SHEETS:
            hole = form.quantity_text(f"hole_diameter-{number}", "length", "mm")
            sheet |= {"hole_diameter": hole} if hole else {}
        sheets.append(sheet)
    if sheets and kind is ArcKind.PLUG and len(sheets) == 2:
        sheets[-1].pop("hole_diameter", None)
    return sheets


def _piece(form: Answers, kind: ArcKind) -> dict[str, Any]:
    piece = {
        one.key.removeprefix("piece_"): text
        for one in figures(kind, PIECE)
        if (text := form.quantity_text(one.key, one.kind, one.unit)) is not None
    }
    backing = form.text("backing") or "none"
    if kind is ArcKind.PLUG and backing != "none" and not {"width", "length"} <= piece.keys():
        form.faults["width"] = "Give width and length of the piece beside what is pressed on it."
    if not piece and backing == "none":
        return {}
    return {"coupon": {**piece, "backing": backing}}


def typed_keys(keys: Mapping[str, Any], kind: ArcKind) -> dict[str, str]:
    """Put the keys of a weld file back into the fields of its form."""
    typed = {
        key: _bare(str(value), "mm") for key, value in keys.items() if key in ("length", "gap")
    }
    if "root_gap" in keys:
        typed["gap"] = _bare(str(keys["root_gap"]), "mm")
    typed["joint"] = str(keys.get("joint", ""))
    for number, sheet in enumerate(keys["sheet"], start=1):
        for key, value in sheet.items():
            named = "metal" if key in ("steel", "alloy") else key
            typed[f"{named}-{number}"] = _bare(str(value), "mm")
    for key, value in keys.get("coupon", {}).items():
        named = "piece_length" if key == "length" else key
        typed[named] = _bare(str(value), "mm")
    return typed | typed_set_up(keys["set_up"], kind)


def typed_set_up(table: Mapping[str, Any], kind: ArcKind) -> dict[str, str]:
    """Put the table ``set_up`` of a weld file back into the fields of its form."""
    units = {one.key: one.unit for one in figures(kind, (WIRE, *SET_UP, *STITCHES))}
    return {key: _bare(str(value), units.get(key, "")) for key, value in table.items()}


def _bare(text: str, unit: str) -> str:
    return text.removesuffix(unit).strip() if unit else text
