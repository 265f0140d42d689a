"""Puts a weld back into the text of a weld file."""

import math
import os
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from buttonhole.desk.weld_file.condition_keys import condition_keys
from buttonhole.desk.weld_file.schema import WeldFile
from buttonhole.units import parse
from buttonhole.weld.spot.condition import SpotCondition
from buttonhole.weld.spot.set_up import ElectrodeCap, Pulse, SpotSetUp

# the unit people use and how many of it one SI unit makes, and the SI unit for odd values
_UNITS = {
    "length": ("mm", 1e3, "m"),
    "current": ("kA", 1e-3, "A"),
    "force": ("kN", 1e-3, "N"),
    "time": ("ms", 1e3, "s"),
    "angle": ("deg", 180.0 / math.pi, "rad"),
    "area": ("mm2", 1e6, "m2"),
    "temperature": ("degC", 1.0, "degC"),
    "voltage": ("V", 1.0, "V"),
    "speed": ("m/min", 60.0, "m/s"),
    "travel_speed": ("mm/s", 1e3, "m/s"),
    "flow": ("l/min", 60e3, "m**3/s"),
    "resistance": ("uohm", 1e6, "ohm"),
}


def quantity_text(value: float, kind: str) -> str:
    """Shortest text with a unit that reads back as exactly this value.

    Parameters
    ----------
    value : float
        The value [SI unit of the kind].
    kind : str
        length, current, force, time, angle, area, temperature, voltage, resistance, speed,
        travel_speed or flow.

    Returns
    -------
    str
        For example ``"0.8 mm"`` for a length of 0.0008 m.
    """
    unit, factor, si_unit = _UNITS[kind]
    for digits in range(1, 16):
        number = f"{value * factor:.{digits}g}"
        if "e" not in number and parse(text := f"{number} {unit}", kind) == value:
            return text
    return f"{value!r} {si_unit}"


def weld_file_text(weld: WeldFile) -> str:
    """The TOML text of a weld; reading it gives the same weld again."""
    return "\n".join(_lines(weld)) + "\n"


def write_weld_file(path: str | Path, weld: WeldFile) -> None:
    """Write a weld file; after a crash the old file or the new one is there, never half of one.

    Parameters
    ----------
    path : str or Path
        Where the file goes; a file that is there is replaced.
    weld : WeldFile
        The weld to write.

    Raises
    ------
    OSError
        The folder doesn't exist or may not be written to.
    """
    path = Path(path)
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(weld_file_text(weld))
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, 0o644)
        os.replace(beside, path)
    except BaseException:
        os.unlink(beside)
        raise


def set_up_keys(set_up: SpotSetUp) -> dict[str, Any]:
    """The keys of the table ``set_up`` in a weld file, as in a JSON body.

    Parameters
    ----------
    set_up : SpotSetUp
        The set-up.

    Returns
    -------
    dict
        Texts with their unit; ``pulse`` holds a list of such tables.
    """
    single = len(set_up.pulses) == 1 and set_up.pulses[0].cool_time == 0.0
    keys: dict[str, Any] = {}
    if single:
        keys["welding_current"] = quantity_text(set_up.pulses[0].current, "current")
    keys["current_type"] = set_up.current_type.value
    keys["electrode_force"] = quantity_text(set_up.electrode_force, "force")
    keys |= _cap(set_up.cap_a, "")
    if set_up.cap_b != set_up.cap_a:
        keys |= _cap(set_up.cap_b, "_b")
    keys["squeeze_time"] = quantity_text(set_up.squeeze_time, "time")
    if single:
        keys["weld_time"] = quantity_text(set_up.pulses[0].time, "time")
        keys |= _slopes(set_up.pulses[0])
    keys["hold_time"] = quantity_text(set_up.hold_time, "time")
    if not single:
        keys["pulse"] = [_pulse(one) for one in set_up.pulses]
    return keys


def arc_weld_file_text(keys: Mapping[str, Any]) -> str:
    """Write an arc weld as the text of its file.

    Parameters
    ----------
    keys : mapping
        Tables and values of the file; quantities are texts with their unit.

    Returns
    -------
    str
        TOML.
    """
    lines = [key_line(key, value) for key, value in keys.items() if isinstance(value, str)]
    for name in ("sheet", "set_up", "coupon", "reading"):
        tables = keys.get(name, [])
        head = f"[[{name}]]" if isinstance(tables, list) else f"[{name}]"
        for table in tables if isinstance(tables, list) else [tables]:
            lines += ["", head, *(key_line(key, one) for key, one in table.items())]
    return "\n".join(lines) + "\n"


def condition_texts(condition: SpotCondition) -> dict[str, str]:
    """The keys of the table ``condition`` in a weld file.

    Parameters
    ----------
    condition : SpotCondition
        The condition.

    Returns
    -------
    dict
        Texts with their unit; empty for a normal weld.
    """
    return {
        key: value if isinstance(value, str) else quantity_text(*value)
        for key, value in condition_keys(condition).items()
    }


def _pulse(pulse: Pulse) -> dict[str, str]:
    keys = {
        "current": quantity_text(pulse.current, "current"),
        "time": quantity_text(pulse.time, "time"),
    }
    if pulse.cool_time:
        keys["cool"] = quantity_text(pulse.cool_time, "time")
    return keys | _slopes(pulse)


def _cap(cap: ElectrodeCap, side: str) -> dict[str, str]:
    keys = {
        f"electrode_face{side}": cap.face_diameter,
        f"electrode_radius{side}": cap.radius,
        f"electrode_body{side}": cap.body_diameter,
    }
    return {key: quantity_text(one, "length") for key, one in keys.items() if one is not None}


def _slopes(pulse: Pulse) -> dict[str, str]:
    keys = {"slope": pulse.up_slope, "down_slope": pulse.down_slope}
    return {key: quantity_text(one, "time") for key, one in keys.items() if one}


def _lines(weld: WeldFile) -> Iterator[str]:
    yield key_line("process", "spot")
    if weld.stack.gap:
        yield key_line("gap", quantity_text(weld.stack.gap, "length"))
    for sheet in weld.stack.sheets:
        yield from ("", "[[sheet]]")
        yield key_line("steel", sheet.steel.designation)
        yield key_line("thickness", quantity_text(sheet.thickness, "length"))
        yield key_line("coating", sheet.coating.value)
    keys = set_up_keys(weld.set_up)
    pulses = keys.pop("pulse", [])
    yield from ("", "[set_up]", *(key_line(key, value) for key, value in keys.items()))
    for pulse in pulses:
        yield from ("", "[[set_up.pulse]]", *(key_line(key, one) for key, one in pulse.items()))
    condition = condition_texts(weld.condition)
    if condition:
        yield from ("", "[condition]", *(key_line(key, one) for key, one in condition.items()))
    if weld.minimum_rule is not None:
        yield from ("", "[criterion]", key_line("minimum_rule", weld.minimum_rule))
    for point in weld.points:
        yield from ("", "[[cycle]]")
        yield key_line("radius", quantity_text(point.radius, "length"))
        yield key_line("depth", quantity_text(point.depth, "length"))


def key_line(key: str, value: str) -> str:
    """One line of TOML for a key and a text."""
    escaped = "".join(
        letter if letter.isprintable() and letter not in '"\\' else f"\\U{ord(letter):08x}"
        for letter in value
    )
    return f'{key} = "{escaped}"'
