"""What papers and pages draw and say of a joint that is welded by an arc."""

from buttonhole.desk.arc_view import Keys
from buttonhole.desk.weld_file import PlugWeldFile, arc_weld_file_from
from buttonhole.paper.figure.arc_joint import DrawnArcJoint
from buttonhole.paper.figure.stack import DrawnSheet
from buttonhole.weld.arc.seam.joint import JointKind

# what is set, in the order of the hand: key of the weld file, and its name on a card
_SETTINGS = (
    ("wire_feed_speed", "Wire feed"),
    ("arc_voltage", "Voltage"),
    ("contact_tube_distance", "Contact tube to work"),
    ("arc_time", "Arc time"),
    ("travel_speed", "Travel speed"),
    ("work_angle", "Work angle"),
    ("gas_flow", "Gas flow"),
)
_LED = {"spiral": "from the middle out", "centre": "in the middle", "rim": "along the rim"}


def drawn_arc_joint(keys: Keys) -> DrawnArcJoint:
    """Say what the drawing of a joint before welding shows."""
    weld = arc_weld_file_from(keys)
    torch = f"wire {weld.set_up.wire.designation}, gas {weld.set_up.gas.group}"
    named = [
        (str(one.get("steel") or one.get("alloy")), str(one.get("coating", "")))
        for one in keys["sheet"]
    ]
    if isinstance(weld, PlugWeldFile):
        joint = weld.joint
        pairs = zip(joint.thicknesses, named, strict=True)
        led = {"spiral": "from the middle out", "centre": "in the middle", "rim": "along the rim"}
        return DrawnArcJoint(
            "plug",
            tuple(DrawnSheet(thickness, *words) for thickness, words in pairs),
            joint.hole_diameters,
            joint.stack.gap,
            torch=f"{torch}, led {led[joint.path.value]}",
        )
    seam, lap = weld.joint, weld.joint.kind is JointKind.LAP
    listed = (seam.upper, seam.lower) if lap else (seam.upper, seam.right or seam.upper, seam.lower)
    if not lap and len(named) == 2:  # both edges are of one sheet
        named.insert(0, named[0])
    edges = zip(listed, named, strict=True)
    return DrawnArcJoint(
        kind=seam.kind.value,
        sheets=tuple(DrawnSheet(one.thickness, *words) for one, words in edges),
        gap=seam.gap if lap else seam.root_opening,
        work_angle=weld.set_up.work_angle,
        aim_offset=weld.set_up.aim_offset,
        length=seam.length,
        torch=torch,
    )


def arc_set_values(keys: Keys) -> tuple[tuple[str, str, str], ...]:
    """
    List what is set for an arc weld.

    Parameters
    ----------
    keys : mapping
        Of a weld file.

    Returns
    -------
    tuple of (str, str, str)
        Name, value, and what belongs to it; at most nine.
    """
    table = keys["set_up"]
    rows = [
        ("Wire", str(table["wire_diameter"]), str(table["wire"])),
        ("Gas", str(table["gas"]), ""),
        *((name, _shown(str(table[key])), "") for key, name in _SETTINGS if key in table),
    ]
    return tuple(_beside(rows, table.get("torch_path"), table.get("travel_angle"))[:9])


def _shown(text: str) -> str:
    """A value as it is set, not as it was proposed to the tenth digit."""
    figure, _, unit = text.partition(" ")
    try:
        return f"{float(figure):.3g} {unit}".replace(" deg", "°").strip()
    except ValueError:
        return text


def _beside(
    rows: list[tuple[str, str, str]], path: str | None, travel_angle: str | None
) -> list[tuple[str, str, str]]:
    """Say under arc time how the torch is led, and under the work angle how it leans."""
    said = {
        "Arc time": _LED.get(path or "", ""),
        "Work angle": f"travel angle {_shown(travel_angle)}" if travel_angle else "",
    }
    return [(name, value, more or said.get(name, "")) for name, value, more in rows]
